#include <algorithm>

#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_height = 2e-5;  // mm: six decimals, and heights read between 5760 points a turn

void prove_rows(const Cut& cut, const Request& request, Worst& stations, Worst& heights, Worst& places) {
  const Part& part = cut.part;
  const Wall& wall = *part.wall;
  const double outer = request.outer_face();
  const double inner = request.inner_face();
  const std::string& where = cut.made->id;
  const auto& rows = cut.made->ordinates;
  const double asked_for = request.value("stations");
  stations.expect(static_cast<double>(rows.size()) == asked_for + 1.0,
                  where + " has " + std::to_string(rows.size()) + " ordinates");
  const Flat flat = wall.taper > 0.0 ? Flat{} : flat_of(part, request, cut.lift);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const MadeOrdinate& row = rows[i];
    const std::string at = where + " station " + std::to_string(i);
    const double step = part.span / static_cast<double>(rows.size() - 1);
    stations.expect(std::abs(row.angle - part.start - step * static_cast<double>(i)) < 2e-8,
                    at + " stands elsewhere");
    const double angle = part.start + step * static_cast<double>(i);  // as written, it is rounded
    if (cut.known_edges) {
      heights.off(row.duct_low - (part.low ? *part.low : wall.low(angle, outer)), at + ", duct face, low");
      heights.off(row.air_low - (part.low ? *part.low : wall.low(angle, inner)), at + ", air face, low");
      heights.off(row.duct_high - (part.high ? *part.high : wall.high(angle, outer)),
                  at + ", duct face, high");
      heights.off(row.air_high - (part.high ? *part.high : wall.high(angle, inner)), at + ", air face, high");
    }
    if (wall.taper > 0.0 || !cut.known_edges) continue;
    Point place = on_board(part, request, flat, cut.lift, row.angle, row.duct_low);
    const double along = flat.width * static_cast<double>(i) / static_cast<double>(rows.size() - 1);
    place[0] = request.word("face_up") == "air" ? flat.width - along : along;
    places.off(row.x - place[0], at + " x");
    places.off(row.y - place[1], at + " y");
  }
  if (wall.taper > 0.0 || cut.made->holes.empty()) return;
  stations.expect(cut.made->holes.size() == flat.holes.size() * static_cast<std::size_t>(asked_for),
                  where + " misses points of its holes");
  const std::vector<Rim> rims = liner_rims(wall);
  std::map<int, int> rows_of;
  for (const MadeHole& row : cut.made->holes) {
    const std::string at = where + " hole " + std::to_string(row.hole);
    if (row.hole < 1 || static_cast<std::size_t>(row.hole) > flat.holes.size()) {
      stations.wrong(at + " was not asked for");
      continue;
    }
    const Rim rim = rims[flat.holes[static_cast<std::size_t>(row.hole) - 1].index];
    const double angle = k_turn * rows_of[row.hole]++ / asked_for;  // as written, it is rounded
    stations.expect(std::abs(row.angle - angle) < 2e-8, at + " has a station elsewhere");
    const Point duct = rim(angle, outer);
    const Point air = rim(angle, inner);
    const Point on_duct = on_board(part, request, flat, cut.lift, duct[0], duct[1]);
    const Point on_air = on_board(part, request, flat, cut.lift, air[0], air[1]);
    for (std::size_t k = 0; k < 2; ++k) {
      places.off(row.duct[k] - on_duct[k], at + ", duct face");
      places.off(row.air[k] - on_air[k], at + ", air face");
    }
  }
}

std::vector<std::vector<std::string>> table_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
  for (const char c : text) {
    if (c == '\n')
      rows.push_back({""});
    else if (c == ',')
      rows.back().push_back("");
    else if (c != '\r')
      rows.back().back() += c;
  }
  return rows;
}

