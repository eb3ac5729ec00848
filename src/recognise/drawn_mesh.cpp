// Meshes as drawn metal.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <map>
#include <optional>
#include <set>

#include "linerwright/recognise/recognise.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_walls.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_most_facets = 400'000;
constexpr std::size_t k_most_bodies = 500;
constexpr double k_exact = 2e-3;       // mm
constexpr double k_few_digits = 0.02;  // mm
constexpr double k_most_left = 1e-6;   // of the area
constexpr double k_largest = 1e6;      // mm: a kilometre of duct

[[noreturn]] void refuse(const std::string& file, const std::string& why) {
  throw InputError({Problem{file, 0, {}, {}, {}, {}, why}});
}

double largest_of(const Mesh& mesh) {
  double largest = 0.0;
  for (const Vec3 p : mesh.points)
    largest = std::max({largest, std::fabs(p.x), std::fabs(p.y), std::fabs(p.z)});
  return largest;
}

// Corners that lie no farther apart than `within` become one, and facets that lose a side go: other programs
// write the two sides of a seam with different last digits.
Mesh welded(const Mesh& mesh, double within) {
  using Cell = std::array<std::int64_t, 3>;
  const auto cell_of = [&](Vec3 p) {
    const double size = 4.0 * within;
    return Cell{std::llround(p.x / size), std::llround(p.y / size), std::llround(p.z / size)};
  };
  std::map<Cell, std::vector<int>> held;
  Mesh out;
  std::vector<int> now;
  const auto known = [&](Vec3 p, const Cell& middle) -> std::optional<int> {
    for (int i = 0; i < 27; ++i) {
      const auto cell = held.find({middle[0] + i % 3 - 1, middle[1] + i / 3 % 3 - 1, middle[2] + i / 9 - 1});
      if (cell == held.end()) continue;
      for (const int corner : cell->second)
        if (distance(out.points[static_cast<std::size_t>(corner)], p) <= within) return corner;
    }
    return std::nullopt;
  };
  for (const Vec3 p : mesh.points) {
    const Cell cell = cell_of(p);
    std::optional<int> corner = known(p, cell);
    if (!corner) {
      corner = static_cast<int>(out.points.size());
      out.points.push_back(p);
      held[cell].push_back(*corner);
    }
    now.push_back(*corner);
  }
  for (const auto& triangle : mesh.triangles) {
    std::array<int, 3> corners{};
    for (std::size_t k = 0; k < 3; ++k) corners[k] = now[static_cast<std::size_t>(triangle[k])];
    if (corners[0] != corners[1] && corners[1] != corners[2] && corners[2] != corners[0])
      out.triangles.push_back(corners);
  }
  return out;
}

// Area and unit normal of a facet; none where it is too thin.
struct FacetSide {
  Vec3 normal{};
  double area = 0.0;
};
FacetSide side_of(const Mesh& mesh, std::size_t facet) {
  const auto corner = [&](std::size_t k) {
    return mesh.points[static_cast<std::size_t>(mesh.triangles[facet][k])];
  };
  const Vec3 across = cross(corner(1) - corner(0), corner(2) - corner(0));
  const double size = norm(across);
  return size > 0.0 ? FacetSide{(1.0 / size) * across, 0.5 * size} : FacetSide{};
}

// The points of a wall with the normals of its surface, out of the material as its facets look.
void add_points(const Mesh& mesh, const MeshWall& wall, DrawnFace& face) {
  std::set<int> known;
  for (const std::size_t f : wall.facets) {
    const FacetSide side = side_of(mesh, f);
    face.area += side.area;
    for (const int corner : mesh.triangles[f]) {
      if (!(side.area > 0.0) || (wall.fit.sort != SurfaceSort::ruled && !known.insert(corner).second))
        continue;
      const Vec3 at = mesh.points[static_cast<std::size_t>(corner)];
      Vec3 normal = side.normal;
      if (wall.fit.sort != SurfaceSort::ruled) {
        const Vec3 out = at - wall.fit.heart_of(at);
        if (!(norm(out) > 0.0)) continue;
        normal = normalised(out);
        if (dot(normal, side.normal) < 0.0) normal = -normal;
      }
      face.points.push_back({at, normal});
    }
  }
}

