// Mesh of our own faces. Edges are divided once, for all faces that meet there; a face then needs no corners
// inside, because it is straight along its rulings and every ruling ends on an edge. A twisted joint face and
// a torus get rows.
#include <BRep_Tool.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Torus.hxx>
#include <limits>
#include <numeric>

#include "face_outline.hpp"
#include "mesh_parts.hpp"
#include "shared_diagonals.hpp"
#include "triangulate.hpp"

namespace linerwright {

namespace {

constexpr double k_first_share = 0.8;  // of the largest step, on the edges
constexpr double k_none = std::numeric_limits<double>::infinity();

// Largest step of an angle on a circle that keeps the chord within `deflection`.
double circle_step(double radius, double deflection) {
  return 2.0 * std::acos(std::max(0.0, 1.0 - deflection / radius));
}

class RuledMesh {
 public:
  RuledMesh(const TopoDS_Shape& shape, double deflection, double angle)
      : shape_(shape), deflection_(deflection), angle_(angle) {}

  // Throws NoOutline where a face is of another form.
  std::optional<Mesh> make() {
    gather();
    // Triangles may reach farther around than the steps on the edges, and where an edge turns sharply two
    // faces may cut the same corner off it; then the steps are made smaller.
    for (const double share : {k_first_share, 0.55, 0.4, 0.28, 0.2}) {
      mesh_ = {};
      face_of_.clear();
      divide_edges(share);
      place_points();
      if (!fill_faces()) continue;
      if (open_edges(mesh_) > 0) split_shared_diagonals(mesh_, face_of_);
      if (open_edges(mesh_) == 0) return std::move(mesh_);
    }
    return std::nullopt;
  }

 private:
  struct Edge {
    TopoDS_Edge edge;
    GeomAdaptor_Curve curve;
    double first, last;
    int group;
    std::vector<std::pair<std::size_t, std::size_t>> uses;  // face and side
    std::vector<int> points;
    // On a twisted face half of the deflection goes to the edges, half to the twist.
    double allowed;
    double at(double share) const { return first + share * (last - first); }
  };
  struct Face {
    FaceOutline outline;
    GeomAdaptor_Surface surface;
    enum { flat, round, rows } form;
    double largest_u, largest_v;  // steps that keep the deflection
    bool turned;
    const OutlineSide& side(std::size_t s) const { return outline.sides[outline.loops.front()[s]]; }
  };

  void gather() {
    for (TopExp_Explorer it(shape_, TopAbs_FACE); it.More(); it.Next()) {
      const TopoDS_Face face = TopoDS::Face(it.Current());
      Face made{outline_of(face), GeomAdaptor_Surface(BRep_Tool::Surface(face)), Face::flat, k_none,
                k_none,           face.Orientation() == TopAbs_REVERSED};
      set_form(made);
      for (std::size_t s = 0; s < made.outline.sides.size(); ++s) {
        const OutlineSide& side = made.outline.sides[s];
        if (map_.FindIndex(side.edge) == 0) {
          map_.Add(side.edge);
          double first = 0.0;
          double last = 0.0;
          const Handle(Geom_Curve) curve = BRep_Tool::Curve(side.edge, first, last);
          edges_.push_back({side.edge,
                            GeomAdaptor_Curve(curve),
                            first,
                            last,
                            static_cast<int>(edges_.size()),
                            {},
                            {},
                            deflection_});
        }
        Edge& edge = edges_[edge_index(side)];
        edge.uses.push_back({faces_.size(), s});
        if (made.form == Face::rows) edge.allowed = 0.5 * deflection_;
      }
      faces_.push_back(std::move(made));
    }
    // opposite sides of rows are divided alike
    for (const Face& face : faces_)
      if (face.form == Face::rows)
        for (const std::size_t s : {std::size_t{0}, std::size_t{1}}) {
          const int keep = edges_[edge_index(face.side(s))].group;
          const int drop = edges_[edge_index(face.side(s + 2))].group;
          for (Edge& edge : edges_)
            if (edge.group == drop) edge.group = keep;
        }
  }

  std::size_t edge_index(const OutlineSide& side) const {
    return static_cast<std::size_t>(map_.FindIndex(side.edge)) - 1;
  }

