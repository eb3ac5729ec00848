#include "marks.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

// A ruling counted from the seam, in [0, 2 pi).
double turn_from_seam(const Piece& piece, double theta) {
  double turn = std::fmod(theta - piece.seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  return turn > k_two_pi - 1e-9 ? 0.0 : turn;
}

void add_line(Pattern& pattern, std::vector<Vec2> line, const std::string& name) {
  pattern.marks.push_back(std::move(line));
  pattern.mark_names.push_back(name);
}

struct Ends {
  Vec2 low, high;
  double length;
};

// Where both faces' material reaches along a ruling.
Ends both_faces(const Fitting& fitting, const Outliner& outliner, const Piece& piece, double theta) {
  const auto [outer, inner] = liner_of(fitting, piece).faces();
  const double low = std::max(liner_end(fitting, piece.wall, End::low, theta, outer),
                              liner_end(fitting, piece.wall, End::low, theta, inner));
  const double high = std::min(liner_end(fitting, piece.wall, End::high, theta, outer),
                               liner_end(fitting, piece.wall, End::high, theta, inner));
  return {outliner.development().point(theta, low), outliner.development().point(theta, high), high - low};
}

// Where the knife would have gone without the allowance: board beyond it is trimmed.
double trimmed_height(const Fitting& fitting, const Piece& piece, End end, double theta, CutPolicy policy) {
  const LinerSpec& liner = liner_of(fitting, piece);
  const double duct = liner_end(fitting, piece.wall, end, theta, liner.outer_depth);
  const double air = liner_end(fitting, piece.wall, end, theta, liner.inner_depth());
  const double outward = end == End::high ? air - duct : duct - air;
  return duct + square_cut(policy, liner.face_up, outward).place * (air - duct);
}

// Columns of fasteners stay this far from a notch's sides, or a quarter of a tab.
constexpr double k_clear_of_notch = 25.0;

// Moved away from the notches beside it; x and the result along the bend line.
double clear_of_notches(const NotchedLayout& layout, double x) {
  double from = 0.0;
  double top = 0.0;
  for (std::size_t k = 0; k <= layout.notches.size(); ++k) {
    const bool last = k == layout.notches.size();
    const double to = last ? layout.width : layout.notches[k].centre;
    const double top_to = last ? layout.width : to - 0.5 * layout.notches[k].mouth;
    if (x <= to || last) {
      const double clear = (to - from) * std::min(0.25, k_clear_of_notch / (top_to - top));
      if (k > 0) x = std::max(x, from + clear);
      return last ? x : std::min(x, to - clear);
    }
    from = to;
    top = to + 0.5 * layout.notches[k].mouth;
  }
  return x;
}

// Shares of the way around at which columns of fasteners stand.
std::vector<double> fastener_columns(const Fitting& fitting, const Piece& piece) {
  const LinerSpec& liner = liner_of(fitting, piece);
  const int index = static_cast<int>(&piece - fitting.pieces.data());
  const NotchedBlank* blank = notched_with(fitting, index);
  const bool notched = blank != nullptr && blank->taper == index;
  const NotchedLayout layout = notched ? layout_of(fitting, *blank) : NotchedLayout{};
  const double girth = notched
                           ? layout.width
                           : (stretch_out(fitting, piece.wall) - liner.fit_allowance) * piece.span / k_two_pi;
  const double from_seam = std::min(liner.pin_edge, 0.25 * girth);
  const int least =
      std::max(2, static_cast<int>(std::ceil((girth - 2.0 * from_seam) / liner.pin_around)) + 1);
  const auto placed = [&](int columns) {
    std::vector<double> shares;
    for (int c = 0; c < columns; ++c) {
      const double at = from_seam + (girth - 2.0 * from_seam) * c / (columns - 1);
      shares.push_back((notched ? clear_of_notches(layout, at) : at) / girth);
    }
    return shares;
  };
  if (!notched) return placed(least);
  // what moved must not leave more than is allowed between neighbours
  for (int columns = least; columns <= 3 * least + 2; ++columns) {
    std::vector<double> shares = placed(columns);
    double widest = 0.0;
    for (std::size_t c = 1; c < shares.size(); ++c)
      widest = std::max(widest, girth * (shares[c] - shares[c - 1]));
    if (widest <= liner.pin_around + 1e-6) return shares;
  }
  return placed(least);
}

}  // namespace

