// A fitting's facts against figures worked out by hand and those of handbooks; each that is changed must
// fail.
#include <gtest/gtest.h>

#include "kinds.hpp"
#include "proofs.hpp"

namespace linerwright::asked {
namespace {

using Written = std::map<std::string, std::string>;
using Table = std::map<std::string, double>;

bool proves(const std::string& kind, const Written& written, const Table& facts,
            const std::vector<MadeStation>& bore = {}) {
  MadeFitting made;
  made.request.kind = kind;
  made.request.written = written;
  made.facts = facts;
  made.bore = bore;
  const Wanted all = wanted(made.request);
  const Wanted shells = shells_of(made.request);
  const Files files;
  std::vector<Finding> findings;
  Case asked{files, made, all, shells, {}, findings};
  prove_facts(asked);
  EXPECT_FALSE(findings.empty());
  for (const Finding& finding : findings)
    if (!finding.pass) return false;
  return true;
}

// All of them pass; with any one a hundredth larger, or left out, they do not.
void hold(const std::string& kind, const Written& written, const Table& facts) {
  EXPECT_TRUE(proves(kind, written, facts)) << kind;
  for (const auto& [key, value] : facts) {
    Table other = facts;
    other[key] = 1.01 * value + 0.01;
    EXPECT_FALSE(proves(kind, written, other)) << kind << " " << key;
    other.erase(key);
    EXPECT_FALSE(proves(kind, written, other)) << kind << " without " << key;
  }
}

// "Backset" of four pieces: 90 / 6 = 15 degrees (Longfield, Sheet Metal Drafting, 1921, p. 52 and 59).
TEST(AskedFacts, ElbowOfFourPieces) {
  hold("elbow",
       {{"diameter", "200mm"},
        {"angle", "90"},
        {"pieces", "4"},
        {"centreline_radius", "300mm"},
        {"thickness", "25mm"}},
       {{"mitre_angle", 15.0},
        {"centreline_radius", 300.0},
        {"rise_1", 15.0},
        {"rise_2", 45.0},
        {"rise_3", 75.0}});
}

// Two pieces at 60 degrees meet on a mitre of 30, whose cosine is sqrt(3) / 2: from the pivot their heel lies
// at 400 on the mitre, so 400 sqrt(3) / 2 in the middle, and their throat at 200 there.
TEST(AskedFacts, GoresInsideAPressedBend) {
  const double heel = 400.0 * std::sqrt(3.0) / 2.0;
  const double radius = 0.5 * (heel - 200.0);
  hold("elbow",
       {{"diameter", "200mm"},
        {"angle", "60"},
        {"pieces", "2"},
        {"centreline_radius", "300mm"},
        {"form", "smooth"},
        {"gap_limit", "20mm"},
        {"thickness", "25mm"}},
       {{"mitre_angle", 30.0},
        {"centreline_radius", 300.0},
        {"rise_1", 30.0},
        {"gore_diameter", 2.0 * radius},
        {"gap_behind_liner", 400.0 - heel},
        {"exposed_step", 400.0 - heel},
        // 400 (1 - cos(30 / (n - 1))) is 13.6 mm with three pieces
        {"pieces_for_gap_limit", 3.0}});
}

// A right cone whose radii differ by 3 over 4: slant 5, sine 3/5, 216 degrees of a sector.
TEST(AskedFacts, ConeOfThreeFourFive) {
  const Written written{
      {"diameter", "480mm"}, {"to_diameter", "240mm"}, {"length", "160mm"}, {"thickness", "25mm"}};
  const Table cone{{"half_angle", std::asin(0.6) * 180.0 / k_pi},
                   {"slant", 200.0},
                   {"sector_outer_radius", 400.0},
                   {"sector_inner_radius", 200.0},
                   {"sector_angle", 216.0},
                   {"corner_walk", 25.0 / 3.0},  // tan of half of asin 3/5
                   {"radius_lost", 31.25}};
  hold("reducer", written, cone);
  Written notched = written;
  notched["pattern"] = "notched";
  notched["notches"] = "8";
  Table more = cone;
  more["notches"] = 8.0;
  more["closing_width"] = 240.0 * k_pi;
  more["mouth_width"] = 30.0 * k_pi;
  more["rule_of_thumb_width"] = 304.8;  // 1.5 in each
  more["rule_of_thumb_leaves"] = 240.0 * k_pi - 304.8;
  hold("reducer", notched, more);
}

// Equal cylinders at right angles meet in two half ellipses with axes r and r sqrt(2), 4 sqrt(2) E(1/2) r
// long in all, E(1/2) = 1.350643881 (Abramowitz and Stegun, table 17.1); the hole's developed area is 4 r^2.
TEST(AskedFacts, EqualTee) {
  hold("tee",
       {{"diameter", "300mm"},
        {"length", "500mm"},
        {"branch_diameter", "300mm"},
        {"branch_length", "260mm"},
        {"thickness", "25mm"},
        {"gauge", "1mm"}},
       {{"saddle_depth", 150.0},
        {"hole_area", 4.0 * 150.0 * 150.0},
        {"opening_area", 4.0 * 125.0 * 125.0},
        {"hole_to_end", 250.0 - 151.0},
        {"sealant_length", 4.0 * std::sqrt(2.0) * 1.350643881 * 125.0}});
}

// 45 degrees over 400 mm aside with no way between the bends' tangent points than what is left: (400 - 2 R (1
// - cos 45)) / sin 45.
TEST(AskedFacts, Offset) {
  const double between = (400.0 - 600.0 * (1.0 - std::sqrt(0.5))) / std::sqrt(0.5);
  hold("offset",
       {{"diameter", "200mm"},
        {"rise", "240mm"},
        {"roll", "320mm"},
        {"angle", "45"},
        {"pieces", "2"},
        {"centreline_radius", "300mm"},
        {"thickness", "25mm"}},
       {{"bend_angle", 45.0},
        {"mitre_angle", 22.5},
        {"centreline_radius", 300.0},
        {"true_offset", 400.0},
        {"overall_length", 600.0 * std::sqrt(0.5) + between * std::sqrt(0.5)},
        {"between_bends", between},
        {"gored_centreline", between + 4.0 * 300.0 * (std::sqrt(2.0) - 1.0)},  // tan 22.5
        {"roll_angle", std::atan2(320.0, 240.0) * 180.0 / k_pi}});
}

// From the metal's outside a square branch leaves a hole as long as it is wide; around the duct asin(r / R).
TEST(AskedFacts, HoleForATap) {
  const double outside = 151.0;
  const Written written{{"diameter", "300mm"},
                        {"branch_diameter", "180mm"},
                        {"branch_length", "260mm"},
                        {"thickness", "25mm"},
                        {"gauge", "1mm"}};
  Table facts{{"hole_along", 180.0},
              {"hole_around", 2.0 * outside * std::asin(90.0 / outside)},
              {"saddle_depth", 150.0 - 120.0}};  // sqrt(150^2 - 90^2)
  facts["sealant_length"] = 0.0;
  EXPECT_FALSE(proves("tap", written, facts));
  // a curve (r cos x, r sin x, sqrt(R^2 - r^2 sin^2 x)) by steps of its own, r = 65 and R = 125
  double length = 0.0;
  const auto at = [](int i) {
    const double x = k_turn * i / 100000;
    return Place{65.0 * std::cos(x), 65.0 * std::sin(x),
                 std::sqrt(125.0 * 125.0 - std::pow(65.0 * std::sin(x), 2))};
  };
  for (int i = 0; i < 100000; ++i) length += size(at(i + 1) - at(i));
  facts["sealant_length"] = length;
  hold("tap", written, facts);
}

TEST(AskedFacts, WaysToTheEnds) {
  const Written written{{"diameter", "200mm"}, {"length", "500mm"}, {"thickness", "25mm"}};
  const auto bore = [](double middle, double end) {
    return std::vector<MadeStation>{
        {"through", "one end", 0.0}, {"through", "between", middle}, {"through", "other end", end}};
  };
  EXPECT_TRUE(proves("straight", written, {}, bore(250.0, 500.0)));
  EXPECT_FALSE(proves("straight", written, {}, bore(250.0, 501.0)));
  EXPECT_FALSE(proves("straight", written, {}, bore(510.0, 500.0)));
}

}  // namespace
}  // namespace linerwright::asked