  void set_form(Face& face) const {
    switch (face.surface.GetType()) {
      case GeomAbs_Plane:
        return;
      case GeomAbs_Cylinder:
        face.form = Face::round;
        face.largest_u = std::min(angle_, circle_step(face.surface.Cylinder().Radius(), deflection_));
        return;
      case GeomAbs_Cone: {
        face.form = Face::round;
        const gp_Cone cone = face.surface.Cone();
        double radius = 0.0;
        for (const OutlineSide& side : face.outline.sides)
          for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0})
            radius = std::max(radius,
                              std::fabs(cone.RefRadius() + side.at(share).Y() * std::sin(cone.SemiAngle())));
        face.largest_u = std::min(angle_, circle_step(radius, deflection_));
        return;
      }
      case GeomAbs_Torus: {
        face.form = Face::rows;
        // both ways bulge: half for each
        const gp_Torus torus = face.surface.Torus();
        face.largest_u =
            std::min(angle_, circle_step(torus.MajorRadius() + torus.MinorRadius(), 0.5 * deflection_));
        face.largest_v = std::min(angle_, circle_step(torus.MinorRadius(), 0.5 * deflection_));
        break;
      }
      case GeomAbs_BSplineSurface:
        face.form = Face::rows;
        if (face.surface.VDegree() != 1 || face.surface.NbVPoles() != 2) throw NoOutline();
        break;
      default:
        throw NoOutline();
    }
    if (face.outline.sides.size() != 4 || face.outline.loops.size() != 1) throw NoOutline();
    // begin with a side along u
    std::vector<std::size_t>& loop = face.outline.loops.front();
    const Vec2 extent = face.outline.sides[loop[0]].extent();
    if (extent.x < extent.y) std::rotate(loop.begin(), loop.begin() + 1, loop.end());
  }

  // How many even steps an edge asks for, before steps that are still too large are halved.
  int steps_for(const Edge& edge, double share) const {
    double steps = 1.0;
    if (edge.curve.GetType() != GeomAbs_Line) {
      constexpr int k_pieces = 32;
      double turn = 0.0;
      double bulge = 0.0;
      gp_Pnt last;
      gp_Vec last_slope;
      edge.curve.D1(edge.first, last, last_slope);
      for (int i = 1; i <= k_pieces; ++i) {
        gp_Pnt next;
        gp_Vec slope;
        edge.curve.D1(edge.at(static_cast<double>(i) / k_pieces), next, slope);
        turn += last_slope.Angle(slope);
        const gp_Pnt middle = edge.curve.Value(edge.at((i - 0.5) / k_pieces));
        bulge += std::sqrt(middle.Distance(gp_Pnt(0.5 * (last.XYZ() + next.XYZ()))) /
                           (share / k_first_share * edge.allowed));
        last = next;
        last_slope = slope;
      }
      steps = std::max({3.0, turn / angle_, bulge});
    }
    for (const auto& [f, s] : edge.uses) {
      const Face& face = faces_[f];
      const auto span = face.outline.sides[s].extent();
      if (face.form == Face::round) steps = std::max(steps, span.x / (share * face.largest_u));
      if (face.surface.GetType() == GeomAbs_Torus)
        steps = std::max({steps, span.x / face.largest_u, span.y / face.largest_v});
    }
    return static_cast<int>(std::ceil(steps - 1e-9));
  }

  bool too_large(const Edge& edge, double from, double to, double share) const {
    if (edge.curve.GetType() != GeomAbs_Line) {
      const gp_Pnt a = edge.curve.Value(edge.at(from));
      const gp_Pnt b = edge.curve.Value(edge.at(to));
      const gp_Pnt middle = edge.curve.Value(edge.at(0.5 * (from + to)));
      if (middle.Distance(gp_Pnt(0.5 * (a.XYZ() + b.XYZ()))) > share / k_first_share * edge.allowed)
        return true;
    }
    constexpr double k_slack = 1.1;
    for (const auto& [f, s] : edge.uses) {
      if (faces_[f].form != Face::round) continue;
      const OutlineSide& side = faces_[f].outline.sides[s];
      const double step = std::fabs(side.on_edge(edge.at(from)).X() - side.on_edge(edge.at(to)).X());
      if (step > k_slack * share * faces_[f].largest_u) return true;
    }
    return false;
  }

