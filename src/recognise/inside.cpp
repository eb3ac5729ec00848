#include "inside.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "linerwright/units/units.hpp"
#include "refine.hpp"

namespace linerwright {

namespace {

constexpr double k_exact = 1e-3;      // mm: drawings that stray no more are exact
constexpr double k_same = 0.01;       // mm
constexpr double k_same_wall = 2e-3;  // mm: a taper may be that slight
constexpr std::size_t k_most_open = 3000;

enum class Facing { inward, outward, neither };

struct Groups {
  std::vector<std::size_t> parent;
  explicit Groups(std::size_t count) : parent(count) {
    std::iota(parent.begin(), parent.end(), std::size_t{0});
  }
  std::size_t find(std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  }
  void join(std::size_t a, std::size_t b) { parent[find(a)] = find(b); }
};

// Whether the material lies outside of the round face (its normal points to the axis) or inside.
Facing facing_of(const DrawnFace& face, const FittedSurface& fit, bool is_solid) {
  if (fit.sort == SurfaceSort::plane) return Facing::neither;
  if (fit.sort == SurfaceSort::other || fit.sort == SurfaceSort::ruled) {
    // of free forms the way around tells: rulings of an oblique taper lie around the line of its circles'
    // centres
    Vec3 mean{};
    for (const DrawnPoint& p : face.points)
      mean = mean + (1.0 / static_cast<double>(face.points.size())) * p.at;
    double sum = 0.0;
    for (const DrawnPoint& p : face.points) sum += dot(p.normal, p.at - mean);
    return !is_solid || sum < 0.0 ? Facing::inward : Facing::outward;
  }
  double sum = 0.0;
  for (const DrawnPoint& p : face.points) sum += dot(p.normal, p.at - fit.heart_of(p.at));
  return !is_solid || sum < 0.0 ? Facing::inward : Facing::outward;
}

// What a face's points lie on; corners of a mesh are laid on once more by their places alone.
FittedSurface fit_of(const std::vector<DrawnPoint>& points, double within) {
  if (!(within > k_exact)) return fit_surface(points, within);
  constexpr double k_first = 5.0;
  FittedSurface fit = fit_surface(points, k_first * within);
  if (fit.sort == SurfaceSort::other || fit.sort == SurfaceSort::ruled) return fit;
  std::vector<Vec3> places;
  for (const DrawnPoint& p : points) places.push_back(p.at);
  refine(fit, places);
  return fit.residual <= 2.0 * within ? fit : FittedSurface{};
}

// Everything about one body while its inside is found.
struct Search {
  const DrawnBody& body;
  std::vector<FittedSurface> fits;
  std::vector<Facing> facing;
  std::vector<std::vector<std::size_t>> faces_of_edge;
  std::vector<std::size_t> chosen;  // faces of the inside

  explicit Search(const DrawnBody& drawn) : body(drawn), faces_of_edge(drawn.edges.size()) {
    for (std::size_t f = 0; f < body.faces.size(); ++f) {
      fits.push_back(fit_of(body.faces[f].points, body.within));
      facing.push_back(facing_of(body.faces[f], fits[f], body.is_solid));
      for (const int edge : body.faces[f].edges) faces_of_edge[static_cast<std::size_t>(edge)].push_back(f);
    }
  }

