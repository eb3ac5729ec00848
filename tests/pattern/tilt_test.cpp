// The tilt table against closed forms: how far a blade leans, to which side, and in which order it goes.
#include <gtest/gtest.h>

#include <cmath>

#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

constexpr double k_mitre = k_pi / 16.0;

Fitting elbow(const std::string& face, const std::string& fit = "0mm") {
  return fitting_of("elbow", {{"diameter", "600mm"},
                              {"angle", "90"},
                              {"pieces", "5"},
                              {"thickness", "25mm"},
                              {"fit_allowance", fit},
                              {"face_up", face}});
}

// On a gore's edge v = rho tan(a) - (R - w) tan(a) cos(theta) the air face lies t tan(a) cos(theta) further
// along than the duct face, and the duct face's edge rises by tan(a) sin(theta) per length around, so a blade
// leans by
//   atan( tan(a) cos(theta) / sqrt(1 + tan(a)^2 sin(theta)^2) ).
double gore_lean(double theta) {
  const double slope = std::tan(k_mitre) * std::sin(theta);
  return std::atan(std::tan(k_mitre) * std::cos(theta) / std::sqrt(1.0 + slope * slope));
}

TEST(Tilt, GoreEdgesLeanAsTheirMitreAsks) {
  for (const char* face : {"duct", "air"}) {
    const Fitting fitting = elbow(face);
    const Pattern pattern =
        make_patterns(fitting)[1];  // a middle piece, seam at the heel: theta = pi + x / R
    int along_edges = 0;
    int along_seams = 0;
    for (const TiltRow& row : pattern.tilts) {
      const Vec2 flat = pattern.placement.flat(row.at);
      if (std::fabs(std::cos(row.heading)) < 1e-9) {
        EXPECT_EQ(row.tilt, 0.0) << "along the seam";
        ++along_seams;
        continue;
      }
      const double theta = k_pi + flat.x / 300.0;
      // the outline's two long edges mirror each other: where one leans out, so does the other; the shift is
      // held against the chords beside the point, whose direction is good to half of the turn a vertex
      EXPECT_NEAR(row.tilt, gore_lean(theta), 2e-3) << face << " at " << theta;
      ++along_edges;
    }
    EXPECT_GT(along_edges, 60);
    EXPECT_EQ(along_seams, 4);  // either end of either seam: a corner has a row for each of its edges
  }
}

// Order and headings: around the outline counter-clockwise, each row's heading between the ways from the
// place before and to the next; along a straight seam both.
TEST(Tilt, RowsGoAroundCounterClockwise) {
  for (const char* face : {"duct", "air"}) {
    const Pattern pattern = make_patterns(elbow(face))[1];
    Ring ring;
    for (const TiltRow& row : pattern.tilts) ring.push_back(row.at);
    EXPECT_NEAR(signed_area(ring), std::string(face) == "air" ? area(pattern.air) : area(pattern.duct), 1e-6);
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 ahead = ring[(i + 1) % ring.size()] - ring[i];
      if (norm(ahead) == 0.0) continue;  // the first of a corner's two rows
      const double off =
          std::fabs(std::remainder(pattern.tilts[i].heading - std::atan2(ahead.y, ahead.x), k_two_pi));
      EXPECT_LT(off, k_turn_per_vertex);
      if (std::fabs(ahead.x) < 1e-9) {
        EXPECT_LT(off, 1e-12);
      }
    }
  }
}

// The blank's cuts run from right to left on either face. At the right edge of the first cut stands the first
// piece's throat (its seam): the air face reaches further up there, to the right of the heading.
TEST(Tilt, CutsAcrossABlankRunFromRightToLeft) {
  for (const char* face : {"duct", "air"}) {
    const Pattern blank = pattern_of(make_patterns(elbow(face, "19mm")), "blank");
    for (std::size_t cut = 0; cut < 4; ++cut) {
      std::vector<TiltRow> rows;
      for (const TiltRow& row : blank.tilts)
        if (row.contour == static_cast<int>(cut) + 1) rows.push_back(row);
      ASSERT_GE(rows.size(), blank.open_cuts[cut].size()) << face;
      // every point of the cut is a row's place; between two, the blade may need more
      std::size_t met = 0;
      EXPECT_NEAR(rows.front().at.x, blank.board.x, 1e-9) << face;
      EXPECT_NEAR(rows.back().at.x, 0.0, 1e-9) << face;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        EXPECT_LT(std::cos(rows[i].heading), -0.9) << face << " cut " << cut << " row " << i;
        if (met < blank.open_cuts[cut].size() && std::fabs(rows[i].at.x - blank.open_cuts[cut][met].x) < 1e-9)
          ++met;
        EXPECT_TRUE(i == 0 || rows[i].at.x < rows[i - 1].at.x) << face;
      }
      EXPECT_EQ(met, blank.open_cuts[cut].size()) << face << " cut " << cut;
      // seams alternate between throat and heel, so the lean at the edges alternates too
      const double sign = cut % 2 == 0 ? 1.0 : -1.0;
      EXPECT_NEAR(rows.front().tilt, sign * k_mitre, 2e-3) << face << " cut " << cut;
      EXPECT_NEAR(rows.back().tilt, sign * k_mitre, 2e-3) << face << " cut " << cut;
      EXPECT_NEAR(rows[rows.size() / 2].tilt, -sign * k_mitre, 2e-2) << face << " cut " << cut;
    }
  }
}

