#include "slice.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <array>
#include <cmath>

#include "heights.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_one_ruling = 1e-9;  // rad, or of a ruled face's own measure: two places are on one ruling

// Where an edge crosses the plane.
struct Crossing {
  double parameter;
  gp_Pnt point;
};

// Of one arc between two crossings of a face: half of the integral of x dy - y dx, and points on the way.
struct CutArc {
  std::size_t from, to;  // crossings
  double moment;
  std::vector<Vec2> between;
};

class Slicer {
 public:
  Slicer(const TopoDS_Shape& body, const PlaneTarget& plane)
      : origin_(to_kernel(plane.point)),
        normal_(plane.normal.x, plane.normal.y, plane.normal.z),
        frame_(origin_, gp_Dir(normal_)) {
    normal_.Normalize();
    TopExp::MapShapes(body, TopAbs_EDGE, edges_);
    for (int i = 1; i <= edges_.Extent(); ++i) {
      first_of_edge_.push_back(crossings_.size());
      cross(TopoDS::Edge(edges_(i).Oriented(TopAbs_FORWARD)));
    }
    first_of_edge_.push_back(crossings_.size());
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(body, TopAbs_FACE, faces);
    for (int f = 1; f <= faces.Extent(); ++f) cut(TopoDS::Face(faces(f).Oriented(TopAbs_FORWARD)));
  }

  std::vector<SliceLoop> loops() const {
    std::vector<std::vector<std::size_t>> at(crossings_.size());
    for (std::size_t a = 0; a < arcs_.size(); ++a)
      for (const std::size_t end : {arcs_[a].from, arcs_[a].to}) at[end].push_back(a);
    for (const auto& each : at)
      if (each.size() != 2) throw GeometryError("slice: the lines in the faces do not close");
    std::vector<SliceLoop> loops;
    std::vector<bool> used(arcs_.size(), false);
    for (std::size_t first = 0; first < arcs_.size(); ++first) {
      if (used[first]) continue;
      SliceLoop loop{0.0, {}};
      std::size_t here = arcs_[first].from;
      for (std::size_t a = first; !used[a];) {
        used[a] = true;
        const CutArc& arc = arcs_[a];
        const bool forward = arc.from == here;
        loop.area += forward ? arc.moment : -arc.moment;
        loop.outline.push_back(flat(crossings_[here].point));
        if (forward)
          loop.outline.insert(loop.outline.end(), arc.between.begin(), arc.between.end());
        else
          loop.outline.insert(loop.outline.end(), arc.between.rbegin(), arc.between.rend());
        here = forward ? arc.to : arc.from;
        a = at[here][0] == a ? at[here][1] : at[here][0];
      }
      loop.area = std::fabs(loop.area);
      loops.push_back(std::move(loop));
    }
    return loops;
  }

 private:
  double height(const gp_Pnt& p) const { return gp_Vec(origin_, p).Dot(normal_); }
  Vec2 flat(const gp_Pnt& p) const {
    const gp_Vec from(origin_, p);
    return {from.Dot(gp_Vec(frame_.XDirection())), from.Dot(gp_Vec(frame_.YDirection()))};
  }

  // The sign at an end is that of the vertex, so that all edges there agree.
  void cross(const TopoDS_Edge& edge) {
    if (BRep_Tool::Degenerated(edge)) return;  // a point: what its neighbours say of it
    const BRepAdaptor_Curve curve(edge);
    const std::vector<double> turns = turning_points(curve, normal_);
    double low = turns.front();
    bool low_above = height(BRep_Tool::Pnt(TopExp::FirstVertex(edge))) >= 0.0;
    for (std::size_t i = 1; i < turns.size(); ++i) {
      const double high = turns[i];
      const bool high_above = i + 1 == turns.size() ? height(BRep_Tool::Pnt(TopExp::LastVertex(edge))) >= 0.0
                                                    : height(curve.Value(high)) >= 0.0;
      if (low_above != high_above) {
        const double root = root_between(curve, low, high, high_above);
        crossings_.push_back({root, curve.Value(root)});
      }
      low = high;
      low_above = high_above;
    }
  }