// Facets of one plane: with places between their corners, since three points say no plane to whoever fits
// one.
void add_flat(const Mesh& mesh, const Flat& flat, const std::vector<std::size_t>& facets, DrawnFace& face) {
  face.sort = "plane";
  for (const std::size_t f : facets) {
    face.area += side_of(mesh, f).area;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 at = mesh.points[static_cast<std::size_t>(mesh.triangles[f][k])];
      const Vec3 next = mesh.points[static_cast<std::size_t>(mesh.triangles[f][(k + 1) % 3])];
      face.points.push_back({at, flat.normal});
      face.points.push_back({0.5 * (at + next), flat.normal});
    }
  }
}

// Edges of the mesh between two faces, put together to ways from end to end.
std::vector<std::vector<int>> ways_of(std::vector<std::pair<int, int>> sides) {
  std::multimap<int, std::size_t> at;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    at.emplace(sides[i].first, i);
    at.emplace(sides[i].second, i);
  }
  std::vector<bool> used(sides.size(), false);
  std::vector<std::vector<int>> ways;
  const auto follow = [&](int from) {
    std::vector<int> way = {from};
    for (bool goes = true; goes;) {
      goes = false;
      const auto [first, last] = at.equal_range(way.back());
      for (auto each = first; each != last && !goes; ++each) {
        const std::size_t side = each->second;
        if (used[side]) continue;
        used[side] = true;
        way.push_back(sides[side].first == way.back() ? sides[side].second : sides[side].first);
        goes = true;
      }
    }
    if (way.size() > 1) ways.push_back(std::move(way));
  };
  // open ways from their ends, then what is left are rings
  for (const auto& [corner, side] : at)
    if (!used[side] && at.count(corner) == 1) follow(corner);
  for (std::size_t side = 0; side < sides.size(); ++side)
    if (!used[side]) follow(sides[side].first);
  return ways;
}

void add_edges(const Mesh& mesh, const std::vector<std::optional<std::size_t>>& face_of_facet,
               DrawnBody& body) {
  using Face = std::optional<std::size_t>;
  std::map<std::pair<Face, Face>, std::vector<std::pair<int, int>>> sides;
  for (const MeshEdge& edge : edges_of(mesh)) {
    std::vector<Face> faces;
    for (const std::size_t facet : edge.facets)
      if (face_of_facet[facet]) faces.push_back(face_of_facet[facet]);
    std::sort(faces.begin(), faces.end());
    if (faces.empty() || (faces.size() > 1 && faces.front() == faces.back())) continue;
    sides[{faces.front(), faces.size() > 1 ? faces.back() : Face{}}].emplace_back(edge.from, edge.to);
  }
  for (const auto& [faces, all] : sides)
    for (const std::vector<int>& way : ways_of(all)) {
      DrawnEdge edge;
      for (const int corner : way) edge.points.push_back(mesh.points[static_cast<std::size_t>(corner)]);
      const int index = static_cast<int>(body.edges.size());
      body.edges.push_back(std::move(edge));
      body.faces[faces.first.value()].edges.push_back(index);
      if (faces.second) body.faces[*faces.second].edges.push_back(index);
    }
}