// `pin_edge` from the edges, no more than `pin_around` and `pin_along` apart. The defaults, 3 in, 12 in and
// 18 in, are the distances drawn for flexible liner in rectangular duct (SMACNA HVAC Duct Construction
// Standards, 3rd ed., fig. 7-11, letters partly from memory); no published rule for round duct was found, so
// local practice decides.
std::vector<FastenerPlace> fastener_places(const Fitting& fitting, const Piece& piece) {
  const LinerSpec& liner = liner_of(fitting, piece);
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  std::vector<FastenerPlace> places;
  if (widest_of(sheet) <= liner.pins_above) return places;
  for (const double share : fastener_columns(fitting, piece)) {
    const double theta = piece.seam + piece.span * share;
    const auto height = [&](End end, double w) { return liner_end(fitting, piece.wall, end, theta, w); };
    const double low = std::max(height(End::low, liner.outer_depth), height(End::low, liner.inner_depth()));
    const double inner =
        std::min(height(End::high, liner.outer_depth), height(End::high, liner.inner_depth())) - low -
        2.0 * liner.pin_edge;
    if (inner < 0.0) continue;
    const int rows = std::max(2, static_cast<int>(std::ceil(inner / liner.pin_along)) + 1);
    for (int r = 0; r < rows; ++r) places.push_back({share, low + liner.pin_edge + inner * r / (rows - 1)});
  }
  return places;
}

namespace {

// On the flat development, clear of holes.
std::vector<Vec2> flat_fasteners(const Fitting& fitting, const Outliner& outliner, const Piece& piece,
                                 const std::vector<Ring>& holes) {
  std::vector<Vec2> flat;
  for (const FastenerPlace& place : fastener_places(fitting, piece)) {
    const Vec2 at = outliner.development().point(piece.seam + piece.span * place.share, place.v);
    if (std::none_of(holes.begin(), holes.end(),
                     [&](const Ring& hole) { return point_in_polygon(at, hole); }))
      flat.push_back(at);
  }
  return flat;
}

}  // namespace

std::vector<std::vector<Vec2>> inside_parts(Vec2 a, Vec2 b, const Region& region) {
  std::vector<double> cuts{0.0, 1.0};
  const auto add_crossings = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 p = ring[i];
      const Vec2 edge = ring[(i + 1) % ring.size()] - p;
      const double across = cross(b - a, edge);
      if (across == 0.0) continue;
      const double on_line = cross(p - a, edge) / across;
      const double on_edge = cross(p - a, b - a) / across;
      if (on_line > 0.0 && on_line < 1.0 && on_edge >= 0.0 && on_edge <= 1.0) cuts.push_back(on_line);
    }
  };
  add_crossings(region.outer);
  for (const Ring& hole : region.holes) add_crossings(hole);
  std::sort(cuts.begin(), cuts.end());
  std::vector<std::vector<Vec2>> parts;
  constexpr double k_least = 1.0;  // mm: shorter stretches are not worth a pen stroke
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const Vec2 from = a + cuts[i] * (b - a);
    const Vec2 to = a + cuts[i + 1] * (b - a);
    const Vec2 middle = 0.5 * (from + to);
    bool inside = point_in_polygon(middle, region.outer);
    for (const Ring& hole : region.holes) inside = inside && !point_in_polygon(middle, hole);
    if (inside && distance(from, to) >= k_least) parts.push_back({from, to});
  }
  return parts;
}

