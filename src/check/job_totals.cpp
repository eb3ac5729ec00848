// Totals of a job: each fitting's figures made again, the sums, and the table beside the JSON.
#include <algorithm>
#include <cmath>

#include "linerwright/check/check_job.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/error.hpp"
#include "read_table.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

// What a column's last word says: how many of the library's units one is.
double per_unit(const std::string& head) {
  const auto ends = [&](const std::string& ending) {
    return head.size() > ending.size() &&
           head.compare(head.size() - ending.size(), ending.size(), ending) == 0;
  };
  if (ends("_m2")) return 1e6;
  if (ends("_ft2")) return 144.0 * 25.4 * 25.4;
  if (ends("_m")) return 1e3;
  if (ends("_ft")) return 12.0 * 25.4;
  if (ends("_lb")) return 0.45359237;
  return 1.0;  // kg, s, counts, shares
}

// The column that begins with a figure's key: "tape_m" of "tape".
std::string head_of(const TableFile& table, const std::string& key) {
  for (const std::string& head : table.heads) {
    if (head == key) return head;
    if (head.rfind(key + "_", 0) == 0 && head.find('_', key.size() + 1) == std::string::npos) return head;
  }
  return {};
}

struct Line {
  std::string name;
  std::string kind;
  long count;
  TotalsFigures sum;  // of all its count
};

std::vector<Line> lines_of(const JobTotals& totals) {
  std::vector<Line> lines;
  Line all{"all", "fittings", 0, {}};
  for (const TotalsRow& row : totals.rows) {
    Line line{row.tag, row.kind, row.count, {}};
    for (const TotalsFigure& figure : totals_figures()) {
      line.sum.*figure.value = row.each.*figure.value * static_cast<double>(row.count);
      all.sum.*figure.value += line.sum.*figure.value;
    }
    all.count += row.count;
    lines.push_back(std::move(line));
  }
  lines.push_back(std::move(all));
  return lines;
}

CheckResult made_again(const JobTotals& totals, const MakeAgain& again) {
  Tally tally("totals fittings");
  for (const TotalsRow& row : totals.rows) {
    const std::shared_ptr<const MadeAgain> made = again(row.tag);
    tally.require(made != nullptr, row.tag + " is in the totals, but no such fitting was made");
    if (made == nullptr) continue;
    const TotalsRow expected = totals_row(made->fitting, made->patterns, totals.rules);
    tally.require(row.kind == expected.kind && row.count == expected.count,
                  fmt::format("{}: {} {} in the totals, {} {} were made", row.tag, row.count, row.kind,
                              expected.count, expected.kind));
    for (const TotalsFigure& figure : totals_figures()) {
      const double off = std::fabs(row.each.*figure.value - expected.each.*figure.value);
      tally.require(off <= 1e-9 * std::fabs(expected.each.*figure.value) + 2e-3,
                    fmt::format("{}: {} is {}, not {}", row.tag, figure.label,
                                trimmed(row.each.*figure.value, 3), trimmed(expected.each.*figure.value, 3)));
    }
  }
  return tally.result("figures of fittings made again");
}

// Fittings that are there but that the totals do not count.
std::vector<CheckResult> uncounted(const JobTotals& totals, const std::vector<std::string>& tags) {
  std::string names;
  for (const std::string& tag : tags)
    if (std::none_of(totals.rows.begin(), totals.rows.end(),
                     [&](const TotalsRow& row) { return row.tag == tag; }))
      names += (names.empty() ? "" : ", ") + tag;
  if (names.empty()) return {};
  return {noted("totals fittings", "not in the totals: " + names)};
}

CheckResult sums(const JsonValue& json, const JobTotals& totals) {
  Tally tally("totals sums");
  const JsonValue* stated = json.find("sums");
  const Line all = lines_of(totals).back();
  for (const TotalsFigure& figure : totals_figures())
    tally.number(std::string("sums.") + figure.key, stated == nullptr ? nullptr : stated->find(figure.key),
                 all.sum.*figure.value, 1e-3);
  return tally.result("sums");
}