// A taper without collars ends in planes square to its axis, which its board meets at the half angle phi: at
// the large end the air face stops t tan(phi) short of the duct face, at the small end it reaches as far
// past.
TEST(Tilt, OpenEndsOfATaperLeanByTheHalfAngle) {
  const Flags flags{{"diameter", "400mm"},
                    {"to_diameter", "250mm"},
                    {"length", "300mm"},
                    {"thickness", "25mm"},
                    {"cut", "duct"}};
  const double phi = std::atan(75.0 / 300.0);
  const Pattern pattern = make_patterns(fitting_of("reducer", flags)).front();
  EXPECT_NEAR(pattern.max_tilt, phi, 1e-4);
  EXPECT_NEAR(pattern.gap_square, 25.0 * std::tan(phi), 1e-2);
  EXPECT_NEAR(pattern.overlap_square, 25.0 * std::tan(phi), 1e-2);
  // the sector's apex lies 824.62113 mm up the seam from its low corner; the large edge is that far from it
  int at_large = 0;
  int at_small = 0;
  for (const TiltRow& row : pattern.tilts) {
    if (row.tilt == 0.0) continue;
    const bool large =
        std::fabs(norm(pattern.placement.flat(row.at) - Vec2{0.0, 824.62113}) - 824.62113) < 0.1;
    EXPECT_NEAR(row.tilt, large ? -phi : phi, 1e-3);
    (large ? at_large : at_small) += 1;
  }
  EXPECT_GT(at_large, 10);
  EXPECT_GT(at_small, 10);
}

// Between collar and taper the mitre bisects the bend: both lean by phi / 2, and a notched blank cut apart at
// its large seam leans the same way there, the tabs' ends the other way.
TEST(Tilt, SeamsOfATaperLeanByHalfTheHalfAngle) {
  Flags flags{{"diameter", "600mm"}, {"to_diameter", "450mm"}, {"length", "400mm"},
              {"thickness", "25mm"}, {"collar", "100mm"},      {"to_collar", "100mm"}};
  const double phi = std::atan(75.0 / 400.0);
  const Pattern sector = pattern_of(make_patterns(fitting_of("reducer", flags)), "taper");
  EXPECT_NEAR(sector.max_tilt, 0.5 * phi, 1e-4);
  flags["pattern"] = "notched";
  flags["split"] = "seam";
  for (const char* first : {"600mm", "450mm"})  // the large end down or up
    for (const char* face : {"duct", "air"}) {
      flags["diameter"] = first;
      flags["to_diameter"] = std::string(first) == "600mm" ? "450mm" : "600mm";
      flags["face_up"] = face;
      flags["cut"] = "duct";
      const Pattern notched = pattern_of(make_patterns(fitting_of("reducer", flags)), "notched");
      const double small_y = std::string(first) == "600mm" ? notched.board.y : 0.0;
      int large_rows = 0;
      int small_rows = 0;
      for (const TiltRow& row : notched.tilts) {
        if (row.tilt == 0.0) continue;  // seams and the sides of notches
        const bool small = std::fabs(row.at.y - small_y) < 10.0;
        // depth w walks w tan(phi/2) toward the taper at the large end and beyond it at the small end
        EXPECT_NEAR(row.tilt, small ? 0.5 * phi : -0.5 * phi, 1e-9) << first << " " << face;
        (small ? small_rows : large_rows) += 1;
      }
      EXPECT_EQ(large_rows, 2) << first << " " << face;
      EXPECT_EQ(small_rows, 2 * (12 + 1))
          << first << " " << face;  // 12 notches leave 13 tabs, halves at the seam
      EXPECT_NEAR(notched.gap_square, 25.0 * std::tan(0.5 * phi), 1e-9);
      EXPECT_NEAR(notched.overlap_square, 25.0 * std::tan(0.5 * phi), 1e-9);
    }
}

// Where a square branch of radius r leaves a body of radius R, both hole edges by their layers' closed form:
// at the crotch (s = 0) depth w stands r - w from the axis, so the cut leans 45 degrees into the hole.
TEST(Tilt, HoleOfATeeLeansBy45DegreesAtTheCrotch) {
  const Fitting fitting = fitting_of("tee", {{"diameter", "300mm"},
                                             {"length", "800mm"},
                                             {"branch_diameter", "200mm"},
                                             {"branch_length", "300mm"},
                                             {"thickness", "20mm"},
                                             {"fit_allowance", "0mm"}});
  const Pattern body = make_patterns(fitting).front();
  const TiltRow* top = nullptr;
  for (const TiltRow& row : body.tilts)
    if (row.contour == 1 && (top == nullptr || row.at.y > top->at.y)) top = &row;
  ASSERT_NE(top, nullptr);
  EXPECT_NEAR(top->tilt, 0.25 * k_pi, 2e-3);
  // widest at the crotch (20 mm) or at the sides: R (asin(r / R) - asin((r - t) / (R - t))) around
  const double side = 150.0 * (std::asin(100.0 / 150.0) - std::asin(80.0 / 130.0));
  EXPECT_LT(side, 20.0);
  EXPECT_NEAR(body.overlap_square, 20.0, 0.05);
}

}  // namespace
}  // namespace linerwright
