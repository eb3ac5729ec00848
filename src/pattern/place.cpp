#include "place.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/units/error.hpp"
#include "outline.hpp"

namespace linerwright {

namespace {

Ring face_ring(const std::vector<FacePair>& pairs, double share) {
  Ring ring;
  for (const FacePair& p : pairs) ring.push_back((1.0 - share) * p.duct + share * p.air);
  return ring;
}

Region face_region(const std::vector<std::vector<FacePair>>& contours, double share) {
  Region region;
  region.outer = face_ring(contours.front(), share);
  for (std::size_t h = 1; h < contours.size(); ++h) region.holes.push_back(face_ring(contours[h], share));
  return region;
}

// Contours keep their sense on a mirrored board, and pairs stay pairs, when both faces are reversed alike.
void place_ring(Ring& ring, const Placement& placement) {
  for (Vec2& p : ring) p = placement.board(p);
  if (placement.mirrored) std::reverse(ring.begin() + 1, ring.end());
}

void place_region(Region& region, const Placement& placement) {
  place_ring(region.outer, placement);
  for (Ring& hole : region.holes) place_ring(hole, placement);
}

// A cut across a blank has its points and rows from right to left, mirrored or not.
void place_line(std::vector<Vec2>& line, const Placement& placement) {
  for (Vec2& p : line) p = placement.board(p);
  if (placement.mirrored) std::reverse(line.begin(), line.end());
}

// Rows follow their contour's sense, which stays on a mirrored board.
void place_tilts(std::vector<TiltRow>& rows, const Placement& placement) {
  for (auto first = rows.begin(); first != rows.end();) {
    const auto last =
        std::find_if(first, rows.end(), [&](const TiltRow& row) { return row.contour != first->contour; });
    for (auto row = first; row != last; ++row) {
      const Vec2 ahead = placement.board(row->at + Vec2{std::cos(row->heading), std::sin(row->heading)});
      row->at = placement.board(row->at);
      const Vec2 along = placement.mirrored ? row->at - ahead : ahead - row->at;
      row->heading = std::atan2(along.y, along.x);
    }
    if (placement.mirrored) std::reverse(first, last);
    first = last;
  }
}

// What sampling leaves of the chord error is shared between thinning and dropping.
constexpr double k_thin = 0.1 * k_chord_error;
constexpr double k_drop = 0.3 * k_chord_error;
constexpr double k_shortest = 0.5;

// A way to be rid of the short segment from a to b: what stands in its place, and how far that strays.
struct Way {
  double strays;
  std::vector<Vec2> instead;
};

// b slides toward the next point until the segment is long enough.
Way slid(Vec2 a, Vec2 b, Vec2 after) {
  constexpr double k_long_enough = 1.02 * k_shortest;
  const double room = distance(b, after);
  const Vec2 moved = b + ((k_long_enough - distance(a, b)) / room) * (after - b);
  // where the line turns the chord comes out a little shorter than the way
  const Vec2 there = moved + ((k_long_enough - distance(a, moved)) / room) * (after - b);
  const double left = dot(after - there, after - b) / room;
  if (!(left >= k_shortest)) return {1e300, {}};
  return {distance_to_segment(b, a, there), {a, there}};
}

Way shortest_way(Vec2 before, Vec2 a, Vec2 b, Vec2 after) {
  const Vec2 middle = 0.5 * (a + b);
  Way back = slid(b, a, before);
  std::reverse(back.instead.begin(), back.instead.end());
  const std::vector<Way> ways{
      {distance_to_segment(a, before, b), {b}},
      {distance_to_segment(b, a, after), {a}},
      {std::max(distance_to_segment(a, before, middle), distance_to_segment(b, middle, after)), {middle}},
      slid(a, b, after),
      back};
  return *std::min_element(ways.begin(), ways.end(),
                           [](const Way& x, const Way& y) { return x.strays < y.strays; });
}

// Segments too short for a knife go where the contour hardly changes without them.
Ring without_short(Ring ring) {
  for (std::size_t i = 0; i < ring.size() && ring.size() > 4; ++i) {
    const std::size_t n = ring.size();
    const std::size_t next = (i + 1) % n;
    if (distance(ring[i], ring[next]) >= k_shortest) continue;
    const Way way = shortest_way(ring[(i + n - 1) % n], ring[i], ring[next], ring[(i + 2) % n]);
    if (way.strays > k_drop) continue;
    ring[i] = way.instead.front();
    ring[next] = way.instead.back();
    if (way.instead.size() == 1) ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(next));
  }
  return ring;
}

// Polygons come out of union and offset with points that coincide: they have no direction to thin by.
Ring without_doubles(Ring ring) {
  const auto same = [](Vec2 a, Vec2 b) { return distance(a, b) < 1e-4; };
  ring.erase(std::unique(ring.begin(), ring.end(), same), ring.end());
  while (ring.size() > 3 && same(ring.front(), ring.back())) ring.pop_back();
  return ring;
}

// Where a line goes into a point and back beside itself, no knife follows: its mouth is opened, so far that
// the two ways are two lines.
Ring with_open_mouths(Ring ring) {
  constexpr double k_open = 0.1;  // mm
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    Vec2& before = ring[(i + n - 1) % n];
    Vec2& after = ring[(i + 1) % n];
    const double mouth = distance(before, after);
    if (mouth >= k_open || dot(ring[i] - before, after - ring[i]) >= 0.0) continue;
    const Vec2 in = ring[i] - 0.5 * (before + after);
    const double depth = norm(in);
    if (depth < mouth) continue;
    const Vec2 aside = (0.5 * (k_open - mouth) / depth) * Vec2{in.y, -in.x};
    const double side = dot(after - before, aside) < 0.0 ? -1.0 : 1.0;
    before = before - side * aside;
    after = after + side * aside;
  }
  return ring;
}

