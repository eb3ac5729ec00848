// Tables, CSV, JSON and explanations of the report.
#include <gtest/gtest.h>

#include <rapidjson/document.h>

#include <sstream>

#include "fittings.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {
namespace {

// Columns a terminal gives to UTF-8 text: two to East Asian characters and pictographs.
std::size_t columns_of(const std::string& line) {
  std::size_t width = 0;
  for (std::size_t i = 0; i < line.size();) {
    const auto lead = static_cast<unsigned char>(line[i]);
    const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    // U+3000 and above, in UTF-8 from E3 on
    width += lead >= 0xE3 ? 2 : 1;
    i += bytes;
  }
  return width;
}

const std::vector<std::string>& hostile_tags() {
  static const std::vector<std::string> tags{
      std::string(64, 'W'),
      "a tag of more than sixty characters with blanks in it that goes on and on",
      "\xE9\xA3\x8E\xE7\xAE\xA1\xE5\xBC\xAF\xE5\xA4\xB4\xE9\xA3\x8E\xE7\xAE\xA1\xE5\xBC\xAF\xE5\xA4\xB4\xE9"
      "\xA3\x8E"
      "\xE7\xAE\xA1\xE5\xBC\xAF\xE5\xA4\xB4\xE9\xA3\x8E\xE7\xAE\xA1\xE5\xBC\xAF\xE5\xA4\xB4",
      "\xF0\x9F\x94\xA7\xF0\x9F\x94\xA7\xF0\x9F\x94\xA7\xF0\x9F\x94\xA7\xF0\x9F\x94\xA7\xF0\x9F\x94\xA7 "
      "spanner",
      "a\tb\x1b[31mc\rd\ne",
      "=1+1",
      "+1,\"2\"",
      "-1",
      "@sum"};
  return tags;
}

// A fitting of each kind with everything asked of it.
BoreReport full_report(Units units, const std::vector<std::string>& tags, bool along = true) {
  std::vector<Fitting> fittings;
  const bool inch = units == Units::inch;
  std::size_t i = 0;
  for (const std::string& tag : tags) {
    const Flags size{{"diameter", inch ? "16" : "400"},
                     {"thickness", inch ? "1" : "25"},
                     {"flow", inch ? "2500" : "1.2"},
                     {"loss_coefficient", "0.3"},
                     {"max_velocity", i % 4 == 1 ? (inch ? "500" : "2.5") : (inch ? "6000" : "30")}};
    std::string kind = "straight";
    Flags more{{"length", inch ? "60" : "1500"}};
    if (i % 4 == 1) kind = "elbow", more = {{"angle", "90"}, {"pieces", "5"}};
    if (i % 4 == 2)
      kind = "reducer", more = {{"to_diameter", inch ? "10" : "250"}, {"length", inch ? "14" : "350"}};
    if (i % 4 == 3)
      kind = "tee", more = {{"length", inch ? "48" : "1200"},
                            {"branch_diameter", inch ? "8" : "200"},
                            {"branch_length", inch ? "20" : "500"}};
    fittings.push_back(make_fitting(request_from_flags(kind, with(size, more), units, job_schema())));
    fittings.back().tag = tag;
    fittings.back().count = static_cast<long>(i + 1);
    ++i;
  }
  BoreOptions options;
  options.step_up = StepUpCriterion::friction;
  options.heat_and_sound = true;
  options.along = along;
  return bore_report(fittings, nullptr, options);
}

TEST(Table, KeepsTo100ColumnsWhateverTheTags) {
  for (const Units units : {Units::metric, Units::inch}) {
    const std::string table = bore_table(full_report(units, hostile_tags()));
    std::istringstream lines(table);
    std::string line;
    int count = 0;
    for (; std::getline(lines, line); ++count) {
      EXPECT_LE(columns_of(line), 100U) << line;
      for (const char c : line) EXPECT_TRUE(static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) << line;
    }
    EXPECT_GT(count, 60);
    // figures are never shortened
    EXPECT_NE(table.find(units == Units::inch ? "16.00" : "400.0"), std::string::npos);
    EXPECT_NE(table.find("OVER LIMIT"), std::string::npos);
  }
}

TEST(Table, FollowsTheJobsUnits) {
  // the notes give velocities in both systems
  const auto tables = [](Units units) {
    const std::string text = bore_table(full_report(units, {"A", "B", "C", "D"}));
    return text.substr(0, text.find("\nnotes\n"));
  };
  const std::string metric = tables(Units::metric);
  const std::string inch = tables(Units::inch);
  for (const char* unit : {"bare mm", "m2", "m/s", "Pa/m", "m3/s", "m2 K/W", " kg"}) {
    EXPECT_NE(metric.find(unit), std::string::npos) << unit;
  }
  for (const char* unit : {"bare in", "ft2", "fpm", "in w.g./100ft", "cfm", "h ft2 F/Btu", " lb"}) {
    EXPECT_NE(inch.find(unit), std::string::npos) << unit;
    EXPECT_EQ(metric.find(unit), std::string::npos) << unit;
  }
  const std::string whole = bore_table(full_report(Units::inch, {"A", "B", "C", "D"}));
  EXPECT_NE(whole.find("an estimate"), std::string::npos);
  EXPECT_NE(whole.find("The licensed designer and local codes decide."), std::string::npos);
}

TEST(Table, LeavesOutWhatNobodyAskedFor) {
  const std::string table =
      bore_table(bore_report({straight("315", "25", {{"upstream", "lined"}})}, nullptr, {}));
  for (const char* part :
       {"air where", "friction", "loss", "sums", "step up", "heat:", "sound:", "openings", "notes"})
    EXPECT_EQ(table.find(part), std::string::npos) << part;
  EXPECT_NE(table.find("265.0"), std::string::npos);
  EXPECT_NE(table.find("70.8 %"), std::string::npos);
  EXPECT_NE(table.find("1.413"), std::string::npos);
  EXPECT_EQ(bore_table(bore_report({}, nullptr, {})), "no fittings\n");
}

// RFC 4180, read back.
std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    std::string& cell = rows.back().back();
    if (quoted && csv[i] == '"' && i + 1 < csv.size() && csv[i + 1] == '"')
      cell += csv[++i];
    else if (csv[i] == '"')
      quoted = !quoted;
    else if (!quoted && csv[i] == ',')
      rows.back().emplace_back();
    else if (!quoted && csv[i] == '\n')
      rows.push_back({""});
    else
      cell += csv[i];
  }
  EXPECT_FALSE(quoted);
  rows.pop_back();
  return rows;
}

