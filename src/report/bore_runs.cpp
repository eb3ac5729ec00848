#include "bore_runs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "bore_parts.hpp"
#include "linerwright/report/bore_run.hpp"
#include "linerwright/units/figures.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

// decimals in JSON
constexpr int k_flow_decimals = 9;
constexpr int k_air_decimals = 15;

std::string pressure(const std::optional<double>& value, Units units) {
  return value ? shown(Figure::pressure, *value, units) : std::string();
}

std::string marks(const BoreRunPart& part) {
  return std::string(part.by_default ? "*" : "") + (part.left_out.empty() ? "" : "+");
}

// All that a run's air has come through before.
struct WayBefore {
  double bare = 0.0, lined = 0.0;
  std::size_t without = 0;
};
WayBefore before_of(const BoreRun& run) {
  WayBefore sum;
  for (const BoreRunPart& part : run.before) {
    sum.bare += part.bare.value_or(0.0);
    sum.lined += part.lined.value_or(0.0);
    sum.without += part.lined || part.passage.empty() ? 0 : 1;
  }
  return sum;
}

}  // namespace

std::vector<std::string> left_out_of(const BoreRun& run) {
  std::vector<std::string> lines;
  const auto add = [&](const std::string& line) {
    if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(line);
  };
  std::string unknown;
  for (const auto* parts : {&run.before, &run.parts})
    for (const BoreRunPart& part : *parts) {
      for (const std::string& each : part.left_out) add(part.fitting + ": " + each);
      if (!part.lined && !part.passage.empty()) unknown += (unknown.empty() ? "" : ", ") + part.fitting;
    }
  if (!unknown.empty()) add("all of " + unknown + ": the flow through it is not known");
  return lines;
}

BoreRunTable run_loss_table(const BoreRun& run, Units units) {
  BoreRunTable table{{"fitting", "passage", table_head("flow", Figure::flow, units),
                      table_head("bare", Figure::pressure, units),
                      table_head("lined", Figure::pressure, units), "bare so far", "lined so far"},
                     {}};
  const WayBefore before = before_of(run);
  double bare = before.bare;
  double lined = before.lined;
  if (!run.before.empty())
    table.rows.push_back({"the way to it", "", "", "", "", pressure(bare, units), pressure(lined, units)});
  for (const BoreRunPart& part : run.parts) {
    bare += part.bare.value_or(0.0);
    lined += part.lined.value_or(0.0);
    const std::string unknown = part.passage.empty() ? "" : "not known";
    const auto loss = [&](const std::optional<double>& value) {
      return value ? pressure(value, units) + marks(part) : unknown;
    };
    table.rows.push_back({part.fitting, part.passage, part.flow ? shown(Figure::flow, *part.flow, units) : "",
                          loss(part.bare), loss(part.lined), pressure(bare, units), pressure(lined, units)});
  }
  return table;
}

std::string run_loss_csv(const BoreRun& run, Units units) {
  std::string text = fmt::format(
      "fitting,passage,flow [{0}],bare [{1}],lined [{1}],bare so far [{1}],lined so far [{1}],by published "
      "formulas,left out\n",
      unit_of(Figure::flow, units), unit_of(Figure::pressure, units));
  const WayBefore before = before_of(run);
  double bare = before.bare;
  double lined = before.lined;
  const auto number = [&](Figure figure, const std::optional<double>& value) {
    return value ? shown(figure, *value, units) : std::string();
  };
  const auto row = [&](const BoreRunPart& part, const std::string& left_out) {
    text += fmt::format("{},{},{},{},{},{},{},{},{}\n", csv_cell(part.fitting), csv_cell(part.passage),
                        number(Figure::flow, part.flow), number(Figure::pressure, part.bare),
                        number(Figure::pressure, part.lined), number(Figure::pressure, bare),
                        number(Figure::pressure, lined), part.by_default ? "yes" : "", csv_cell(left_out));
  };
  if (!run.before.empty()) row({"the way to it", "", {}, {}, {}, false, {}, 0.0, 0.0}, "");
  for (const BoreRunPart& part : run.parts) {
    bare += part.bare.value_or(0.0);
    lined += part.lined.value_or(0.0);
    std::string left_out = part.lined || part.passage.empty() ? "" : "all of it: its flow is not known";
    for (const std::string& each : part.left_out) left_out += (left_out.empty() ? "" : "; ") + each;
    row(part, left_out);
  }
  return text;
}

