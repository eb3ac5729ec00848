#include "progress.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

TEST(Progress, SaysHowFastAndHowLong) {
  EXPECT_EQ(progress_text(0, 500, 0.5), "0 of 500 fittings");
  EXPECT_EQ(progress_text(3, 500, 0.0), "3 of 500 fittings");
  // 300 in 15 s are 20 a second; the 200 left take 10 s
  EXPECT_EQ(progress_text(300, 500, 15.0), "300 of 500 fittings, 20.0 a second, 10 s left");
  EXPECT_EQ(progress_text(500, 500, 25.0), "500 of 500 fittings, 20.0 a second, 0 s left");
  // 90 in 180 s are 30 a minute; 910 left take 1820 s, that is 30 min 20 s
  EXPECT_EQ(progress_text(90, 1000, 180.0), "90 of 1000 fittings, 30.0 a minute, 31 min left");
  EXPECT_EQ(progress_text(2000, 10000, 5.0), "2000 of 10000 fittings, 400 a second, 20 s left");
  // one in a minute; 599 left take 599 min
  EXPECT_EQ(progress_text(1, 600, 60.0), "1 of 600 fittings, 1.0 a minute, 9 h 59 min left");
}

}  // namespace
}  // namespace linerwright