void add_ordinates(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece) {
  const int n = fitting.liner.stations;
  const auto [duct, air] = liner_of(fitting, piece).faces();
  const auto height = [&](End end, double theta, double w) {
    return liner_end(fitting, piece.wall, end, theta, w);
  };
  double shortest = 1e300;
  for (int i = 0; i <= n; ++i) {
    const double theta = piece.seam + piece.span * i / n;
    const Ordinate ordinate{theta,
                            outliner.edge(End::low, theta, duct, 0.0),
                            height(End::low, theta, duct),
                            height(End::high, theta, duct),
                            height(End::low, theta, air),
                            height(End::high, theta, air)};
    shortest = std::min(shortest, ordinate.duct_high - ordinate.duct_low);
    pattern.ordinates.push_back(ordinate);
  }
  pattern.shortest_stretch = shortest;
  add_hole_ordinates(pattern, fitting, outliner, piece);
}

void add_hole_ordinates(Pattern& pattern, const Fitting& fitting, const Outliner& outliner,
                        const Piece& piece, std::optional<std::size_t> first) {
  const int n = fitting.liner.stations;
  const auto [duct, air] = liner_of(fitting, piece).faces();
  for (const std::size_t h : holes_of(fitting, piece)) {
    const std::size_t number = first ? (*first)++ : h;
    for (int i = 0; i < n; ++i) {
      const double s = k_two_pi * i / n;
      pattern.hole_ordinates.push_back(
          {number, s, outliner.hole_place(h, s, duct), outliner.hole_place(h, s, air)});
    }
  }
}

void add_hole_marks(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece,
                    const Region& within, std::size_t first) {
  const std::vector<std::size_t> holes = holes_of(fitting, piece);
  for (const HoleMark& mark : piece.hole_marks) {
    const auto hole = std::find(holes.begin(), holes.end(), mark.hole);
    if (hole == holes.end()) continue;
    const Vec2 duct = outliner.hole_edge(mark.hole, mark.s, Face::duct);
    const Vec2 air = outliner.hole_edge(mark.hole, mark.s, Face::air);
    const std::size_t index = first + static_cast<std::size_t>(hole - holes.begin());
    const Box box = bounding_box(pattern.duct.holes.at(index)).value();
    const Vec2 centre = 0.5 * (box.low + box.high);
    const Vec2 from = distance(duct, centre) > distance(air, centre) ? duct : air;
    const Vec2 outward = (1.0 / distance(from, centre)) * (from - centre);
    for (std::vector<Vec2>& part : inside_parts(from, from + 10.0 * outward, within))
      add_line(pattern, std::move(part), mark.name);
  }
}

int fastener_count(const Fitting& fitting, const Piece& piece) {
  const Outliner outliner(fitting, piece);
  std::vector<Ring> holes;
  for (std::size_t h = 0; h < fitting.wall_of(piece).holes.size(); ++h) {
    holes.emplace_back();
    for (const ContourPoint& p : outliner.hole(h).points) holes.back().push_back(p.true_edge.duct);
  }
  return static_cast<int>(flat_fasteners(fitting, outliner, piece, holes).size());
}

