#include "ruled_wall.hpp"

#include <BRep_Builder.hxx>
#include <TopLoc_Location.hxx>
#include <cmath>
#include <utility>

namespace linerwright {

double in_turns(double angle, double near) {
  return angle + k_two_pi * std::round((near - angle) / k_two_pi);
}

RuledWall::RuledWall(const Sheet& sheet, double w, Height low, Height high, const std::vector<double>& thetas)
    : low_(std::move(low)), high_(std::move(high)) {
  const auto at = [&](const Height& height, double theta) { return sheet.point(theta, height(theta), w); };
  const auto fitted = [&](const Height& height) {
    return fitted_curve([&](double theta) { return at(height, theta); }, thetas);
  };
  const Vec3 start = at(low_, thetas.front());
  const bool is_point =
      distance(start, at(low_, thetas.back())) + distance(start, at(low_, thetas[thetas.size() / 2])) < 1e-9;
  const Handle(Geom_BSplineCurve) above = fitted(high_);
  const Handle(Geom_BSplineCurve) below = is_point ? above : fitted(low_);
  TColgp_Array2OfPnt poles(1, above->NbPoles(), 1, 2);
  for (int i = 1; i <= above->NbPoles(); ++i) {
    poles.SetValue(i, 1, is_point ? to_kernel(start) : below->Pole(i));
    poles.SetValue(i, 2, above->Pole(i));
  }
  surface_ = ruled_surface(above, poles);
}

Vec2 RuledWall::at(Sheet::Place place) const {
  const double low = low_(place.theta);
  return {place.theta, (place.v - low) / (high_(place.theta) - low)};
}

void RuledWall::add_loop(TopoDS_Face& face, const Joint& joint, const Loop& loop,
                         const std::vector<ArcEdge>& arcs, double middle,
                         TopAbs_Orientation orientation) const {
  BRep_Builder builder;
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  for (const ArcEdge& arc : arcs) {
    const Handle(Geom2d_Curve) curve = fitted_line(
        [&](double s) -> Vec2 {
          const Sheet::Place place = place_on(joint, loop.side, s, loop.depths);
          return at({in_turns(place.theta, middle), place.v});
        },
        arc.parameters);
    builder.UpdateEdge(arc.edge, curve, surface_, TopLoc_Location(), k_tolerance);
    builder.Add(wire, arc.edge.Oriented(orientation));
  }
  builder.Add(face, wire);
}

}  // namespace linerwright
