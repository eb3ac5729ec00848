#include "linerwright/report/bore_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bore_parts.hpp"
#include "bore_runs.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_worst = 10;  // places among the worst
constexpr std::size_t k_bars = 40;   // bars of a group; the rest stands in the table

std::string percent(double share) {
  return fixed(100.0 * share, 1) + " %";
}

std::string with_unit(Figure figure, double value, Units units) {
  return fmt::format("{} {}", shown(figure, value, units), unit_of(figure, units));
}

// Rows by their share of the bare area, the least first.
std::vector<const BoreRow*> by_share(const BoreReport& report) {
  std::vector<const BoreRow*> rows;
  for (const BoreRow& row : report.rows) rows.push_back(&row);
  std::stable_sort(rows.begin(), rows.end(), [](const BoreRow* a, const BoreRow* b) {
    return a->narrowest_place().share < b->narrowest_place().share;
  });
  return rows;
}

void add_figures(BoreSheet& sheet, const BoreReport& report) {
  long fittings = 0;
  for (std::size_t i = 0; i < report.rows.size(); ++i)
    if (i == 0 || report.rows[i - 1].tag != report.rows[i].tag) fittings += report.rows[i].count;
  sheet.figures.emplace_back("fittings", std::to_string(fittings));
  const BoreRow& worst = *by_share(report).front();
  sheet.figures.emplace_back(
      "least share of a bare area",
      fmt::format("{} ({})", percent(worst.narrowest_place().share), row_name(report, worst)));
  const std::vector<BoreSum> sums = bore_sums(report);
  if (sums.empty()) return;
  const BoreSum& job = sums.back();
  const std::string open = leaves_out(job);
  sheet.figures.emplace_back("sum of losses, bare", with_unit(Figure::pressure, job.bare_loss, report.units));
  sheet.figures.emplace_back("sum of losses, lined",
                             with_unit(Figure::pressure, job.lined_loss, report.units));
  if (job.lined_power)
    sheet.figures.emplace_back(
        "fan power of it, bare and lined",
        fmt::format("{} W, {} W", significant(*job.bare_power), significant(*job.lined_power)));
  if (!open.empty()) sheet.figures.emplace_back("left out of these sums", open);
  for (const BoreRun& run : report.runs)
    sheet.figures.emplace_back(
        fmt::format("along run {}, bare and lined", run.name),
        fmt::format("{}, {}{}", with_unit(Figure::pressure, run.bare, report.units),
                    with_unit(Figure::pressure, run.lined, report.units),
                    run.without == 0 ? std::string()
                                     : fmt::format(", without {} whose loss is not known", run.without)));
}

void add_warnings(BoreSheet& sheet, const BoreReport& report, const std::vector<std::string>& not_made) {
  for (const std::string& line : not_made) sheet.warnings.push_back("not in this report: " + line);
  for (const std::string& note : notes_by_row(report)) sheet.warnings.push_back(note);
  for (const Problem& problem : report.problems) sheet.warnings.push_back(one_line(problem));
}

void add_bars(BoreSheet& sheet, const BoreReport& report) {
  const Units units = report.units;
  SheetBars areas{
      fmt::format("Area at the narrowest place, bare and lined ({})", unit_of(Figure::area, units)), {}};
  for (const BoreRow* row : by_share(report)) {
    if (areas.bars.size() == k_bars) break;
    const BorePlace& at = row->narrowest_place();
    const double bare = circle_area(at.bare_diameter);
    areas.bars.push_back(
        {row_name(report, *row), bare, at.free_area, shown(Figure::area, bare, units),
         fmt::format("{}, {}", shown(Figure::area, at.free_area, units), percent(at.share))});
  }
  sheet.bars.push_back(std::move(areas));
  std::vector<const BoreRow*> rows;
  for (const BoreRow& row : report.rows)
    if (row.lined_loss) rows.push_back(&row);
  if (rows.empty()) return;
  std::stable_sort(rows.begin(), rows.end(), [](const BoreRow* a, const BoreRow* b) {
    return a->lined_loss->total - a->bare_loss->total > b->lined_loss->total - b->bare_loss->total;
  });
  SheetBars losses{fmt::format("Loss of one, bare and lined ({})", unit_of(Figure::pressure, units)), {}};
  for (const BoreRow* row : rows) {
    if (losses.bars.size() == k_bars) break;
    losses.bars.push_back({row_name(report, *row), std::max(0.0, row->bare_loss->total),
                           std::max(0.0, row->lined_loss->total),
                           shown(Figure::pressure, row->bare_loss->total, units),
                           shown(Figure::pressure, row->lined_loss->total, units)});
  }
  sheet.bars.push_back(std::move(losses));
}

SheetTable fitting_table(const BoreReport& report) {
  const Units units = report.units;
  SheetTable table{
      "By fitting",
      {"tag", "passage", "count", table_head("length", Figure::length, units),
       table_head("bare", Figure::length, units), table_head("lined", Figure::length, units), "share",
       table_head("flow", Figure::flow, units), table_head("velocity", Figure::velocity, units),
       table_head("loss bare", Figure::pressure, units), table_head("loss", Figure::pressure, units)},
      2,
      {},
      {}};
  for (const BoreRow& row : report.rows) {
    const BorePlace& at = row.narrowest_place();
    const auto loss = [&](const std::optional<BoreLoss>& side) {
      return side ? shown(Figure::pressure, side->total, units) + loss_marks(*side) : std::string();
    };
    table.rows.push_back({row.tag, passage_word(report, row), std::to_string(row.count),
                          shown(Figure::length, row.length, units),
                          shown(Figure::length, at.bare_diameter, units),
                          shown(Figure::length, at.lined_diameter, units), percent(at.share),
                          row.flow ? shown(Figure::flow, *row.flow, units) : "",
                          row.lined_air ? shown(Figure::velocity, row.lined_air->velocity, units) : "",
                          loss(row.bare_loss), loss(row.lined_loss)});
  }
  const std::vector<std::string> formulas = formulas_used(report);
  if (!formulas.empty()) table.notes.push_back("* a published formula's coefficient is in it, by default:");
  table.notes.insert(table.notes.end(), formulas.begin(), formulas.end());
  const std::vector<std::string> open = losses_left_out(report);
  if (!open.empty()) table.notes.push_back("+ something is left out of it:");
  table.notes.insert(table.notes.end(), open.begin(), open.end());
  return table;
}