CheckResult table(const std::filesystem::path& file, const JobTotals& totals) {
  Tally tally("totals table");
  try {
    TableFile table = read_table(file);
    table.name = file.filename().string();
    const std::vector<Line> lines = lines_of(totals);
    tally.require(table.rows.size() >= lines.size(),
                  fmt::format("{} has {} rows, not {}", table.name, table.rows.size(), lines.size()));
    for (std::size_t i = 0; i < std::min(lines.size(), table.rows.size()); ++i) {
      const std::string where = fmt::format("{}:{}: ", table.name, table.rows[i].line);
      const std::string& name = table.text(i, "what");
      tally.require((name == lines[i].name || name == "'" + lines[i].name) &&
                        table.text(i, "kind") == lines[i].kind &&
                        table.number(i, "count") == static_cast<double>(lines[i].count),
                    where + "not " + lines[i].name + " and its count");
      for (const TotalsFigure& figure : totals_figures()) {
        const std::string head = head_of(table, figure.key);
        if (head.empty() && std::string(figure.key).rfind("spared", 0) == 0) continue;  // not asked for
        const double found = head.empty() ? std::nan("") : table.number(i, head);
        const double expected = lines[i].sum.*figure.value / per_unit(head);
        tally.require(std::fabs(found - expected) <= 0.51e-6 + 1e-9 * std::fabs(expected),
                      fmt::format("{}{} is {}, not {}", where, head.empty() ? figure.key : head,
                                  trimmed(found, 6), trimmed(expected, 6)));
      }
    }
    for (std::size_t i = 0; i < totals.stock.size() && lines.size() + i < table.rows.size(); ++i) {
      const TotalsStock& stock = totals.stock[i];
      const std::size_t row = lines.size() + i;
      const std::string where = fmt::format("{}:{}: ", table.name, table.rows[row].line);
      const auto figure = [&](const std::string& key, double expected, double tolerance) {
        const std::string head = head_of(table, key);
        const double found = table.number(row, head);
        tally.require(std::fabs(found - expected / per_unit(head)) <= tolerance + 1e-9 * std::fabs(found),
                      fmt::format("{}{} is {}, not {}", where, head, trimmed(found, 6),
                                  trimmed(expected / per_unit(head), 6)));
      };
      tally.require(table.number(row, "count") == static_cast<double>(stock.boards),
                    where + "count is not that of the boards");
      figure("stock_area", stock.stock_area, 0.51e-6);
      figure("piece_area", stock.piece_area, 0.51e-6);
      figure("knife_length", stock.knife_length, 0.51e-6);
      figure("yield", stock.stock_area > 0.0 ? stock.piece_area / stock.stock_area : 0.0, 0.51e-6);
      figure("cutting_time", stock.cutting_time, 0.51e-3);
    }
  } catch (const InputError& error) {
    tally.wrong(error.what());
  }
  return tally.result("cells of the table");
}

// What the boards beside the totals say of themselves.
CheckResult stock(const std::filesystem::path& boards_json, const JobTotals& totals) {
  Tally tally("totals boards");
  const auto sum_of_key = [](const JsonValue& list, const char* key) {
    double sum = 0.0;
    for (const JsonValue& board : list.items)
      if (const JsonValue* found = board.find(key)) sum += found->number;
    return sum;
  };
  try {
    const JsonValue json = json_of(boards_json);
    const JsonValue* list = json.find("boards");
    double boards = 0.0;
    double pieces = 0.0;
    double knife = 0.0;
    for (const TotalsStock& each : totals.stock) {
      boards += static_cast<double>(each.boards);
      pieces += each.piece_area;
      knife += each.knife_length;
    }
    if (list == nullptr) {
      tally.wrong("boards.json has no list of boards");
    } else {
      const auto same = [&](const std::string& what, double found, double expected, double tolerance) {
        tally.require(std::fabs(found - expected) <= tolerance + 1e-9 * std::fabs(expected),
                      fmt::format("{} is {} in the totals, {} on the boards", what, trimmed(found, 3),
                                  trimmed(expected, 3)));
      };
      const double count = static_cast<double>(list->items.size());
      same("the number of boards", boards, count, 0.0);
      same("the area of the pieces", pieces, sum_of_key(*list, "piece_area"), 1e-2 * (1.0 + count));
      same("the knife's way", knife, sum_of_key(*list, "knife_length"), 1e-2 * (1.0 + count));
    }
  } catch (const InputError& error) {
    tally.wrong(error.what());
  }
  return tally.result("figures of boards");
}

}  // namespace

std::vector<CheckResult> check_totals(const std::filesystem::path& file, const std::vector<std::string>& tags,
                                      const MakeAgain& again) {
  try {
    const JsonValue json = read_json(file_bytes(file, k_largest_json), file.filename().string());
    const JobTotals totals = totals_from_json(file);
    std::filesystem::path beside = file;
    std::vector<CheckResult> results{made_again(totals, again), sums(json, totals),
                                     table(beside.replace_extension(".csv"), totals)};
    for (CheckResult& note : uncounted(totals, tags)) results.push_back(std::move(note));
    const std::filesystem::path boards = file.parent_path() / "boards" / "boards.json";
    std::error_code error;
    if (!totals.stock.empty() && std::filesystem::exists(boards, error))
      results.push_back(stock(boards, totals));
    return results;
  } catch (const InputError& error) {
    return {undone("totals", error.what())};
  }
}

}  // namespace linerwright
