// A wall is guessed from two or three flats beside each other, or from a patch, and grows over its neighbours
// as long as their corners lie on it; after each ring of them it is laid anew onto all of its corners.
#include "mesh_walls.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <numeric>
#include <optional>
#include <set>

#include "refine.hpp"

namespace linerwright {

namespace {

constexpr double k_turn = 0.9;              // radians between flats of one wall
constexpr double k_flat = 1e-3;             // less is no turn
constexpr double k_guessed_within = 0.1;    // mm, of a guess from three flats
constexpr double k_flattest = 10.0;         // a torus' section against the patch that tells it
constexpr double k_smooth = 0.2;            // radians
constexpr double k_aims = 2e-3;             // radians
constexpr std::size_t k_most_failed = 400;  // guesses
constexpr std::size_t k_most_patches = 3000;

double between(Vec3 a, Vec3 b) {
  return std::atan2(norm(cross(a, b)), dot(a, b));
}

class Walls {
 public:
  Walls(const Mesh& mesh, const std::vector<Flat>& flats, double within)
      : mesh_(mesh),
        flats_(flats),
        within_(within),
        taken_(flats.size(), false),
        order_(flats.size()),
        flats_about_(mesh.points.size(), 0) {
    for (const Flat& flat : flats)
      for (const int corner : flat.corners) ++flats_about_[static_cast<std::size_t>(corner)];
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::stable_sort(order_.begin(), order_.end(),
                     [&](std::size_t a, std::size_t b) { return flats_[a].area > flats_[b].area; });
  }

  std::vector<MeshWall> find() {
    by_patches(60);
    by_pairs(&Walls::cylinder_at);
    by_pairs(&Walls::cone_at);
    by_patches(20);
    by_pairs(&Walls::ruled_at);
    return std::move(walls_);
  }

 private:
  using Guess = std::optional<FittedSurface> (Walls::*)(std::size_t, std::size_t, std::size_t) const;

  Vec3 point(int corner) const { return mesh_.points[static_cast<std::size_t>(corner)]; }

  std::vector<Vec3> points_of(const std::vector<std::size_t>& flats) const {
    std::vector<int> corners;
    for (const std::size_t f : flats)
      corners.insert(corners.end(), flats_[f].corners.begin(), flats_[f].corners.end());
    return corner_points(mesh_, std::move(corners));
  }

  // Flats that turn a little from this one and are no wall's yet.
  std::vector<std::size_t> round_neighbours(std::size_t f) const {
    std::vector<std::size_t> out;
    for (const std::size_t next : flats_[f].beside) {
      const double turn = between(flats_[f].normal, flats_[next].normal);
      if (!taken_[next] && turn < k_turn && turn > k_flat) out.push_back(next);
    }
    return out;
  }

  bool lies_on(const FittedSurface& surface, std::size_t f, double within) const {
    return flat_lies_on(mesh_, surface, flats_[f], within);
  }

  // Lays the surface anew onto the flats; false where they do not lie on it then.
  bool lay(FittedSurface& surface, const std::vector<std::size_t>& flats) const {
    if (surface.sort == SurfaceSort::ruled) {
      std::vector<DrawnPoint> points;
      for (const std::size_t f : flats)
        for (const int corner : flats_[f].corners) points.push_back({point(corner), flats_[f].normal});
      const FittedSurface again = ruled_surface(points);
      surface = again;
      return std::all_of(flats.begin(), flats.end(),
                         [&](std::size_t f) { return lies_on(surface, f, within_); });
    }
    refine(surface, points_of(flats));
    return surface.residual <= within_;
  }

  // All flats in reach of the first ones, ring by ring.
  bool grow(FittedSurface surface, std::vector<std::size_t> flats) {
    std::set<std::size_t> held(flats.begin(), flats.end());
    for (int round = 0; round < 60; ++round) {
      if (!lay(surface, flats)) return false;
      const std::size_t before = flats.size();
      // one ring at a time until the surface is known well
      std::deque<std::size_t> open(flats.begin(), flats.end());
      const bool known = flats.size() > 24;
      while (!open.empty()) {
        const std::size_t f = open.front();
        open.pop_front();
        for (const std::size_t next : flats_[f].beside) {
          if (taken_[next] || held.count(next) != 0) continue;
          if (between(flats_[f].normal, flats_[next].normal) > k_turn) continue;
          if (!lies_on(surface, next, known ? within_ : std::max(within_, k_guessed_within))) continue;
          held.insert(next);
          flats.push_back(next);
          if (known) open.push_back(next);
        }
      }
      if (flats.size() == before) return keep(surface, flats);
      // what came with the guess and does not lie on the surface goes again
      if (!known) drop(surface, flats, held, before);
    }
    return false;
  }

