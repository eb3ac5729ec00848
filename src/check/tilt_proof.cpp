// The tilt table on disk: a straight blade is swept along its rows, and where it goes is held against both
// faces.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include <fmt/format.h>

#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/reroll/edge_reference.hpp"
#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"
#include "tilt_file.hpp"

namespace linerwright {

namespace {

constexpr int k_steps = 720;     // of a reference, around
constexpr double k_limit = 0.1;  // mm: chords of the rows' places, and k_left
constexpr double k_least = std::numeric_limits<double>::infinity();

// Where a face's edge is wanted: on a line, or inside a hole by the butt allowance.
struct Wanted {
  Wanted(BoardLine on, double inside_by, bool is_hole)
      : line(std::move(on)), near({line}), inside(inside_by), hole(is_hole) {}
  BoardLine line;
  NearLines near;
  double inside;
  bool hole;
  std::vector<Vec2> must{};  // points that something has to reach

  double away(Vec2 p) const {
    const double distance = near.distance(p);
    if (!hole || !(inside > 0.0)) return distance;
    return point_in_polygon(p, line.points) ? std::fabs(distance - inside) : distance + inside;
  }
};

// One contour of the table: what either face's edge has to be, and where the blade goes.
struct Sweep {
  std::vector<Vec2> upper;  // rows' places
  struct End {
    Vec2 at;
    double left;
  };
  std::vector<End> lower;     // the blade's lower end between rows
  std::vector<Vec2> all_way;  // and where it turns on the spot, too
  double most_left = 0.0;
  bool closed = false;
};

double away(Vec2 p, const std::vector<Wanted>& all) {
  double least = k_least;
  for (const Wanted& wanted : all) least = std::min(least, wanted.away(p));
  return least;
}

Sweep swept(const std::vector<TiltFileRow>& rows, const TiltFile& table, bool closed) {
  constexpr int k_parts = 5;
  constexpr double k_turn = 2.0 / 180.0 * k_pi;  // from part to part: at corners the lower end goes in an arc
  Sweep sweep;
  sweep.closed = closed;
  // the way the lower end lies at this reading, to the right of the heading
  const auto lean = [&](double reading) {
    const double tilt = tilt_of_reading(table.head, table.face_up, reading);
    return table.face_up == Face::air ? -tilt : tilt;
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    sweep.upper.push_back(rows[i].at);
    sweep.most_left = std::max(sweep.most_left, rows[i].left);
    if (!closed && i + 1 == rows.size()) break;
    const TiltFileRow& a = rows[i];
    const TiltFileRow& b = rows[(i + 1) % rows.size()];
    const double turn = std::remainder(b.heading - a.heading, k_two_pi);
    const bool on_the_spot = distance(a.at, b.at) < 1e-3;
    const int parts = std::max(k_parts, static_cast<int>(std::ceil(std::fabs(turn) / k_turn)));
    for (int part = 0; part <= parts; ++part) {
      const double share = static_cast<double>(part) / parts;
      const double heading = a.heading + share * turn;
      const double shift = table.board * std::tan((1.0 - share) * lean(a.reading) + share * lean(b.reading));
      const Vec2 end = a.at + share * (b.at - a.at) + shift * Vec2{std::sin(heading), -std::cos(heading)};
      sweep.all_way.push_back(end);
      if (!on_the_spot) sweep.lower.push_back({end, std::max(a.left, b.left)});
    }
  }
  return sweep;
}

// How far the sweep strays from the edges it is to follow, and they from it, beyond what its rows say is
// left.
// The board ends at its seams: what the blade does beyond them is nobody's edge.
double off(const Sweep& sweep, const RolledPiece& rolled, const std::vector<Wanted>& upper,
           const std::vector<Wanted>& lower, const std::vector<Wanted>& upper_must,
           const std::vector<Wanted>& lower_must) {
  double worst = 0.0;
  for (const Vec2 p : sweep.upper) worst = std::max(worst, away(p, upper));
  for (const Sweep::End& end : sweep.lower) {
    const double beside = away(end.at, lower) - end.left;
    if (beside > std::max(worst, k_limit) && rolled.overrun(rolled.place(end.at)) > 0.0) continue;
    worst = std::max(worst, beside);
  }
  const NearLines places({{sweep.upper, sweep.closed}});
  const NearLines way({{sweep.all_way, false}});
  for (const Wanted& wanted : upper_must)
    for (const Vec2 p : wanted.must) worst = std::max(worst, places.distance(p));
  for (const Wanted& wanted : lower_must)
    for (const Vec2 p : wanted.must) worst = std::max(worst, way.distance(p) - sweep.most_left);
  return worst;
}

// What the blade goes along: the cut between two parts, all around a hole or a disc, or around a piece, along
// its seams too.
enum class Along { cut, around, around_with_seams };

class Proof {
 public:
  Proof(const Fitting& fitting, const Pattern& pattern, const TiltFile& table,
        const std::vector<TiltFileRow>& rows)
      : fitting_(fitting),
        pattern_(pattern),
        liner_(liner_of(fitting, pattern)),
        table_(table),
        rows_(rows) {}