  // Rows across a ruled face whose rulings turn: a quadrangle of steps du, dv strays from the face by a
  // quarter of |S_uv| du dv along the normal.
  int rows_across(const Face& face, int steps_along) const {
    double twist = 0.0;
    constexpr int k_samples = 32;
    const double first = face.side(0).at(0.0).X();
    const double last = face.side(0).at(1.0).X();
    for (int i = 0; i <= k_samples; ++i) {
      gp_Pnt p;
      gp_Vec u;
      gp_Vec v;
      gp_Vec uu;
      gp_Vec vv;
      gp_Vec uv;
      face.surface.D2(first + (last - first) * i / k_samples, 0.5, p, u, v, uu, vv, uv);
      const gp_Vec normal = u.Crossed(v);
      if (normal.Magnitude() > 0.0) twist = std::max(twist, std::fabs(uv.Dot(normal)) / normal.Magnitude());
    }
    const double step = std::fabs(last - first) / steps_along;
    return std::max(1, static_cast<int>(std::ceil(0.25 * twist * step / (0.5 * deflection_))));
  }

  void divide_edges(double share) {
    std::vector<int> steps(edges_.size(), 1);  // by group
    for (const Edge& edge : edges_) {
      int& most = steps[static_cast<std::size_t>(edge.group)];
      most = std::max(most, steps_for(edge, share));
    }
    for (const Face& face : faces_) {
      if (face.surface.GetType() != GeomAbs_BSplineSurface) continue;
      const auto group_of = [&](std::size_t s) {
        return static_cast<std::size_t>(edges_[edge_index(face.side(s))].group);
      };
      int& rows = steps[group_of(1)];
      rows = std::max(rows, rows_across(face, steps[group_of(0)]));
    }
    shares_.assign(edges_.size(), {});
    for (std::size_t g = 0; g < edges_.size(); ++g) {
      std::vector<double>& shares = shares_[g];
      for (int i = 0; i <= steps[g]; ++i) shares.push_back(static_cast<double>(i) / steps[g]);
      std::vector<const Edge*> members;
      for (const Edge& edge : edges_)
        if (static_cast<std::size_t>(edge.group) == g) members.push_back(&edge);
      constexpr double k_narrowest = 1e-6;
      for (std::size_t i = 0; i + 1 < shares.size() && !members.empty();) {
        const bool split = shares[i + 1] - shares[i] > k_narrowest &&
                           std::any_of(members.begin(), members.end(), [&](const Edge* edge) {
                             return too_large(*edge, shares[i], shares[i + 1], share);
                           });
        if (split)
          shares.insert(shares.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                        0.5 * (shares[i] + shares[i + 1]));
        else
          ++i;
      }
    }
  }

  int new_point(const gp_Pnt& at) {
    mesh_.points.push_back(from_kernel(at));
    return static_cast<int>(mesh_.points.size()) - 1;
  }

  void place_points() {
    TopTools_IndexedMapOfShape vertices;
    std::vector<int> vertex_point;
    const auto vertex = [&](const TopoDS_Vertex& at) {
      if (vertices.FindIndex(at) == 0) {
        vertices.Add(at);
        vertex_point.push_back(new_point(BRep_Tool::Pnt(at)));
      }
      return vertex_point[static_cast<std::size_t>(vertices.FindIndex(at)) - 1];
    };
    for (Edge& edge : edges_) {
      const TopoDS_Edge forward = TopoDS::Edge(edge.edge.Oriented(TopAbs_FORWARD));
      const std::vector<double>& shares = shares_[static_cast<std::size_t>(edge.group)];
      edge.points.assign(1, vertex(TopExp::FirstVertex(forward)));
      for (std::size_t i = 1; i + 1 < shares.size(); ++i)
        edge.points.push_back(new_point(edge.curve.Value(edge.at(shares[i]))));
      edge.points.push_back(vertex(TopExp::LastVertex(forward)));
    }
  }

  // A side's points in the direction of the outline, with their places on the face.
  struct SidePoints {
    std::vector<int> points;
    std::vector<gp_Pnt2d> places;
  };
  SidePoints points_along(const OutlineSide& side) const {
    const Edge& edge = edges_[edge_index(side)];
    SidePoints along{edge.points, {}};
    for (const double share : shares_[static_cast<std::size_t>(edge.group)])
      along.places.push_back(side.on_edge(edge.at(share)));
    if (!side.forward) {
      std::reverse(along.points.begin(), along.points.end());
      std::reverse(along.places.begin(), along.places.end());
    }
    return along;
  }

  bool fill_faces() {
    for (const Face& face : faces_)
      if (!(face.form == Face::rows ? fill_rows(face) : fill_outline(face))) return false;
    return true;
  }

  void add_triangle(const Face& face, int a, int b, int c) {
    if (a == b || b == c || c == a) return;
    if (face.turned) std::swap(b, c);
    mesh_.triangles.push_back({a, b, c});
    face_of_.push_back(static_cast<std::size_t>(&face - faces_.data()));
  }

