// Faces of a fitting's solids: walls at a depth, the joints' faces across the liner, flat ends.
#pragma once

#include <Geom_BSplineCurve.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <array>
#include <map>
#include <tuple>
#include <vector>

#include "joint_edges.hpp"
#include "linerwright/mesh/bodies.hpp"

namespace linerwright {

// The sheet at depth w as a kernel surface with u = theta and v = v; cylinder and right cone.
Handle(Geom_Surface) surface_of(const Sheet& sheet, double w);
// The surface over two rows of poles, u along a curve's own parameters, v straight from 0 to 1 across.
Handle(Geom_Surface) ruled_surface(const Handle(Geom_BSplineCurve) & along, const TColgp_Array2OfPnt& poles);
// Lays a straight edge, whose own parameter is its length, on such a surface at one u, from one v to another.
void put_side(const TopoDS_Edge& side, double u, const Handle(Geom_Surface) & surface, double from = 0.0,
              double to = 1.0);
// States in each edge's tolerance how far its curve in space is from its curve on the face.
void widen_tolerances(const TopoDS_Face& face);
void add_to_key(std::vector<double>& key, const Loop& loop);

// Every face is made once: bodies that touch along one share it, so that what they have in common needs no
// search.
class Faces {
 public:
  using Face = TopoDS_Face;
  static TopoDS_Face reversed(const TopoDS_Face& face) { return TopoDS::Face(face.Reversed()); }

  explicit Faces(const Fitting& fitting, double fit = k_usual_fit) : edges_(fitting, fit) {}

  // The wall at depth w between two loops, over this range of rulings, holes taken out; natural normals point
  // away from the axis.
  std::vector<TopoDS_Face> band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                const Rim& high, const std::vector<Loop>& holes);
  // The face across the liner at one end of a piece, of a panel its part alone; natural normals point up the
  // wall that leads the joint.
  std::vector<TopoDS_Face> across(int joint, Side side, const LinerSpec& liner, const Range& range);
  // The faces across the liner along a ruling where two panels of a wall meet, one flat one as a rule;
  // natural normals point around with growing theta. Each of the loops is on the duct face, then on the air
  // face.
  std::vector<TopoDS_Face> between_panels(const Sheet& sheet, double theta, const std::array<Rim, 2>& low,
                                          const std::array<Rim, 2>& high);
  // The flat face between two depths at an open end, or (without `inner`) the whole disk.
  TopoDS_Face end(int joint, DepthPair outer, const DepthPair* inner);

  // The patch of the wall that follows within the joint's curve at `outer`, without what lies within that at
  // `inner`.
  TopoDS_Face on_follow(int joint, DepthPair outer, const DepthPair* inner);

  JointEdges& edges() { return edges_; }