  // The sweep of every contour; throws std::invalid_argument where one is missing.
  double worst() const {
    const double butt = liner_.butt_allowance;
    double worst = 0.0;
    if (pattern_.is_blank) {
      for (std::size_t part = 0; part + 1 < pattern_.pieces.size(); ++part) {
        const RolledPiece rolled(fitting_, pattern_, part);
        const EdgeReference edge = end_reference(fitting_, rolled, End::high, butt, k_steps);
        worst = std::max(worst, check(rolled, static_cast<int>(part) + 1, {edge}, Along::cut));
      }
      // around them only the ends that meet something lean
      const RolledPiece first(fitting_, pattern_, 0);
      const RolledPiece last(fitting_, pattern_, pattern_.pieces.size() - 1);
      if (is_open(first, End::low) && is_open(last, End::high)) return worst;
      const std::vector<EdgeReference> around{end_reference(fitting_, first, End::low, butt, k_steps),
                                              end_reference(fitting_, last, End::high, butt, k_steps)};
      return std::max(worst, check(first, 0, around, Along::around_with_seams));
    }
    const RolledPiece rolled(fitting_, pattern_, 0);
    if (const auto* panel =
            std::get_if<PanelTarget>(&fitting_.joint(fitting_.wall(rolled.piece().wall).low.joint).target)) {
      worst = off_panel(rolled, *panel);
    } else if (!rolled
                    .is_folded()) {  // such a piece is cut square and carved by hand: its openings alone lean
      std::vector<EdgeReference> ends{end_reference(fitting_, rolled, End::low, butt, k_steps)};
      if (!rolled.is_flat()) ends.push_back(end_reference(fitting_, rolled, End::high, butt, k_steps));
      worst = check(rolled, 0, ends, rolled.is_flat() ? Along::around : Along::around_with_seams);
    }
    int contour = 1;
    for (const std::size_t h : holes_of(fitting_, rolled.piece()))
      worst = std::max(
          worst,
          check(rolled, contour++,
                {hole_reference(fitting_, rolled, fitting_.wall(rolled.piece().wall).holes[h], k_steps)},
                Along::around));
    return worst;
  }

