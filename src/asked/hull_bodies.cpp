// Bodies and meshes of a square-to-round: volumes by sections, ends by their corners and circles.
#include <algorithm>

#include "hull_openings.hpp"
#include "hull_proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_volume = 1e-6;   // share: against integrals
constexpr double k_layer = 12.0;    // mm, see bodies.cpp
constexpr double k_written = 5e-4;  // mm3

struct Volumes {
  double cavity, bore, outside, surface;
  double liner, metal;            // openings taken out
  std::array<double, 4> cut_out;  // of the liner in each corner's quarter
};

// What openings take out of liner and metal, in the collar too.
void take_openings(Volumes& volumes, const Case& asked, const Hull& hull) {
  const Request& request = asked.made.request;
  const double from = request.outer_face();
  const double to = request.inner_face();
  const double g = request.value("gauge");
  for (const HullOpening& opening : hull_openings(hull, request, false)) {
    const double volume = opening_volume(hull, opening, from, to);
    volumes.cut_out[static_cast<std::size_t>(opening.corner)] += volume;
    volumes.liner -= volume;
  }
  for (const HullOpening& opening : hull_openings(hull, request, true))
    volumes.metal -= opening_volume(hull, opening, -g, 0.0);
  for (const Wall& wall : asked.wanted.walls) {
    for (const Rim& rim : wall.openings) volumes.liner -= opening_volume(wall, rim, from, to);
    for (const Rim& rim : wall.metal_openings) volumes.metal -= opening_volume(wall, rim, -g, 0.0);
  }
}

Volumes volumes_of(Case& asked, const Hull& hull) {
  const auto inside = [&](double w) {
    const auto [place, fresh] = asked.integrals.insides.emplace(w, 0.0);
    if (fresh) place->second = hull.inside(w);
    return place->second;
  };
  const double g = asked.made.request.value("gauge");
  const double t = asked.made.request.bore_depth();
  Volumes volumes{inside(0.0), inside(t), inside(-g), (inside(-g) - inside(0.0)) / g, 0.0, 0.0, {}};
  volumes.liner = volumes.cavity - volumes.bore;
  volumes.metal = volumes.outside - volumes.cavity;
  take_openings(volumes, asked, hull);
  return volumes;
}

// The upright box around places.
struct Extent {
  Place low{1e300, 1e300, 1e300};
  Place high{-1e300, -1e300, -1e300};
  bool any = false;
  void add(const Place& p) {
    any = true;
    for (std::size_t k = 0; k < 3; ++k) {
      low[k] = std::min(low[k], p[k]);
      high[k] = std::max(high[k], p[k]);
    }
  }
  // Against the four sides' planes, w deep, where they cross the plane z = 0.
  double off_sides(const Hull& hull, double w) const {  // upright ones where a collar ends there
    if (!any) return 1e300;
    double worst = 0.0;
    for (int side = 0; side < 4; ++side) {
      const std::size_t k = side % 2 == 0 ? 0 : 1;
      const double found = side < 2 ? high[k] : -low[k];
      worst = std::max(worst, std::abs(found - hull.half_side(side + 1) +
                                       w * (hull.square > 0.0 ? 1.0 : hull.size_of(side * k_quarter))));
    }
    return worst;
  }
};

void take_end(Extent& extent, const Hull& hull, const Body& body) {
  for (const FlatFace& face : body.flats) {
    if (std::abs(face.outward[2] + 1.0) > 1e-9) continue;
    const bool there = std::all_of(face.corners.begin(), face.corners.end(),
                                   [&](const Place& p) { return std::abs(p[2] - hull.start()) < 1e-4; });
    if (there)
      for (const Place& p : face.corners) extent.add(p);
  }
}

// Whether each corner of the rectangle is one of a face's at that end.
double corner_off(const Hull& hull, const Body& body) {
  double worst = 0.0;
  for (int q = 0; q < 4; ++q) {
    double best = 1e300;
    for (const FlatFace& face : body.flats)
      for (const Place& p : face.corners)
        best = std::min(best, size(p - hull.corner(q) - Place{0.0, 0.0, hull.start()}));
    worst = std::max(worst, best);
  }
  return worst;
}

// Centre, direction and radius of the round end, the best of a body's flat ends.
double round_off(const Hull& hull, const Body& body) {
  const Place centre{hull.moved[0], hull.moved[1], hull.end()};
  double best = 1e300;
  for (const RoundEnd& end : body.ends) {
    double near = 1e300;
    for (const double radius : end.radii) near = std::min(near, std::abs(radius - hull.radius));
    best = std::min(best, std::max({near, size(end.centre - centre),
                                    hull.radius * size(end.outward - Place{0.0, 0.0, 1.0})}));
  }
  return best;
}

}  // namespace

