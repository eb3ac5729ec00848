#include "place.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/error.hpp"
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

// Rows follow their contour's sense; each heads for the next row of its contour.
void place_tilts(std::vector<TiltRow>& rows, const Placement& placement) {
  for (auto first = rows.begin(); first != rows.end();) {
    const auto last =
        std::find_if(first, rows.end(), [&](const TiltRow& row) { return row.contour != first->contour; });
    for (auto row = first; row != last; ++row) row->at = placement.board(row->at);
    if (placement.mirrored) std::reverse(first + 1, last);
    for (auto row = first; row != last; ++row) {
      const auto next = row + 1 == last ? first : row + 1;
      const Vec2 ahead = next->at - row->at;
      row->heading = std::atan2(ahead.y, ahead.x);
    }
    first = last;
  }
}

// What sampling leaves of the chord error is shared between thinning and dropping.
constexpr double k_thin = 0.1 * k_chord_error;
constexpr double k_drop = 0.3 * k_chord_error;
constexpr double k_shortest = 0.5;

// Points beside segments too short for a knife go where the contour hardly changes without them; no two in a
// row.
Ring without_short(const Ring& ring) {
  Ring kept;
  const std::size_t n = ring.size();
  bool dropped_last = false;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 before = ring[(i + n - 1) % n];
    const Vec2 after = ring[(i + 1) % n];
    const bool is_short = std::min(distance(before, ring[i]), distance(ring[i], after)) < k_shortest;
    const bool drop =
        i > 0 && !dropped_last && is_short && distance_to_segment(ring[i], before, after) <= k_drop;
    if (!drop) kept.push_back(ring[i]);
    dropped_last = drop;
  }
  return kept;
}

Ring tidied(const Ring& ring, double turn) {
  return without_short(thinned(ring, true, {k_thin, turn}));
}

// The opening that both faces leave; half way between the two where they have none in common, as when a small
// bore leans through a thick board.
Ring common_hole(const std::vector<FacePair>& hole) {
  const std::vector<Region> common =
      intersected({Region{face_ring(hole, 0.0), {}}}, {Region{face_ring(hole, 1.0), {}}});
  return common.size() == 1 ? common.front().outer : face_ring(hole, 0.5);
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
  // smaller bends more tightly and takes fewer points.
  region.outer = tidied(region.outer, k_turn_per_vertex);
  for (Ring& hole : region.holes) {
    const bool smaller = liner.butt_allowance > 0.0;
    hole = tidied(hole, smaller ? 3.0 * k_turn_per_vertex : k_turn_per_vertex);
    if (smaller) hole = without_short(hole);
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
  for (Vec2& p : all) p = placement.board(p);
  const Box box = bounding_box(all).value();
  placement.shift = Vec2{} - box.low;
  pattern.placement = placement;
  pattern.board = box.high - box.low;

  place_region(pattern.cut, placement);
  place_region(pattern.duct, placement);
  place_region(pattern.air, placement);
  for (auto* lines : {&pattern.open_cuts, &pattern.duct_lines, &pattern.air_lines, &pattern.marks})
    for (std::vector<Vec2>& line : *lines)
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
  pattern.board_area = area(pattern.cut);
  pattern.duct_area = area(pattern.duct);
}

}  // namespace linerwright