std::size_t column(const std::vector<std::vector<std::string>>& rows, const std::string& head) {
  for (std::size_t i = 0; i < rows.at(0).size(); ++i)
    if (rows[0][i] == head) return i;
  throw std::out_of_range("no column " + head);
}

TEST(Csv, HoldsTheReportInTheJobsUnits) {
  for (const Units units : {Units::metric, Units::inch}) {
    const BoreReport report = full_report(units, {"A", "B", "C", "D"});
    const auto rows = rows_of(bore_csv(report));
    ASSERT_EQ(rows.size(), report.rows.size() + 1);
    for (const auto& row : rows) EXPECT_EQ(row.size(), rows[0].size());
    const bool inch = units == Units::inch;
    for (std::size_t i = 0; i < report.rows.size(); ++i) {
      const BoreRow& row = report.rows[i];
      const auto value = [&](const std::string& head) {
        return std::stod(rows[i + 1].at(column(rows, head)));
      };
      EXPECT_EQ(rows[i + 1].at(column(rows, "tag")), row.tag);
      EXPECT_EQ(rows[i + 1].at(column(rows, "passage")), row.passage);
      EXPECT_NEAR(value(inch ? "bare_diameter [in]" : "bare_diameter [mm]") * (inch ? 25.4 : 1.0),
                  row.narrowest_place().bare_diameter, 1e-4);
      EXPECT_NEAR(value(inch ? "free_area [ft2]" : "free_area [m2]") * (inch ? 0.3048 * 0.3048 : 1.0) * 1e6,
                  row.narrowest_place().free_area, 1.0);
      EXPECT_NEAR(value("share"), row.narrowest_place().share, 1e-6);
      if (!row.lined_air) continue;
      EXPECT_NEAR(value(inch ? "lined_velocity [fpm]" : "lined_velocity [m/s]") * (inch ? 0.3048 / 60 : 1.0),
                  row.lined_air->velocity, 1e-6);
      EXPECT_NEAR(value(inch ? "lined_friction [in w.g./100ft]" : "lined_friction [Pa/m]") *
                      (inch ? 249.08891 / 30.48 : 1.0),
                  row.lined_air->friction, 1e-5);
    }
  }
}

TEST(Csv, IsDefusedForSpreadsheets) {
  const auto rows = rows_of(bore_csv(full_report(Units::metric, hostile_tags())));
  std::size_t seen = 0;
  for (std::size_t i = 1; i < rows.size(); ++i)
    for (std::size_t k = 0; k < rows[i].size(); ++k) {
      const std::string& cell = rows[i][k];
      if (cell.empty()) continue;
      char* end = nullptr;
      std::strtod(cell.c_str(), &end);
      if (*end == '\0') continue;  // a number
      EXPECT_EQ(std::string("=+-@\t\r\n").find(cell[0]), std::string::npos) << cell;
      ++seen;
    }
  EXPECT_GT(seen, 30U);
  EXPECT_EQ(rows.at(7).at(0), "'=1+1");
  EXPECT_EQ(rows.at(8).at(0), "'+1,\"2\"");
}

