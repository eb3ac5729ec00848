// Random elbows, reducers and tees from fixed seeds; LINERWRIGHT_CASES multiplies their number. A request
// that is refused with a reason is skipped, but most have to be made.
#include <gtest/gtest.h>
#include <algorithm>

#include "fitting/boards.hpp"

using namespace linerwright;

namespace {

std::string number(double value) {
  return fixed(value, 6);
}
double log_between(Dice& dice, double low, double high) {
  return low * std::pow(high / low, dice.between(0, 1));
}
bool chance(Dice& dice, double share) {
  return dice.between(0, 1) < share;
}

Flags random_liner(Dice& dice, double narrowest) {
  return {{"thickness", number(std::clamp(dice.between(0.02, 0.35) * narrowest, 1.0, 200.0))},
          {"gauge", number(dice.between(0.4, 2))},
          {"fit_allowance", "0"}};
}

Flags random_elbow(Dice& dice) {
  const double diameter = log_between(dice, 60, 2500);
  const double angle = dice.between(5, 180);
  const int least = static_cast<int>(std::ceil(angle / 120)) + 1;
  const int pieces = least + dice.pick(std::max(1, std::min(10, static_cast<int>(angle / 5)) - least + 1));
  return with(random_liner(dice, diameter),
              {{"diameter", number(diameter)},
               {"angle", number(angle)},
               {"pieces", std::to_string(pieces)},
               {"radius_ratio", number(dice.between(0.6, 3))},
               {"collar", chance(dice, 0.5) ? "0" : number(dice.between(0, 0.5) * diameter)},
               {"seam", chance(dice, 0.5) ? "heel" : "throat"}});
}

Flags random_reducer(Dice& dice) {
  const double one = log_between(dice, 60, 2000);
  const double other = std::clamp(one * dice.between(0.4, 2.2), 40.0, 2500.0);
  const double length = std::max(10.0, one * dice.between(0.3, 3));
  const auto collar = [&] { return chance(dice, 0.4) ? "0" : number(dice.between(0.3, 0.8) * one); };
  return with(random_liner(dice, std::min(one, other)),
              {{"diameter", number(one)},
               {"to_diameter", number(other)},
               {"length", number(length)},
               {"collar", collar()},
               {"to_collar", collar()},
               {"offset", chance(dice, 0.4) ? "0" : number(dice.between(0, 0.6) * length)},
               {"flat_at", number(dice.between(-180, 180))}});
}

struct Tee {
  Flags flags;
  double R, r, length, branch_length, angle, offset;
  bool cone;
};
Tee random_tee(Dice& dice) {
  Tee tee{};
  tee.R = std::round(log_between(dice, 70, 1200));
  tee.r = chance(dice, 0.1) ? tee.R : std::round(1e3 * dice.between(0.2, 0.95) * tee.R) / 1e3;
  const double room = tee.R - tee.r;
  tee.offset = chance(dice, 0.4) ? 0.0 : chance(dice, 0.2) ? room : dice.between(-0.95, 0.95) * room;
  tee.angle = chance(dice, 0.3) ? 90.0 : std::round(dice.between(30, 150));
  const double reach = (tee.R + tee.r) / std::sin(tee.angle * k_degree);
  tee.branch_length = std::round(reach * dice.between(1.1, 2) + 20);
  tee.length = std::round(4 * reach + dice.between(50, 500));
  tee.cone = tee.offset == 0.0 && tee.r < 0.8 * tee.R && chance(dice, 0.25);
  const char* styles[] = {"mitre", "mitre", "over", "through"};
  tee.flags = with(random_liner(dice, 2 * tee.r), {{"diameter", number(2 * tee.R)},
                                                   {"length", number(tee.length)},
                                                   {"branch_diameter", number(2 * tee.r)},
                                                   {"branch_length", number(tee.branch_length)},
                                                   {"angle", number(tee.angle)},
                                                   {"around", number(dice.between(-180, 180))},
                                                   {"offset", number(tee.offset)},
                                                   {"joint", styles[dice.pick(4)]}});
  if (tee.cone) tee.flags["branch_base"] = number(2 * tee.r * dice.between(1.02, 1.15));
  return tee;
}

}  // namespace

