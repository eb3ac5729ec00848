// Stepping up, checked by hand.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/vector.hpp"

using namespace linerwright;

namespace {

const std::vector<double> k_standard = diameters(DiameterSeries::en1506);
const std::vector<double> k_all = diameters(DiameterSeries::en1506_all);
const std::vector<double> k_inch = diameters(DiameterSeries::inch);

StepUpRequest request(double diameter, double thickness, StepUpCriterion criterion = StepUpCriterion::area) {
  StepUpRequest out;
  out.diameter = diameter;
  out.lining_thickness = thickness;
  out.criterion = criterion;
  return out;
}

}  // namespace

TEST(Series, as_published) {
  // EN 1506:2007, standard diameters as quoted by a duct maker's quality manual.
  EXPECT_EQ(k_standard,
            (std::vector<double>{63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250}));
  EXPECT_EQ(k_all.size(), k_standard.size() + 8);
  EXPECT_TRUE(std::is_sorted(k_all.begin(), k_all.end()));
  EXPECT_EQ(std::adjacent_find(k_all.begin(), k_all.end()), k_all.end());
  for (const double d : {150.0, 300.0, 355.0, 450.0, 560.0, 710.0, 900.0, 1120.0}) {
    EXPECT_EQ(std::count(k_all.begin(), k_all.end(), d), 1) << d;
  }
  // The standard sizes go about with the R10 preferred numbers (ISO 3): every step is 10^(1/10) = 1.259
  // within the rounding of the sizes.
  for (std::size_t i = 1; i < k_standard.size(); ++i)
    EXPECT_NEAR(k_standard[i] / k_standard[i - 1], 1.259, 0.03);
  // Inch: 3..24 by one is 22 sizes, 26..84 by two is 30.
  ASSERT_EQ(k_inch.size(), 52u);
  EXPECT_NEAR(k_inch.front(), 3 * 25.4, 1e-12);
  EXPECT_NEAR(k_inch[21], 24 * 25.4, 1e-12);
  EXPECT_NEAR(k_inch[22], 26 * 25.4, 1e-12);
  EXPECT_NEAR(k_inch.back(), 84 * 25.4, 1e-12);
}

TEST(StepUp, by_area_in_millimetres) {
  // 315 lined 25: bore 265. 315 inside the lining needs 315 + 50 = 365 inside the metal: 400 in the standard
  // series, leaving 350, share (350/315)^2 = (10/9)^2 = 1.234568. With the additional sizes 355 is too small:
  // still 400.
  StepUpRequest asked = request(315, 25);
  asked.gauge = 0.7;
  for (const auto& series : {k_standard, k_all}) {
    const StepUp found = step_up(asked, series);
    ASSERT_EQ(found.outcome, StepUpOutcome::stepped_up);
    EXPECT_NEAR(found.bore_needed, 315, 1e-9);
    EXPECT_EQ(found.size->diameter, 400);
    EXPECT_NEAR(found.size->bore, 350, 1e-12);
    EXPECT_NEAR(found.size->share, 100.0 / 81, 1e-12);
    EXPECT_FALSE(found.size->air.has_value());
    // pi (0.400 - 0.315) = 0.267035 m2/m; x 0.0007 m x 7850 kg/m3 = 1.467359 kg/m.
    EXPECT_NEAR(found.size->added_metal, 0.267035, 0.5e-6);
    EXPECT_NEAR(*found.size->added_mass, 1.467359, 0.5e-6);
  }
  // 250 lined 25 needs 300: an additional size fits exactly, the standard series goes to 315.
  EXPECT_EQ(step_up(request(250, 25), k_all).size->diameter, 300);
  EXPECT_NEAR(step_up(request(250, 25), k_all).size->share, 1, 1e-12);
  EXPECT_EQ(step_up(request(250, 25), k_standard).size->diameter, 315);
}

