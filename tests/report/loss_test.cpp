// Losses of whole fittings, recomputed from their formulas.
#include <tuple>

#include "losses.hpp"

namespace linerwright {
namespace {

// 500 mm taper from 400 to 315 with collars of 100, either way round; lined 25 mm.
TEST(Loss, OfATaperWithCollars) {
  const Flags taper{{"diameter", "400"},  {"to_diameter", "315"}, {"length", "500"}, {"collar", "100"},
                    {"to_collar", "150"}, {"thickness", "25"},    {"flow", "0.5"}};
  const BoreRow down = report_of({fitting_from("reducer", taper)}).rows.at(0);
  // bare: two cylinders and a cone, by Simpson's rule
  double cone = 0.0;
  constexpr int k_steps = 2000;
  for (int i = 0; i <= k_steps; ++i)
    cone += (i == 0 || i == k_steps ? 1.0
             : i % 2 == 1           ? 4.0
                                    : 2.0) *
            friction((400.0 - 85.0 * i / k_steps) * 1e-3, 0.5, 0.09e-3);
  const double bare =
      0.1 * friction(0.4, 0.5, 0.09e-3) + 0.5 * cone / (3.0 * k_steps) + 0.15 * friction(0.315, 0.5, 0.09e-3);
  EXPECT_NEAR(down.bare_loss->friction / bare, 1.0, 1e-7);
  const double n = std::pow(315.0 / 400.0, 2);
  const double a = 2.0 * std::atan(0.5 * 85.0 / 500.0);
  const double narrowing =
      (-0.0125 * std::pow(n, 4) + 0.0224 * std::pow(n, 3) - 0.00723 * n * n + 0.00444 * n - 0.00745) *
      (a * a * a - 2 * k_pi * a * a - 10 * a);
  EXPECT_NEAR(part(*down.bare_loss, "narrowing taper"), narrowing * dynamic(0.5, 315), 1e-6);
  EXPECT_NEAR(down.bare_loss->total, down.bare_loss->friction + narrowing * dynamic(0.5, 315), 1e-6);
  EXPECT_GT(down.lined_loss->friction, bare);
  // the air going the other way meets a diffuser
  const BoreRow up =
      report_of({fitting_from("reducer", with(taper, {{"flow_arrow", "against"}}))}).rows.at(0);
  EXPECT_NEAR(up.bare_loss->friction, down.bare_loss->friction, 1e-9);
  const double widening = 3.2 * std::pow(std::tan(0.5 * a), 1.25) * std::pow(1 - n, 2);
  EXPECT_NEAR(part(*up.bare_loss, "widening taper"), widening * dynamic(0.5, 315), 1e-6);
}

// A path of a straight, a taper and a straight is the reducer with those collars: the same friction, and the
// taper is as long, not from the middle of one straight to the middle of the other.
TEST(Loss, OfATaperInAPathIsThatOfTheReducer) {
  const Flags air{{"thickness", "25"}, {"flow", "0.5"}};
  const BoreRow path =
      report_of({fitting_from("path", with(air, {{"diameter", "400"},
                                                 {"parts",
                                                  "straight 400mm, taper to 250mm over 300mm, straight "
                                                  "500mm"}}))})
          .rows.at(0);
  const BoreRow reducer = report_of({fitting_from("reducer", with(air, {{"diameter", "400"},
                                                                        {"to_diameter", "250"},
                                                                        {"length", "300"},
                                                                        {"collar", "400"},
                                                                        {"to_collar", "500"}}))})
                              .rows.at(0);
  EXPECT_NEAR(path.length, reducer.length, 1e-9);
  for (const auto side : {&BoreRow::bare_loss, &BoreRow::lined_loss}) {
    const BoreLoss& one = (path.*side).value();
    const BoreLoss& other = (reducer.*side).value();
    EXPECT_NEAR(one.friction / other.friction, 1.0, 1e-9);
    ASSERT_EQ(one.parts.size(), 1U);
    EXPECT_NEAR(part(one, "narrowing taper") / part(other, "narrowing taper"), 1.0, 1e-9);
  }
}

TEST(Loss, OfBendsBareAndLined) {
  const Flags bend{{"diameter", "500"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}, {"flow", "1"}};
  const BoreRow gored = report_of({fitting_from("elbow", bend)}).rows.at(0);
  // four mitres sum up to less than the smooth bend of the same bore, after which it is taken
  const auto smooth = [&](double bore, double roughness) {
    const double reynolds = velocity(1.0, circle_area(bore)) * bore * 1e-3 / Air{}.viscosity;
    return smooth_bend(90 * k_degree, 750, bore, reynolds, roughness).value;
  };
  EXPECT_NEAR(part(*gored.bare_loss, "mitred bend"), smooth(500, 0.09) * dynamic(1.0, 500), 1e-9);
  EXPECT_NEAR(part(*gored.lined_loss, "mitred bend"), smooth(450, 0.9) * dynamic(1.0, 450), 1e-9);
  // of two it is their sum
  const BoreRow two = report_of({fitting_from("elbow", with(bend, {{"pieces", "3"}}))}).rows.at(0);
  const double s2 = std::pow(std::sin(22.5 * k_degree), 2);
  EXPECT_NEAR(part(*two.lined_loss, "mitred bend"), 2 * (0.9457 * s2 + 2.047 * s2 * s2) * dynamic(1.0, 450),
              1e-9);
  EXPECT_TRUE(gored.lined_loss->by_default());
  // pressed and tight: the gores inside have no formula, so the smooth metal's coefficient is left out, too
  const BoreRow tight =
      report_of({fitting_from("elbow", with(bend, {{"form", "smooth"}, {"radius_ratio", "1"}}))}).rows.at(0);
  EXPECT_TRUE(tight.bare_loss->parts.empty());
  // what stays are the steps from a lined neighbour's 450 mm into the gores' bore and out again
  const double gores = tight.narrowest_place().lined_diameter;
  const double heel = (500.0 + 250.0) * (1.0 - std::cos(90.0 / 8.0 * k_degree));
  EXPECT_NEAR(gores, 450.0 - heel, 1e-6) << "the step at the heel, all of it in the diameter";
  const double n = std::pow(gores / 450.0, 2);
  ASSERT_EQ(tight.lined_loss->parts.size(), 2U);
  EXPECT_NEAR(part(*tight.lined_loss, "from a lined neighbour"),
              0.5 * std::pow(1 - n, 0.75) * dynamic(1.0, gores), 1e-9);
  EXPECT_NEAR(part(*tight.lined_loss, "from the lining into"), std::pow(1 - n, 2) * dynamic(1.0, gores),
              1e-9);
  ASSERT_EQ(tight.lined_loss->left_out.size(), 1U);
  ASSERT_EQ(tight.bare_loss->left_out.size(), 1U);
  EXPECT_EQ(tight.bare_loss->total, tight.bare_loss->friction);
  // until somebody gives both
  const BoreRow given = report_of({fitting_from("elbow", with(bend, {{"form", "smooth"},
                                                                     {"radius_ratio", "1"},
                                                                     {"loss_coefficient", "0.4"},
                                                                     {"bare_loss_coefficient", "0.25"}}))})
                            .rows.at(0);
  EXPECT_TRUE(given.lined_loss->left_out.empty());
  EXPECT_FALSE(given.lined_loss->by_default());
  EXPECT_NEAR(given.bare_loss->parts.at(0).pressure, 0.25 * dynamic(1.0, 500), 1e-9);
  EXPECT_NEAR(given.lined_loss->parts.at(0).pressure,
              0.4 * dynamic(1.0, given.narrowest_place().lined_diameter), 1e-9);
}

// Out of bare metal and into it again: Idelchik's sudden narrowing and Borda's widening on the lined p_v,
// nosing noted.
TEST(Loss, AtJointsWithBareMetal) {
  const BoreRow row =
      report_of({straight("500", "25", {{"flow", "1"}, {"upstream", "metal"}, {"downstream", "metal"}})})
          .rows.at(0);
  const double n = 0.81;
  EXPECT_NEAR(part(*row.lined_loss, "from bare metal"), 0.5 * std::pow(1 - n, 0.75) * dynamic(1.0, 450),
              1e-9);
  EXPECT_NEAR(part(*row.lined_loss, "from the lining"), std::pow(1 - n, 2) * dynamic(1.0, 450), 1e-9);
  EXPECT_TRUE(row.bare_loss->parts.empty());
  ASSERT_EQ(row.notes.size(), 1U);
  EXPECT_NE(row.notes[0].find("nosing"), std::string::npos);
  const BoreRow lined = report_of({straight("500", "25", {{"flow", "1"}, {"upstream", "lined"}})}).rows.at(0);
  EXPECT_TRUE(lined.notes.empty());
  EXPECT_TRUE(lined.lined_loss->parts.empty());
}

TEST(Loss, SumsAndFanPower) {
  Values air;
  air.set("flow", number(0.5));
  air.set("fan_efficiency", number(0.6));
  Fitting many = straight("315", "25");
  many.count = 4;
  const BoreReport report = report_of(
      {many,
       fitting_from("elbow", {{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}}),
       tee({{"flow", "1"}})},
      &air);
  const std::vector<BoreSum> sums = bore_sums(report);
  ASSERT_EQ(sums.size(), 4U);
  EXPECT_EQ(sums[0].fittings, 4);
  EXPECT_NEAR(sums[0].lined_loss, 4.0 * 2.0 * friction(0.265, 0.5, 0.9e-3), 1e-6);
  EXPECT_NEAR(sums[0].lined_power.value(), sums[0].lined_loss * 0.5 / 0.6, 1e-9);
  EXPECT_NEAR(sums[0].length, 8000.0, 1e-9);
  EXPECT_EQ(sums[2].without, 2U) << "the branches' flows are not stated";
  EXPECT_EQ(sums[2].incomplete, 1U);
  EXPECT_EQ(sums[2].fittings, 1);
  double bare = 0.0;
  for (std::size_t i = 0; i < 3; ++i) bare += sums[i].bare_loss;
  EXPECT_NEAR(sums[3].bare_loss, bare, 1e-9);
  EXPECT_EQ(sums[3].fittings, 6);
  EXPECT_TRUE(bore_sums(report_of({straight("315", "25")})).empty());
}

// The library's law at 40 C and 5000 ft: p = 84307 Pa, rho = p / (287.05 x 313.15) = 0.9379 kg/m3 dry.
TEST(JobAir, FromTemperatureAndAltitude) {
  Values air;
  air.set("flow", number(0.5));
  air.set("temperature", number(40.0));
  air.set("altitude", number(1524000.0));
  const BoreReport report = report_of({straight("315", "25")}, &air);
  EXPECT_NEAR(report.air.density, 84307.0 / (287.053 * 313.15), 1e-4);
  EXPECT_NE(report.air_basis.find("40 C"), std::string::npos);
  EXPECT_NEAR(report.rows.at(0).lined_air->velocity_pressure,
              0.5 * report.air.density * std::pow(report.rows[0].lined_air->velocity, 2), 1e-9);
  air.set("pressure", number(9e4));
  air.set("altitude", number(1524000.0));
  const BoreReport both = report_of({straight("315", "25")}, &air);
  ASSERT_EQ(both.problems.size(), 1U);
  EXPECT_EQ(both.problems[0].key, "air.altitude");
  EXPECT_TRUE(both.rows.empty());
}

// 0.005 ft and 0.015 ft; the default and its label stay.
TEST(Roughness, BySurface) {
  const auto row = [](Flags more) {
    return report_of({straight("315", "25", with({{"flow", "0.5"}}, more))}).rows.at(0);
  };
  EXPECT_NEAR(row({{"surface", "faced"}}).roughness, 1.524, 1e-12);
  EXPECT_NEAR(row({{"surface", "coated"}}).roughness, 4.572, 1e-12);
  EXPECT_NEAR(row({{"surface", "coated"}}).lined_air->friction, friction(0.265, 0.5, 4.572e-3), 1e-5);
  EXPECT_NEAR(row({}).roughness, 0.9, 1e-12);
  EXPECT_NE(row({}).surface.find("default"), std::string::npos);
  const BoreReport both = report_of({straight("315", "25", {{"surface", "faced"}, {"roughness", "2"}})});
  ASSERT_EQ(both.problems.size(), 1U);
  EXPECT_EQ(both.problems[0].key, "--surface");
}

// 315 mm at R/D 1 in five pieces: (315 + 157.5)(1 - cos 11.25 deg) = 9.08 mm; in three 35.97 mm, more than 25
// mm of liner.
TEST(ExposedStep, OfASmoothElbow) {
  for (const auto& [pieces, step, open] :
       {std::tuple<const char*, double, bool>{"5", 9.08, false}, {"3", 35.97, true}}) {
    const Fitting elbow = fitting_from("elbow", {{"diameter", "315"},
                                                 {"angle", "90"},
                                                 {"pieces", pieces},
                                                 {"radius_ratio", "1"},
                                                 {"form", "smooth"},
                                                 {"thickness", "25"}});
    double found = 0.0;
    for (const Fact& fact : elbow.facts)
      if (fact.key == "exposed_step") found = fact.value;
    EXPECT_NEAR(found, step, 0.01);
    bool warned = false;
    for (const std::string& warning : elbow.warnings)
      warned = warned || warning.find("open to the air") != std::string::npos;
    EXPECT_EQ(warned, open) << pieces;
    const BoreRow row = report_of({elbow}).rows.at(0);
    EXPECT_NEAR(row.exposed_step.value(), step, 0.01);
    // the step is one of the bore's stations, at either end: from a neighbour's 265 mm to the gores'
    for (const bool behind : {false, true}) {
      const BorePlace& beside = behind ? row.places.back() : row.places.front();
      const BorePlace& own = behind ? row.places[row.places.size() - 2] : row.places[1];
      EXPECT_EQ(beside.place, "lined neighbour");
      EXPECT_EQ(beside.distance, own.distance);
      EXPECT_NEAR(beside.lined_diameter - own.lined_diameter, step, 0.01);
    }
    EXPECT_EQ(row.narrowest_place().place, "one end");
    EXPECT_EQ(row.notes.back().find("the liner stands " + std::string(open ? "35.97" : "9.08")), 0U);
    EXPECT_EQ(row.notes.back().find("open to the air") != std::string::npos, open);
  }
  EXPECT_FALSE(report_of({straight("315", "25")}).rows.at(0).exposed_step);
}

// 500 to 250 over 350 with the second end 200 aside: the line of centres is hypot(350, 200) = 403.1 mm long.
TEST(Path, OfAnOffsetTaperIsItsLineOfCentres) {
  const BoreRow row = report_of({fitting_from("reducer", {{"diameter", "500"},
                                                          {"to_diameter", "250"},
                                                          {"length", "350"},
                                                          {"offset", "200"},
                                                          {"thickness", "25"},
                                                          {"flow", "0.5"}})})
                          .rows.at(0);
  EXPECT_NEAR(row.length, 403.1, 0.05);
}

TEST(AsWritten, SizesOfTheOtherSystemStandInTheirOwnUnit) {
  const Fitting fitting = make_fitting(request_from_flags(
      "straight", {{"diameter", "315mm"}, {"length", "48"}, {"thickness", "25mm"}, {"flow", "500 cfm"}},
      Units::inch, job_schema()));
  const BoreReport report = report_of({fitting});
  EXPECT_EQ(report.rows.at(0).as_written, "diameter 315mm, thickness 25mm");
  EXPECT_NE(bore_table(report).find("as written: diameter 315mm"), std::string::npos);
  EXPECT_TRUE(report_of({straight("315", "25")}).rows.at(0).as_written.empty());
}

// 14 C air in a room of 30 C and 70 %: the dew point is 23.9 C; the report says what the metal does, times
// the length.
TEST(Gain, OfAJobsRoom) {
  Values air;
  air.set("flow", number(0.5));
  air.set("temperature", number(14.0));
  air.set("room_temperature", number(30.0));
  air.set("room_humidity", number(70.0));
  BoreOptions more;
  more.heat_and_sound = true;
  const BoreReport report = bore_report(
      {straight("315", "13", {{"upstream", "lined"}}), straight("315", "50", {{"upstream", "lined"}})}, &air,
      more);
  ASSERT_TRUE(report.room && report.room->dew_point);
  EXPECT_NEAR(*report.room->dew_point, dew_point(30.0, 70.0), 1e-12);
  const BoreRow& thin = report.rows.at(0);
  DuctInRoom duct{315.0, 0.8, thin.heat->per_length, 289.0, 0.5, 14.0, 30.0, 0.26, report.air};
  EXPECT_NEAR(thin.lined_gain->per_metre, duct_heat(duct).per_metre, 1e-12);
  EXPECT_GT(thin.bare_gain->per_metre, thin.lined_gain->per_metre);
  EXPECT_GT(thin.least_dry.value(), 0.0);
  const bool wet = thin.lined_gain->surface_temperature < *report.room->dew_point;
  EXPECT_EQ(thin.least_dry.value() > 13.0, wet);
  EXPECT_EQ(thin.notes.size(), wet ? 1U : 0U);
  EXPECT_TRUE(report.rows.at(1).notes.empty());
  const std::string table = bore_table(report);
  EXPECT_NE(table.find("dew point"), std::string::npos);
  EXPECT_NE(table.find("25 %"), std::string::npos) << "what the regression was made on";
  EXPECT_NE(table.find("air noise"), std::string::npos);
  // a room without the air's own temperature says nothing
  Values half;
  half.set("flow", number(0.5));
  half.set("room_temperature", number(30.0));
  EXPECT_EQ(bore_report({straight("315", "13")}, &half, more).problems.size(), 1U);
}

}  // namespace
}  // namespace linerwright
