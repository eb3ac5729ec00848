// Figures of the tables against rules of the trade, published tables and closed forms.
#include <gtest/gtest.h>

#include <sstream>

#include "fittings.hpp"
#include "linerwright/units/error.hpp"
#include "support/elliptic.hpp"

namespace linerwright {
namespace {

using Words = std::vector<std::string>;

// The words of the first line after this title that begins with `first`.
Words words_of(const std::string& table, const std::string& title, const std::string& first) {
  std::istringstream lines(title.empty() ? table
                                         : table.substr(std::min(table.size(), table.find("\n" + title))));
  for (std::string line; std::getline(lines, line);) {
    std::istringstream in(line);
    Words words;
    for (std::string word; in >> word;) words.push_back(word);
    if (!words.empty() && words.front() == first) return words;
  }
  return {};
}

std::string table_of(const Fitting& fitting, const BoreOptions& options = {}) {
  return bore_table(bore_report({fitting}, nullptr, options));
}

TEST(BoreTable, RowsInBothUnits) {
  EXPECT_EQ(
      words_of(table_of(straight("315", "25")), "", "straight"),
      (Words{"straight", "1", "2000.0", "315.0", "265.0", "0.0552", "70.8", "%", "1.413", "all", "along"}));
  // pi 10^2 / 4 in2 = 78.5398 in2 = 0.545 ft2
  EXPECT_EQ(
      words_of(table_of(straight_in("12", "1")), "", "straight"),
      (Words{"straight", "1", "96.00", "12.00", "10.00", "0.545", "69.4", "%", "1.440", "all", "along"}));
}

// pi x (1 mm)^2 = 3.14e-6 m2: three figures are left where four decimals would show none.
TEST(BoreTable, SmallAreasKeepThreeFigures) {
  EXPECT_EQ(words_of(table_of(straight("80", "39")), "", "straight").at(5), "0.00000314");
}

// Long tags of one run differ at their ends; what turns the direction of writing or is no UTF-8 shows as ?.
TEST(BoreTable, ShortenedTagsStayApart) {
  std::vector<Fitting> fittings;
  for (const char* tag : {"AHU-3-SUPPLY-LEVEL-2-EAST-WING-0001", "AHU-3-SUPPLY-LEVEL-2-EAST-WING-0002",
                          "A\xE2\x80\xAE"
                          "B\xFF"
                          "C"}) {
    fittings.push_back(straight("315", "25"));
    fittings.back().tag = tag;
  }
  const std::string table = bore_table(bore_report(fittings, nullptr, {}));
  for (const char* shown : {"AHU-3-SUPPLY-\xE2\x80\xA6"
                            "AST-WING-0001",
                            "AHU-3-SUPPLY-\xE2\x80\xA6"
                            "AST-WING-0002",
                            "A?B?C"})
    EXPECT_EQ(words_of(table, "", shown).size(), 11U) << table;
}

TEST(BoreTable, AirRowsOfTheWorkedExample) {
  const std::string table = table_of(straight("315", "25", {{"flow", "0.5"}, {"loss_coefficient", "0.3"}}));
  // p_v = 0.602 x 9.065429^2 = 49.47 Pa, 0.3 of it 14.84 Pa; 2 m at 1.46126 Pa/m bare and 5.20408 Pa/m lined,
  // 25.250 Pa in all
  EXPECT_EQ(words_of(table, "air", "straight"), (Words{"straight", "0.500", "6.42", "9.07", "30.5", "49.5"}));
  EXPECT_EQ(words_of(table, "loss", "straight"),
            (Words{"straight", "2000.0", "1", "2.92", "10.4", "2.92", "25.3", "25.3"}));
  EXPECT_EQ(words_of(table, "friction", "straight"),
            (Words{"straight", "134198", "159518", "0.01857", "0.02788", "1.46", "5.20"}));
}

// 1000 cfm through 12 in lined 1 in: pi (10/12)^2 / 4 = 0.545415 ft2, so 1833.5 fpm; bare 1273.2 fpm.
// p_v = (V / 4005)^2 in w.g. in standard air: the rule of US handbooks, from memory, good to three figures.
TEST(BoreTable, AirRowsInInches) {
  const std::string table = table_of(straight_in("12", "1", {{"flow", "1000"}}));
  const Words air = words_of(table, "air", "straight");
  ASSERT_EQ(air.size(), 6U);
  EXPECT_EQ((Words{air.begin(), air.begin() + 5}), (Words{"straight", "1000", "1273", "1833", "6000"}));
  const double pressure = std::pow(1833.5 / 4005.0, 2);
  EXPECT_NEAR(std::stod(air[5]) / pressure, 1.0, 2e-3);
  // dp/L = f p_v / d over 100 ft, d = 10/12 ft
  const Words friction = words_of(table, "friction", "straight");
  ASSERT_EQ(friction.size(), 7U);
  EXPECT_NEAR(std::stod(friction[6]) / (std::stod(friction[4]) * pressure / (10.0 / 12.0) * 100.0), 1.0,
              2e-3);
}

// Metal nosing on every leading edge above 4000 fpm: SMACNA HVAC Duct Construction Standards - Metal and
// Flexible, 3rd ed., figure 7-11. In a bore of 10 in 2000 cfm run at 3667 fpm, 2200 cfm at 4034 fpm.
TEST(BoreFigures, NosingAbove4000Fpm) {
  const auto row = [](const char* flow, const Flags& more) {
    Flags flags{{"flow", flow}};
    flags.insert(more.begin(), more.end());
    return bore_report({straight_in("12", "1", flags)}, nullptr, {}).rows.at(0);
  };
  EXPECT_TRUE(row("2000", {{"upstream", "lined"}}).notes.empty());
  EXPECT_TRUE(row("2000", {{"upstream", "lined"}}).nosing.empty());
  for (const char* upstream : {"lined", "metal"}) {
    const std::vector<std::string> fast = row("2200", {{"upstream", upstream}}).notes;
    ASSERT_EQ(fast.size(), 1U);
    EXPECT_NE(fast[0].find("metal nosing on every leading edge"), std::string::npos);
    EXPECT_EQ(fast[0].find("air at 403"), 0U) << "the job's own unit first: " << fast[0];
  }
}

// The same figure's other half: wherever bare metal comes before the lining. Nobody said: the note stands at
// the first edge, with a flow or without one.
TEST(BoreFigures, NosingAtTheFirstEdge) {
  const auto nosing = [](const Flags& flags) {
    const BoreRow row = bore_report({straight_in("12", "1", flags)}, nullptr, {}).rows.at(0);
    EXPECT_EQ(row.notes.size(), row.nosing.empty() ? 0U : 1U);
    return row.nosing;
  };
  for (const Flags& flags : {Flags{}, Flags{{"flow", "500"}}}) {
    EXPECT_NE(nosing(flags).find("where bare metal comes before it"), std::string::npos);
    EXPECT_NE(
        nosing(support::with(flags, {{"upstream", "metal"}})).find("bare metal comes before this lining"),
        std::string::npos);
    EXPECT_EQ(nosing(support::with(flags, {{"upstream", "lined"}})), "");
  }
}

// Half way down a taper the lining takes t / cos(half angle) of the radius; along its collar t, and of places
// with the same bore the one with the least metal counts.
TEST(BoreFigures, AlongATaperWithCollars) {
  const Flags flags{{"diameter", "600"}, {"to_diameter", "400"}, {"length", "500"},
                    {"collar", "100"},   {"to_collar", "100"},   {"thickness", "25"}};
  BoreOptions along;
  along.along = true;
  const BoreReport report = bore_report({fitting_from("reducer", flags)}, nullptr, along);
  const BoreRow& row = report.rows.at(0);
  EXPECT_NEAR(row.length, 700.0, 1e-9);
  EXPECT_EQ(row.narrowest_place().place, "second end");
  EXPECT_NEAR(row.narrowest_place().bare_diameter, 400.0, 1e-9);
  EXPECT_NEAR(row.narrowest_place().lined_diameter, 350.0, 1e-9);
  const double half_angle = std::atan(100.0 / 500.0);
  int tapered = 0;
  for (const BorePlace& at : row.places) {
    if (at.place != "taper") continue;
    EXPECT_NEAR(at.bare_diameter, 600.0 - (at.distance - 100.0) * 0.4, 1e-9) << at.distance;
    EXPECT_NEAR(at.lined_diameter, at.bare_diameter - 50.0 / std::cos(half_angle), 1e-6) << at.distance;
    ++tapered;
  }
  EXPECT_GT(tapered, 4);
  EXPECT_NE(bore_table(report).find("second end, narrowest"), std::string::npos);
  EXPECT_EQ(table_of(fitting_from("reducer", flags)).find("second end, narrowest"), std::string::npos);
}

// Area a round hole of radius r takes of a cylinder of radius R: 4 R^2 (E(k) - (1 - k^2) K(k)), k = r / R,
// with the complete elliptic integrals; an equal tee's is 4 r^2.
TEST(BoreFigures, OpeningOfATee) {
  const auto hole = [](double wide, double small) {
    if (wide == small) return 4.0 * wide * wide;
    const double k = small / wide;
    return 4.0 * wide * wide * (support::elliptic_e(k) - (1.0 - k * k) * support::elliptic_k(k));
  };
  EXPECT_NEAR(hole(150.0, 100.0), 33545.980, 1e-3);
  for (const auto& [branch, radius] : {std::pair<const char*, double>{"200", 100.0}, {"300", 150.0}}) {
    const BoreReport report = bore_report({fitting_from("tee", {{"diameter", "300"},
                                                                {"length", "1000"},
                                                                {"branch_diameter", branch},
                                                                {"branch_length", "450"},
                                                                {"thickness", "25"}})},
                                          nullptr, {});
    ASSERT_EQ(report.openings.size(), 1U);
    const BoreOpening& opening = report.openings[0];
    EXPECT_EQ(opening.name, "branch");
    EXPECT_NEAR(opening.bare_area / hole(150.0, radius), 1.0, 1e-7) << branch;
    EXPECT_NEAR(opening.free_area / hole(125.0, radius - 25.0), 1.0, 1e-7) << branch;
    EXPECT_NEAR(opening.share, opening.free_area / opening.bare_area, 1e-12) << branch;
    EXPECT_NE(bore_table(report).find("openings, on the curved walls"), std::string::npos);
  }
}

// 1 in of 0.25 Btu in/(h ft2 F): flat 1 / 0.25 = 4 h ft2 F/Btu; around 12 in on the duct face
// 6 ln(12/10) / 0.25 = 4.376, on the air face 5 ln(12/10) / 0.25 = 3.646; of a length
// 12 ln(12/10) / (2 pi 0.25) = 1.393 h ft F/Btu.
TEST(BoreTable, HeatInInches) {
  BoreOptions more;
  more.heat_and_sound = true;
  EXPECT_EQ(words_of(table_of(straight_in("12", "1", {{"conductivity", "0.25"}}), more), "heat", "straight"),
            (Words{"straight", "1.393", "4.38", "3.65", "4.00"}));
}

// D. D. Reynolds, J. M. Bledsoe, Algorithms for HVAC Acoustics, ASHRAE 1991, as tabled in a published guide
// of 2009: 1 in of lining around a bore of 12 in, dB/ft from 63 to 8000 Hz. Ten feet of it; the table's last
// digit is rounded.
TEST(BoreTable, SoundOfAPublishedRow) {
  BoreOptions more;
  more.heat_and_sound = true;
  const std::string table = table_of(straight_in("14", "1", {{"length", "120"}}), more);
  const Words sound = words_of(table, "sound", "straight");
  const double published[] = {0.23, 0.46, 0.81, 1.45, 2.18, 1.91, 1.48, 1.05};
  ASSERT_EQ(sound.size(), 11U);
  EXPECT_EQ(sound[1], "lined");
  EXPECT_EQ(sound[2], "120.00");
  for (std::size_t i = 0; i < 8; ++i) EXPECT_NEAR(std::stod(sound[i + 3]), 10.0 * published[i], 0.1) << i;
  const std::string thin = table_of(straight_in("14", "0.5"), more);
  EXPECT_NE(thin.find("no estimate: the lining is 12.7 mm (0.5 in) thick"), std::string::npos);
}

// Without a unit the job's; with one, per what length has to be said.
TEST(StepUpLimitForms, UnitAndLengthGoTogether) {
  const double pascal = 0.1 * 249.08891 / 30.48;  // 0.1 in w.g. per 100 ft
  for (const char* written : {"0.1 in w.g. per 100 ft", "0.1 IN WG/100 FT", "0.1inwg/100ft"})
    for (const Units units : {Units::metric, Units::inch})
      EXPECT_NEAR(step_up_limit(StepUpCriterion::friction, written, units), pascal, 1e-6) << written;
  for (const char* written : {"0.1 in w.g.", "2/m", "2/100ft", "Pa/m", "1 Pa/ft", "-1 Pa/m", "nan"})
    for (const Units units : {Units::metric, Units::inch})
      EXPECT_THROW(step_up_limit(StepUpCriterion::friction, written, units), std::invalid_argument)
          << written;
}

}  // namespace
}  // namespace linerwright