TEST(StepUp, exact_fit_in_inches_is_not_lost_to_rounding) {
  // 12 in lined 1 in needs 14 in exactly, for every size of the series and every half inch of lining.
  int checked = 0;
  for (int inches = 4; inches <= 22; ++inches) {
    const StepUp found = step_up(request(inches * 25.4, 25.4), k_inch);
    ASSERT_EQ(found.outcome, StepUpOutcome::stepped_up) << inches;
    EXPECT_NEAR(found.size->diameter / 25.4, inches + 2, 1e-9) << inches;
    ++checked;
  }
  EXPECT_EQ(checked, 19);
  EXPECT_EQ(step_up(request(12 * 25.4, 25.4), k_inch).text,
            "step up from 304.8 mm (12 in) to 355.6 mm (14 in): it leaves a bore of 304.8 mm (12 in) and "
            "304.8 mm (12 "
            "in) is needed");
  // 24 in lined 1 in: 26 in. 24 in lined 1.5 in needs 27 in: 28 in.
  EXPECT_NEAR(step_up(request(24 * 25.4, 25.4), k_inch).size->diameter / 25.4, 26, 1e-9);
  EXPECT_NEAR(step_up(request(24 * 25.4, 38.1), k_inch).size->diameter / 25.4, 28, 1e-9);
}

TEST(StepUp, by_area_with_a_limit) {
  // 60000 mm2 needs a bore of sqrt(4 x 60000/pi) = 276.395 mm: with 25 mm of lining 326.395, so 355 or 400.
  StepUpRequest asked = request(315, 25);
  asked.limit = 60000;
  EXPECT_NEAR(step_up(asked, k_all).bore_needed, 276.395320, 1e-6);
  EXPECT_EQ(step_up(asked, k_all).size->diameter, 355);
  EXPECT_EQ(step_up(asked, k_standard).size->diameter, 400);
}

TEST(StepUp, by_velocity) {
  // 1 m3/s at no more than 8 m/s: area 0.125 m2, bore sqrt(4 x 0.125/pi) = 398.942 mm, metal 448.942 with 25
  // mm: 450 of all sizes, 500 of the standard ones. In 450: 400 mm of bore, V = 1/0.1256637 = 7.957747 m/s.
  StepUpRequest asked = request(315, 25, StepUpCriterion::velocity);
  asked.flow = 1.0;
  asked.limit = 8.0;
  const StepUp found = step_up(asked, k_all);
  ASSERT_EQ(found.outcome, StepUpOutcome::stepped_up);
  EXPECT_NEAR(found.bore_needed, 398.942280, 1e-6);
  EXPECT_EQ(found.size->diameter, 450);
  ASSERT_TRUE(found.size->air.has_value());
  EXPECT_NEAR(found.size->air->velocity, 7.957747, 0.5e-6);
  EXPECT_EQ(step_up(asked, k_standard).size->diameter, 500);
  // Without a limit the bare velocity is held, which asks for the bare area.
  asked.limit.reset();
  EXPECT_NEAR(step_up(asked, k_all).bore_needed, 315, 1e-9);
  EXPECT_EQ(step_up(asked, k_all).size->diameter, 400);
}

TEST(StepUp, by_friction) {
  // The worked example: 315 bare at 0.5 m3/s has 1.46126 Pa/m. Lined with 25 mm at 0.9 mm roughness the bore
  // must be wider than 315 to hold that: friction goes about with 1/D^5.2 (roughness included), 5.20408 Pa/m
  // at 265 gives 265 (5.20408/1.46126)^(1/5.2) = 338 mm, plus 50: 388, so 400 mm.
  StepUpRequest asked = request(315, 25, StepUpCriterion::friction);
  asked.flow = 0.5;
  const StepUp found = step_up(asked, k_all);
  ASSERT_EQ(found.outcome, StepUpOutcome::stepped_up);
  EXPECT_NEAR(found.limit, 1.46126, 0.5e-5);
  EXPECT_NEAR(found.bore_needed, 338, 1);
  EXPECT_EQ(found.size->diameter, 400);
  EXPECT_LE(found.size->air->friction, found.limit);
  EXPECT_DOUBLE_EQ(found.size->air->friction, bore_flow(350, 0.5, 0.9).friction);  // the lined roughness
  // The bore needed has just the limit's friction.
  EXPECT_NEAR(bore_flow(found.bore_needed, 0.5, 0.9).friction, found.limit, 1e-10);
  // Smooth lining, the bare roughness: the bare bore is enough again.
  asked.lined_roughness = asked.bare_roughness;
  EXPECT_NEAR(step_up(asked, k_all).bore_needed, 315, 1e-6);
}

