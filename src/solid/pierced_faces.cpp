// Faces of an oblique wall that has openings. Where an opening lies over a line on which its faces usually
// meet, they are one face there, ruled from one line that is clear of all openings to the next.
#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "faces.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

using Height = std::function<double(double theta)>;

double in_turns(double angle, double near) {
  return angle + k_two_pi * std::round((near - angle) / k_two_pi);
}

// A wall at one depth between two heights on each ruling: u is theta, v runs from 0 to 1.
class RuledWall {
 public:
  RuledWall(const Sheet& sheet, double w, Height low, Height high, const std::vector<double>& thetas)
      : low_(std::move(low)), high_(std::move(high)) {
    const auto at = [&](const Height& height) {
      return fitted_curve([&](double theta) { return sheet.point(theta, height(theta), w); }, thetas);
    };
    const Handle(Geom_BSplineCurve) below = at(low_);
    const Handle(Geom_BSplineCurve) above = at(high_);
    TColgp_Array2OfPnt poles(1, below->NbPoles(), 1, 2);
    for (int i = 1; i <= below->NbPoles(); ++i) {
      poles.SetValue(i, 1, below->Pole(i));
      poles.SetValue(i, 2, above->Pole(i));
    }
    surface_ = ruled_surface(below, poles);
  }

  const Handle(Geom_Surface) & surface() const { return surface_; }

  // Adds an opening's edge to a face of this surface, as it runs or the other way around.
  void add_loop(TopoDS_Face& face, const Joint& joint, const Loop& loop, const std::vector<ArcEdge>& arcs,
                double middle, TopAbs_Orientation orientation) const {
    BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const ArcEdge& arc : arcs) {
      const Handle(Geom2d_Curve) curve = fitted_line(
          [&](double s) -> Vec2 {
            const Sheet::Place place = place_on(joint, loop.side, s, loop.depths);
            const double theta = in_turns(place.theta, middle);
            const double low = low_(theta);
            return {theta, (place.v - low) / (high_(theta) - low)};
          },
          arc.parameters);
      builder.UpdateEdge(arc.edge, curve, surface_, TopLoc_Location(), k_tolerance);
      builder.Add(wire, arc.edge.Oriented(orientation));
    }
    builder.Add(face, wire);
  }

 private:
  Height low_, high_;
  Handle(Geom_Surface) surface_;
};

}  // namespace

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
  const double along = 0.1 * (high - low);
  constexpr double k_step = 0.02;  // rad: the surface keeps within a millionth of the radius of the wall
  const int steps = 4 + static_cast<int>((last - first + 2.0 * around) / k_step);
  std::vector<double> thetas;
  for (int i = 0; i <= steps; ++i)
    thetas.push_back(first - around + (last - first + 2.0 * around) * i / steps);
  const RuledWall wall(
      sheet, w, [&](double) { return low - along; }, [&](double) { return high + along; }, thetas);
  TopoDS_Face face;
  BRep_Builder().MakeFace(face, wall.surface(), k_tolerance);
  wall.add_loop(face, joint, loop, edges_.edges(loop.joint, loop.depths), 0.5 * (first + last),
                TopAbs_FORWARD);
  return face;
}

}  // namespace linerwright