SheetTable worst_table(const BoreReport& report) {
  const Units units = report.units;
  SheetTable table{"The worst places first",
                   {"tag", "passage", "place", "share", table_head("bare", Figure::length, units),
                    table_head("lined", Figure::length, units), "velocity x"},
                   3,
                   {},
                   {}};
  for (const BoreRow* row : by_share(report)) {
    if (table.rows.size() == k_worst) break;
    const BorePlace& at = row->narrowest_place();
    table.rows.push_back(
        {row->tag, passage_word(report, *row),
         row->even ? "all along"
                   : fmt::format("{} at {}", at.place, with_unit(Figure::length, at.distance, units)),
         percent(at.share), shown(Figure::length, at.bare_diameter, units),
         shown(Figure::length, at.lined_diameter, units), fixed(row->velocity_factor, 3)});
  }
  return table;
}

SheetTable sums_table(const BoreReport& report) {
  const Units units = report.units;
  SheetTable table{"Sums of losses, as if all stood in one line",
                   {"kind", "leaves out", "count", table_head("length", Figure::length, units),
                    table_head("bare", Figure::pressure, units), table_head("lined", Figure::pressure, units),
                    "fan W bare", "fan W lined"},
                   2,
                   {},
                   {k_sum_remark}};
  for (const BoreSum& sum : bore_sums(report))
    table.rows.push_back({sum.kind.empty() ? "the whole job" : kind_title(sum.kind), leaves_out(sum),
                          std::to_string(sum.fittings), shown(Figure::length, sum.length, units),
                          shown(Figure::pressure, sum.bare_loss, units),
                          shown(Figure::pressure, sum.lined_loss, units),
                          sum.bare_power ? significant(*sum.bare_power) : "",
                          sum.lined_power ? significant(*sum.lined_power) : ""});
  return table;
}

SheetTable step_table(const BoreReport& report) {
  const Units units = report.units;
  SheetTable table{
      fmt::format("What to step up to, by {}, {}", words_of(*report.step_up), words_of(report.series)),
      {"tag", "passage", "end", table_head("now", Figure::length, units),
       table_head("next", Figure::length, units), "of bare area",
       table_head("metal added", Figure::area, units), std::string(unit_of(Figure::mass, units))},
      3,
      {},
      {}};
  for (const BoreRow& row : report.rows)
    for (std::size_t i = 0; i < row.steps.size(); ++i) {
      const BoreStep& step = row.steps[i];
      const auto& size = step.found.size;
      const bool last = i + 1 == row.steps.size();
      table.rows.push_back(
          {row.tag, passage_word(report, row), step.place, shown(Figure::length, step.asked.diameter, units),
           size ? shown(Figure::length, size->diameter, units) : "none", size ? percent(size->share) : "",
           last && row.added_metal ? shown(Figure::area, *row.added_metal, units) : "",
           last && row.added_mass ? shown(Figure::mass, *row.added_mass, units) : ""});
    }
  table.notes.push_back(fmt::format("metal added by the whole job: {}, {}",
                                    with_unit(Figure::area, report.added_metal, units),
                                    with_unit(Figure::mass, report.added_mass, units)));
  if (report.without_size > 0)
    table.notes.push_back(fmt::format("passages for which the series has no size that is large enough: {}",
                                      report.without_size));
  return table;
}

}  // namespace

SheetHead sheet_head(const Job& job, const std::string& version) {
  SheetHead head{job.name, {}, version, {}};
  const Values* table = table_of(job, "job");
  if (table != nullptr && table->has("date")) head.date = table->text("date");
  return head;
}

BoreSheet bore_sheet(const BoreReport& report, const SheetHead& head,
                     const std::vector<std::string>& not_made) {
  BoreSheet sheet;
  sheet.head = head;
  sheet.units = report.units;
  sheet.cautions = {
      "Figures are aids to a designer's judgement: local codes, the liner's listed ratings and the licensed "
      "designer "
      "decide.",
      "Gloves, eye protection, a dust mask and long sleeves with fibrous board."};
  if (report.rows.empty()) {
    for (const std::string& line : not_made) sheet.warnings.push_back("not in this report: " + line);
    for (const Problem& problem : report.problems) sheet.warnings.push_back(one_line(problem));
    return sheet;
  }
  add_figures(sheet, report);
  add_warnings(sheet, report, not_made);
  add_bars(sheet, report);
  sheet.tables.push_back(worst_table(report));
  sheet.tables.push_back(fitting_table(report));
  if (!bore_sums(report).empty()) sheet.tables.push_back(sums_table(report));
  if (!report.runs.empty()) sheet.tables.push_back(runs_table(report));
  if (report.step_up) sheet.tables.push_back(step_table(report));
  for (SheetTable& table : std::vector<SheetTable>{gain_table(report), sound_table(report)})
    if (!table.rows.empty()) sheet.tables.push_back(std::move(table));
  sheet.basis = basis_lines(report);
  return sheet;
}

}  // namespace linerwright