  // A collar's panel is cut along its four sides, from corner to corner: each row stands in a corner of the
  // upper face, its lower end on the other face's side, and says what is left to the hand beside that corner:
  // of an ear, or of the lower face's side where that is the longer one.
  double off_panel(const RolledPiece& rolled, const PanelTarget& panel) const {
    std::vector<TiltFileRow> rows;
    for (const TiltFileRow& row : rows_)
      if (row.contour == 0) rows.push_back(row);
    if (rows.size() != 8)
      throw std::invalid_argument(fmt::format("{} rows around a panel, not 8", rows.size()));
    const double t = liner_.inner_depth();
    const std::vector<Vec2> duct = panel_face(panel.hull, panel.side, 0.0);
    const auto sides = [&](double w) {
      const double half = duct[1].x - w;
      const double top = duct[2].y + w * panel_top(panel.hull, panel.side);
      return std::array<Vec2, 4>{Vec2{-half, duct[0].y}, {half, duct[0].y}, {half, top}, {-half, top}};
    };
    const auto laid = [&](Vec2 at) {
      const double theta = std::atan2(at.y, at.x);
      return rolled.board(
          {theta < 0.0 ? theta + k_two_pi : theta, fitting_.wall(rolled.piece().wall).sheet.r1() - norm(at)});
    };
    const bool air_up = table_.face_up == Face::air;
    const std::array<Vec2, 4> upper = sides(air_up ? t : 0.0);
    const std::array<Vec2, 4> lower = sides(air_up ? 0.0 : t);
    const auto left_beside = [&](std::size_t corner, std::size_t other) {
      const Vec2 way = upper[corner] - upper[other];
      const double longer = dot(lower[corner] - upper[corner], way) / norm(way);
      return corner < 2 ? std::max(0.0, longer)
                        : std::max(longer, panel_ear(panel.hull, panel.side, corner == 2, t));
    };
    double worst = 0.0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const TiltFileRow& row = rows[i];
      double best = k_least;  // of all sides: a table may begin with any, and run either way
      for (std::size_t side = 0; side < 4; ++side) {
        const Vec2 a = laid(lower[side]);
        const Vec2 along = laid(lower[(side + 1) % 4]) - a;
        const double tilt = tilt_of_reading(table_.head, table_.face_up, row.reading);
        const double shift = table_.board * std::tan(air_up ? -tilt : tilt);
        const Vec2 end = row.at + shift * Vec2{std::sin(row.heading), -std::cos(row.heading)};
        const double off_line = std::fabs(cross(along, end - a)) / norm(along);
        const double off_way = table_.board * std::fabs(std::sin(std::atan2(along.y, along.x) - row.heading));
        for (const bool first : {true, false}) {
          const std::size_t corner = first ? side : (side + 1) % 4;
          const double off_corner = distance(row.at, laid(upper[corner]));
          const double off_left = std::fabs(row.left - left_beside(corner, first ? (side + 1) % 4 : side));
          best = std::min(best, std::max({off_line, off_way, off_corner, off_left}));
        }
      }
      worst = std::max(worst, best);
    }
    // and every corner has a row of either side
    for (const Vec2 corner : upper) {
      const auto there = std::count_if(rows.begin(), rows.end(), [&](const TiltFileRow& row) {
        return distance(row.at, laid(corner)) < k_limit;
      });
      if (there != 2) worst = k_least;
    }
    return worst;
  }

  // Rows beside those made again, as millimetres.
  double against_made() const {
    if (rows_.size() != pattern_.tilts.size())
      throw std::invalid_argument(fmt::format("{} rows instead of {}", rows_.size(), pattern_.tilts.size()));
    const KnifeHead head = knife_head(fitting_);
    double worst = 0.0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const TiltRow& made = pattern_.tilts[i];
      const TiltFileRow& row = rows_[i];
      const double t = liner_.thickness;
      const double reading = head_reading(head, liner_.face_up, made.tilt);
      worst = std::max({worst, distance(row.at, made.at), std::fabs(row.left - made.left),
                        t * std::fabs(row.reading - reading),
                        t * std::fabs(std::remainder(row.heading - made.heading, k_two_pi)),
                        row.contour == made.contour ? 0.0 : k_least});
      if (!(head.pivot_height > 0.0)) continue;
      // the pivot, the place and the lower end lie on one line
      const double lean = liner_.face_up == Face::air ? -made.tilt : made.tilt;
      const Vec2 pivot = made.at - head.pivot_height * std::tan(lean) *
                                       Vec2{std::sin(made.heading), -std::cos(made.heading)};
      worst = std::max(worst, distance(pivot, row.pivot));
    }
    return worst;
  }

 private:
  bool is_open(const RolledPiece& rolled, End end) const {
    return fitting_.joint(fitting_.wall_of(rolled.piece()).use(end).joint).open();
  }

