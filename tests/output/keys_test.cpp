// Every key that a job may hold changes something that is made of it: patterns, solids' volumes, tables,
// bore, boards or what is said of the fitting. What the schema names is what is tried.
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "linerwright/boards/boards.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/report/board_sheets.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::with;

BoreOptions all_figures() {
  BoreOptions options;
  options.step_up = StepUpCriterion::friction;
  options.heat_and_sound = true;
  return options;
}

// All that is made of a fitting, as text; what was asked for is not in it.
std::string made_of(const Fitting& fitting) {
  std::ostringstream out;
  const std::vector<Pattern> patterns = make_patterns(fitting);
  for (const Pattern& pattern : patterns) write_dxf(out, drawing_of(pattern, fitting.units));
  for (const Pattern& pattern : site_templates(fitting)) write_dxf(out, drawing_of(pattern, fitting.units));
  out << ordinates_csv(fitting, patterns) << tilt_csv(fitting, patterns);
  for (const double w : {-fitting.liner.gauge, 0.0, fitting.liner.thickness})
    out << fixed(shell_volume(fitting, w), 3) << '\n';
  for (const Passage& passage : fitting.passages)
    for (const Station& station : passage.stations)
      for (const double x : {station.plane.point.x, station.plane.point.y, station.plane.point.z})
        out << fixed(x, 6) << '\n';
  JobTotals totals;
  totals.rows.push_back(totals_row(fitting, patterns, totals.rules));
  out << totals_json(totals) << bore_json(bore_report({fitting}, nullptr, all_figures()));
  for (const Fact& fact : fitting.facts) out << fact.label << fixed(fact.value, 6) << '\n';
  for (const std::string& text : fitting.warnings) out << text << '\n';
  for (const std::string& text : fitting.steps) out << text << '\n';
  return out.str();
}

// Values of a key that are worth trying, as a person would write them; `now` is what stands.
std::vector<std::string> tries(const KeySpec& key, const std::optional<double>& now) {
  if (key.type == ValueType::choice) return key.choices;
  if (key.type == ValueType::flag) return {"true"};
  if (key.name == "corner") return {"stop"};
  if (key.name == "layers.order") return {"LABEL, CUT"};
  if (key.type == ValueType::text) return {"Another"};
  std::vector<double> values;
  if (key.type == ValueType::integer) {
    values = {2, 3, 4, 5, 7, 9, 17, 24};
  } else {
    if (now && *now != 0.0) values = {0.9 * *now, 1.25 * *now};
    const std::vector<double> more =
        key.quantity == Quantity::length     ? std::vector<double>{1, 3, 10, 40, 120, 260, 300, 420, 700}
        : key.quantity == Quantity::angle    ? std::vector<double>{0.4, 1.0, 2.0}
        : key.quantity == Quantity::pressure ? std::vector<double>{9e4}
                                             : std::vector<double>{0.05, 0.3, 0.8, 1.5, 6, 20};
    values.insert(values.end(), more.begin(), more.end());
  }
  std::vector<std::string> out;
  for (const double value : values) {
    if ((key.min && value < *key.min) || (key.max && value > *key.max)) continue;
    const std::string unit(unit_name(key.quantity, Units::metric));
    out.push_back(key.type == ValueType::integer ? fixed(value, 0)
                                                 : fixed(to_units(key.quantity, value, Units::metric), 9) +
                                                       (unit.empty() ? "" : " " + unit));
  }
  return out;
}

// The number that stands: what is asked for, or the key's default.
std::optional<double> number_of(const Values& values, const KeySpec& key) {
  const Value* value = values.find(key.name);
  if (value != nullptr)
    if (const auto* number = std::get_if<double>(&value->data)) return *number;
  if (key.type != ValueType::quantity || !key.default_value) return std::nullopt;
  return parse_quantity(key.quantity, *key.default_value, Units::metric);
}

// A fitting to change, and all that is made of it as it stands.
struct Ground {
  Ground(const std::string& kind, const Flags& asked)
      : flags(asked), plain(support::fitting_from(kind, asked)), before(made_of(plain)) {}
  Flags flags;
  Fitting plain;
  std::string before;
};

// Whether the value of the key changes what is made, or is refused for the geometry.
bool changes(const std::string& kind, const Ground& ground, const KeySpec& key, const std::string& value) {
  std::optional<FittingRequest> request;
  try {
    request = support::request_from(kind, with(ground.flags, {{key.name, value}}));
  } catch (const InputError&) {
    return false;  // out of the key's range, which says nothing
  }
  try {
    return made_of(make_fitting(*request)) != ground.before;
  } catch (const InputError&) {
    return true;
  }
}