  // Lays the surface anew and lets go of flats that came last and do not lie on it then.
  void drop(FittedSurface surface, std::vector<std::size_t>& flats, std::set<std::size_t>& held,
            std::size_t before) const {
    if (lay(surface, flats)) return;
    std::vector<std::size_t> kept(flats.begin(), flats.begin() + static_cast<std::ptrdiff_t>(before));
    for (std::size_t i = before; i < flats.size(); ++i) {
      if (lies_on(surface, flats[i], within_))
        kept.push_back(flats[i]);
      else
        held.erase(flats[i]);
    }
    if (FittedSurface tried = surface; !lay(tried, kept)) {
      for (std::size_t i = before; i < kept.size(); ++i) held.erase(kept[i]);
      kept.resize(before);
    }
    flats = std::move(kept);
  }

  // A part of a cone that goes on smoothly over flats whose planes aim at its apex, and that do not lie on
  // it, is a part of an oblique cone.
  bool is_part_of_ruled(const FittedSurface& surface, const std::vector<std::size_t>& flats) const {
    if (surface.sort != SurfaceSort::cone) return false;
    const std::set<std::size_t> held(flats.begin(), flats.end());
    for (const std::size_t f : flats)
      for (const std::size_t next : flats_[f].beside) {
        if (taken_[next] || held.count(next) != 0 ||
            between(flats_[f].normal, flats_[next].normal) > k_smooth)
          continue;
        const Vec3 way = flats_[next].middle - surface.origin;
        if (std::fabs(dot(flats_[next].normal, way)) < k_aims * norm(way)) return true;
      }
    return false;
  }

  // Three rings about an axis always lie on a torus: its corners have four places or more both ways around.
  static bool is_told(const FittedSurface& torus, const std::vector<Vec3>& points) {
    const auto [x, y] = directions_across(torus.axis);
    std::vector<double> along, around;
    for (const Vec3 p : points) {
      const Vec3 d = p - torus.origin;
      const double z = dot(d, torus.axis);
      along.push_back(std::atan2(dot(d, y), dot(d, x)));
      around.push_back(std::atan2(z, norm(d - z * torus.axis) - torus.radius));
    }
    const auto places = [](std::vector<double> values) {
      std::sort(values.begin(), values.end());
      int count = 1;
      for (std::size_t i = 1; i < values.size(); ++i) count += values[i] - values[i - 1] > 2e-3 ? 1 : 0;
      return count;
    };
    return places(std::move(along)) > 3 && places(std::move(around)) > 3;
  }

  bool keep(const FittedSurface& surface, const std::vector<std::size_t>& flats) {
    const std::size_t least = surface.sort == SurfaceSort::torus   ? 24
                              : surface.sort == SurfaceSort::ruled ? 24
                              : surface.sort == SurfaceSort::cone  ? 10
                                                                   : 8;
    double turn = 0.0;
    for (const std::size_t f : flats)
      turn = std::max(turn, between(flats_[flats[0]].normal, flats_[f].normal));
    if (points_of(flats).size() < least || flats.size() < 3 || turn < 0.3) return false;
    if (surface.sort == SurfaceSort::torus && !is_told(surface, points_of(flats))) return false;
    if (is_part_of_ruled(surface, flats)) {
      FittedSurface ruled;
      ruled.sort = SurfaceSort::ruled;
      return grow(ruled, flats);
    }
    for (const std::size_t f : flats) taken_[f] = true;
    MeshWall wall{surface, {}};
    for (const std::size_t f : flats)
      wall.facets.insert(wall.facets.end(), flats_[f].facets.begin(), flats_[f].facets.end());
    walls_.push_back(std::move(wall));
    return true;
  }