  double check(const RolledPiece& rolled, int contour, const std::vector<EdgeReference>& edges,
               Along sort) const {
    std::vector<TiltFileRow> rows;
    for (const TiltFileRow& row : rows_)
      if (row.contour == contour) rows.push_back(row);
    if (rows.size() < 2) throw std::invalid_argument(fmt::format("no rows of contour {}", contour));
    const bool air_up = liner_.face_up == Face::air;
    const auto wanted = [&](bool upper) {
      std::vector<Wanted> all;
      const double share = upper == air_up ? 1.0 : 0.0;
      for (const EdgeReference& edge : edges) {
        const double inside = edge.hole ? liner_.butt_allowance : 0.0;
        all.emplace_back(BoardLine{edge.between(share), edge.hole}, inside, edge.hole);
        all.back().must = edge.hole && inside > 0.0 ? edge_of_smaller({edge.between(share)}, 0, inside)
                                                    : edge.between(share);
      }
      return all;
    };
    const std::vector<Wanted> upper_must = wanted(true);
    const std::vector<Wanted> lower_must = wanted(false);
    std::vector<Wanted> upper = upper_must;
    std::vector<Wanted> lower = lower_must;
    if (sort == Along::around_with_seams)
      for (const bool last : {false, true}) {
        BoardLine seam{{}, false};
        for (const Wanted* end : {&upper_must[0], &upper_must[1]})
          seam.points.push_back(last ? end->line.points.back() : end->line.points.front());
        upper.emplace_back(seam, 0.0, false);
        lower.emplace_back(seam, 0.0, false);
      }
    return off(swept(rows, table_, sort != Along::cut), rolled, upper, lower, upper_must, lower_must);
  }

  const Fitting& fitting_;
  const Pattern& pattern_;
  const LinerSpec& liner_;
  const TiltFile& table_;
  const std::vector<TiltFileRow>& rows_;
};

// What the head of the table says beside what it is for.
double head_off(const Fitting& fitting, const LinerSpec& liner, const TiltFile& table) {
  const KnifeHead head = knife_head(fitting);
  if (table.face_up != liner.face_up || table.head.sign != head.sign) return k_least;
  return std::max({std::fabs(table.board - liner.thickness),
                   std::fabs(table.head.pivot_height - head.pivot_height),
                   std::fabs(table.head.zero - head.zero), std::fabs(table.head.limit - head.limit)});
}

}  // namespace

std::vector<CheckResult> prove_tilts(const Fitting& fitting, const std::vector<Pattern>& all,
                                     const std::filesystem::path& file, int layer) {
  std::vector<Pattern> patterns;
  for (const Pattern& pattern : all)
    if (pattern.layer == layer) patterns.push_back(pattern);
  TiltFile table;
  try {
    table = read_tilt_file(file);
  } catch (const InputError& error) {
    return {undone("tilt table", error.what())};
  }
  std::vector<CheckResult> results{within("tilt head", head_off(fitting, layer_of(fitting, layer), table),
                                          1e-3, "", "face up, board, sign, zero, pivot and limit")};
  for (const Pattern& pattern : patterns) {
    const auto rows = table.pieces.find(pattern.id);
    const std::string name = "tilt " + pattern.id;
    if (rows == table.pieces.end()) {
      if (!pattern.tilts.empty()) results.push_back(undone(name, "no rows of this piece"));
      continue;
    }
    try {
      const Proof proof(fitting, pattern, table, rows->second);
      // a notched blank is folded, not rolled
      const bool folded = std::any_of(fitting.notched.begin(), fitting.notched.end(),
                                      [&](const NotchedBlank& blank) { return blank.id == pattern.id; });
      if (!folded)
        results.push_back(
            within(name, proof.worst(), k_limit, "mm",
                   fmt::format("a blade swept along {} rows to both faces' closed forms, and back",
                               rows->second.size())));
      results.push_back(
          within("tilt rows " + pattern.id, proof.against_made(), 1e-3, "mm", "against the rows made again"));
    } catch (const std::exception& error) {
      results.push_back(undone(name, error.what()));
    }
  }
  if (table.pieces.size() > patterns.size())
    results.push_back(undone("tilt table", "rows of a piece that is not there"));
  return results;
}

}  // namespace linerwright
