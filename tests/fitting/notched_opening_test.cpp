// Openings in a taper that is closed by notches: between these, and clear of the planes between its rings.
#include <gtest/gtest.h>

#include "helpers.hpp"

namespace linerwright {
namespace {

// Eight notches, the first 22.5 degrees on from the seam (at 180): a tab is 45 degrees wide, (pi / 4) 250 =
// 196.3 mm half way up. Refused only where the hole comes within 5 mm of a notch.
TEST(Openings, BetweenTheNotchesOfATaper) {
  const auto told = [](const std::string& openings, const Flags& more = {}) {
    return refusal("reducer", with({{"diameter", "600"},
                                    {"to_diameter", "400"},
                                    {"length", "400"},
                                    {"thickness", "25"},
                                    {"collar", "150"},
                                    {"pattern", "notched"},
                                    {"notches", "8"},
                                    {"openings", openings}},
                                   more));
  };
  const std::string hole = "test hole piece taper at 206.155mm around ";  // half way up
  EXPECT_EQ(told(hole + "45 diameter 180mm"), "(made)");
  EXPECT_EQ(told(hole + "50 diameter 120mm, sensor piece collar at 60mm around 67.5 diameter 25mm"),
            "(made)");
  EXPECT_TRUE(has(told(hole + "67.5 diameter 20mm"),
                  "test hole 1: it lies on a notch of piece taper (at 67.5 deg): 15"));
  // of 45 degrees 98.2 mm are left on either side of the middle, less 250 asin(96 / 250) = 98.5
  EXPECT_TRUE(has(told(hole + "45 diameter 192mm"), "on a notch of piece taper"));
  EXPECT_TRUE(has(told(hole + "45 diameter 186mm"), "of liner is left to a notch of piece taper"));
  EXPECT_TRUE(has(told(hole + "180 diameter 20mm"), "it lies on the seam of piece taper"));
  // rings between planes keep clear of it
  const Flags board{{"board_width", "320"}, {"board_length", "2400"}, {"length", "500"}, {"collar", "0"}};
  EXPECT_EQ(told("test hole piece taper at 255mm around 45 diameter 100mm", board), "(made)");
  const Fitting rings =
      fitting_from("reducer", with(board, {{"diameter", "600"},
                                           {"to_diameter", "400"},
                                           {"thickness", "25"},
                                           {"pattern", "notched"},
                                           {"openings", "test hole at 240mm around 45 diameter 60mm"}}));
  EXPECT_GT(rings.pieces.size(), 1u);
  int found = 0;
  for (const Piece& piece : rings.pieces)
    for (const std::size_t h : holes_of(rings, piece)) {
      ++found;
      const Joint& joint = rings.joint(rings.wall_of(piece).holes[h].joint);
      for (const double w : {0.0, 25.0})
        for (int i = 0; i < 36; ++i) {
          const Sheet::Place place = place_on(joint, Side::follow, k_two_pi * i / 36, shell_depths(w));
          for (const End end : k_both_ends)
            EXPECT_GT(outward(end) * (liner_end(rings, piece.wall, end, place.theta, w) - place.v), 4.99);
        }
    }
  EXPECT_EQ(found, 1);
}

}  // namespace
}  // namespace linerwright
