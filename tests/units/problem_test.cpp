// A problem is one readable line.
#include <gtest/gtest.h>

#include "linerwright/units/error.hpp"

namespace linerwright {
namespace {

TEST(OneLine, NamesEverythingKnown) {
  EXPECT_EQ(
      one_line({"job.toml", 12, "E-1", "thickness", "7 in", "under 6 in", "liner 7 in closes a 12 in bore"}),
      "job.toml:12: E-1: thickness = 7 in: liner 7 in closes a 12 in bore (allowed: under 6 in)");
}

TEST(OneLine, LeavesOutWhatIsNotKnown) {
  EXPECT_EQ(one_line({"", 0, "", "", "", "", "no fittings"}), "no fittings");
  EXPECT_EQ(one_line({"job.toml", 0, "", "", "", "", "no such file"}), "job.toml: no such file");
  EXPECT_EQ(one_line({"", 0, "", "--angle", "", "", "is missing"}), "--angle: is missing");
}

TEST(OneLine, StaysOneLine) {
  EXPECT_EQ(one_line({"", 0, "a\nb", "k", "x\ty\x1b[1m", "", "bad"}), "a\\nb: k = x\\ty\\x1b[1m: bad");
  EXPECT_EQ(one_line({"a\nb", 0, "", "", "", "c\rd", "saw '\r'"}), "a\\nb: saw '\\x0d' (allowed: c\\x0dd)");
  // A C1 control, a direction override, a byte that is not UTF-8: none reaches a terminal as it is.
  EXPECT_EQ(one_line({"\xFF", 0,
                      "a\xC2\x9B"
                      "31m",
                      "k",
                      "\xE2\x80\xAE"
                      "fxd",
                      "", "\xE2\x82\xAC bad"}),
            "\\xff: a\\u009b31m: k = \\u202efxd: \xE2\x82\xAC bad");
  const std::string line = one_line({"", 0, "", "k", std::string(10000, 'x'), "", "bad"});
  EXPECT_EQ(line, "k = " + std::string(60, 'x') + "...: bad");
}

TEST(InputError, HoldsAllProblems) {
  const InputError error({{"", 0, "", "a", "", "", "bad"}, {"", 0, "", "b", "", "", "worse"}});
  EXPECT_STREQ(error.what(), "a: bad\nb: worse");
  EXPECT_EQ(error.problems().size(), 2u);
}

}  // namespace
}  // namespace linerwright