  // Patches of many flats: walls that are alone, or wide among others, and tori.
  void by_patches(std::size_t size) {
    std::vector<bool> tried(flats_.size(), false);
    std::size_t failed = 0;
    for (const std::size_t seed : order_) {
      if (taken_[seed] || tried[seed] || failed > k_most_patches) continue;
      std::vector<std::size_t> patch = {seed};
      std::set<std::size_t> held = {seed};
      for (std::size_t i = 0; i < patch.size() && patch.size() < size; ++i)
        for (const std::size_t next : round_neighbours(patch[i]))
          if (patch.size() < size && held.insert(next).second) patch.push_back(next);
      if (patch.size() < 4) continue;
      if (grow_from(patch)) continue;
      ++failed;
      tried[seed] = true;
      for (const std::size_t next : flats_[seed].beside) tried[next] = true;
    }
  }

  bool grow_from(const std::vector<std::size_t>& patch) {
    // planes of strips hold the rulings of cylinders and cones; normals of tori are told by all flats about a
    // corner
    std::vector<DrawnPoint> flat, mean;
    for (const std::size_t f : patch)
      for (const int corner : flats_[f].corners) {
        Vec3 normal{};
        int about = 0;
        for (const std::size_t g : patch)
          if (std::binary_search(flats_[g].corners.begin(), flats_[g].corners.end(), corner)) {
            normal = normal + flats_[g].normal;
            ++about;
          }
        flat.push_back({point(corner), flats_[f].normal});
        const bool all = about == flats_about_[static_cast<std::size_t>(corner)];
        if (all && norm(normal) > 1e-6) mean.push_back({point(corner), normalised(normal)});
      }
    const std::vector<Vec3> places = points_of(patch);
    std::vector<FittedSurface> guesses = round_surfaces(flat);
    const std::vector<FittedSurface> more = round_surfaces(mean);
    guesses.insert(guesses.end(), more.begin(), more.end());
    std::stable_sort(guesses.begin(), guesses.end(),
                     [](const FittedSurface& a, const FittedSurface& b) { return a.sort < b.sort; });
    // two rings of a torus are nearly a cylinder: the simplest counts that lies as near as any
    double nearest = within_;
    for (FittedSurface& surface : guesses) {
      refine(surface, places);
      const std::size_t numbers = surface.sort == SurfaceSort::torus ? 24 : 12;
      const bool slight =
          surface.sort == SurfaceSort::torus && !(surface.minor < k_flattest * spread(places));
      if (places.size() < numbers || slight || !std::isfinite(surface.residual)) surface.residual = 1e300;
      nearest = std::min(nearest, surface.residual);
    }
    const double near = std::min(within_, std::max(4.0 * nearest, 0.1 * within_));
    return std::any_of(guesses.begin(), guesses.end(), [&](const FittedSurface& surface) {
      return surface.residual <= near && grow(surface, patch);
    });
  }

  static double spread(const std::vector<Vec3>& points) {
    double size = 0.0;
    for (const Vec3 p : points) size = std::max(size, distance(p, points.front()));
    return size;
  }

  // Two flats beside each other and a third beside one of them.
  void by_pairs(Guess guess) {
    constexpr std::size_t k_most_beside = 8;
    std::size_t failed = 0;
    for (const std::size_t f : order_) {
      if (taken_[f] || failed > k_most_failed) continue;
      bool found = false, asked = false;
      const std::vector<std::size_t> first = round_neighbours(f);
      for (std::size_t i = 0; i < std::min(first.size(), k_most_beside) && !found; ++i) {
        std::vector<std::size_t> second = round_neighbours(first[i]);
        second.insert(second.end(), first.begin(), first.end());
        for (std::size_t k = 0; k < std::min(second.size(), 2 * k_most_beside) && !found; ++k) {
          const std::size_t g = first[i], h = second[k];
          if (h == f || h == g) continue;
          asked = true;
          const std::optional<FittedSurface> surface = (this->*guess)(f, g, h);
          found = surface && grow(*surface, {f, g, h});
        }
      }
      if (asked && !found) ++failed;
    }
  }

  std::optional<FittedSurface> cylinder_at(std::size_t f, std::size_t g, std::size_t h) const {
    const Vec3 axis = cross(flats_[f].normal, flats_[g].normal);
    if (!(norm(axis) > k_flat)) return std::nullopt;
    FittedSurface surface = cylinder_along(normalised(axis), points_of({f, g, h}));
    const bool on = lies_on(surface, f, k_guessed_within) && lies_on(surface, g, k_guessed_within) &&
                    lies_on(surface, h, k_guessed_within);
    return on ? std::optional<FittedSurface>(surface) : std::nullopt;
  }

