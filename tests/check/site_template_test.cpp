// A tap's templates: what is wrong with one shows, and in which proof.
#include <gtest/gtest.h>

#include <cmath>

#include "written.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::Written;

const Flags k_tap{{"diameter", "500"}, {"branch_diameter", "250"}, {"branch_length", "700"},
                  {"angle", "60"},     {"offset", "40"},           {"thickness", "25"}};

// The names of the checks that fail when every point of the template's cut is changed so.
template <class Change>
std::string failures(const std::string& id, const Change& change) {
  const Written written("tap", k_tap);
  for (Pattern pattern : site_templates(written.fitting)) {
    if (pattern.id != id) continue;
    for (Vec2& p : pattern.cut.holes.front()) p = change(p, pattern.board);
    written.write_pattern(pattern);
  }
  std::string names;
  for (const CheckResult& result : written.check())
    if (!result.pass) names += result.name + "; ";
  return names;
}

TEST(SiteTemplates, AreProvedAsTheyAre) {
  for (const char* id : {"hole-metal", "hole-liner"}) {
    EXPECT_EQ(failures(id, [](Vec2 p, Vec2) { return p; }), "");
  }
}

TEST(SiteTemplates, HolesThatAreNotTheBranchsAreFound) {
  for (const std::string id : {"hole-metal", "hole-liner"}) {
    const auto both = [&](const std::string& found) {
      return found.find("cut " + id) != std::string::npos && found.find("hole " + id) != std::string::npos;
    };
    // half a millimetre wider, moved along, seen from the other side
    EXPECT_TRUE(both(failures(id, [](Vec2 p, Vec2 size) { return p + (0.5 / 150.0) * (p - 0.5 * size); })));
    EXPECT_TRUE(both(failures(id, [](Vec2 p, Vec2) { return p + Vec2{0.0, 0.5}; })));
    EXPECT_TRUE(both(failures(id, [](Vec2 p, Vec2 size) { return Vec2{size.x - p.x, p.y}; })));
  }
}

}  // namespace
}  // namespace linerwright
