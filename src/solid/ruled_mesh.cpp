#include "ruled_mesh.hpp"

#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Torus.hxx>
#include <limits>

#include "linerwright/mesh/shared_diagonals.hpp"
#include "linerwright/mesh/triangulate.hpp"

namespace linerwright {

namespace {

constexpr double k_none = std::numeric_limits<double>::infinity();

// Triangles may reach farther around than the steps on the edges, and where an edge turns sharply two faces
// may cut the same corner off it; then the steps are made smaller.
constexpr double k_shares[] = {k_first_share, 0.55, 0.4, 0.28, 0.2};

}  // namespace

RuledMesh::RuledMesh(const TopoDS_Shape& shape, double deflection, double angle)
    : shape_(shape), deflection_(deflection), angle_(angle) {
  gather();
}

std::optional<Mesh> RuledMesh::make() {
  for (const double share : k_shares) {
    if (!fill(share)) continue;
    if (open_edges(mesh_) > 0) split_shared_diagonals(mesh_, face_of_);
    if (open_edges(mesh_) == 0) return std::move(mesh_);
  }
  return std::nullopt;
}

bool RuledMesh::fill(double share) {
  mesh_ = {};
  face_of_.clear();
  places_of_.clear();
  divide_edges(share);
  place_points();
  return std::all_of(faces_.begin(), faces_.end(), [&](const Face& face) {
    return face.form == Face::rows ? fill_rows(face) : fill_outline(face);
  });
}

void RuledMesh::gather() {
  TopTools_IndexedMapOfShape once;
  TopExp::MapShapes(shape_, TopAbs_FACE, once);
  for (int f = 1; f <= once.Extent(); ++f) {
    const TopoDS_Face face = TopoDS::Face(once(f));
    Face made{face,   outline_of(face), GeomAdaptor_Surface(BRep_Tool::Surface(face)), Face::flat,
              k_none, k_none,           face.Orientation() == TopAbs_REVERSED};
    set_form(made);
    for (std::size_t s = 0; s < made.outline.sides.size(); ++s) {
      const OutlineSide& side = made.outline.sides[s];
      if (map_.FindIndex(side.edge) == 0) {
        map_.Add(side.edge);
        double first = 0.0;
        double last = 0.0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(side.edge, first, last);
        edges_.push_back({side.edge,
                          side.is_point() ? GeomAdaptor_Curve() : GeomAdaptor_Curve(curve),
                          first,
                          last,
                          static_cast<int>(edges_.size()),
                          side.is_point(),
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

std::size_t RuledMesh::edge_index(const OutlineSide& side) const {
  return static_cast<std::size_t>(map_.FindIndex(side.edge)) - 1;
}

void RuledMesh::set_form(Face& face) const {
  switch (face.surface.GetType()) {
    case GeomAbs_Plane:
      return;
    case GeomAbs_Cylinder:
      face.form = Face::round;
      face.largest_u = std::min(angle_, circle_step(face.surface.Cylinder().Radius(), deflection_));
      face.scale.x = face.surface.Cylinder().Radius();
      return;
    case GeomAbs_Cone: {
      face.form = Face::round;
      const gp_Cone cone = face.surface.Cone();
      double radius = 0.0;
      for (const OutlineSide& side : face.outline.sides)
        for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0})
          radius =
              std::max(radius, std::fabs(cone.RefRadius() + side.at(share).Y() * std::sin(cone.SemiAngle())));
      face.largest_u = std::min(angle_, circle_step(radius, deflection_));
      face.scale.x = cone.RefRadius();
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
      if (face.outline.loops.size() > 1) {
        set_pierced(face);
        return;
      }
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

// A wall whose rulings do not turn along themselves, with holes in it: like a cylinder, u being an angle.
void RuledMesh::set_pierced(Face& face) const {
  face.form = Face::round;
  constexpr int k_samples = 32;
  const double first = face.surface.FirstUParameter();
  const double last = face.surface.LastUParameter();
  Vec2 most{0.0, 0.0};
  for (int i = 0; i <= k_samples; ++i)
    for (const double v : {0.0, 1.0}) {
      gp_Pnt p;
      gp_Vec u;
      gp_Vec across;
      face.surface.D1(first + (last - first) * i / k_samples, v, p, u, across);
      most = {std::max(most.x, u.Magnitude()), std::max(most.y, across.Magnitude())};
    }
  face.scale = most;
  face.largest_u = std::min(angle_, circle_step(most.x, deflection_));
}

int RuledMesh::new_point(const gp_Pnt& at) {
  mesh_.points.push_back(from_kernel(at));
  return static_cast<int>(mesh_.points.size()) - 1;
}

void RuledMesh::place_points() {
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
      edge.points.push_back(edge.is_point ? edge.points.front()
                                          : new_point(edge.curve.Value(edge.at(shares[i]))));
    edge.points.push_back(vertex(TopExp::LastVertex(forward)));
  }
}

RuledMesh::SidePoints RuledMesh::points_along(const OutlineSide& side) const {
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

void RuledMesh::add_triangle(const Face& face, Corner a, Corner b, Corner c) {
  const bool shrunk = a.point == b.point || b.point == c.point || c.point == a.point;
  if (shrunk && !on_faces_) return;
  if (face.turned) std::swap(b, c);
  mesh_.triangles.push_back({a.point, b.point, c.point});
  places_of_.push_back({a.place, b.place, c.place});
  face_of_.push_back(static_cast<std::size_t>(&face - faces_.data()));
}

bool RuledMesh::fill_outline(const Face& face) {
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
        places.push_back({face.scale.x * along.places[i].X(), face.scale.y * along.places[i].Y()});
      }
    }
  }
  const auto triangles =
      face.form == Face::round
          ? triangulate_wall(places, loops, face.scale.x * face.largest_u)
          : triangulate(places, loops.front(), {loops.begin() + 1, loops.end()}, {1.0, 1.0});
  if (triangles.empty()) return false;
  for (const auto& triangle : triangles) {
    const auto at = [&](std::size_t k) -> Corner {
      const auto corner = static_cast<std::size_t>(triangle[k]);
      return {points[corner], {places[corner].x / face.scale.x, places[corner].y / face.scale.y}};
    };
    add_triangle(face, at(0), at(1), at(2));
  }
  return true;
}

bool RuledMesh::fill_rows(const Face& face) {
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
  const auto place = [&side](std::size_t i, std::size_t j) {
    return gp_Pnt2d(side[0].places[i].X(), side[3].places[j].Y());
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
      const Corner a{row[i], place(i, j - 1)};
      const Corner b{row[i + 1], place(i + 1, j - 1)};
      const Corner c{next[i + 1], place(i + 1, j)};
      const Corner d{next[i], place(i, j)};
      if (apart(a.point, c.point) <= apart(b.point, d.point)) {
        add_triangle(face, a, b, c);
        add_triangle(face, a, c, d);
      } else {
        add_triangle(face, a, b, d);
        add_triangle(face, b, c, d);
      }
    }
    row = std::move(next);
  }
  return true;
}

std::optional<Mesh> ruled_mesh(const TopoDS_Shape& shape, double deflection, double angle) {
  try {
    return RuledMesh(shape, deflection, angle).make();
  } catch (const NoOutline&) {
    return std::nullopt;
  }
}

}  // namespace linerwright
