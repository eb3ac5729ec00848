// Guessing the name that was meant.
#include <gtest/gtest.h>

#include "linerwright/job/job.hpp"

namespace linerwright {
namespace {

const std::vector<std::string> k_known = {"diameter", "to_diameter", "length", "gores", "tag", "angle"};

TEST(NearestName, FindsSlips) {
  EXPECT_EQ(nearest_name("diametr", k_known), "diameter");    // one left out
  EXPECT_EQ(nearest_name("diammeter", k_known), "diameter");  // one too many
  EXPECT_EQ(nearest_name("lenght", k_known), "length");       // two swapped
  EXPECT_EQ(nearest_name("to-diameter", k_known), "to_diameter");
  EXPECT_EQ(nearest_name("Diameter", k_known), "diameter");
  EXPECT_EQ(nearest_name("tga", k_known), "tag");
  EXPECT_EQ(nearest_name("tg", k_known), "tag");
}

TEST(NearestName, DoesNotGuessWildly) {
  EXPECT_EQ(nearest_name("weather", k_known), "");
  EXPECT_EQ(nearest_name("", k_known), "");
  EXPECT_EQ(nearest_name("x", k_known), "");
  EXPECT_EQ(nearest_name(std::string(100000, 'x'), k_known), "");
  EXPECT_EQ(nearest_name("gores", {}), "");
}

}  // namespace
}  // namespace linerwright