// Three rows a notch: its point, its left and its right corner.
void prove_notch_row(const MadePiece& piece, const std::vector<std::string>& row, double unit, std::size_t i,
                     Worst& table) {
  if (i >= 3 * piece.notches.size()) {
    table.wrong(piece.id + " has more notches in the table");
    return;
  }
  const MadeNotch& notch = piece.notches[i / 3];
  const double* on_duct[] = {notch.tip, notch.duct_left, notch.duct_right};
  const double* on_air[] = {notch.tip, notch.air_left, notch.air_right};
  const std::string at = piece.id + " " + row[1];
  table.expect(
      row.size() == 12 && row[1] == "notch " + std::to_string(i / 3 + 1) && row[2] == std::to_string(i % 3),
      at + " stands elsewhere in the table");
  if (row.size() != 12) return;
  for (std::size_t k = 0; k < 2; ++k) {
    table.off(value_of(row[4 + k], What::number, false) * unit - on_duct[i % 3][k], at);
    table.off(value_of(row[10 + k], What::number, false) * unit - on_air[i % 3][k], at);
  }
  table.off(k_turn * (value_of(row[3], What::number, false) / 360.0) - notch.angle, at + " angle");
}

// The table of ordinates for people against fitting.json's, in the fitting's own units.
void prove_table(const Case& asked, Worst& table) {
  const std::string name = name_ending(asked.files, "-ordinates.csv");
  if (name.empty()) {
    table.wrong("the table of ordinates is missing");
    return;
  }
  // the table's head names its unit: a job may print inches whatever a bare number means
  const bool inches = asked.files.at(name).find("x_in") != std::string::npos;
  const double unit = inches ? 25.4 : 1.0;
  std::map<std::string, std::size_t> edges;
  std::map<std::string, std::size_t> corners;
  for (const auto& row : table_of(asked.files.at(name))) {
    if (row.size() < 10 || row[0] == "piece" || row[0][0] == '#') {
      if (row.size() >= 10 && row[0] == "piece")
        table.expect(
            row[4] == (inches ? "x_in" : "x_mm") && row[6] == (inches ? "duct_low_in" : "duct_low_mm"),
            "the table's head names another unit");
      continue;
    }
    const auto piece = std::find_if(asked.made.pieces.begin(), asked.made.pieces.end(),
                                    [&](const MadePiece& one) { return one.id == row[0]; });
    if (piece == asked.made.pieces.end()) continue;
    if (row[1].compare(0, 6, "notch ") == 0) {
      prove_notch_row(*piece, row, unit, corners[row[0]]++, table);
      continue;
    }
    if (row[1] != "edge") continue;
    const std::size_t i = edges[row[0]]++;
    if (i >= piece->ordinates.size()) {
      table.wrong(row[0] + " has more stations in the table");
      continue;
    }
    const MadeOrdinate& made = piece->ordinates[i];
    const double wanted[6] = {made.x, made.y, made.duct_low, made.duct_high, made.air_low, made.air_high};
    for (std::size_t k = 0; k < 6; ++k)
      table.off(value_of(row[4 + k], What::number, false) * unit - wanted[k],
                row[0] + " station " + std::to_string(i));
    table.off(k_turn * (value_of(row[3], What::number, false) / 360.0) - made.angle, row[0] + " angle");
  }
  for (const MadePiece& piece : asked.made.pieces) {
    table.expect(edges[piece.id] == piece.ordinates.size(),
                 "stations of " + piece.id + " are missing in the table");
    table.expect(corners[piece.id] == 3 * piece.notches.size(),
                 "notches of " + piece.id + " are missing in the table");
  }
}

}  // namespace

void prove_ordinates(Case& asked) {
  Worst stations("stations", 0.0, "", "as many as asked for, evenly around");
  Worst heights("heights", k_height, "mm",
                "mitres, tapers and saddles by closed form at every station, both faces");
  Worst places("places", k_height, "mm", "stations and hole points on the board by closed form");
  Worst table("ordinates", 0.000254, "mm", "fitting.json's stations, in the units asked for");
  for (const Cut& cut : asked.cuts) prove_rows(cut, asked.made.request, stations, heights, places);
  prove_table(asked, table);
  for (const Worst* line : {&stations, &heights, &places, &table}) line->into(asked.findings);
}

}  // namespace linerwright::asked