void prove_hull_bodies(Case& asked, const Hull& hull, const std::vector<Body>& bodies) {
  const Request& request = asked.made.request;
  const std::vector<HullPart> parts = parts_of(request);
  Worst named("bodies", 0.0, "", "a metal, a bore and a liner for each piece");
  Worst volumes("volumes", k_volume, "", "sections of what all planes leave, a share of volume or surface");
  Worst ends("open ends", 1e-4, "mm", "the rectangle's corners, the circle's centre, direction and radius");
  Worst figures("volume figures", k_volume, "", "sections of what all planes leave");
  const Volumes wanted = volumes_of(asked, hull);
  const auto share = [&](double off, double whole) {
    return std::max(0.0, std::abs(off) - k_written) / std::max(whole, k_layer * wanted.surface);
  };
  const std::map<std::string, double> stated{
      {"liner", wanted.liner}, {"metal", wanted.metal}, {"bore", wanted.bore}, {"cavity", wanted.cavity}};
  for (const auto& [key, volume] : stated) {
    const auto found = asked.made.volumes.find(key);
    if (found == asked.made.volumes.end())
      named.expect(bodies.empty(), "fitting.json states no volume of the " + key);
    else
      figures.off(share(found->second - volume, volume), key);
  }
  if (bodies.empty()) {
    for (const Worst* line : {&named, &figures}) line->into(asked.findings);
    return;
  }
  double liner = 0.0;
  std::size_t liners = 0;
  std::size_t panels = 0;
  double collar_off = 1e300;  // the round end of what lines the collar
  Extent lined;
  const Body* metal = nullptr;
  const Body* bore = nullptr;
  for (const Body& body : bodies) {
    if (body.name == "metal") metal = &body;
    if (body.name == "bore") bore = &body;
    if (body.name.compare(0, 6, "liner ") != 0) continue;
    const std::string id = body.name.substr(6);
    named.expect((hull.collar > 0.0 && belongs(id, "collar")) || (hull.square > 0.0 && panel_side(id) >= 0) ||
                     std::any_of(asked.made.pieces.begin(), asked.made.pieces.end(),
                                 [&](const MadePiece& piece) { return piece.id == id; }),
                 "'" + body.name + "' was not asked for");
    liner += body.volume;
    if (belongs(id, "collar")) {
      collar_off = std::min(collar_off, round_off(hull, body));
      continue;
    }
    take_end(lined, hull, body);
    if (const int side = panel_side(id); hull.square > 0.0 && side >= 0) {
      volumes.off(share(body.volume - hull.panel_volume(side, request.inner_face()), 0.0), body.name);
      ++panels;
      continue;
    }
    ++liners;
    if (hull.collar == 0.0) ends.off(round_off(hull, body), body.name + ", round end");
    const std::size_t number = parts.size() < 2 ? 0 : static_cast<std::size_t>(body.name.back() - '1');
    if (hull.moved == Point{} && hull.collar == 0.0 && number < parts.size()) {
      // each part is like the others, or mirrored, but for openings
      double all = wanted.cavity - wanted.bore;
      for (int side = 0; side < 4 && hull.square > 0.0; ++side)
        all -= hull.panel_volume(side, request.inner_face());
      double own = all / static_cast<double>(parts.size());
      for (int i = 0; i < parts[number].corners; ++i)
        own -= wanted.cut_out[static_cast<std::size_t>(parts[number].first) + static_cast<std::size_t>(i)];
      volumes.off(share(body.volume - own, 0.0), body.name);
    }
  }
  named.expect(static_cast<double>(liners) == request.value("pieces"), std::to_string(liners) + " liners");
  named.expect(panels == (hull.square > 0.0 ? 4U : 0U), std::to_string(panels) + " panels");
  if (hull.collar > 0.0) ends.off(collar_off, "collar, round end");
  named.expect(metal != nullptr, "no metal");
  named.expect(bore != nullptr, "no bore");
  volumes.off(share(liner - stated.at("liner"), stated.at("liner")), "liner");
  ends.off(lined.off_sides(hull, 0.0), "liner, rectangular end");
  const double t = request.bore_depth();
  if (metal != nullptr) {
    volumes.off(share(metal->volume - stated.at("metal"), stated.at("metal")), "metal");
    ends.off(corner_off(hull, *metal), "metal, rectangular end");
    ends.off(round_off(hull, *metal), "metal, round end");
  }
  if (bore != nullptr) {
    volumes.off(share(bore->volume - wanted.bore, wanted.bore), "bore");
    Extent open;
    take_end(open, hull, *bore);
    ends.off(open.off_sides(hull, t), "bore, rectangular end");
  }
  for (const Worst* line : {&named, &volumes, &figures, &ends}) line->into(asked.findings, true);
}

