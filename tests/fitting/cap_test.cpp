// Caps: volumes of ring and disc by closed forms, and refusals.
#include <gtest/gtest.h>

#include <random>

#include "helpers.hpp"

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
    const Sheet& sheet = fitting.walls[static_cast<std::size_t>(wall)].sheet;
    const double low = end_height(fitting, wall, false, 0.3, w);
    const double high = end_height(fitting, wall, true, 0.3, w);
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
                  "the disc is 400 mm across and is cut in one"));
  EXPECT_TRUE(
      has(refusal("cap", with(flags, {{"length", "300"},
                                      {"openings", "sensor piece disc at 50mm around 0 diameter 20mm"}})),
          "piece disc is a disc"));
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

}  // namespace
}  // namespace linerwright