 private:
  // The faces made under this key, or made now.
  template <class F>
  std::vector<TopoDS_Face> once(std::vector<double> key, F&& make) {
    const auto found = made_.find(key);
    if (found != made_.end()) return found->second;
    std::vector<TopoDS_Face> faces = make();
    for (const TopoDS_Face& face : faces) widen_tolerances(face);
    return made_.emplace(std::move(key), std::move(faces)).first->second;
  }
  std::vector<TopoDS_Face> make_band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                     const Rim& high, const std::vector<Loop>& holes);
  // A rim's edges within a range of its wall's rulings, as they follow one another around.
  struct RimPart {
    std::vector<RimArc> arcs;
    TopoDS_Vertex start, end;  // at the range's first and last ruling
  };
  // Throws GeometryError where a joint has more arcs than edges were made for.
  const ArcEdge& edge_of(const RimArc& arc);
  RimPart part_of(const Rim& rim, const Range& range);
  std::vector<TopoDS_Face> make_across(int joint, Side side, const LinerSpec& liner);
  TopoDS_Face flat(int joint, DepthPair outer, const DepthPair* inner);
  TopoDS_Face flat_patch(const Handle(Geom_Surface) & plane, const ArcEdge& outer, const ArcEdge& inner);
  std::vector<TopoDS_Face> ruled_band(const Rim& low, const Rim& high, const Range& range);
  // The same of an oblique wall that has openings, in parts between rulings that are clear of them.
  struct Stretched {
    double from, to;  // theta
    std::vector<RimArc> arcs;
    std::vector<Loop> holes;
  };
  std::vector<TopoDS_Face> pierced_band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                        const Rim& high, const std::vector<Loop>& holes);
  std::vector<Stretched> between_holes(const Rim& low, const Rim& high, const Range& range,
                                       const std::vector<Loop>& holes);
  TopoDS_Face pierced_patch(const Sheet& sheet, double w, const Stretched& part, const Loop& low,
                            const Loop& high);
  TopoDS_Face patch_on_oblique(const Sheet& sheet, double w, const Loop& loop);
  // Across a joint that is no plane: ruled from the one curve to the other, between circles a part of a cone.
  std::vector<TopoDS_Face> ruled_across(int joint, DepthPair outer, DepthPair inner);
  TopoDS_Face cone_patch(const Frame& frame, const ArcEdge& outer, const ArcEdge& inner);
  // The part of a sheet at depth w within a loop, and outside another that lies in it.
  TopoDS_Face patch_on(const Sheet& sheet, double w, const Loop& outer, const Loop* inner);
  // Where panels of a branch that ends on its body meet: the edge on the body along the branch's ruling s,
  // from its outer face to its inner one; and their ends, parts of the body's face between such edges.
  struct BodySeam {
    TopoDS_Edge edge;
    Handle(Geom_Curve) curve;
    std::vector<double> parameters;  // sampled
  };
  const BodySeam& seam_on_body(int joint, double s, DepthPair outer, DepthPair inner,
                               const TopoDS_Vertex& from, const TopoDS_Vertex& to);
  std::vector<TopoDS_Face> patches_on_body(int joint, DepthPair outer, DepthPair inner);
  // Between the two ends of a seam across the liner: straight, or on the body.
  TopoDS_Edge across_at_seam(const Loop& outer, const Loop& inner, double theta, const TopoDS_Vertex& from,
                             const TopoDS_Vertex& to);
  void add_closed_loop(TopoDS_Face& face, const Handle(Geom_Surface) & surface, const Loop& loop,
                       double near_theta, bool counter_clockwise);
  // The first and last ruling that a loop reaches, counted on.
  std::pair<double, double> extent_of(const Loop& loop) const;
  double middle_of(const Loop& loop) const;
  TopoDS_Face ruled_patch(const ArcEdge& low, const ArcEdge& high, const TopoDS_Edge& start,
                          const TopoDS_Edge& end);
  // Between arcs of this index of two rims that are split alike.
  TopoDS_Face ruled_patch(const Rim& low, const Rim& high, std::size_t index);
  TopoDS_Edge straight(const TopoDS_Vertex& from, const TopoDS_Vertex& to);
  TopoDS_Wire wire_of(const Loop& loop);

  // Of a square-to-round.
  std::vector<TopoDS_Face> folded_band(const Sheet& sheet, double w, const Range& range,
                                       const std::vector<Loop>& holes);
  std::vector<TopoDS_Face> folded_quarter(const Sheet& sheet, double w, int quarter,
                                          const HolesOfParts& holes);
  // A flat's half, 0 after its middle line and 1 before it, or all of it.
  TopoDS_Face folded_half(const Sheet& sheet, double w, int flat, int half, const HolesOfParts& holes);
  // A part of a cone with holes in it, as one face.
  TopoDS_Face pierced_cone(const Sheet& sheet, double w, int quarter, const std::vector<Loop>& holes);
  // What lies within an opening's edge at depth w.
  TopoDS_Face patch_on_part(const Sheet& sheet, double w, const Loop& loop);
  std::vector<TopoDS_Face> folded_across(const Joint& joint, double outer, double inner, const Range& range);
  std::vector<TopoDS_Face> collar_across(int index, Side side, DepthPair outer, DepthPair inner,
                                         const Range& range);
  // Of its rectangular collar: a panel at depth w, what ends it between two depths, and what ends the wall
  // above it there, by quarters; and the metal's upright walls.
  TopoDS_Face panel_face(const PanelTarget& panel, double w, const std::vector<Loop>& holes);
  std::vector<TopoDS_Face> panel_across(const PanelTarget& panel, double outer, double inner);
  std::vector<TopoDS_Face> panel_mitres(const Sheet& sheet, double outer, double inner, int quarter);
  std::vector<TopoDS_Face> skirts(const Sheet& sheet, double w);
  // Flat, between sides at two depths; of the outer ones there may be none, but a point.
  TopoDS_Face flat_between(const FoldedEdges& out, const std::vector<FoldedSide>& outer,
                           const TopoDS_Vertex& point, const FoldedEdges& in,
                           const std::vector<FoldedSide>& inner);
  TopoDS_Face folded_end(const Joint& joint, double outer, const double* inner);
  std::vector<TopoDS_Face> folded_seam(const Sheet& sheet, double theta, double outer, double inner);
  TopoDS_Face folded_patch(const FoldedEdges& of, const FoldedPatch& patch);
  TopoDS_Face ruled_from_point(const TopoDS_Vertex& point, const ArcEdge& high, const TopoDS_Edge& start,
                               const TopoDS_Edge& end);

  JointEdges edges_;
  std::map<std::vector<double>, BodySeam> body_seams_;
  std::map<std::vector<double>, std::vector<TopoDS_Face>> made_;
};

}  // namespace linerwright
