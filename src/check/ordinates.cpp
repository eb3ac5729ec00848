// The table of ordinates read back, row by row.
#include <algorithm>

#include "beside.hpp"
#include "linerwright/units/error.hpp"
#include "read_table.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

constexpr double k_degree = 57.295779513082320877;  // 180 / pi

// One cell that should be there: under which head, what, and half of its last place.
struct ExpectedCell {
  std::string head;
  double value;
};
struct ExpectedRow {
  std::string piece, what;
  int station;
  double angle;                       // degrees
  std::vector<ExpectedCell> lengths;  // mm
};

std::vector<ExpectedRow> expected_rows(const std::vector<Pattern>& patterns) {
  std::vector<ExpectedRow> rows;
  for (const Pattern& pattern : patterns) {
    int station = 0;
    for (const Ordinate& o : pattern.ordinates)
      rows.push_back({pattern.id,
                      "edge",
                      station++,
                      o.theta * k_degree,
                      {{"x", o.at.x},
                       {"y", o.at.y},
                       {"duct_low", o.duct_low},
                       {"duct_high", o.duct_high},
                       {"air_low", o.air_low},
                       {"air_high", o.air_high}}});
    for (std::size_t k = 0; k < pattern.notch_ordinates.size(); ++k) {
      const NotchOrdinate& o = pattern.notch_ordinates[k];
      int corner = 0;
      for (const auto& [duct, air] : corners_of(o))
        rows.push_back({pattern.id,
                        fmt::format("notch {}", k + 1),
                        corner++,
                        o.theta * k_degree,
                        {{"x", duct.x}, {"y", duct.y}, {"air_x", air.x}, {"air_y", air.y}}});
    }
    std::vector<int> counts;
    for (const HoleOrdinate& o : pattern.hole_ordinates) {
      counts.resize(std::max(counts.size(), o.hole + 1), 0);
      rows.push_back({pattern.id,
                      fmt::format("hole {}", o.hole + 1),
                      counts[o.hole]++,
                      o.s * k_degree,
                      {{"x", o.duct.x}, {"y", o.duct.y}, {"air_x", o.air.x}, {"air_y", o.air.y}}});
    }
  }
  return rows;
}

void compare_row(Tally& tally, const TableFile& table, std::size_t i, const ExpectedRow& row,
                 const std::string& unit, double per_unit, double half_a_place) {
  const std::string where = fmt::format("{}:{}: ", table.name, table.rows[i].line);
  tally.require(table.text(i, "piece") == row.piece && table.text(i, "what") == row.what &&
                    table.number(i, "station") == row.station,
                fmt::format("{}not station {} of {} of piece {}", where, row.station, row.what, row.piece));
  const auto figure = [&](const std::string& head, double expected, double tolerance) {
    const double found = table.number(i, head);
    tally.require(std::fabs(found - expected) <= tolerance + 1e-9 * std::fabs(expected),
                  fmt::format("{}{} is {}, not {}", where, head, trimmed(found, 6), trimmed(expected, 6)));
  };
  figure("angle_deg", row.angle, 0.51e-3);
  // cells that say nothing of this row stay empty
  for (std::size_t k = 0; k < table.heads.size(); ++k) {
    const std::string& head = table.heads[k];
    const bool meant =
        k < 4 || std::any_of(row.lengths.begin(), row.lengths.end(),
                             [&](const ExpectedCell& cell) { return head == cell.head + "_" + unit; });
    tally.require(meant || table.rows[i].cells[k].empty(),
                  fmt::format("{}{} is '{}', not empty", where, head, table.rows[i].cells[k]));
  }
  for (const ExpectedCell& cell : row.lengths)
    figure(cell.head + "_" + unit, cell.value / per_unit, half_a_place);
}

}  // namespace

CheckResult prove_ordinates(const Fitting& fitting, const std::vector<Pattern>& patterns,
                            const CheckFiles& files) {
  const bool inches = fitting.units == Units::inch;
  const std::vector<ExpectedRow> rows = expected_rows(patterns);
  try {
    TableFile table = read_table(files.folder / (files.stem + "-ordinates.csv"));
    table.name = files.stem + "-ordinates.csv";
    Tally tally("ordinates");
    tally.require(table.rows.size() == rows.size(),
                  fmt::format("{} has {} rows, not {}", table.name, table.rows.size(), rows.size()));
    for (std::size_t i = 0; i < std::min(table.rows.size(), rows.size()); ++i)
      compare_row(tally, table, i, rows[i], inches ? "in" : "mm", inches ? 25.4 : 1.0,
                  inches ? 0.51e-5 : 0.51e-4);
    return tally.result(fmt::format("figures in {} rows", rows.size()));
  } catch (const InputError& error) {
    return undone("ordinates", error.what());
  }
}

}  // namespace linerwright
