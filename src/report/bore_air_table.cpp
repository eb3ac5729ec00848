// Tables of velocity, friction and loss, and what all figures rest on.
#include <fmt/format.h>

#include <algorithm>

#include "bore_parts.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/figures.hpp"
#include "text_table.hpp"

namespace linerwright {

const char* const k_sum_remark =
    "No sum holds what lies between the fittings or is no fitting of this job: other duct, terminals, coils, "
    "filters, "
    "dampers, leakage and the effect of one fitting on the next.";

std::string loss_marks(const BoreLoss& loss) {
  return std::string(loss.by_default() ? "*" : "") + (loss.left_out.empty() ? "" : "+");
}

namespace {

void add_once(std::vector<std::string>& lines, const std::string& line) {
  if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(line);
}

// "25.0, 50.0": each value once, in rising order.
std::string each(std::vector<double> values, Figure figure, Units units) {
  std::sort(values.begin(), values.end());
  std::vector<std::string> shown_values;
  for (const double value : values) add_once(shown_values, shown(figure, value, units));
  std::string text;
  for (const std::string& value : shown_values) text += (text.empty() ? "" : ", ") + value;
  return text;
}

template <class Get>
std::vector<double> of_rows(const BoreReport& report, Get&& get) {
  std::vector<double> values;
  for (const BoreRow& row : report.rows) values.push_back(get(row));
  return values;
}

}  // namespace

std::string air_part(const BoreReport& report) {
  const Units units = report.units;
  TableRows speed;
  TableRows friction;
  for (const BoreRow& row : report.rows) {
    if (!row.lined_air) continue;
    const std::string passage = passage_word(report, row);
    const BoreFlow& bare = *row.bare_air;
    const BoreFlow& lined = *row.lined_air;
    speed.push_back({row.tag, passage, shown(Figure::flow, *row.flow, units),
                     shown(Figure::velocity, bare.velocity, units),
                     shown(Figure::velocity, lined.velocity, units),
                     shown(Figure::velocity, *row.velocity_limit, units), row.over_limit ? "OVER LIMIT" : "",
                     shown(Figure::pressure, lined.velocity_pressure, units)});
    friction.push_back({row.tag, passage, fixed(bare.reynolds, 0), fixed(lined.reynolds, 0),
                        fixed(bare.friction_factor, 5), fixed(lined.friction_factor, 5),
                        shown(Figure::friction, bare.friction, units),
                        shown(Figure::friction, lined.friction, units)});
  }
  if (speed.empty()) return {};
  const std::string_view pressure = unit_of(Figure::pressure, units);
  return fmt::format("\nair where it is fastest: velocity ({}), lined velocity pressure p_v ({})\n",
                     unit_of(Figure::velocity, units), pressure) +
         text_table({{"tag", true},
                     {"passage", true},
                     {table_head("flow", Figure::flow, units)},
                     {"bare"},
                     {"lined"},
                     {"limit"},
                     {"", true},
                     {"p_v"}},
                    speed) +
         fmt::format("\nfriction per length there ({}), Reynolds number Re, friction factor f\n",
                     unit_of(Figure::friction, units)) +
         text_table({{"tag", true},
                     {"passage", true},
                     {"Re bare"},
                     {"Re lined"},
                     {"f bare"},
                     {"f lined"},
                     {"bare"},
                     {"lined"}},
                    friction);
}

std::string leaves_out(const BoreSum& sum) {
  std::string text;
  if (sum.without > 0)
    text = fmt::format("{} passage{} without a flow", sum.without, sum.without == 1 ? "" : "s");
  if (sum.incomplete > 0)
    text += fmt::format("{}parts of {} passage{}", text.empty() ? "" : ", ", sum.incomplete,
                        sum.incomplete == 1 ? "" : "s");
  return text;
}

std::vector<std::string> formulas_used(const BoreReport& report) {
  std::vector<std::string> lines;
  for (const BoreRow& row : report.rows)
    for (const auto* loss : {&row.bare_loss, &row.lined_loss}) {
      if (!*loss) continue;
      for (const LossPart& part : (*loss)->parts)
        if (!part.given) add_once(lines, part.what.substr(0, part.what.find(" (")) + ": " + part.source);
    }
  return lines;
}

std::vector<std::string> losses_left_out(const BoreReport& report) {
  std::vector<NamedText> named;
  for (const BoreRow& row : report.rows) {
    if (!row.lined_loss) continue;
    const std::string name = row_name(report, row);
    const std::vector<std::string>& bare = row.bare_loss->left_out;
    const std::vector<std::string>& lined = row.lined_loss->left_out;
    const auto in = [](const std::vector<std::string>& all, const std::string& what) {
      return std::find(all.begin(), all.end(), what) != all.end();
    };
    for (const std::string& what : bare) named.push_back({in(lined, what) ? name : name + " bare", what});
    for (const std::string& what : lined)
      if (!in(bare, what)) named.push_back({name + " lined", what});
  }
  return grouped(named);
}

namespace {

std::string sums_table(const BoreReport& report) {
  const Units units = report.units;
  TableRows rows;
  std::string open;
  for (const BoreSum& sum : bore_sums(report)) {
    const std::string name = sum.kind.empty() ? "the whole job" : kind_title(sum.kind);
    rows.push_back({name, std::to_string(sum.fittings), shown(Figure::length, sum.length, units),
                    shown(Figure::pressure, sum.bare_loss, units),
                    shown(Figure::pressure, sum.lined_loss, units),
                    sum.bare_power ? shown(Figure::power, *sum.bare_power, units) : "",
                    sum.lined_power ? shown(Figure::power, *sum.lined_power, units) : ""});
    const std::string out = leaves_out(sum);
    if (!out.empty()) open += wrapped("  ", fmt::format("{}, left out: {}", name, out));
  }
  const std::string power(unit_of(Figure::power, units));
  return text_table({{"sum of", true},
                     {"count"},
                     {table_head("length", Figure::length, units)},
                     {"bare"},
                     {"lined"},
                     {"fan " + power + " bare"},
                     {"lined"}},
                    rows) +
         open;
}

}  // namespace

std::string loss_part(const BoreReport& report) {
  const Units units = report.units;
  TableRows rows;
  bool marked = false;
  bool open = false;
  for (const BoreRow& row : report.rows) {
    if (!row.lined_loss) continue;
    const BoreLoss& bare = *row.bare_loss;
    const BoreLoss& lined = *row.lined_loss;
    const double count = static_cast<double>(row.count);
    marked = marked || bare.by_default() || lined.by_default();
    open = open || !bare.left_out.empty() || !lined.left_out.empty();
    rows.push_back({row.tag, passage_word(report, row), shown(Figure::length, row.length, units),
                    std::to_string(row.count), shown(Figure::pressure, bare.friction, units),
                    shown(Figure::pressure, lined.friction, units),
                    shown(Figure::pressure, bare.total, units) + loss_marks(bare),
                    shown(Figure::pressure, lined.total, units) + loss_marks(lined),
                    shown(Figure::pressure, count * lined.total, units) + loss_marks(lined)});
  }
  if (rows.empty()) return {};
  std::string text =
      fmt::format("\nloss of total pressure ({}): friction over the whole path, and with coefficients\n",
                  unit_of(Figure::pressure, units)) +
      text_table({{"tag", true},
                  {"passage", true},
                  {table_head("length", Figure::length, units)},
                  {"count"},
                  {"fr. bare"},
                  {"fr. lined"},
                  {"loss bare"},
                  {"loss"},
                  {"times count"}},
                 rows);
  if (marked) {
    text += "  * a published formula's coefficient is in it, by default:\n";
    for (const std::string& line : formulas_used(report)) text += wrapped("    ", line);
  }
  if (open) {
    text += "  + something is left out of it:\n";
    for (const std::string& line : losses_left_out(report)) text += wrapped("    ", line);
  }
  text += "\nsums of losses as if all stood in one line; branches beside each other do not add\n" +
          sums_table(report);
  text += wrapped("  ", k_sum_remark);
  return text;
}

std::vector<std::string> basis_lines(const BoreReport& report) {
  const Units units = report.units;
  const std::string mm(unit_of(Figure::length, units));
  std::vector<std::string> lines{fmt::format("{}, density {} kg/m3, kinematic viscosity {} m2/s",
                                             report.air_basis, fixed(report.air.density, 3),
                                             fmt::format("{:.3e}", report.air.viscosity))};
  std::vector<std::string> surfaces;
  for (const BoreRow& row : report.rows)
    add_once(surfaces, fmt::format("roughness of the lined bore {}: {}",
                                   shown_quantity(Quantity::length, row.roughness, units, 3), row.surface));
  for (std::string& line : surfaces) lines.push_back(std::move(line));
  std::vector<std::string> metals;
  for (const BoreRow& row : report.rows)
    add_once(metals, shown_quantity(Quantity::length, row.metal_roughness, units, 4));
  std::string metal;
  for (const std::string& value : metals) metal += (metal.empty() ? "" : ", ") + value;
  lines.push_back("roughness of the bare metal " + metal);
  lines.push_back(fmt::format(
      "liner {} {}",
      each(of_rows(report, [](const BoreRow& row) { return row.thickness; }), Figure::length, units), mm));
  std::vector<std::string> conductivities;
  for (const BoreRow& row : report.rows)
    add_once(conductivities, shown_quantity(Quantity::conductivity, row.conductivity, units, 4));
  std::string conductivity;
  for (const std::string& value : conductivities) conductivity += (conductivity.empty() ? "" : ", ") + value;
  lines.push_back("conductivity of the liner " + conductivity);
  std::vector<double> limits;
  for (const BoreRow& row : report.rows)
    if (row.velocity_limit) limits.push_back(*row.velocity_limit);
  if (!limits.empty())
    lines.push_back(fmt::format("velocity limit {} {}", each(limits, Figure::velocity, units),
                                unit_of(Figure::velocity, units)));
  if (report.fan_efficiency)
    lines.push_back("efficiency of fan and motor " + trimmed(*report.fan_efficiency, 3));
  if (report.least_share)
    lines.push_back(fmt::format("least share of a bare area {} %", trimmed(100.0 * *report.least_share, 1)));
  if (report.room)
    lines.push_back(fmt::format(
        "room at {}{}, emissivity of the metal {}",
        shown_quantity(Quantity::temperature, report.room->temperature, units, 1),
        report.room->dew_point
            ? ", dew point " + shown_quantity(Quantity::temperature, *report.room->dew_point, units, 1)
            : std::string(),
        trimmed(report.room->emissivity, 3)));
  return lines;
}

std::string basis_part(const BoreReport& report) {
  std::string text = "\nwhat the figures rest on\n";
  for (const std::string& line : basis_lines(report)) text += wrapped("  ", line);
  return text;
}

}  // namespace linerwright