Ring tidied(const Ring& ring, const ThinOptions& thinning) {
  return with_open_mouths(without_short(thinned(without_doubles(ring), true, thinning)));
}

// The opening that both faces leave. Fittings whose faces leave none are refused before this.
Ring common_hole(const std::vector<FacePair>& hole) {
  const std::vector<Region> common =
      intersected({Region{face_ring(hole, 0.0), {}}}, {Region{face_ring(hole, 1.0), {}}});
  if (common.size() != 1)
    throw GeometryError("the holes of the two faces have no single opening in common (cut = \"outer\")");
  return common.front().outer;
}

// The butt allowance leaves extra board inside a hole.
void shrink_holes(Region& region, double allowance) {
  if (!(allowance > 0.0)) return;
  for (Ring& hole : region.holes) {
    const std::vector<Region> smaller = offset({Region{hole, {}}}, -allowance, OffsetCorners::mitre);
    if (smaller.size() != 1) throw GeometryError("the butt allowance closes a hole");
    hole = smaller.front().outer;
  }
}

}  // namespace

Region cut_region(const std::vector<std::vector<FacePair>>& contours, const LinerSpec& liner) {
  Region region;
  if (liner.cut != CutPolicy::outer) {
    region = face_region(contours, square_cut(liner.cut, liner.face_up, 1.0).place);
  } else {
    std::vector<Region> all =
        united({Region{face_ring(contours.front(), 0.0), {}}, Region{face_ring(contours.front(), 1.0), {}}});
    if (all.size() != 1 || !all.front().holes.empty())
      throw GeometryError("the two faces of a pattern do not lie over each other");
    region = std::move(all.front());
    for (std::size_t h = 1; h < contours.size(); ++h) region.holes.push_back(common_hole(contours[h]));
  }
  shrink_holes(region, liner.butt_allowance);
  // The faces were sampled together, finely enough for both: what one of them did not need goes. A hole made
  // smaller bends more tightly and takes fewer points; it comes from finer chords than the contour is to
  // have.
  region.outer = tidied(region.outer, {k_thin, k_turn_per_vertex});
  for (Ring& hole : region.holes) {
    const bool smaller = liner.butt_allowance > 0.0;
    hole = tidied(hole, smaller ? ThinOptions{0.3 * k_chord_error, 3.0 * k_turn_per_vertex}
                                : ThinOptions{k_thin, k_turn_per_vertex});
    if (signed_area(hole) > 0.0) std::reverse(hole.begin(), hole.end());
  }
  return region;
}

void lay_down(Pattern& pattern, Face face_up, double lean) {
  Placement placement;
  placement.mirrored = face_up == Face::air;
  // a ruling that leans toward +x stands upright after turning counter-clockwise by its lean
  placement.turn = placement.mirrored ? -lean : lean;

  std::vector<Vec2> all = pattern.cut.outer;
  for (const Region* face : {&pattern.duct, &pattern.air})
    all.insert(all.end(), face->outer.begin(), face->outer.end());
  for (const auto* rest : {&pattern.duct_rest, &pattern.air_rest})
    for (const Ring& ring : *rest) all.insert(all.end(), ring.begin(), ring.end());
  for (Vec2& p : all) p = placement.board(p);
  const Box box = bounding_box(all).value();
  placement.shift = Vec2{} - box.low;
  pattern.placement = placement;
  pattern.board = box.high - box.low;

  place_region(pattern.cut, placement);
  place_region(pattern.duct, placement);
  place_region(pattern.air, placement);
  for (auto* rest : {&pattern.duct_rest, &pattern.air_rest})
    for (Ring& ring : *rest) place_ring(ring, placement);
  for (auto* lines : {&pattern.open_cuts, &pattern.duct_lines, &pattern.air_lines})
    for (std::vector<Vec2>& line : *lines) place_line(line, placement);
  for (std::vector<Vec2>& line : pattern.marks)
    for (Vec2& p : line) p = placement.board(p);
  for (Text& label : pattern.labels) {
    label.at = placement.board(label.at);
    label.angle += placement.turn;
  }
  place_tilts(pattern.tilts, placement);
  for (Ordinate& ordinate : pattern.ordinates) ordinate.at = placement.board(ordinate.at);
  for (HoleOrdinate& ordinate : pattern.hole_ordinates) {
    ordinate.duct = placement.board(ordinate.duct);
    ordinate.air = placement.board(ordinate.air);
  }
  for (NotchOrdinate& ordinate : pattern.notch_ordinates)
    for (Vec2* p : {&ordinate.tip, &ordinate.duct[0], &ordinate.duct[1], &ordinate.air[0], &ordinate.air[1]})
      *p = placement.board(*p);
  pattern.board_area = area(pattern.cut);
  pattern.duct_area = area(pattern.duct);
  for (const Ring& ring : pattern.duct_rest) pattern.duct_area += std::fabs(signed_area(ring));
}

}  // namespace linerwright