TEST(StepUp, is_the_smallest_that_will_do) {
  int stepped = 0;
  for (const auto criterion : {StepUpCriterion::area, StepUpCriterion::velocity, StepUpCriterion::friction}) {
    for (const double diameter : k_all) {
      for (const double thickness : {13.0, 25.0, 50.0}) {
        if (2 * thickness >= diameter - 10) continue;
        StepUpRequest asked = request(diameter, thickness, criterion);
        asked.flow = 6e-6 * circle_area(diameter);  // 6 m/s bare
        const StepUp found = step_up(asked, k_all);
        if (found.outcome != StepUpOutcome::stepped_up) continue;
        ++stepped;
        EXPECT_GT(found.size->diameter, diameter);
        EXPECT_GT(found.size->added_metal, 0);
        const auto meets = [&](double size) {
          const BoreFlow flow = bore_flow(size - 2 * thickness, *asked.flow, asked.lined_roughness);
          if (criterion == StepUpCriterion::friction) return flow.friction <= found.limit * (1 + 1e-7);
          if (criterion == StepUpCriterion::velocity) return flow.velocity <= found.limit * (1 + 1e-7);
          return circle_area(size - 2 * thickness) >= found.limit * (1 - 1e-7);
        };
        EXPECT_TRUE(meets(found.size->diameter));
        for (const double size : k_all) {
          if (size < diameter || size >= found.size->diameter) continue;
          EXPECT_FALSE(meets(size)) << size;
        }
      }
    }
  }
  EXPECT_GT(stepped, 100);
}

TEST(StepUp, enough_already) {
  StepUpRequest asked = request(500, 25, StepUpCriterion::velocity);
  asked.flow = 0.5;  // 3.1 m/s in 450 mm
  asked.limit = 8;
  const StepUp found = step_up(asked, k_standard);
  EXPECT_EQ(found.outcome, StepUpOutcome::enough_already);
  EXPECT_EQ(found.size->diameter, 500);
  EXPECT_EQ(found.size->added_metal, 0);
  EXPECT_NEAR(found.size->share, 0.81, 1e-12);  // (450/500)^2
  // No lining takes no bore.
  EXPECT_EQ(step_up(request(315, 0), k_standard).outcome, StepUpOutcome::enough_already);
  // A present size that is in no series stays when it is enough.
  EXPECT_EQ(step_up(request(317, 0), k_standard).size->diameter, 317);
}

TEST(StepUp, none_large_enough) {
  const StepUp found = step_up(request(1250, 25), k_standard);
  EXPECT_EQ(found.outcome, StepUpOutcome::none_large_enough);
  EXPECT_FALSE(found.size.has_value());
  EXPECT_EQ(
      found.text,
      "no size in the series is large enough: a bore of 1250 mm (49.21 in) is needed, so 1300 mm (51.18 in) "
      "inside the metal, and the largest size is 1250 mm (49.21 in)");
}

TEST(StepUp, order_of_the_series_does_not_matter) {
  EXPECT_EQ(step_up(request(315, 25), {1000, 370, 800, 400}).size->diameter, 370);
}

TEST(StepUp, refusals) {
  EXPECT_THROW(step_up(request(100, 50), k_standard), std::invalid_argument);
  EXPECT_THROW(step_up(request(100, -1), k_standard), std::invalid_argument);
  EXPECT_THROW(step_up(request(0, 0), k_standard), std::invalid_argument);
  EXPECT_THROW(step_up(request(315, 25), {}), std::invalid_argument);
  EXPECT_THROW(step_up(request(315, 25), {400, -1}), std::invalid_argument);
  EXPECT_THROW(step_up(request(315, 25), {std::numeric_limits<double>::quiet_NaN()}), std::invalid_argument);
  EXPECT_THROW(step_up(request(315, 25, StepUpCriterion::velocity), k_standard), std::invalid_argument);
  EXPECT_THROW(step_up(request(315, 25, StepUpCriterion::friction), k_standard), std::invalid_argument);
  StepUpRequest asked = request(315, 25);
  asked.limit = 0;
  EXPECT_THROW(step_up(asked, k_standard), std::invalid_argument);
  asked = request(315, 25);
  asked.gauge = 0;
  EXPECT_THROW(step_up(asked, k_standard), std::invalid_argument);
  asked = request(315, 25);
  asked.flow = -1;
  EXPECT_THROW(step_up(asked, k_standard), std::invalid_argument);
}