TEST(Json, IsTheReport) {
  const BoreReport report = full_report(Units::inch, hostile_tags());
  rapidjson::Document json;
  json.Parse<rapidjson::kParseValidateEncodingFlag | rapidjson::kParseFullPrecisionFlag>(
      bore_json(report).c_str());
  ASSERT_FALSE(json.HasParseError());
  EXPECT_EQ(json["format"].GetInt(), k_json_format);
  ASSERT_EQ(json["rows"].Size(), report.rows.size());
  EXPECT_EQ(json["over_limit"].GetBool(), report.over_limit());
  EXPECT_TRUE(report.over_limit());
  int with_air = 0;
  for (rapidjson::SizeType i = 0; i < json["rows"].Size(); ++i) {
    const auto& row = json["rows"][i];
    const BoreRow& expected = report.rows[i];
    EXPECT_EQ(std::string(row["tag"].GetString(), row["tag"].GetStringLength()), expected.tag);
    EXPECT_EQ(row["count"].GetInt64(), expected.count);
    EXPECT_EQ(row["passage"].GetString(), expected.passage);
    EXPECT_NEAR(row["free_area"].GetDouble(), expected.narrowest_place().free_area, 1e-5);
    EXPECT_NEAR(row["lined_diameter"].GetDouble(), expected.narrowest_place().lined_diameter, 1e-5);
    EXPECT_NEAR(row["velocity_factor"].GetDouble(), expected.velocity_factor, 1e-8);
    ASSERT_EQ(row["stations"].Size(), expected.places.size());
    // named as in fitting.json
    for (rapidjson::SizeType k = 0; k < row["stations"].Size(); ++k) {
      const auto& station = row["stations"][k];
      EXPECT_NEAR(station["share"].GetDouble(), expected.places[k].share, 1e-8);
      EXPECT_NEAR(station["distance"].GetDouble(), expected.places[k].distance, 1e-5);
      EXPECT_NEAR(station["lined_diameter"].GetDouble(), expected.places[k].lined_diameter, 1e-5);
      EXPECT_NEAR(station["velocity_factor"].GetDouble() * station["share"].GetDouble(), 1.0, 1e-8);
    }
    EXPECT_EQ(row.HasMember("lined_air"), expected.lined_air.has_value());
    EXPECT_EQ(row["notes"].Size(), expected.notes.size());
    if (!expected.lined_air) continue;
    ++with_air;
    EXPECT_NEAR(row["lined_air"]["friction"].GetDouble(), expected.lined_air->friction, 1e-8);
    EXPECT_NEAR(row["loss"].GetDouble(), expected.lined_loss.value().total, 1e-5);
    EXPECT_NEAR(row["loss_bare"].GetDouble(), expected.bare_loss.value().total, 1e-5);
    ASSERT_EQ(row["steps"].Size(), expected.steps.size());
    EXPECT_NEAR(row["steps"][0]["diameter"].GetDouble(), expected.steps[0].found.size.value().diameter, 1e-5);
    EXPECT_NEAR(row["thermal_resistance"]["per_length"].GetDouble(), expected.heat->per_length, 1e-8);
  }
  EXPECT_EQ(with_air, static_cast<int>(hostile_tags().size()));
  EXPECT_EQ(json["openings"].Size(), report.openings.size());
  EXPECT_NEAR(json["step_up"]["added_mass"].GetDouble(), report.added_mass, 1e-5);
}

TEST(Explain, OneAllAndUnknown) {
  const std::string one = explain_text("friction factor");
  EXPECT_EQ(one.rfind("friction factor\n", 0), 0U);
  EXPECT_NE(one.find("Colebrook"), std::string::npos);
  EXPECT_EQ(explain_text("Friction-Factor"), one);
  const std::string all = explain_text("all");
  EXPECT_EQ(explain_text(""), all);
  ASSERT_GT(explanations().size(), 10U);
  for (const Explanation& entry : explanations()) {
    EXPECT_NE(all.find(explain_text(std::string(entry.figure))), std::string::npos) << entry.figure;
    EXPECT_FALSE(entry.source.empty()) << entry.figure;
  }
  std::istringstream lines(all);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(columns_of(line), 100U) << line;
  try {
    explain_text("fraction factor");
    FAIL() << "an unknown figure was explained";
  } catch (const InputError& error) {
    ASSERT_EQ(error.problems().size(), 1U);
    EXPECT_NE(error.problems()[0].allowed.find("friction factor"), std::string::npos);
  }
}

}  // namespace
}  // namespace linerwright