// Whether some value does: a key that nothing reads has none. Each ground's first value before any second:
// where a key bears on a ground at all, its first mostly shows it.
bool changes(const std::string& kind, const std::vector<Ground>& grounds, const KeySpec& key) {
  std::vector<std::vector<std::string>> values;
  std::size_t most = 0;
  for (const Ground& ground : grounds) {
    values.push_back(tries(key, number_of(ground.plain.request.values, key)));
    most = std::max(most, values.back().size());
  }
  for (std::size_t i = 0; i < most; ++i)
    for (std::size_t g = 0; g < grounds.size(); ++g)
      if (i < values[g].size() && changes(kind, grounds[g], key, values[g][i])) return true;
  return false;
}

std::vector<Flags> grounds_of(const std::string& kind) {
  Flags plain{{"diameter", "300"}, {"thickness", "25"}, {"flow", "0.3"}};
  if (kind == "straight") plain["length"] = "900";
  if (kind == "cap") plain["length"] = "400";
  if (kind == "elbow") plain = with(plain, {{"angle", "90"}, {"pieces", "4"}});
  if (kind == "reducer")
    plain = with(plain, {{"to_diameter", "220"}, {"length", "250"}, {"collar", "80"}, {"to_collar", "60"}});
  if (kind == "tee")
    plain = with(plain, {{"length", "900"}, {"branch_diameter", "180"}, {"branch_length", "350"}});
  if (kind == "tap") plain = with(plain, {{"branch_diameter", "250"}, {"branch_length", "1400"}});
  if (kind == "offset") plain = with(plain, {{"offset", "400"}, {"length", "1500"}, {"pieces", "3"}});
  if (kind == "path")
    plain = with(
        plain,
        {{"parts", "straight 200mm, bend 45, straight 500mm, taper to 250mm over 300mm, straight 100mm"}});
  if (kind == "square_to_round")
    plain = with(plain, {{"width", "400"}, {"height", "300"}, {"length", "300"}});
  if (kind == "wye")
    plain = with(plain,
                 {{"inlet_length", "300"}, {"leg_diameter", "220"}, {"leg_length", "500"}, {"angle", "40"}});
  std::vector<Flags> grounds{plain};
  grounds.push_back(with(plain, {{"pins_above", "200"}}));
  if (kind == "reducer") grounds.back()["length"] = "1400";
  grounds.push_back(with(plain, {{"board_width", "900"}, {"board_length", "800"}, {"min_panel", "50"}}));
  if (kind == "elbow" || kind == "offset") grounds.push_back(with(plain, {{"form", "smooth"}}));
  if (kind == "reducer") {
    grounds.push_back(with(plain, {{"pattern", "notched"}}));
    grounds.push_back(with(plain, {{"offset", "20"}}));
  }
  if (kind == "tee" || kind == "tap")
    grounds.push_back(with(plain, {{"angle", "60"}, {"branch_length", "500"}}));
  if (kind == "tee")
    grounds.push_back(with(plain, {{"angle", "45"}, {"branch_length", "600"}, {"turn_to", "90"}}));
  if (kind == "wye") grounds.push_back(with(plain, {{"branch_flow", "0.5 & 0.5"}}));
  return grounds;
}

// Whether a key says nothing to a kind: a person's words, which fitting.json's request carries, and of the
// liner's keys those of joints and tapers, which some kinds have not.
bool is_none_of(const std::string& kind, const KeySpec& key, bool of_liner) {
  if (key.name == "note") return true;
  if (!of_liner) return false;
  if (key.name == "joint") return kind != "tee" && kind != "tap";
  if (key.name == "min_taper") return kind != "reducer";
  if (key.name == "cut") return kind == "straight";
  if (key.name == "butt_allowance") return kind == "straight" || kind == "square_to_round";
  // its flats lie on the metal, and it is divided along their middle lines alone
  return kind == "square_to_round" &&
         (key.name == "fit_allowance" || key.name == "end_allowance" || key.name == "min_panel");
}

TEST(Keys, EveryKeyOfEveryKindChangesWhatIsMade) {
  std::vector<std::pair<std::string, KeySpec>> all;
  for (const KindSchema& schema : job_schema().kinds)
    for (const std::vector<KeySpec>* keys : {&schema.keys, &job_schema().liner_keys})
      for (const KeySpec& key : *keys)
        if (!is_none_of(schema.kind, key, keys == &job_schema().liner_keys))
          all.emplace_back(schema.kind, key);
  EXPECT_GT(all.size(), 100U);
  std::map<std::string, std::vector<Ground>> grounds;
  for (const auto& [kind, key] : support::drawn("keys", all, [](const auto& each) { return each.first; })) {
    std::vector<Ground>& of_kind = grounds[kind];
    if (of_kind.empty())
      for (const Flags& flags : grounds_of(kind)) of_kind.emplace_back(kind, flags);
    EXPECT_TRUE(changes(kind, of_kind, key)) << kind << ": " << key.name;
  }
}