// The share of the area whose flats turn into each other as those of a round wall do and that belongs to
// none.
double round_area_left(const Mesh& mesh, const Flats& flats, const std::vector<MeshWall>& walls) {
  std::vector<bool> taken(mesh.triangles.size(), false);
  for (const MeshWall& wall : walls)
    for (const std::size_t f : wall.facets) taken[f] = true;
  const auto is_left = [&](const Flat& flat) { return !taken[flat.facets.front()]; };
  double all = 0.0, left = 0.0;
  for (const Flat& flat : flats.flats) {
    all += flat.area;
    const bool turns = std::any_of(flat.beside.begin(), flat.beside.end(), [&](std::size_t next) {
      return dot(flat.normal, flats.flats[next].normal) > 0.6;
    });
    if (is_left(flat) && turns) left += flat.area;
  }
  return all > 0.0 ? left / all : 0.0;
}

DrawnBody body_of(Mesh mesh) {
  static const std::map<SurfaceSort, std::string> names = {{SurfaceSort::cylinder, "cylinder"},
                                                           {SurfaceSort::cone, "cone"},
                                                           {SurfaceSort::torus, "torus"},
                                                           {SurfaceSort::ruled, "ruled surface"}};
  DrawnBody body;
  body.is_solid = open_edges(mesh) == 0;
  if (body.is_solid && mesh_volume(mesh) < 0.0)
    for (auto& triangle : mesh.triangles) std::swap(triangle[1], triangle[2]);
  const double largest = largest_of(mesh);
  // numbers of 24 bits; where that does not do, a file written with few digits
  const double bits = largest * 0x1p-22;
  const Flats flats = flats_of(mesh, 1e-3 + bits);
  body.within = k_exact + bits;
  std::vector<MeshWall> walls = mesh_walls(mesh, flats.flats, body.within);
  if (round_area_left(mesh, flats, walls) > k_most_left) {
    body.within = k_few_digits + bits;
    walls = mesh_walls(mesh, flats.flats, body.within);
  }
  std::vector<std::optional<std::size_t>> face_of_facet(mesh.triangles.size());
  const auto begin_face = [&](const std::vector<std::size_t>& facets) -> DrawnFace& {
    for (const std::size_t f : facets) face_of_facet[f] = body.faces.size();
    body.faces.emplace_back();
    body.faces.back().number = static_cast<int>(body.faces.size());
    return body.faces.back();
  };
  for (const MeshWall& wall : walls) {
    DrawnFace& face = begin_face(wall.facets);
    face.sort = names.at(wall.fit.sort);
    add_points(mesh, wall, face);
  }
  for (const Flat& flat : flats.flats) {
    std::vector<std::size_t> left;
    for (const std::size_t f : flat.facets)
      if (!face_of_facet[f]) left.push_back(f);
    if (!left.empty()) add_flat(mesh, flat, left, begin_face(left));
  }
  add_edges(mesh, face_of_facet, body);
  return body;
}

}  // namespace

std::vector<DrawnBody> read_drawn_mesh(const std::filesystem::path& file, double unit) {
  std::ifstream in(file, std::ios::binary);
  if (!in) refuse(file.string(), std::strerror(errno));
  return read_drawn_mesh(in, file.string(), unit);
}

std::vector<DrawnBody> read_drawn_mesh(std::istream& in, const std::string& file, double unit) {
  Mesh mesh = read_stl(in, file);
  if (mesh.triangles.size() > k_most_facets)
    refuse(file, fmt::format("holds more than {} facets, far more than drawn metal needs", k_most_facets));
  for (Vec3& p : mesh.points) {
    p = unit * p;
    if (!(std::fabs(p.x) < k_largest && std::fabs(p.y) < k_largest && std::fabs(p.z) < k_largest))
      refuse(file, "has corners more than a kilometre away");
  }
  std::vector<Mesh> meshes = split_bodies(welded(mesh, 1e-4 + largest_of(mesh) * 0x1p-22));
  if (meshes.size() > k_most_bodies) refuse(file, fmt::format("holds more than {} bodies", k_most_bodies));
  std::vector<DrawnBody> bodies;
  for (Mesh& one : meshes) bodies.push_back(body_of(std::move(one)));
  if (bodies.empty()) refuse(file, "holds no facets");
  return bodies;
}

}  // namespace linerwright