  bool fill_outline(const Face& face) {
    const double scale = face.form == Face::round ? face.surface.GetType() == GeomAbs_Cylinder
                                                        ? face.surface.Cylinder().Radius()
                                                        : face.surface.Cone().RefRadius()
                                                  : 1.0;
    std::vector<Vec2> places;
    std::vector<int> points;
    std::vector<std::vector<int>> loops;
    for (const auto& loop : face.outline.loops) {
      loops.emplace_back();
      for (const std::size_t s : loop) {
        const SidePoints along = points_along(face.outline.sides[s]);
        for (std::size_t i = 0; i + 1 < along.points.size(); ++i) {
          loops.back().push_back(static_cast<int>(points.size()));
          points.push_back(along.points[i]);
          places.push_back({scale * along.places[i].X(), along.places[i].Y()});
        }
      }
    }
    std::vector<int> outline = std::move(loops.front());
    loops.erase(loops.begin());
    constexpr double k_along_ruling = 1e-3;
    const Vec2 weight{1.0, face.form == Face::round ? k_along_ruling : 1.0};
    const auto triangles = triangulate(places, std::move(outline), std::move(loops), weight);
    if (triangles.empty()) return false;
    for (const auto& triangle : triangles) {
      const auto corner = [&](std::size_t k) { return static_cast<std::size_t>(triangle[k]); };
      if (face.form == Face::round) {
        const auto [low, high] = std::minmax({places[corner(0)].x, places[corner(1)].x, places[corner(2)].x});
        if (high - low > (1.0 + 1e-9) * scale * face.largest_u) return false;
      }
      add_triangle(face, points[corner(0)], points[corner(1)], points[corner(2)]);
    }
    return true;
  }

  bool fill_rows(const Face& face) {
    std::array<SidePoints, 4> side;
    for (std::size_t s = 0; s < 4; ++s) {
      side[s] = points_along(face.side(s));
      if (s >= 2) {
        std::reverse(side[s].points.begin(), side[s].points.end());
        std::reverse(side[s].places.begin(), side[s].places.end());
      }
    }
    const auto& [low, end, high, start] = side;
    const std::size_t n = low.points.size();
    const std::size_t m = start.points.size();
    if (high.points.size() != n || end.points.size() != m) throw NoOutline();
    const auto place = [&](std::size_t i, std::size_t j) {
      return gp_Pnt2d(low.places[i].X(), start.places[j].Y());
    };
    constexpr double k_same = 1e-6;
    for (std::size_t i = 0; i < n; ++i)
      if (high.places[i].Distance(place(i, m - 1)) > k_same) throw NoOutline();
    std::vector<int> row = low.points;
    for (std::size_t j = 1; j < m; ++j) {
      std::vector<int> next = high.points;
      if (j + 1 < m)
        for (std::size_t i = 0; i < n; ++i) {
          const gp_Pnt2d uv = place(i, j);
          next[i] = i == 0       ? start.points[j]
                    : i + 1 == n ? end.points[j]
                                 : new_point(face.surface.Value(uv.X(), uv.Y()));
        }
      const auto apart = [&](int a, int b) {
        return distance(mesh_.points[static_cast<std::size_t>(a)], mesh_.points[static_cast<std::size_t>(b)]);
      };
      for (std::size_t i = 0; i + 1 < n; ++i) {
        if (apart(row[i], next[i + 1]) <= apart(row[i + 1], next[i])) {
          add_triangle(face, row[i], row[i + 1], next[i + 1]);
          add_triangle(face, row[i], next[i + 1], next[i]);
        } else {
          add_triangle(face, row[i], row[i + 1], next[i]);
          add_triangle(face, row[i + 1], next[i + 1], next[i]);
        }
      }
      row = std::move(next);
    }
    return true;
  }

  const TopoDS_Shape& shape_;
  double deflection_, angle_;
  TopTools_IndexedMapOfShape map_;
  std::vector<Edge> edges_;
  std::vector<Face> faces_;
  std::vector<std::vector<double>> shares_;  // by group
  Mesh mesh_;
  std::vector<std::size_t> face_of_;  // of each triangle
};

}  // namespace

std::optional<Mesh> ruled_mesh(const TopoDS_Shape& shape, double deflection, double angle) {
  try {
    return RuledMesh(shape, deflection, angle).make();
  } catch (const NoOutline&) {
    return std::nullopt;
  }
}

}  // namespace linerwright