TEST(Property, elbows) {
  Dice dice(51);
  int made = 0;
  const int count = cases(2000);
  for (int i = 0; i < count && !testing::Test::HasFailure(); ++i) {
    const Flags flags = random_elbow(dice);
    SCOPED_TRACE(written("elbow", flags));
    if (refusal("elbow", flags) != "(made)") continue;
    const Fitting fitting = fitting_from("elbow", flags);
    ++made;
    expect_consistent(fitting, dice);
    if (i % 8 == 0) expect_areas(fitting);
    // truncated cylinders: pi rho^2 (2 (n - 1) R tan theta + collars)
    const double t = fitting.liner.thickness;
    const double radius = 0.5 * std::stod(flags.at("diameter"));
    const double length = 2 * (std::stod(flags.at("pieces")) - 1) * fact(fitting, "centreline_radius") *
                              std::tan(fact(fitting, "mitre_angle")) +
                          2 * std::stod(flags.at("collar"));
    EXPECT_NEAR(shell_volume(fitting, t) / (k_pi * square(radius - t) * length), 1.0, 1e-9);
    EXPECT_NEAR(total_wall_area(fitting, 0) / (k_two_pi * radius * length), 1.0, 1e-9);
  }
  EXPECT_GT(made, 3 * count / 4);
}

TEST(Property, reducers) {
  Dice dice(52);
  int made = 0;
  int oblique = 0;
  const int count = cases(2000);
  for (int i = 0; i < count && !testing::Test::HasFailure(); ++i) {
    const Flags flags = random_reducer(dice);
    SCOPED_TRACE(written("reducer", flags));
    if (refusal("reducer", flags) != "(made)") continue;
    const Fitting fitting = fitting_from("reducer", flags);
    ++made;
    const double offset = std::stod(flags.at("offset"));
    oblique += offset != 0.0 ? 1 : 0;
    expect_consistent(fitting, dice);
    if (i % 8 == 0) expect_areas(fitting);
    // duct face: two cylinders and a frustum, whatever the offset (Cavalieri)
    const double r1 = 0.5 * std::stod(flags.at("diameter"));
    const double r2 = 0.5 * std::stod(flags.at("to_diameter"));
    const double c1 = std::stod(flags.at("collar"));
    const double c2 = std::stod(flags.at("to_collar"));
    const double h = std::stod(flags.at("length"));
    EXPECT_NEAR(
        shell_volume(fitting, 0) / (k_pi * r1 * r1 * c1 + frustum_volume(r1, r2, h) + k_pi * r2 * r2 * c2),
        1.0, 1e-8);
  }
  EXPECT_GT(made, 3 * count / 4);
  EXPECT_GT(oblique, made / 3);
}

TEST(Property, tees) {
  Dice dice(53);
  int made = 0;
  int straight = 0;
  const int count = cases(1000);
  for (int i = 0; i < count && !testing::Test::HasFailure(); ++i) {
    const Tee tee = random_tee(dice);
    SCOPED_TRACE(written("tee", tee.flags));
    if (refusal("tee", tee.flags) != "(made)") continue;
    const Fitting fitting = fitting_from("tee", tee.flags);
    ++made;
    expect_consistent(fitting, dice);
    if (i % 4 == 0) expect_areas(fitting);
    if (tee.cone) continue;
    ++straight;
    for (const double w : {0.0, fitting.liner.thickness})
      EXPECT_NEAR(shell_volume(fitting, w) / (k_pi * square(tee.R - w) * tee.length +
                                              branch_outside(tee.R - w, tee.r - w, tee.branch_length,
                                                             tee.angle * k_degree, std::fabs(tee.offset))),
                  1.0, 1e-8);
  }
  EXPECT_GT(made, 3 * count / 4);
  EXPECT_GT(straight, made / 2);
}
