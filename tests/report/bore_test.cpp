// The figures of the report: bore, air, heat and sound.
#include <gtest/gtest.h>

#include "fittings.hpp"

namespace linerwright {
namespace {

BoreRow row_of(const Fitting& fitting, const BoreOptions& options = {}, const Values* air = nullptr) {
  return bore_report({fitting}, air, options).rows.at(0);
}

// ((D - 2t)/D)^2 and its inverse, worked out by hand in the sizes both trades use.
TEST(Bore, FreeAreaOfStraightDuct) {
  struct Line {
    const char *diameter, *thickness;
    double bore, share;
    bool inch;
  };
  for (const Line& line :
       {Line{"12", "1", 10.0 * 25.4, 0.694444, true}, Line{"10", "1", 8.0 * 25.4, 0.640000, true},
        Line{"24", "1", 22.0 * 25.4, 0.840278, true}, Line{"24", "2", 20.0 * 25.4, 0.694444, true},
        Line{"200", "25", 150.0, 0.562500, false}, Line{"315", "25", 265.0, 0.707735, false},
        Line{"500", "50", 400.0, 0.640000, false}, Line{"160", "13", 134.0, 0.701406, false}}) {
    const BoreRow row = row_of(line.inch ? straight_in(line.diameter, line.thickness)
                                         : straight(line.diameter, line.thickness));
    SCOPED_TRACE(line.diameter);
    EXPECT_NEAR(row.narrowest_place().lined_diameter, line.bore, 1e-9);
    EXPECT_NEAR(row.narrowest_place().share, line.share, 5e-7);
    EXPECT_NEAR(row.velocity_factor, 1.0 / line.share, 3e-6);
    EXPECT_NEAR(row.narrowest_place().free_area, 0.25 * k_pi * line.bore * line.bore, 1e-6);
    EXPECT_TRUE(row.even);
    EXPECT_FALSE(row.flow || row.lined_air || row.heat || row.sound || row.lined_loss || row.bare_loss);
    EXPECT_TRUE(row.steps.empty());
  }
}

// 0.5 m3/s of standard air in 315 mm lined with 25 mm: V = Q/A, Colebrook and Darcy-Weisbach.
TEST(Air, WorkedExample) {
  const BoreRow row = row_of(straight("315", "25", {{"flow", "0.5"}}));
  ASSERT_TRUE(row.bare_air && row.lined_air);
  EXPECT_NEAR(row.bare_air->velocity, 6.415921, 5e-7);
  EXPECT_NEAR(row.lined_air->velocity, 9.065429, 5e-7);
  EXPECT_NEAR(row.bare_air->reynolds, 134198, 0.5);
  EXPECT_NEAR(row.lined_air->reynolds, 159518, 0.5);
  EXPECT_NEAR(row.bare_air->friction_factor, 0.018575, 5e-7);
  EXPECT_NEAR(row.lined_air->friction_factor, 0.027875, 5e-7);
  EXPECT_NEAR(row.bare_air->friction, 1.46126, 5e-6);
  EXPECT_NEAR(row.lined_air->friction, 5.20408, 5e-6);
  EXPECT_FALSE(row.over_limit);
  EXPECT_NEAR(row.velocity_limit.value(), 6000.0 * 0.3048 / 60.0, 1e-12);
  EXPECT_TRUE(row.lined_loss->parts.empty());
}

TEST(Air, RougherLiningLosesMore) {
  const BoreRow row = row_of(straight("315", "25", {{"flow", "0.5"}, {"roughness", "3"}}));
  EXPECT_NEAR(row.lined_air->friction_factor, 0.039895, 5e-7);
  EXPECT_NEAR(row.lined_air->friction, 7.44812, 5e-6);
}

// The designer's coefficient acts on the velocity pressure in the lined bore: 0.602 V^2; friction over the
// length comes to it.
TEST(Air, LossIsOnTheLinedVelocityPressure) {
  const BoreRow row = row_of(fitting_from("elbow", {{"diameter", "315"},
                                                    {"thickness", "25"},
                                                    {"angle", "90"},
                                                    {"pieces", "5"},
                                                    {"flow", "0.5"},
                                                    {"loss_coefficient", "0.33"}}));
  ASSERT_EQ(row.lined_loss->parts.size(), 1U);
  EXPECT_TRUE(row.lined_loss->parts[0].given);
  EXPECT_NEAR(row.lined_loss->parts[0].pressure, 0.33 * 0.602 * 9.065429 * 9.065429, 1e-5);
  EXPECT_NEAR(row.lined_loss->friction, 5.20408 * row.length * 1e-3, 1e-5);
  EXPECT_NEAR(row.lined_loss->total, row.lined_loss->friction + row.lined_loss->parts[0].pressure, 1e-12);
  const BoreRow still = row_of(straight("315", "25", {{"loss_coefficient", "0.33"}, {"upstream", "lined"}}));
  EXPECT_FALSE(still.lined_loss);
  ASSERT_EQ(still.notes.size(), 1U);
  EXPECT_NE(still.notes[0].find("flow"), std::string::npos);
}

TEST(Air, OverTheLimitTheReportSaysSo) {
  // 30.48 m/s through 265 mm is 1.681138 m3/s
  for (const auto& [flow, over] : {std::pair<const char*, bool>{"1.681", false}, {"1.6813", true}}) {
    const BoreReport report =
        bore_report({straight("315", "25"), straight("315", "25", {{"flow", flow}})}, nullptr, {});
    EXPECT_EQ(report.over_limit(), over) << flow;
    EXPECT_FALSE(report.rows.at(0).over_limit);
    EXPECT_EQ(report.rows.at(1).over_limit, over) << flow;
    EXPECT_EQ(bore_table(report).find("OVER LIMIT") != std::string::npos, over);
  }
  const BoreReport own =
      bore_report({straight("315", "25", {{"flow", "0.5"}, {"max_velocity", "9"}})}, nullptr, {});
  EXPECT_TRUE(own.over_limit()) << "the lining's own rating";
}

TEST(Air, AFittingsFlowWinsOverTheJobs) {
  Values air;
  air.set("flow", number(0.8));
  air.set("density", number(1.0));
  air.set("viscosity", number(2e-5));
  const BoreReport report =
      bore_report({straight("315", "25"), straight("315", "25", {{"flow", "0.5"}})}, &air, {});
  EXPECT_NEAR(report.rows.at(0).flow.value(), 0.8, 1e-15);
  EXPECT_NEAR(report.rows.at(1).flow.value(), 0.5, 1e-15);
  EXPECT_NEAR(report.rows.at(0).lined_air->velocity, 9.065429 * 0.8 / 0.5, 1e-6);
  EXPECT_NEAR(report.rows.at(1).lined_air->velocity_pressure, 0.5 * 1.0 * 9.065429 * 9.065429, 1e-5);
  EXPECT_NEAR(report.rows.at(1).lined_air->reynolds, 9.065429 * 0.265 / 2e-5, 0.02);
}

// How much goes into the branch nobody said.
TEST(Air, ATeesFlowIsTheBodys) {
  const BoreReport report = bore_report({fitting_from("tee", {{"diameter", "300"},
                                                              {"length", "900"},
                                                              {"branch_diameter", "200"},
                                                              {"branch_length", "400"},
                                                              {"thickness", "25"},
                                                              {"flow", "0.5"}})},
                                        nullptr, {});
  ASSERT_EQ(report.rows.size(), 2U);
  EXPECT_EQ(report.rows[1].passage, "branch");
  EXPECT_TRUE(report.rows[0].lined_air);
  EXPECT_FALSE(report.rows[1].lined_air);
  ASSERT_EQ(report.rows[1].notes.size(), 1U);
  EXPECT_NEAR(report.rows[1].narrowest_place().share, 0.5625, 1e-9);
  ASSERT_EQ(report.openings.size(), 1U);
  EXPECT_EQ(report.openings[0].name, "branch");
  // both are larger than the square cut: the holes are saddles
  EXPECT_GT(report.openings[0].bare_area, 0.25 * k_pi * 200 * 200);
  EXPECT_GT(report.openings[0].free_area, 0.25 * k_pi * 150 * 150);
  EXPECT_LT(report.openings[0].share, 1.0);
}

TEST(Air, ValuesNoAirFigureCanBeMadeOf) {
  const BoreReport rough = bore_report({straight("100", "48", {{"flow", "0.001"}, {"roughness", "2.5"}}),
                                        straight("315", "25", {{"flow", "0.5"}})},
                                       nullptr, {});
  ASSERT_EQ(rough.problems.size(), 1U);
  EXPECT_EQ(rough.problems[0].key, "--roughness");
  EXPECT_FALSE(rough.rows.at(0).lined_air);
  EXPECT_TRUE(rough.rows.at(1).lined_air) << "the rest of the report stands";
  const BoreReport fast = bore_report({straight("315", "25", {{"flow", "20"}})}, nullptr, {});
  ASSERT_EQ(fast.problems.size(), 1U);
  EXPECT_EQ(fast.problems[0].key, "--flow");
}

// A hollow cylinder's resistance: ln(D / (D - 2t)) / (2 pi k).
TEST(Heat, OfAHollowCylinder) {
  BoreOptions more;
  more.heat_and_sound = true;
  const BoreRow row = row_of(straight("315", "25", {{"conductivity", "0.036"}}), more);
  const double resistance = std::log(315.0 / 265.0) / (2.0 * k_pi * 0.036);
  EXPECT_NEAR(row.heat.value().per_length, resistance, 1e-12);
  EXPECT_NEAR(row.heat->on_duct_face, resistance * k_pi * 0.315, 1e-12);
  EXPECT_NEAR(row.heat->on_air_face, resistance * k_pi * 0.265, 1e-12);
  EXPECT_NEAR(row.heat->flat, 0.025 / 0.036, 1e-12);
}

TEST(Sound, OfStraightLengthsOnly) {
  BoreOptions more;
  more.heat_and_sound = true;
  const BoreRow length = row_of(straight_in("24", "1"), more);
  ASSERT_TRUE(length.sound && length.sound->bands);
  EXPECT_NEAR((*length.sound->bands)[4].total, (*length.sound->bands)[4].per_metre * 96 * 0.0254, 1e-9);
  for (const auto& [kind, flags] :
       {std::pair<const char*, Flags>{"elbow", {{"angle", "90"}, {"pieces", "5"}}},
        {"reducer", {{"to_diameter", "400"}, {"length", "500"}}},
        {"tee", {{"length", "1800"}, {"branch_diameter", "300"}, {"branch_length", "800"}}}}) {
    const BoreRow row =
        row_of(fitting_from(kind, with(flags, {{"diameter", "600"}, {"thickness", "25"}})), more);
    EXPECT_FALSE(row.sound) << kind;
    EXPECT_TRUE(row.heat) << kind;
  }
  EXPECT_FALSE(row_of(straight_in("24", "1")).heat) << "only when asked for";
}

// A taper is narrowest at its small end, or all along its small collar.
TEST(Bore, NarrowestOfATaper) {
  const Flags taper{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
  const BoreRow row = row_of(fitting_from("reducer", taper));
  EXPECT_FALSE(row.even);
  EXPECT_NEAR(row.narrowest_place().distance, row.length, 1e-9);
  EXPECT_NEAR(row.narrowest_place().bare_diameter, 250.0, 1e-9);
  EXPECT_LT(row.narrowest_place().lined_diameter, 200.0) << "the liner is thicker square to the axis";
  EXPECT_GT(row.narrowest_place().lined_diameter, 195.0);
  // growing, it is narrowest where it begins
  const BoreRow growing =
      row_of(fitting_from("reducer", with(taper, {{"diameter", "250"}, {"to_diameter", "400"}})));
  EXPECT_NEAR(growing.narrowest_place().distance, 0.0, 1e-9);
  EXPECT_NEAR(growing.narrowest_place().free_area, row.narrowest_place().free_area, 1e-6);
}

// A fitting whose figures cannot be right is named; the rows of the others stand, before and after it.
TEST(Bore, OneBadFittingDoesNotEndTheReport) {
  Fitting bad = straight("400", "25");
  bad.tag = "bad";
  bad.passages.at(0).stations.at(0).lined_area *= 4.0;
  for (const std::vector<Fitting>& fittings :
       {std::vector<Fitting>{bad, straight("315", "25")}, {straight("315", "25"), bad}}) {
    const BoreReport report = bore_report(fittings, nullptr, {});
    ASSERT_EQ(report.rows.size(), 1U);
    EXPECT_NEAR(report.rows[0].narrowest_place().bare_diameter, 315.0, 1e-9);
    ASSERT_EQ(report.problems.size(), 1U);
    EXPECT_EQ(report.problems[0].tag, "bad");
    EXPECT_NE(one_line(report.problems[0]).find("larger than the bare area"), std::string::npos);
  }
}

}  // namespace
}  // namespace linerwright