namespace {

// Where the metal is joined inside this lining: a line from seam to seam, on the layer that meets the metal.
void add_duct_joints(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece) {
  if (fitting.wall_of(piece).layer != 0) return;
  const std::vector<double> joints = duct_joints(fitting.request);
  for (std::size_t i = 0; i < joints.size(); ++i) {
    if (joints[i] <= liner_end(fitting, piece.wall, End::low, piece.seam, 0.0) ||
        joints[i] >= liner_end(fitting, piece.wall, End::high, piece.seam, 0.0))
      continue;
    add_line(pattern,
             {outliner.development().point(piece.seam, joints[i]),
              outliner.development().point(piece.seam + piece.span, joints[i])},
             "duct joint " + std::to_string(i + 1));
  }
}

// What is drawn where an edge meets a neighbour's: a short level tick from the ruling, or from both edges of
// the board where the ruling is the seam, to the name.
void add_meeting(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece,
                 const MeetMark& mark) {
  constexpr double k_in = 9.0;     // mm from the edge along the ruling
  constexpr double k_tick = 6.0;   // mm across
  constexpr double k_clear = 1.0;  // mm from a seam's edge
  const double turn = turn_from_seam(piece, mark.theta);
  constexpr double k_same = 1e-6;
  if (turn > piece.span + k_same) return;  // on another panel
  const bool at_seam = turn < k_same || turn > piece.span - k_same;
  std::vector<double> places{turn};
  if (turn < k_same && piece.full_turn()) places.push_back(piece.span);
  for (const double at : places) {
    const Ends ends = both_faces(fitting, outliner, piece, piece.seam + at);
    if (ends.length < 2.0 * k_in) continue;
    const Vec2 along = (1.0 / ends.length) * (ends.high - ends.low);
    const Vec2 from = mark.end == End::high ? ends.high - k_in * along : ends.low + k_in * along;
    const double side = at > piece.span - k_same ? -1.0 : 1.0;
    const Vec2 across{side * along.y, -side * along.x};
    for (std::vector<Vec2>& part :
         inside_parts(from + (at_seam ? k_clear : 0.0) * across, from + k_tick * across, pattern.duct))
      add_line(pattern, std::move(part), mark.name);
  }
}

}  // namespace

void add_marks(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece,
               CutPolicy policy) {
  for (const RulingMark& mark : piece.marks) {
    const double turn = turn_from_seam(piece, mark.theta);
    if (turn < 1e-6 || turn > piece.span - 1e-6) continue;  // the seam itself is the board's edge
    const Ends ends = both_faces(fitting, outliner, piece, piece.seam + turn);
    for (std::vector<Vec2>& part : inside_parts(ends.low, ends.high, pattern.duct))
      add_line(pattern, std::move(part), mark.name);
  }
  for (const MeetMark& mark : piece.meets) add_meeting(pattern, fitting, outliner, piece, mark);
  const bool flat = fitting.wall_of(piece).sheet.is_flat();
  // no station tells more of a polygon than its corners do
  const bool panel = fitting.joint(fitting.wall_of(piece).low.joint).of_panel();
  const int n = panel ? 0 : fitting.liner.stations;
  for (int i = flat ? 0 : 1; i < n; ++i) {
    const Ends ends = both_faces(fitting, outliner, piece, piece.seam + piece.span * i / n);
    if (ends.length < 4.0) continue;
    const Vec2 tick = (std::min(6.0, 0.2 * ends.length) / ends.length) * (ends.high - ends.low);
    add_line(pattern, {ends.low, ends.low + tick}, {});
    if (!flat) add_line(pattern, {ends.high, ends.high - tick}, {});  // a disc's all end in its centre
  }
  add_hole_marks(pattern, fitting, outliner, piece, pattern.duct);
  add_duct_joints(pattern, fitting, outliner, piece);
  for (std::vector<Vec2>& line : outliner.carved_lines()) add_line(pattern, std::move(line), "carve to here");
  for (const End end : k_both_ends) {
    if (!(outliner.allowance(end) > 0.0) || (flat && end == End::high)) continue;
    std::vector<Vec2> trim;
    for (const double theta : outliner.end_rulings(end))
      trim.push_back(outliner.development().point(theta, trimmed_height(fitting, piece, end, theta, policy)));
    add_line(pattern, std::move(trim), {});
  }
  constexpr double k_arm = 5.0;  // of the small cross where a fastener goes
  for (const Vec2 at : flat_fasteners(fitting, outliner, piece, pattern.duct.holes)) {
    add_line(pattern, {at + Vec2{-k_arm, 0.0}, at + Vec2{k_arm, 0.0}}, {});
    add_line(pattern, {at + Vec2{0.0, -k_arm}, at + Vec2{0.0, k_arm}}, {});
  }
}

}  // namespace linerwright
