// Caps: volumes of ring and disc by closed forms, and refusals.
#include <gtest/gtest.h>

#include <random>

#include "helpers.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {
namespace {

constexpr double R = 200.0, t = 25.0, L = 300.0;

Fitting cap(const std::string& seat, const Flags& more = {}) {
  return fitting_from(
      "cap", with({{"diameter", "400"}, {"length", "300"}, {"thickness", "25"}, {"seat", seat}}, more));
}

// What lies on a wall between two depths, by the areas of its surfaces in between: the third degree in the
// depth.
double on_wall(const Fitting& fitting, int wall) {
  const auto area = [&](double w) {
    const Sheet& sheet = fitting.wall(wall).sheet;
    const double low = liner_end(fitting, wall, End::low, 0.3, w);
    const double high = liner_end(fitting, wall, End::high, 0.3, w);
    return k_pi * (high - low) * (sheet.spread(0.3, low, w) + sheet.spread(0.3, high, w));
  };
  return integrate(area, 0.0, t, 1);
}

// The disc of 400 and 25: whole 3141592.654, inside the ring 2405281.875, bevelled 2765256.034; the ring's
// share of the last 25 mm makes all three the same.
TEST(Caps, ThreeSeatsOfOneVolume) {
  const double whole = k_pi * R * R * t;
  const double inside = k_pi * square(R - t) * t;
  const double mitred = k_pi * t * (square(R) + R * (R - t) + square(R - t)) / 3.0;
  EXPECT_NEAR(whole, 3141592.654, 1e-3);
  EXPECT_NEAR(inside, 2405281.875, 1e-3);
  EXPECT_NEAR(mitred, 2765256.034, 1e-3);
  const double ring = k_pi * (square(R) - square(R - t)) * (L - t);
  for (const auto& [seat, disc] : {std::make_pair("butt", whole), {"inside", inside}, {"mitre", mitred}}) {
    const Fitting made = cap(seat);
    EXPECT_NEAR(on_wall(made, 1), disc, 1e-3) << seat;
    EXPECT_NEAR(on_wall(made, 0), ring + whole - disc, 1e-3) << seat;
    EXPECT_NEAR(shell_volume(made, 0.0), k_pi * R * R * L, 1e-3);
    EXPECT_NEAR(shell_volume(made, t), k_pi * square(R - t) * (L - t), 1e-3);
    EXPECT_NEAR(shell_volume(made, 0.0) - shell_volume(made, t), 11241011.214, 1e-3);
    const double g = 0.8;
    EXPECT_NEAR(metal_volume(made), k_pi * (square(R + g) * (L + g) - square(R) * L), 1e-3);
  }
}

// The disc alone: what the ring would have held is gone, and what is left is the disc's own share of the last
// 25 mm. Its metal is pi R^2 g.
TEST(Caps, ADiscAlone) {
  for (const auto& [seat, disc] :
       {std::make_pair("butt", 3141592.654), {"inside", 2405281.875}, {"mitre", 2765256.034}}) {
    const Fitting made = cap(seat, {{"length", "0"}});
    ASSERT_EQ(made.pieces.size(), 1u);
    EXPECT_TRUE(is_disc_alone(made));
    EXPECT_TRUE(made.passages.empty());
    EXPECT_NEAR(on_wall(made, 0), disc, 1e-3) << seat;
    EXPECT_NEAR(shell_volume(made, 0.0), disc, 1e-3) << seat;
    EXPECT_EQ(shell_volume(made, t), 0.0) << seat;
    EXPECT_NEAR(metal_volume(made), k_pi * R * R * 0.8, 1e-6) << seat;
    EXPECT_NEAR(metal_area(made), k_pi * R * R, 1e-6) << seat;
    for (const std::string& step : made.steps) EXPECT_FALSE(has(step, "slide")) << step;
    // two layers share the depth as one of both would
    const Fitting two = cap(seat, {{"length", "0"}, {"thickness", "10"}, {"second_layer", "15"}});
    EXPECT_NEAR(shell_volume(two, 0.0), disc, 1e-3) << seat;
    EXPECT_FALSE(is_disc_alone(cap(seat)));
  }
  const auto alone = [](const Flags& more) {
    return refusal("cap", with({{"diameter", "400"}, {"length", "0"}, {"thickness", "25"}}, more));
  };
  EXPECT_TRUE(has(alone({{"hold_back_start", "20"}}), "no ring whose lining could be held back"));
  // with a square rim nothing closes, whatever the board; inside a lining nothing would be left
  EXPECT_EQ(alone({{"thickness", "220"}}), "(made)");
  for (const char* seat : {"inside", "mitre"}) {
    EXPECT_EQ(alone({{"thickness", "199.5"}, {"seat", seat}}), "(made)");
    EXPECT_TRUE(has(alone({{"thickness", "199.6"}, {"seat", seat}}), "nothing would be left")) << seat;
  }
  EXPECT_TRUE(has(alone({{"length", "5"}}), "or 0 for the disc alone"));
}

// By scattered points: deeper under the ring's wall than under the disc's is the disc's at a bevel.
TEST(Caps, ABevelByScatteredPoints) {
  std::mt19937 engine(3);
  std::uniform_real_distribution<double> side(-R, R), up(L - t, L);
  int disc = 0, ring = 0;
  constexpr int k_points = 1000000;
  for (int i = 0; i < k_points; ++i) {
    const double under_ring = R - std::hypot(side(engine), side(engine));
    const double under_disc = L - up(engine);
    if (under_ring < 0.0) continue;
    (under_disc < under_ring ? disc : ring) += under_ring < t || under_disc < t ? 1 : 0;
  }
  const double box = 4.0 * R * R * t / k_points;
  EXPECT_NEAR(disc * box / 2765256.034, 1.0, 0.003);
  EXPECT_NEAR(ring * box / 376336.620, 1.0, 0.01);
}

TEST(Caps, ADiscIsCutAsItIs) {
  const Fitting made = cap("butt");
  ASSERT_EQ(made.pieces.size(), 2u);
  EXPECT_EQ(made.pieces[1].role, "disc");
  EXPECT_EQ(fit_scale(made, 1), 1.0);
  EXPECT_LT(fit_scale(made, 0), 1.0);
  const Development flat(made.walls[1].sheet, 0.0, 1.0, 0.0);
  for (const double theta : {0.0, 1.0, 3.0, 6.0})
    EXPECT_NEAR(distance(flat.point(theta, 0.0), flat.point(0.0, R)), R, 1e-9);
  EXPECT_EQ(made.insertion, (std::vector<int>{1, 0}));
  EXPECT_EQ(cap("inside").insertion, (std::vector<int>{0, 1}));
  for (const std::string& step : made.steps) EXPECT_FALSE(has(step, "Roll each piece")) << step;
}

TEST(Caps, Refused) {
  const Flags flags{{"diameter", "400"}, {"length", "20"}, {"thickness", "25"}};
  EXPECT_TRUE(has(refusal("cap", flags), "the disc's liner would be thicker than the ring is long"));
  EXPECT_TRUE(has(refusal("cap", with(flags, {{"length", "300"}, {"board_width", "350"}})),
                  "the disc is 400 mm across, the board 350 mm wide and any length long; it is cut in one"));
  const std::string narrow =
      refusal("cap", with(flags, {{"length", "300"}, {"board_length", "399"}, {"board_width", "2000"}}));
  EXPECT_TRUE(has(narrow,
                  "board-length = 399: the disc is 400 mm across, the board 2000 mm wide and 399 mm "
                  "long"))
      << narrow;
  EXPECT_TRUE(has(narrow, "(allowed: at least 400 mm)")) << narrow;
  // a disc of 25 inside a ring of 300 that is lined on less than its last 26 mm
  const auto held = [](const char* by) {
    return Flags{{"diameter", "400"},
                 {"length", "300"},
                 {"thickness", "25"},
                 {"seat", "inside"},
                 {"hold_back_start", by}};
  };
  EXPECT_TRUE(has(refusal("cap", held("274.1")), "the disc's rim would stand free in the air"));
  EXPECT_NO_THROW(fitting_from("cap", held("274")));
}

Fitting with_hole(const std::string& openings, const std::string& seat = "butt") {
  return cap(seat, {{"openings", openings}});
}

// Prisms and the frustum of a cone: beside the centre, around it, and anywhere in between.
TEST(Caps, HolesOfADisc) {
  const double g = 0.8;
  for (const char* seat : {"butt", "inside", "mitre"})
    for (const char* at : {"80mm around 40", "150mm around 200", "200mm around 0", "185mm around 90"}) {
      const std::string spot = std::string("piece disc at ") + at;
      EXPECT_NEAR(plug_volume(with_hole("sensor " + spot + " diameter 60mm setback 10mm", seat)),
                  k_pi * 40.0 * 40.0 * t, 1e-6)
          << spot;
      const Fitting cut = with_hole("access door " + spot + " width 50mm length 70mm metal yes", seat);
      EXPECT_NEAR(plug_volume(cut), 50.0 * 70.0 * t, 1e-6) << spot;
      EXPECT_NEAR(metal_volume(cap(seat)) - metal_volume(cut), 50.0 * 70.0 * g, 1e-6) << spot;
      EXPECT_NEAR(metal_area(cap(seat)) - metal_area(cut), 50.0 * 70.0, 1e-6) << spot;
      EXPECT_NEAR(shell_volume(cut, t), shell_volume(cap(seat), t), 1e-6);
      // wider by the depth where splayed at 45 degrees
      EXPECT_NEAR(plug_volume(with_hole("test hole " + spot + " diameter 50mm bevel splayed", seat)),
                  k_pi * t * (25.0 * 25.0 + 25.0 * 50.0 + 50.0 * 50.0) / 3.0, 1e-6)
          << spot;
    }
  // along its own axis and square to the board are the same
  const auto place = [&](const Fitting& fitting, double s) {
    const Joint& edge = fitting.joint(fitting.openings.at(0).joint);
    return point_of(edge, s, shell_depths(t));
  };
  const std::string door = "access door piece disc at 150mm around 200 width 120mm length 160mm";
  for (const double s : {0.0, 1.0, 2.5, 4.0, 6.0})
    EXPECT_LT(distance(place(with_hole(door), s), place(with_hole(door + " bevel straight"), s)), 1e-9);
  // its middle lies so far from the metal's rim toward the centre
  const Fitting turned = with_hole("sensor piece disc at 80mm around 90 diameter 60mm", "inside");
  EXPECT_LT(distance(0.5 * (place(turned, 0.0) + place(turned, k_pi)), {0.0, 120.0, L - t}), 1e-9);
}

TEST(Caps, HolesOfADiscAreRefused) {
  const auto told = [&](const std::string& openings, const std::string& seat = "butt") {
    return refusal("cap", {{"diameter", "400"},
                           {"length", "300"},
                           {"thickness", "25"},
                           {"seat", seat},
                           {"openings", openings}});
  };
  EXPECT_TRUE(has(told("sensor piece disc at 100mm around 0 diameter 60mm bevel radial"),
                  "square to the duct's axis no cut goes through piece disc"));
  for (const double around : {0.0, 33.0, 83.0, 211.0})
    EXPECT_EQ(
        told("sensor piece disc at 200mm around " + std::to_string(around) + " diameter 60mm metal yes"),
        "(made)");
  EXPECT_TRUE(has(told("sensor piece disc at 210mm around 0 diameter 60mm"),
                  "sensor 1: its middle would lie 210 mm from the disc's rim, beyond the centre"));
  for (const char* seat : {"butt", "inside", "mitre"}) {
    EXPECT_TRUE(has(told("sensor piece disc at 57mm around 0 diameter 60mm", seat),
                    "only 2 mm of the disc is left to the ring's lining: 3 mm is missing"));
    EXPECT_TRUE(has(told("sensor piece disc at 45mm around 0 diameter 60mm", seat),
                    "it reaches 10 mm under the ring's lining: 15 mm is missing"));
    EXPECT_EQ(told("sensor piece disc at 61mm around 0 diameter 60mm", seat), "(made)");
  }
  EXPECT_TRUE(has(told("sensor piece disc at 200mm around 0 diameter 60mm, sensor piece disc at 200mm around "
                       "90 diameter 200mm"),
                  "sensor 2: it overlaps the hole of the sensor 1"));
  EXPECT_TRUE(has(told("sensor piece disc at 200mm around 0 diameter 10mm", "mitre") +
                      refusal("cap", {{"diameter", "400"},
                                      {"length", "300"},
                                      {"thickness", "25"},
                                      {"butt_allowance", "6"},
                                      {"openings", "sensor piece disc at 200mm around 0 diameter 10mm"}}),
                  "the allowance closes the hole for the sensor 1"));
}

}  // namespace
}  // namespace linerwright