namespace {

// Area of the facets that lie in the plane z, and the least and largest way of their corners from a point.
struct FlatEndOf {
  double area = 0.0;
  double near = 1e300, far = 0.0;
  Extent extent;
};

FlatEndOf in_plane(const std::vector<Facet>& facets, double z, const Point& from) {
  FlatEndOf end;
  for (const Facet& facet : facets) {
    if (std::any_of(std::begin(facet.corner), std::end(facet.corner),
                    [&](const Place& p) { return std::abs(p[2] - z) > 1e-3; }))
      continue;
    end.area += 0.5 * size(square_to(facet.corner[1] - facet.corner[0], facet.corner[2] - facet.corner[0]));
    for (const Place& p : facet.corner) {
      const double way = std::hypot(p[0] - from[0], p[1] - from[1]);
      end.near = std::min(end.near, way);
      end.far = std::max(end.far, way);
      end.extent.add(p);
    }
  }
  return end;
}

}  // namespace

void prove_hull_meshes(Case& asked, const Hull& hull) {
  const Request& request = asked.made.request;
  const double t = request.bore_depth();
  const double g = request.value("gauge");
  const double loose = asked.made.deflection;
  // a float holds 24 binary digits
  Worst ends("mesh ends", 0.002, "mm", "the rectangle's sides and the circle's radius");
  Worst areas("mesh end areas", loose, "mm", "sections at the ends, over their rims");
  Worst corners("mesh corners", 0.01, "mm", "corners of facets between the depths and the ends");
  Worst volumes("mesh volumes", loose, "mm", "sections, over the surface");
  const Volumes wanted = volumes_of(asked, hull);
  struct Kind {
    const char* name;
    double volume, from, to;
  };
  const Kind kinds[] = {
      {"liner", wanted.liner, 0.0, t}, {"metal", wanted.metal, -g, 0.0}, {"bore", wanted.bore, t, 1e300}};
  for (const Kind& kind : kinds) {
    const std::string name = name_ending(asked.files, std::string("-") + kind.name + ".stl");
    if (name.empty()) continue;
    const std::vector<Facet> facets = read_facets(asked.files.at(name), name);
    if (facets.empty()) throw Unreadable(name + " has no facet");
    const std::string which = kind.name;
    volumes.off((volume_of(facets) - kind.volume) / surface_of(facets), which);
    const bool is_bore = which == "bore";
    const FlatEndOf square = in_plane(facets, hull.start(), {});
    const FlatEndOf round = in_plane(facets, hull.end(), hull.moved);
    const auto section = [&](double z) {
      return is_bore ? hull.open_area(z, t) : hull.open_area(z, kind.from) - hull.open_area(z, kind.to);
    };
    // rims of a layer: those inside and outside
    const double around = 4.0 * (hull.half_width + hull.half_height);
    areas.off((square.area - section(hull.start())) / (2.0 * around), which + ", rectangular end");
    areas.off((round.area - section(hull.end())) / (2.0 * k_turn * hull.radius), which + ", round end");
    const double corner = std::hypot(hull.half_width, hull.half_height);
    if (which == "liner") {
      ends.off(square.extent.off_sides(hull, 0.0), "liner, rectangular end");
      ends.off(square.far - corner, "liner, the rectangle's corners");
      ends.off(round.far - hull.radius, "liner, round end");
    }
    if (which == "metal") ends.off(round.near - hull.radius, "metal, round end");
    const std::size_t stride = 1 + facets.size() / 700;
    for (std::size_t i = 0; i < facets.size(); i += stride)
      for (const Place& p : facets[i].corner) {
        const double depth = hull.depth_of(p);
        corners.off(
            std::max({0.0, kind.from - depth, depth - kind.to, hull.start() - p[2], p[2] - hull.end()}),
            which);
        // of the bore, what is no end lies on its skin
        if (is_bore && p[2] > hull.start() + 1e-3 && p[2] < hull.end() - 1e-3)
          corners.off(depth - t, "the bore's skin");
      }
  }
  for (const Worst* line : {&ends, &areas, &corners, &volumes}) line->into(asked.findings);
}

}  // namespace linerwright::asked