  double root_between(const BRepAdaptor_Curve& curve, double low, double high, bool rising) const {
    for (int step = 0; step < 200; ++step) {
      const double middle = 0.5 * (low + high);
      if (!(middle > low && middle < high)) break;
      gp_Pnt p;
      gp_Vec along;
      curve.D1(middle, p, along);
      const double at = height(p);
      ((at >= 0.0) == rising ? high : low) = middle;
      // Newton's step, with a little more to bracket the root from both sides
      const double slope = along.Dot(normal_);
      if (slope == 0.0) continue;
      for (const double far : {1.0 - 1e-3, 1.0 + 1e-3}) {
        const double next = middle - far * at / slope;
        if (next > low && next < high) ((height(curve.Value(next)) >= 0.0) == rising ? high : low) = next;
      }
    }
    return 0.5 * (low + high);
  }

  // One use of a crossing by a face; a seam's crossing is used at both its places.
  struct Use {
    gp_Pnt2d place;
    std::size_t crossing;
  };

  void cut(const TopoDS_Face& face) {
    std::vector<Use> uses;
    for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next()) {
      const TopoDS_Edge edge = TopoDS::Edge(it.Current());
      const auto index = static_cast<std::size_t>(edges_.FindIndex(edge)) - 1;
      if (first_of_edge_[index] == first_of_edge_[index + 1]) continue;
      double first = 0.0;
      double last = 0.0;
      const Handle(Geom2d_Curve) on_face = BRep_Tool::CurveOnSurface(edge, face, first, last);
      if (on_face.IsNull()) throw UnknownForm();
      for (std::size_t c = first_of_edge_[index]; c < first_of_edge_[index + 1]; ++c)
        uses.push_back({on_face->Value(crossings_[c].parameter), c});
    }
    if (uses.empty()) return;
    if (uses.size() % 2 != 0) throw GeometryError("slice: a face is entered and not left");
    const BRepAdaptor_Surface surface(face, false);
    sort(surface, uses);
    for (std::size_t i = 0; i < uses.size(); i += 2) arcs_.push_back(arc(surface, uses[i], uses[i + 1]));
  }

  // In the order in which the line runs through them.
  void sort(const BRepAdaptor_Surface& surface, std::vector<Use>& uses) const {
    if (surface.GetType() == GeomAbs_Plane) {
      const gp_Vec along = gp_Vec(surface.Plane().Axis().Direction()).Crossed(normal_);
      const auto at = [&](const Use& use) {
        return gp_Vec(origin_, crossings_[use.crossing].point).Dot(along);
      };
      std::sort(uses.begin(), uses.end(), [&](const Use& a, const Use& b) { return at(a) < at(b); });
      return;
    }
    std::sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) { return a.place.X() < b.place.X(); });
    // the plane holds a ruling: its two ends, by their heights on it
    for (std::size_t i = 0; i + 1 < uses.size(); ++i)
      if (uses[i + 1].place.X() - uses[i].place.X() < k_one_ruling &&
          uses[i + 1].place.Y() < uses[i].place.Y())
        std::swap(uses[i], uses[i + 1]);
  }

  struct Moving {
    Vec2 at, slope;  // by the face's first coordinate
  };

  // Where the plane meets the ruling u.
  Moving on_ruling(const BRepAdaptor_Surface& surface, double u) const {
    const gp_Pnt a = surface.Value(u, 0.0);
    const gp_Vec along(a, surface.Value(u, 1.0));
    const double rise = along.Dot(normal_);
    const double v = -height(a) / rise;
    gp_Pnt p;
    gp_Vec du;
    gp_Vec dv;
    surface.D1(u, v, p, du, dv);
    const gp_Vec slope = du - du.Dot(normal_) / dv.Dot(normal_) * dv;
    return {flat(p), {slope.Dot(gp_Vec(frame_.XDirection())), slope.Dot(gp_Vec(frame_.YDirection()))}};
  }

  // Half of the integral of x dy - y dx, and of what it would be without any sign.
  struct Moment {
    double value = 0.0, size = 0.0;
  };
  Moment moment(const BRepAdaptor_Surface& surface, double from, double to) const {
    // Gauss-Legendre, five points on [-1, 1] (Abramowitz and Stegun, table 25.4)
    constexpr std::array<std::array<double, 2>, 5> k_rule{{{-0.906179845938664, 0.236926885056189},
                                                           {-0.538469310105683, 0.478628670499366},
                                                           {0.0, 0.568888888888889},
                                                           {0.538469310105683, 0.478628670499366},
                                                           {0.906179845938664, 0.236926885056189}}};
    const double half = 0.5 * (to - from);
    Moment sum;
    for (const auto& [node, weight] : k_rule) {
      const Moving here = on_ruling(surface, from + half * (1.0 + node));
      sum.value += half * weight * 0.5 * (here.at.x * here.slope.y - here.at.y * here.slope.x);
      sum.size += half * weight * 0.5 * norm(here.at) * norm(here.slope);
    }
    return sum;
  }

  // The same, halved until both halves agree with the whole, or differ by no more than what rounding leaves
  // of the places where a plane meets rulings that nearly lie in it.
  double sure_moment(const BRepAdaptor_Surface& surface, double from, double to, const Moment& whole,
                     int depth) const {
    const double middle = 0.5 * (from + to);
    const Moment first = moment(surface, from, middle);
    const Moment second = moment(surface, middle, to);
    constexpr double k_agreement = 1e-11;
    constexpr double k_rounding = 1e-9;
    constexpr int k_deepest = 24;
    const double apart = std::fabs(first.value + second.value - whole.value);
    if (apart <= k_agreement * (std::fabs(whole.value) + 1e-3) || apart <= k_rounding * whole.size ||
        depth >= k_deepest)
      return first.value + second.value;
    return sure_moment(surface, from, middle, first, depth + 1) +
           sure_moment(surface, middle, to, second, depth + 1);
  }

  CutArc arc(const BRepAdaptor_Surface& surface, const Use& from, const Use& to) const {
    CutArc made{from.crossing, to.crossing, 0.0, {}};
    const Vec2 a = flat(crossings_[from.crossing].point);
    const Vec2 b = flat(crossings_[to.crossing].point);
    const double u0 = from.place.X();
    const double u1 = to.place.X();
    if (surface.GetType() == GeomAbs_Plane || std::fabs(u1 - u0) < k_one_ruling) {
      made.moment = 0.5 * (a.x * b.y - a.y * b.x);
      return made;
    }
    std::vector<double> ends{u0};
    if (surface.GetType() == GeomAbs_BSplineSurface) {
      const Handle(Geom_BSplineSurface) spline = surface.BSpline();
      if (spline->VDegree() != 1 || spline->NbVPoles() != 2) throw UnknownForm();
      for (int i = 1; i <= spline->NbUKnots(); ++i)
        if (spline->UKnot(i) > u0 && spline->UKnot(i) < u1) ends.push_back(spline->UKnot(i));
    } else if (surface.GetType() == GeomAbs_Cylinder || surface.GetType() == GeomAbs_Cone) {
      constexpr double k_step = 0.2;  // rad
      const int steps = static_cast<int>(std::ceil((u1 - u0) / k_step));
      for (int i = 1; i < steps; ++i) ends.push_back(u0 + (u1 - u0) * i / steps);
    } else {
      throw UnknownForm();
    }
    ends.push_back(u1);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
      made.moment += sure_moment(surface, ends[i], ends[i + 1], moment(surface, ends[i], ends[i + 1]), 0);
      if (i > 0) made.between.push_back(on_ruling(surface, ends[i]).at);
      made.between.push_back(on_ruling(surface, 0.5 * (ends[i] + ends[i + 1])).at);
    }
    return made;
  }

  gp_Pnt origin_;
  gp_Vec normal_;
  gp_Ax2 frame_;
  TopTools_IndexedMapOfShape edges_;
  std::vector<Crossing> crossings_;
  std::vector<std::size_t> first_of_edge_;  // its crossings stand together
  std::vector<CutArc> arcs_;
};

}  // namespace

std::optional<std::vector<SliceLoop>> slice_loops(const TopoDS_Shape& body, const PlaneTarget& plane) {
  try {
    return Slicer(body, plane).loops();
  } catch (const UnknownForm&) {
    return std::nullopt;
  }
}

}  // namespace linerwright
