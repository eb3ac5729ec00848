// The same job with several linings, side by side.
#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "bore_parts.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/units/json.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

struct Key {
  std::string tag, passage;
  bool operator==(const Key& other) const { return tag == other.tag && passage == other.passage; }
};

// Every passage of any of the reports, in the order of the first that has it.
std::vector<Key> passages_of(const BoreComparison& comparison) {
  std::vector<Key> keys;
  for (const BoreReport& report : comparison.reports)
    for (const BoreRow& row : report.rows)
      if (const Key key{row.tag, row.passage}; std::find(keys.begin(), keys.end(), key) == keys.end())
        keys.push_back(key);
  return keys;
}

const BoreRow* row_of(const BoreReport& report, const Key& key) {
  const auto found = std::find_if(report.rows.begin(), report.rows.end(), [&](const BoreRow& row) {
    return Key{row.tag, row.passage} == key;
  });
  return found == report.rows.end() ? nullptr : &*found;
}

// The rows of all, for what they rest on together.
BoreReport joined(const BoreComparison& comparison) {
  BoreReport all = comparison.reports.empty() ? BoreReport{} : comparison.reports.front();
  for (std::size_t i = 1; i < comparison.reports.size(); ++i)
    all.rows.insert(all.rows.end(), comparison.reports[i].rows.begin(), comparison.reports[i].rows.end());
  return all;
}

std::string percent(double share) {
  return fixed(100.0 * share, 1) + " %";
}

}  // namespace

std::string comparison_table(const BoreComparison& comparison) {
  if (comparison.reports.empty()) return "no linings\n";
  const BoreReport& first = comparison.reports.front();
  const Units units = first.units;
  std::vector<Column> columns{{"tag", true}, {"passage", true}, {"count"}};
  std::string title = fmt::format("side by side: what is clear ({}), its share of the bare area, loss",
                                  unit_of(Figure::length, units));
  for (std::size_t i = 0; i < comparison.liners.size(); ++i) {
    columns.push_back({fmt::format("{}: {}", comparison.liners[i], unit_of(Figure::length, units))});
    columns.push_back({"share"});
    columns.push_back({fmt::format("loss {}", unit_of(Figure::pressure, units))});
  }
  TableRows rows;
  for (const Key& key : passages_of(comparison)) {
    std::vector<std::string> cells;
    for (const BoreReport& report : comparison.reports) {
      const BoreRow* row = row_of(report, key);
      if (cells.empty() && row != nullptr)
        cells = {row->tag, passage_word(report, *row), std::to_string(row->count)};
    }
    for (const BoreReport& report : comparison.reports) {
      const BoreRow* row = row_of(report, key);
      if (row == nullptr) {
        cells.insert(cells.end(), {"none", "", ""});
        continue;
      }
      const BorePlace& at = row->narrowest_place();
      cells.push_back(shown(Figure::length, at.lined_diameter, units));
      cells.push_back(percent(at.share));
      cells.push_back(row->lined_loss ? shown(Figure::pressure, row->lined_loss->total, units) +
                                            loss_marks(*row->lined_loss) + (row->over_limit ? "!" : "")
                                      : "");
    }
    rows.push_back(std::move(cells));
  }
  std::string text = title + "\n" + text_table(columns, rows);
  text +=
      "  * a published formula's coefficient is in it; + something is left out; ! the air is over the "
      "lining's limit\n";
  std::vector<std::vector<std::string>> sums;
  std::string open;
  for (std::size_t i = 0; i < comparison.reports.size(); ++i) {
    const std::vector<BoreSum> of = bore_sums(comparison.reports[i]);
    if (of.empty()) continue;
    const BoreSum& job = of.back();
    sums.push_back({comparison.liners[i], shown(Figure::pressure, job.bare_loss, units),
                    shown(Figure::pressure, job.lined_loss, units),
                    job.lined_power ? shown(Figure::power, *job.lined_power, units) : ""});
    const std::string out = leaves_out(job);
    if (!out.empty()) open += wrapped("  ", fmt::format("{}, left out: {}", comparison.liners[i], out));
  }
  if (!sums.empty())
    text += "\nsums of losses as if all stood in one line\n" +
            text_table({{"liner", true},
                        {table_head("bare", Figure::pressure, units)},
                        {table_head("lined", Figure::pressure, units)},
                        {"fan W"}},
                       sums) +
            open + wrapped("  ", k_sum_remark);
  return text + basis_part(joined(comparison)) + "The licensed designer and local codes decide.\n";
}

std::string comparison_csv(const BoreComparison& comparison) {
  const Units units = comparison.reports.empty() ? Units::metric : comparison.reports.front().units;
  std::string text = "tag,passage,count";
  for (const std::string& liner : comparison.liners)
    for (const std::string& head :
         {fmt::format("lined_diameter {} [{}]", liner, unit_of(Figure::length, units)),
          fmt::format("share {}", liner),
          fmt::format("velocity {} [{}]", liner, unit_of(Figure::velocity, units)),
          fmt::format("loss {} [{}]", liner, unit_of(Figure::pressure, units)),
          fmt::format("over_limit {}", liner)})
      text += "," + csv_cell(head);
  text += ",basis\n";
  std::string basis;
  for (const std::string& line : basis_lines(joined(comparison))) basis += (basis.empty() ? "" : "; ") + line;
  basis = csv_cell(basis);
  for (const Key& key : passages_of(comparison)) {
    long count = 0;
    std::string cells;
    for (const BoreReport& report : comparison.reports) {
      const BoreRow* row = row_of(report, key);
      if (row == nullptr) {
        cells += ",,,,,";
        continue;
      }
      count = row->count;
      const BorePlace& at = row->narrowest_place();
      cells += fmt::format(
          ",{},{},{},{},{}", csv_figure(Figure::length, at.lined_diameter, units), fixed(at.share, 6),
          row->lined_air ? csv_figure(Figure::velocity, row->lined_air->velocity, units) : "",
          row->lined_loss ? csv_figure(Figure::pressure, row->lined_loss->total, units) : "",
          !row->lined_air   ? ""
          : row->over_limit ? "yes"
                            : "no");
    }
    text += fmt::format("{},{},{}{},{}\n", csv_cell(key.tag), csv_cell(key.passage), count, cells, basis);
  }
  return text;
}

std::string comparison_json(const BoreComparison& comparison) {
  std::string text = fmt::format("{{\n\"format\": {},\n\"comparison\": [", k_json_format);
  for (std::size_t i = 0; i < comparison.reports.size(); ++i) {
    std::string report = bore_json(comparison.reports[i]);
    while (!report.empty() && report.back() == '\n') report.pop_back();
    JsonWriter liner;
    liner.text(comparison.liners[i]);
    std::string name = liner.str();
    while (!name.empty() && name.back() == '\n') name.pop_back();
    text += fmt::format("{}\n{{\"liner\": {}, \"report\": {}}}", i == 0 ? "" : ",", name, report);
  }
  return text + "\n]\n}\n";
}

}  // namespace linerwright
