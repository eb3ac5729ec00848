// What to step up to, against sums by hand.
#include <gtest/gtest.h>

#include <stdexcept>

#include "fittings.hpp"

namespace linerwright {
namespace {

BoreOptions by(StepUpCriterion criterion, std::optional<double> limit = {}) {
  BoreOptions options;
  options.step_up = criterion;
  options.limit = limit;
  return options;
}

const LinedSize& only_size(const BoreReport& report) {
  return report.rows.at(0).steps.at(0).found.size.value();
}

// 365 mm would give the 315 mm back inside 25 mm; the next size of EN 1506 is 400, whose bore is 350.
TEST(StepUp, ByArea) {
  const BoreReport report = bore_report({straight("315", "25")}, nullptr, by(StepUpCriterion::area));
  EXPECT_NEAR(only_size(report).diameter, 400.0, 1e-9);
  EXPECT_NEAR(only_size(report).bore, 350.0, 1e-9);
  EXPECT_NEAR(only_size(report).share, 350.0 * 350.0 / (315.0 * 315.0), 1e-12);
  // in inches 14 in, whose bore is the 12 in again
  const BoreReport inch = bore_report({straight_in("12", "1")}, nullptr, by(StepUpCriterion::area));
  EXPECT_NEAR(only_size(inch).diameter, 14.0 * 25.4, 1e-9);
  EXPECT_NEAR(only_size(inch).share, 1.0, 1e-12);
}

TEST(StepUp, ByVelocity) {
  const Fitting duct = straight("315", "25", {{"flow", "0.5"}});
  // back to the bare duct's 6.42 m/s needs its area again
  EXPECT_NEAR(only_size(bore_report({duct}, nullptr, by(StepUpCriterion::velocity))).diameter, 400.0, 1e-9);
  // 5 m/s needs sqrt(4 0.5 / (5 pi)) = 356.8 mm, more than the 350 in a 400
  const BoreReport slow = bore_report({duct}, nullptr, by(StepUpCriterion::velocity, 5.0));
  EXPECT_NEAR(only_size(slow).diameter, 500.0, 1e-9);
  EXPECT_NEAR(slow.rows[0].steps[0].found.bore_needed, 1000.0 * std::sqrt(4.0 * 0.5 / (5.0 * k_pi)), 1e-6);
  EXPECT_NEAR(only_size(slow).air.value().velocity, 0.5 / (0.25 * k_pi * 0.45 * 0.45), 1e-9);
}

TEST(StepUp, ByFriction) {
  const Fitting duct = straight("315", "25", {{"flow", "0.5"}});
  const double bare = friction(0.315, 0.5, 0.09e-3);
  ASSERT_GT(friction(0.265, 0.5, 0.9e-3), bare);
  ASSERT_LT(friction(0.350, 0.5, 0.9e-3), bare);
  const BoreReport report = bore_report({duct}, nullptr, by(StepUpCriterion::friction));
  EXPECT_NEAR(only_size(report).diameter, 400.0, 1e-9);
  EXPECT_NEAR(only_size(report).air.value().friction, friction(0.350, 0.5, 0.9e-3), 1e-9);
  ASSERT_GT(friction(0.350, 0.5, 0.9e-3), 1.0);
  ASSERT_LT(friction(0.450, 0.5, 0.9e-3), 1.0);
  EXPECT_NEAR(only_size(bore_report({duct}, nullptr, by(StepUpCriterion::friction, 1.0))).diameter, 500.0,
              1e-9);
}

TEST(StepUp, WithoutAFlowSaysSo) {
  for (const StepUpCriterion criterion : {StepUpCriterion::velocity, StepUpCriterion::friction}) {
    const BoreRow row =
        bore_report({straight("315", "25", {{"upstream", "lined"}})}, nullptr, by(criterion)).rows.at(0);
    EXPECT_TRUE(row.steps.empty());
    ASSERT_EQ(row.notes.size(), 1U);
    EXPECT_NE(row.notes[0].find("without a flow"), std::string::npos);
    const BoreReport report = bore_report({straight("315", "25"), straight("400", "25", {{"flow", "0.5"}})},
                                          nullptr, by(criterion));
    ASSERT_EQ(report.problems.size(), 1U) << "named, so that the run ends as bad input";
    EXPECT_NE(one_line(report.problems[0]).find("without a flow"), std::string::npos);
    EXPECT_EQ(report.rows.at(1).steps.size(), 1U) << "the rest of the report stands";
  }
}

// The job's metal: pi (D' - D) L n of sheet for each fitting, at 7850 kg/m3.
TEST(StepUp, MetalOfTheWholeJob) {
  Fitting three = straight("315", "25", {{"length", "2000"}, {"gauge", "0.8"}});
  three.count = 3;
  Fitting two = straight("200", "25", {{"length", "500"}, {"gauge", "1"}});  // needs 250: the next is 250
  two.count = 2;
  const BoreReport report = bore_report({three, two}, nullptr, by(StepUpCriterion::area));
  const double first = k_pi * (0.400 - 0.315) * 2.0 * 3;
  const double second = k_pi * (0.250 - 0.200) * 0.5 * 2;
  EXPECT_NEAR(report.rows.at(0).added_metal.value(), first * 1e6, 1e-3);
  EXPECT_NEAR(report.rows.at(1).added_metal.value(), second * 1e6, 1e-3);
  EXPECT_NEAR(report.added_metal, (first + second) * 1e6, 1e-3);
  EXPECT_NEAR(report.added_mass, (first * 0.0008 + second * 0.001) * 7850.0, 1e-9);
  EXPECT_EQ(report.without_size, 0U);
}

// Each end of a taper by itself: 400 needs 450 and gets 500; 250 needs 300 and gets 315.
TEST(StepUp, BothEndsOfATaper) {
  const BoreReport report = bore_report(
      {fitting_from("reducer",
                    {{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}})},
      nullptr, by(StepUpCriterion::area));
  const BoreRow& row = report.rows.at(0);
  ASSERT_EQ(row.steps.size(), 2U);
  EXPECT_NEAR(row.steps[0].found.size.value().diameter, 500.0, 1e-9);
  EXPECT_NEAR(row.steps[1].found.size.value().diameter, 315.0, 1e-9);
  EXPECT_NEAR(row.added_metal.value(), k_pi * 0.5 * (100.0 + 65.0) * 300.0, 1e-3);
}

TEST(StepUp, NoneLargeEnough) {
  const BoreReport report =
      bore_report({straight("1250", "25"), straight("315", "25")}, nullptr, by(StepUpCriterion::area));
  EXPECT_FALSE(report.rows.at(0).steps.at(0).found.size);
  EXPECT_FALSE(report.rows.at(0).added_metal);
  EXPECT_EQ(report.without_size, 1U);
  EXPECT_NEAR(report.added_metal, report.rows.at(1).added_metal.value(), 1e-9);
  EXPECT_NE(bore_table(report).find("not in it: 1 passage"), std::string::npos);
}

TEST(StepUpLimit, AsAPersonWritesIt) {
  const double inch_of_water = 249.08891;  // Pa, conventional (ISO 80000-4: 1 mmH2O = 9.80665 Pa)
  EXPECT_NEAR(step_up_limit(StepUpCriterion::friction, "1 Pa/m", Units::inch), 1.0, 1e-12);
  EXPECT_NEAR(step_up_limit(StepUpCriterion::friction, "1.5", Units::metric), 1.5, 1e-12);
  EXPECT_NEAR(step_up_limit(StepUpCriterion::friction, "0.1", Units::inch), 0.1 * inch_of_water / 30.48,
              1e-6);
  EXPECT_NEAR(step_up_limit(StepUpCriterion::friction, "0.1 in w.g./100ft", Units::metric),
              0.1 * inch_of_water / 30.48, 1e-6);
  EXPECT_NEAR(step_up_limit(StepUpCriterion::velocity, "1200 fpm", Units::metric), 1200 * 0.3048 / 60, 1e-9);
  EXPECT_NEAR(step_up_limit(StepUpCriterion::area, "0.1 m2", Units::metric), 1e5, 1e-6);
  for (const char* bad : {"", "nothing", "0", "-1", "5 Pa", "1e400"})
    EXPECT_THROW(step_up_limit(StepUpCriterion::friction, bad, Units::metric), std::invalid_argument) << bad;
  EXPECT_THROW(step_up_limit(StepUpCriterion::velocity, "0", Units::metric), std::invalid_argument);
  EXPECT_THROW(step_up_limit(StepUpCriterion::area, "5 Pa/m", Units::metric), std::invalid_argument);
}

}  // namespace
}  // namespace linerwright