// All that is made of a job's tables: bore, totals, boards, DXF files, stickers, and how a head is tilted.
std::string made_of_job(const std::string& text) {
  Job job = read_job_text(text, "job.toml", job_schema());
  if (!job.problems.empty()) throw InputError(job.problems);
  apply_stock(job);
  const auto table = [&](const char* name) {
    const auto found = job.tables.find(name);
    return found == job.tables.end() ? nullptr : &found->second;
  };
  JobTotals totals;
  totals.rules = totals_rules(table("totals"));
  std::vector<Fitting> fittings;
  std::vector<BoardPart> parts;
  std::string tilts;
  DxfOptions dxf;
  dxf.layers = dxf_layers(table("dxf"), "job.toml");
  std::ostringstream drawn;
  for (const FittingRequest& request : job.fittings) {
    fittings.push_back(make_fitting(request));
    const std::vector<Pattern> patterns = make_patterns(fittings.back());
    for (const Pattern& pattern : patterns) write_dxf(drawn, drawing_of(pattern, job.units), dxf);
    tilts += tilt_csv(fittings.back(), patterns);
    for (const std::string& warning : tilt_warnings(fittings.back(), patterns)) tilts += warning + '\n';
    totals.rows.push_back(totals_row(fittings.back(), patterns, totals.rules));
    for (BoardPart& part : board_parts(fittings.back(), patterns, false)) parts.push_back(std::move(part));
  }
  BoardOptions options;
  options.effort = k_effort_fill;
  const BoardPlan plan =
      board_plan(std::move(parts), board_stock(job.lists.at("stock"), job.units, "job.toml"),
                 board_knife(table("knife"), job.units, "job.toml"), options, job.units);
  totals.stock = stock_totals(plan);
  std::string out = bore_json(bore_report(fittings, table("air"), all_figures())) + totals_json(totals) +
                    totals_table(totals) + boards_json(plan) + boards_table(plan) + cut_list_csv(plan) +
                    tilts + drawn.str() +
                    stickers_pdf(plan, sticker_sheet(table("stickers"), job.units, "job.toml"), {});
  for (std::size_t b = 0; b < plan.boards.size(); ++b) out += board_dxf(plan, b, dxf);
  for (const Problem& problem : plan.problems) out += one_line(problem);
  return out;
}

TEST(Keys, EveryKeyOfEveryTableChangesWhatIsMade) {
  using Tables = std::map<std::string, std::map<std::string, std::string>>;
  const Tables plain{{"air", {{"flow", "\"0.3 m3/s\""}}},
                     {"knife", {}},
                     {"totals", {{"inner_gauge", "0.7"}}},
                     {"stock", {{"width", "1220"}, {"length", "3050"}}}};
  const auto text_of = [](const Tables& tables) {
    std::string text = "[job]\nunits = \"mm\"\n[liner]\nthickness = 25\n";
    for (const auto& [name, keys] : tables) {
      text += job_schema().lists.count(name) != 0 ? "[[" + name + "]]\n" : "[" + name + "]\n";
      for (const auto& [key, value] : keys) text += key + " = " + value + "\n";
    }
    for (int i = 0; i < 6; ++i)
      text += "[[fitting]]\ntag = \"S-" + std::to_string(i) +
              "\"\nkind = \"straight\"\ndiameter = 400\nlength = 900\n";
    text +=
        "[[fitting]]\ntag = \"L-1\"\nkind = \"tee\"\ndiameter = 400\nlength = 900\nbranch_diameter = 200\n"
        "angle = 60\nbranch_length = 400\n[[fitting]]\ntag = \"S-6\"\nkind = \"straight\"\n"
        "diameter = 400\nlength = 500\nsecond_layer = 13\n";
    return text;
  };
  const std::string before = made_of_job(text_of(plain));
  std::map<std::string, std::vector<KeySpec>> all = job_schema().tables;
  all.insert(job_schema().lists.begin(), job_schema().lists.end());
  all.erase("run");     // needs a path; its keys have a test with the runs
  all.erase("boards");  // says how nest divides; its keys have a test with the command
  all.erase("rates");   // of the estimate, which has tests of its own
  std::vector<std::pair<std::string, KeySpec>> of_tables;
  for (const auto& [name, keys] : all)
    for (const KeySpec& key : keys) of_tables.emplace_back(name, key);
  EXPECT_GT(of_tables.size(), 20U);
  for (const auto& [name, key] :
       support::drawn("keys", of_tables, [](const auto& each) { return each.first; })) {
    bool changed = false;
    for (std::string value : tries(key, number_of({}, key))) {
      Tables other = plain;
      const bool bare = key.type == ValueType::integer || key.type == ValueType::flag;
      other[name][key.name] = bare ? value
                              : key.quantity == Quantity::number && key.type == ValueType::quantity
                                  ? value
                                  : "\"" + value + "\"";
      try {
        changed = changed || made_of_job(text_of(other)) != before;
      } catch (const InputError&) {
      }
    }
    EXPECT_TRUE(changed) << name << ": " << key.name;
  }
}

}  // namespace
}  // namespace linerwright