std::string runs_part(const BoreReport& report) {
  std::string text;
  const Units units = report.units;
  for (const BoreRun& run : report.runs) {
    const BoreRunTable table = run_loss_table(run, units);
    std::vector<Column> columns;
    for (std::size_t i = 0; i < table.heads.size(); ++i) columns.push_back({table.heads[i], i < 2});
    text += fmt::format("\nalong run {}, {} {}: total pressure that each takes, and all so far\n", run.name,
                        shown(Figure::length, run.length, units), unit_of(Figure::length, units));
    text += text_table(std::move(columns), table.rows);
    text +=
        wrapped("  ", fmt::format("the run: bare {1} {0}, lined {2} {0}{3}", unit_of(Figure::pressure, units),
                                  pressure(run.bare, units), pressure(run.lined, units),
                                  run.without == 0
                                      ? std::string()
                                      : fmt::format(", without {} whose loss is not known", run.without)));
    for (const std::string& line : left_out_of(run)) text += wrapped("  ", "+ left out: " + line);
  }
  return text;
}

SheetTable runs_table(const BoreReport& report) {
  SheetTable sheet{"Along each run", {"run"}, 3, {}, {}};
  for (const BoreRun& run : report.runs) {
    BoreRunTable table = run_loss_table(run, report.units);
    if (sheet.heads.size() == 1)
      sheet.heads.insert(sheet.heads.end(), table.heads.begin(), table.heads.end());
    for (std::vector<std::string>& row : table.rows) {
      row.insert(row.begin(), run.name);
      sheet.rows.push_back(std::move(row));
    }
    for (const std::string& line : left_out_of(run))
      sheet.notes.push_back(fmt::format("+ left out of run {}: {}", run.name, line));
  }
  return sheet;
}

void write_run_losses(JsonWriter& json, const BoreRun& run) {
  json.key("bare").number(run.bare);
  json.key("lined").number(run.lined);
  json.key("without").integer(static_cast<long>(run.without));
  json.key("air").begin_object();
  json.key("density").number(run.air.density, k_flow_decimals);
  json.key("viscosity").number(run.air.viscosity, k_air_decimals);
  json.end_object();
  if (!run.before.empty()) {
    const WayBefore before = before_of(run);
    json.key("before").begin_object();
    json.key("bare").number(before.bare);
    json.key("lined").number(before.lined);
    json.key("without").integer(static_cast<long>(before.without));
    json.end_object();
  }
  json.key("fittings").begin_array();
  for (const BoreRunPart& part : run.parts) {
    json.begin_object();
    json.key("fitting").text(part.fitting);
    json.key("passage").text(part.passage);
    json.key("flow").number(part.flow, k_flow_decimals);
    json.key("bare").number(part.bare);
    json.key("lined").number(part.lined);
    json.key("metal_roughness").number(part.metal_roughness);
    json.key("roughness").number(part.roughness);
    json.key("by_default").boolean(part.by_default);
    json.key("left_out").begin_array();
    for (const std::string& each : part.left_out) json.text(each);
    json.end_array();
    json.end_object();
  }
  json.end_array();
}

void write_runs(JsonWriter& json, const BoreReport& report) {
  json.key("runs").begin_array();
  for (const BoreRun& run : report.runs) {
    json.begin_object();
    json.key("name").text(run.name);
    json.key("length").number(run.length);
    write_run_losses(json, run);
    json.end_object();
  }
  json.end_array();
}

}  // namespace linerwright