  // Faces that are round and hollow, or of no known form, connected across their edges; the connected part
  // with the largest area is the duct's inside, others are holes for bolts.
  void choose() {
    Groups groups(body.faces.size());
    const auto may = [&](std::size_t f) { return facing[f] == Facing::inward; };
    for (const auto& faces : faces_of_edge)
      for (std::size_t k = 1; k < faces.size(); ++k)
        if (may(faces[0]) && may(faces[k])) groups.join(faces[0], faces[k]);
    std::map<std::size_t, double> areas;
    for (std::size_t f = 0; f < body.faces.size(); ++f)
      if (may(f)) areas[groups.find(f)] += body.faces[f].area;
    if (areas.empty()) return;
    const auto largest = std::max_element(areas.begin(), areas.end(),
                                          [](const auto& a, const auto& b) { return a.second < b.second; });
    for (std::size_t f = 0; f < body.faces.size(); ++f)
      if (may(f) && groups.find(f) == largest->first) chosen.push_back(f);
  }
};

// Faces that touch and lie on one surface.
Groups walls_of(const Search& search) {
  Groups groups(search.body.faces.size());
  for (const auto& faces : search.faces_of_edge)
    for (std::size_t k = 1; k < faces.size(); ++k)
      if (same_surface(search.fits[faces[0]], search.fits[faces[k]])) groups.join(faces[0], faces[k]);
  return groups;
}

void add_surfaces(const Search& search, Inside& inside, bool apart) {
  Groups walls = walls_of(search);
  for (const std::size_t f : search.chosen) {
    const DrawnFace& face = search.body.faces[f];
    const FittedSurface& fit = search.fits[f];
    if (fit.sort == SurfaceSort::other) {
      inside.others.push_back(face.number);
      inside.other_points.insert(inside.other_points.end(), face.points.begin(), face.points.end());
      continue;
    }
    auto same = std::find_if(inside.surfaces.begin(), inside.surfaces.end(), [&](const InsideSurface& s) {
      return same_surface(s.fit, fit) &&
             (!apart || walls.find(static_cast<std::size_t>(s.faces.front() - 1)) == walls.find(f));
    });
    if (same == inside.surfaces.end())
      same = inside.surfaces.insert(inside.surfaces.end(), InsideSurface{fit, {}, {}, 0.0});
    same->points.insert(same->points.end(), face.points.begin(), face.points.end());
    same->faces.push_back(face.number);
    same->area += face.area;
  }
  for (InsideSurface& surface : inside.surfaces)
    if (surface.faces.size() > 1) {
      const FittedSurface whole = fit_surface(surface.points, 10.0 * inside.within);
      if (whole.sort == surface.fit.sort) surface.fit = whole;
    }
  std::stable_sort(inside.surfaces.begin(), inside.surfaces.end(),
                   [](const InsideSurface& a, const InsideSurface& b) { return a.area > b.area; });
}

// Edges between the inside and all else, put together to closed ways.
std::vector<std::vector<std::size_t>> ends_of(const Search& search) {
  std::vector<int> uses(search.body.edges.size(), 0);
  for (const std::size_t f : search.chosen)
    for (const int edge : search.body.faces[f].edges) ++uses[static_cast<std::size_t>(edge)];
  std::vector<std::size_t> open;
  for (std::size_t e = 0; e < uses.size(); ++e)
    if (uses[e] == 1 && search.body.edges[e].points.size() > 1) open.push_back(e);
  if (open.size() > k_most_open) open.clear();  // no duct ends in so many edges
  Groups groups(open.size());
  for (std::size_t i = 0; i < open.size(); ++i)
    for (std::size_t k = i + 1; k < open.size(); ++k)
      for (const Vec3 p :
           {search.body.edges[open[i]].points.front(), search.body.edges[open[i]].points.back()})
        for (const Vec3 q :
             {search.body.edges[open[k]].points.front(), search.body.edges[open[k]].points.back()})
          if (distance(p, q) < k_same) groups.join(i, k);
  std::map<std::size_t, std::vector<std::size_t>> loops;
  for (std::size_t i = 0; i < open.size(); ++i) loops[groups.find(i)].push_back(open[i]);
  std::vector<std::vector<std::size_t>> out;
  for (auto& [root, edges] : loops) out.push_back(std::move(edges));
  return out;
}

void add_joints(const Search& search, Inside& inside) {
  std::map<std::size_t, std::size_t> surface_of;  // of a face
  for (std::size_t s = 0; s < inside.surfaces.size(); ++s)
    for (const int number : inside.surfaces[s].faces) surface_of[static_cast<std::size_t>(number - 1)] = s;
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> known;
  for (std::size_t e = 0; e < search.faces_of_edge.size(); ++e) {
    const std::vector<std::size_t>& faces = search.faces_of_edge[e];
    if (faces.size() != 2) continue;
    const auto a = surface_of.find(faces[0]);
    const auto b = surface_of.find(faces[1]);
    if (a == surface_of.end() || b == surface_of.end() || a->second == b->second) continue;
    const auto pair = std::minmax(a->second, b->second);
    const auto [place, is_new] = known.emplace(pair, inside.joints.size());
    if (is_new) inside.joints.push_back({pair.first, pair.second, {}});
    auto& points = inside.joints[place->second].points;
    points.insert(points.end(), search.body.edges[e].points.begin(), search.body.edges[e].points.end());
  }
}

// A face beside the opening's edge that reaches into it: a cap, which has no other edges, or a plate with a
// smaller hole.
const DrawnFace* closed_by(const Search& search, const std::vector<std::size_t>& loop,
                           const FittedCircle& circle) {
  // rounded or bevelled; sides of a mesh's rim lie within its circle
  const double rim = search.body.within > k_exact ? 0.1 * circle.radius : 1.0;
  const auto reaches_in = [&](Vec3 p) {
    const Vec3 d = p - circle.centre;
    const double along = dot(d, circle.normal);
    return std::fabs(along) < circle.radius && norm(d - along * circle.normal) < circle.radius - rim;
  };
  for (const std::size_t edge : loop)
    for (const std::size_t f : search.faces_of_edge[edge]) {
      if (std::count(search.chosen.begin(), search.chosen.end(), f) > 0) continue;
      const DrawnFace& face = search.body.faces[f];
      bool has_others = false;
      for (const int other : face.edges) {
        const auto index = static_cast<std::size_t>(other);
        if (std::count(loop.begin(), loop.end(), index) > 0) continue;
        has_others = true;
        const std::vector<Vec3>& points = search.body.edges[index].points;
        if (std::any_of(points.begin(), points.end(), reaches_in)) return &face;
      }
      if (!has_others && search.fits[f].sort == SurfaceSort::plane) return &face;
    }
  return nullptr;
}

void add_openings(const Search& search, Inside& inside) {
  for (const std::vector<std::size_t>& loop : ends_of(search)) {
    std::vector<Vec3> points;
    for (const std::size_t edge : loop)
      points.insert(points.end(), search.body.edges[edge].points.begin(),
                    search.body.edges[edge].points.end());
    DrawnEnd opening{fit_circle(points), 0};
    const FittedCircle& circle = opening.circle;
    if (!(circle.residual < k_same) || !(circle.radius > 0.0)) {
      inside.faults.push_back(
          fmt::format("the inside ends in an edge about {} that is no circle square to an axis",
                      place_text(points.front())));
      continue;
    }
    if (const DrawnFace* cap = closed_by(search, loop, circle)) {
      inside.faults.push_back(
          fmt::format("the opening at {} is closed by face {}", place_text(circle.centre), cap->number));
      continue;
    }
    // the surface that ends there, by the face beside the edge
    for (const std::size_t f : search.faces_of_edge[loop.front()]) {
      const int number = search.body.faces[f].number;
      for (std::size_t s = 0; s < inside.surfaces.size(); ++s)
        if (std::count(inside.surfaces[s].faces.begin(), inside.surfaces[s].faces.end(), number) > 0)
          opening.surface = s;
    }
    // out of the fitting: away from the surface's points
    Vec3 mean{};
    const auto& own = inside.surfaces[opening.surface].points;
    for (const DrawnPoint& p : own) mean = mean + (1.0 / static_cast<double>(own.size())) * p.at;
    if (dot(mean - circle.centre, circle.normal) > 0.0) opening.circle.normal = -opening.circle.normal;
    inside.openings.push_back(opening);
  }
}

}  // namespace

std::string place_text(Vec3 point) {
  return fmt::format("({}, {}, {})", trimmed(point.x, 1), trimmed(point.y, 1), trimmed(point.z, 1));
}

bool same_surface(const FittedSurface& a, const FittedSurface& b) {
  if (a.sort != b.sort) return false;
  const double turn = norm(cross(a.axis, b.axis));
  const auto off_axis = [&](Vec3 p) { return norm(cross(p - a.origin, a.axis)); };
  switch (a.sort) {
    case SurfaceSort::plane:
      return turn < 1e-5 && std::fabs(dot(b.origin - a.origin, a.axis)) < k_same;
    case SurfaceSort::cylinder:
      return turn < 1e-5 && std::fabs(a.radius - b.radius) < k_same_wall && off_axis(b.origin) < k_same_wall;
    case SurfaceSort::cone: {
      const double reach = 1.0 + 1e-6 * std::max(norm(a.origin), norm(b.origin));
      return turn < 1e-5 && std::fabs(a.angle - b.angle) < 1e-5 && distance(a.origin, b.origin) < reach &&
             dot(a.axis, b.axis) > 0.0;
    }
    case SurfaceSort::torus:
      return turn < 1e-5 && distance(a.origin, b.origin) < k_same &&
             std::fabs(a.radius - b.radius) < k_same && std::fabs(a.minor - b.minor) < k_same;
    case SurfaceSort::ruled:
      return a.parallel == b.parallel &&
             (a.parallel ? turn < 1e-5 : distance(a.origin, b.origin) < 1.0 + 1e-6 * norm(a.origin));
    case SurfaceSort::other:
      break;
  }
  return false;
}

Inside inside_of(const DrawnBody& body, bool apart) {
  Search search(body);
  search.choose();
  Inside inside;
  inside.within = body.within;
  add_surfaces(search, inside, apart);
  if (inside.surfaces.empty()) return inside;
  add_openings(search, inside);
  add_joints(search, inside);
  inside.left = body.faces.size() - search.chosen.size();
  for (std::size_t f = 0; f < body.faces.size(); ++f)
    if (search.facing[f] == Facing::outward)
      inside.outer.push_back(
          {search.fits[f], body.faces[f].points, {body.faces[f].number}, body.faces[f].area});
  return inside;
}

}  // namespace linerwright
