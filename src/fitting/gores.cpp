#include "gores.hpp"

#include "row_order.hpp"

#include <algorithm>
#include <cmath>
#include <variant>

namespace linerwright {

namespace {

void add_walls(Fitting& fitting, const GoreRow& row) {
  const std::size_t n = row.gores.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Gore& gore = row.gores[i];
    const int wall = add_wall(fitting, Sheet::cylinder(gore.frame, row.radius));
    if (i == 0)
      add_open_end(fitting, wall, End::low, -gore.below);
    else
      add_joint(fitting, wall - 1, wall, Side::lead, row.mitres[i - 1], {0.0});
    if (i + 1 == n) add_open_end(fitting, wall, End::high, gore.above);
  }
}

void add_pieces(Fitting& fitting, const GoreRow& row) {
  const int n = static_cast<int>(row.gores.size());
  for (int i = 0; i < n; ++i) {
    const Gore& gore = row.gores[static_cast<std::size_t>(i)];
    const bool at_zero = (i % 2 == 0) == row.seam_at_zero;
    Piece piece{std::to_string(i + 1),
                gore.role,
                i,
                at_zero ? 0.0 : k_pi,
                k_two_pi,
                at_zero ? gore.at_zero : gore.at_half_turn,
                {{0.0, gore.at_zero}, {k_pi, gore.at_half_turn}},
                {}};
    if (i > 0) piece.next.push_back(std::to_string(i));
    if (i + 1 < n) piece.next.push_back(std::to_string(i + 2));
    fitting.pieces.push_back(std::move(piece));
  }
  add_blanks(fitting, 0);
}

// Whether the section square to a gore's axis at its origin lies in the gore alone: not where a short piece
// has parallel mitres that reach past it.
bool holds_its_section(const GoreRow& row, std::size_t gore) {
  const Gore& own = row.gores[gore];
  const auto reach = [&](const PlaneTarget& mitre) {
    const double along = std::fabs(dot(own.frame.z, mitre.normal));
    return row.radius * std::sqrt(std::max(0.0, 1.0 - along * along)) / along;
  };
  return own.below >= reach(row.mitres[gore - 1]) && own.above >= reach(row.mitres[gore]);
}

// Stations at both ends and in the middle of every gore between them.
void add_way(Fitting& fitting, const GoreRow& row) {
  const double bore = 2.0 * (row.radius - fitting.liner.bore_depth());
  Passage passage{"through", {}};
  double distance = 0.0;
  const auto place = [&](const Gore& gore, double v, const char* name) {
    passage.stations.push_back(
        round_station(distance, row.bare_diameter, bore, gore.frame.point({0, 0, v}), gore.frame.z, name));
  };
  const Gore& first = row.gores.front();
  place(first, -first.below, "one end");
  distance = first.below + first.above;
  for (std::size_t i = 1; i + 1 < row.gores.size(); ++i) {
    const Gore& gore = row.gores[i];
    distance += gore.below;
    if (holds_its_section(row, i)) place(gore, 0.0, "");
    distance += gore.above;
  }
  const Gore& last = row.gores.back();
  distance += last.below + last.above;
  place(last, last.above, "other end");
  fitting.passages.push_back(passage);
}

// Whether two pieces meet in a mitre of equal cylinders, their seams half a turn apart.
bool share_a_cut(const Fitting& fitting, const Piece& before, const Piece& after) {
  const Wall& low = fitting.wall_of(before);
  const Wall& high = fitting.wall_of(after);
  if (low.high.joint != high.low.joint || !low.sheet.is_cylinder() || !high.sheet.is_cylinder()) return false;
  return std::holds_alternative<PlaneTarget>(fitting.joint(low.high.joint).target) &&
         low.sheet.r1() == high.sheet.r1();
}

}  // namespace

void add_blanks(Fitting& fitting, std::size_t first) {
  Blank row;
  const auto close = [&] {
    const std::size_t before = fitting.blanks.size();
    if (row.pieces.size() > 1) {
      row.id = before == 0 ? "blank" : "blank" + std::to_string(before + 1);
      fitting.blanks.push_back(row);
    }
    row.pieces.clear();
  };
  for (std::size_t i = first; i < fitting.pieces.size(); ++i) {
    if (!row.pieces.empty() && !share_a_cut(fitting, fitting.piece(row.pieces.back()), fitting.pieces[i]))
      close();
    row.pieces.push_back(static_cast<int>(i));
  }
  close();
}

void add_gore_row(Fitting& fitting, const GoreRow& row) {
  add_walls(fitting, row);
  add_pieces(fitting, row);
  fitting.insertion = row_order(std::vector<RowRadii>(row.gores.size(), {row.radius, row.radius}));
  add_way(fitting, row);
}

}  // namespace linerwright
