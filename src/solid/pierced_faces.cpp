// Faces of an oblique wall that has openings. Where an opening lies over a line on which its faces usually
// meet, they are one face there, ruled from one line that is clear of all openings to the next.
#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>
#include <limits>

#include "ruled_wall.hpp"

namespace linerwright {

std::vector<Faces::Stretched> Faces::between_holes(const Rim& low, const Rim& high, const Range& range,
                                                   const std::vector<Loop>& holes) {
  const std::vector<RimArc> arcs = rim_arcs(edges_.fitting(), low, range);
  const std::vector<ArcEdge>& below = edges_.edges(low.front().joint, low.front().depths);
  const std::vector<ArcEdge>& above = edges_.edges(high.front().joint, high.front().depths);
  std::vector<Stretched> parts;
  for (const RimArc& arc : arcs) {
    const bool on_ruling =
        std::fabs(std::remainder(below[arc.index].arc.from - above[arc.index].arc.from, k_two_pi)) < 1e-12;
    const bool clear = std::none_of(holes.begin(), holes.end(), [&](const Loop& hole) {
      const auto [first, last] = extent_of(hole);
      return std::fabs(std::remainder(arc.from - 0.5 * (first + last), k_two_pi)) < 0.5 * (last - first);
    });
    if (parts.empty() || (on_ruling && clear)) parts.push_back({arc.from, arc.to, {}, {}});
    parts.back().to = arc.to;
    parts.back().arcs.push_back(arc);
  }
  for (Stretched& part : parts)
    for (const Loop& hole : holes) {
      const double turn = middle_of(hole) - part.from;
      if (turn - k_two_pi * std::floor(turn / k_two_pi) < part.to - part.from) part.holes.push_back(hole);
    }
  return parts;
}

std::vector<TopoDS_Face> Faces::pierced_band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                             const Rim& high, const std::vector<Loop>& holes) {
  std::vector<TopoDS_Face> faces;
  for (const Stretched& part : between_holes(low, high, range, holes)) {
    if (!part.holes.empty()) {
      faces.push_back(pierced_patch(sheet, w, part, low.front(), high.front()));
      continue;
    }
    for (const RimArc& arc : part.arcs) faces.push_back(ruled_patch(low, high, arc.index));
  }
  return faces;
}

TopoDS_Face Faces::pierced_patch(const Sheet& sheet, double w, const Stretched& part, const Loop& low,
                                 const Loop& high) {
  const auto& below = edges_.edges(low.joint, low.depths);
  const auto& above = edges_.edges(high.joint, high.depths);
  std::vector<double> thetas{part.from, part.to};
  for (const RimArc& arc : part.arcs)
    for (const ArcEdge* edge : {&below[arc.index], &above[arc.index]}) {
      const double turns = in_turns(edge->arc.from, arc.from) - edge->arc.from;
      for (const double s : edge->parameters)
        if (s + turns > part.from && s + turns < part.to) thetas.push_back(s + turns);
    }
  std::sort(thetas.begin(), thetas.end());
  constexpr double k_one_place = 1e-9;
  thetas.erase(
      std::unique(thetas.begin(), thetas.end(), [](double a, double b) { return b - a < k_one_place; }),
      thetas.end());
  thetas.back() = part.to;
  const auto height = [this](const Loop& loop) {
    return [this, loop](double theta) {
      return height_at(edges_.joint(loop.joint), loop.side, theta, loop.depths);
    };
  };
  const RuledWall wall(sheet, w, height(low), height(high), thetas);

  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, wall.surface(), k_tolerance);
  TopoDS_Wire outline;
  builder.MakeWire(outline);
  const auto add_rim = [&](const RimArc& arc, const ArcEdge& edge, bool upper) {
    const double turns = in_turns(edge.arc.from, arc.from) - edge.arc.from;
    builder.UpdateEdge(edge.edge,
                       new Geom2d_Line(gp_Pnt2d(turns + edge.shift, upper ? 1.0 : 0.0), gp_Dir2d(1.0, 0.0)),
                       wall.surface(), TopLoc_Location(), k_tolerance);
    builder.Add(outline, edge.edge.Oriented(upper ? TopAbs_REVERSED : TopAbs_FORWARD));
  };
  const std::size_t first = part.arcs.front().index;
  const std::size_t last = part.arcs.back().index;
  const TopoDS_Edge start = straight(below[first].from, above[first].from);
  const TopoDS_Edge end = straight(below[last].to, above[last].to);
  put_side(start, part.from, wall.surface());
  put_side(end, part.to, wall.surface());
  for (const RimArc& arc : part.arcs) add_rim(arc, below[arc.index], false);
  builder.Add(outline, end.Oriented(TopAbs_FORWARD));
  for (auto arc = part.arcs.rbegin(); arc != part.arcs.rend(); ++arc) add_rim(*arc, above[arc->index], true);
  builder.Add(outline, start.Oriented(TopAbs_REVERSED));
  builder.Add(face, outline);
  for (const Loop& hole : part.holes) {
    const double middle = middle_of(hole);
    const double turns = k_two_pi * std::floor((middle - part.from) / k_two_pi);
    wall.add_loop(face, edges_.joint(hole.joint), hole, edges_.edges(hole.joint, hole.depths), middle - turns,
                  TopAbs_REVERSED);
  }
  return face;
}

TopoDS_Face Faces::patch_on_oblique(const Sheet& sheet, double w, const Loop& loop) {
  const Joint& joint = edges_.joint(loop.joint);
  const auto [first, last] = extent_of(loop);
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  constexpr int k_steps = 64;
  for (int i = 0; i < k_steps; ++i) {
    const double v = place_on(joint, loop.side, k_two_pi * i / k_steps, loop.depths).v;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  const double around = 0.1 * (last - first);
  double along = 0.1 * (high - low);
  double from = first - around;
  double to = last + around;
  if (sheet.is_square_to_round()) {  // not over a bend line, nor far past the edge of regression
    const WallPart part = part_at(0.5 * (first + last));
    from = std::max(from, part.from);
    to = std::min(to, part.from + k_part_span);
    along = std::min(along, 1.0);
  }
  constexpr double k_step = 0.02;  // rad: the surface keeps within a millionth of the radius of the wall
  const int steps = (4 + static_cast<int>((to - from) / k_step)) * edges_.fineness();
  std::vector<double> thetas;
  for (int i = 0; i <= steps; ++i) thetas.push_back(from + (to - from) * i / steps);
  const RuledWall wall(
      sheet, w, [&](double) { return low - along; }, [&](double) { return high + along; }, thetas);
  TopoDS_Face face;
  BRep_Builder().MakeFace(face, wall.surface(), k_tolerance);
  wall.add_loop(face, joint, loop, edges_.edges(loop.joint, loop.depths), 0.5 * (first + last),
                TopAbs_FORWARD);
  return face;
}

}  // namespace linerwright