  // Where the planes of three flats meet.
  std::optional<Vec3> apex_at(std::size_t f, std::size_t g, std::size_t h) const {
    const Vec3 a = flats_[f].normal, b = flats_[g].normal, c = flats_[h].normal;
    const double volume = dot(a, cross(b, c));
    if (!(std::fabs(volume) > 1e-9)) return std::nullopt;
    const Vec3 sum = dot(a, flats_[f].middle) * cross(b, c) + dot(b, flats_[g].middle) * cross(c, a) +
                     dot(c, flats_[h].middle) * cross(a, b);
    return (1.0 / volume) * sum;
  }

  std::optional<FittedSurface> cone_at(std::size_t f, std::size_t g, std::size_t h) const {
    const std::optional<Vec3> apex = apex_at(f, g, h);
    const Vec3 a = flats_[f].normal;
    const Vec3 axis = cross(flats_[g].normal - a, flats_[h].normal - a);
    if (!apex || !(norm(axis) > 1e-9)) return std::nullopt;
    FittedSurface surface;
    surface.sort = SurfaceSort::cone;
    surface.origin = *apex;
    surface.axis = normalised(axis);
    if (dot(flats_[f].middle - *apex, surface.axis) < 0.0) surface.axis = -surface.axis;
    const std::vector<Vec3> points = points_of({f, g, h});
    for (const Vec3 p : points) {
      const Vec3 d = p - *apex;
      const double z = dot(d, surface.axis);
      surface.angle += std::atan2(norm(d - z * surface.axis), z) / static_cast<double>(points.size());
    }
    const bool on = lies_on(surface, f, k_guessed_within) && lies_on(surface, g, k_guessed_within) &&
                    lies_on(surface, h, k_guessed_within);
    return on ? std::optional<FittedSurface>(surface) : std::nullopt;
  }

  std::optional<FittedSurface> ruled_at(std::size_t f, std::size_t g, std::size_t h) const {
    FittedSurface surface;
    surface.sort = SurfaceSort::ruled;
    const Vec3 along = cross(flats_[f].normal, flats_[g].normal);
    if (!(norm(along) > k_flat)) return std::nullopt;
    surface.axis = normalised(along);
    surface.parallel = std::fabs(dot(flats_[h].normal, surface.axis)) < 1e-4;
    if (surface.parallel) return surface;
    const std::optional<Vec3> apex = apex_at(f, g, h);
    if (!apex) return std::nullopt;
    surface.origin = *apex;
    return surface;
  }

  const Mesh& mesh_;
  const std::vector<Flat>& flats_;
  double within_;
  std::vector<bool> taken_;
  std::vector<std::size_t> order_;
  std::vector<int> flats_about_;  // a corner
  std::vector<MeshWall> walls_;
};

}  // namespace

bool flat_lies_on(const Mesh& mesh, const FittedSurface& surface, const Flat& flat, double within) {
  if (surface.sort == SurfaceSort::ruled) {
    // a flat's normal is as good as its width
    const Vec3 way = flat.middle - surface.origin;
    const double off = surface.parallel ? dot(flat.normal, surface.axis) : dot(flat.normal, way) / norm(way);
    return std::fabs(off) * std::sqrt(flat.area) <= within;
  }
  const Vec3 out = flat.middle - surface.heart_of(flat.middle);
  if (!(std::fabs(dot(flat.normal, out)) > 0.7 * norm(out))) return false;
  return std::all_of(flat.corners.begin(), flat.corners.end(), [&](int corner) {
    return surface.distance_of(mesh.points[static_cast<std::size_t>(corner)]) <= within;
  });
}

std::vector<Vec3> corner_points(const Mesh& mesh, std::vector<int> corners) {
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
  std::vector<Vec3> points;
  for (const int corner : corners) points.push_back(mesh.points[static_cast<std::size_t>(corner)]);
  return points;
}

std::vector<MeshWall> mesh_walls(const Mesh& mesh, const std::vector<Flat>& flats, double within) {
  std::vector<MeshWall> walls = Walls(mesh, flats, within).find();
  settle_facets(mesh, walls, within);
  return walls;
}

}  // namespace linerwright
