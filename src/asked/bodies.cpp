#include <algorithm>

#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_volume = 1e-6;     // share: against integrals
constexpr double k_written = 0.0005;  // mm3: volumes are written to a thousandth
// What a share of a volume is taken of, at least: a layer so thick over the body's surface. The joints'
// fitted edges, true to a hundred-thousandth of a millimetre, are much of a short collar's volume.
constexpr double k_layer = 12.0;  // mm

// How far the best of a body's flat ends is off the wanted one: centre, direction times the radius, and
// radii.
double end_off(const std::vector<RoundEnd>& ends, const OpenEnd& wanted, const std::vector<double>& radii) {
  double best = 1e300;
  for (const RoundEnd& end : ends) {
    double off =
        std::max(size(end.centre - wanted.centre), wanted.radius * size(end.outward - wanted.outward));
    for (const double radius : radii) {
      double near = 1e300;
      for (const double one : end.radii) near = std::min(near, std::abs(one - radius));
      off = std::max(off, near);
    }
    best = std::min(best, off);
  }
  return best;
}

struct Sizes {
  double outer, inner, bore, g;  // depths of the layer's faces and of the bore; the metal's gauge
};

double metal_wanted(Case& asked, const Sizes& sizes) {
  if (asked.wanted.metal_volume) return *asked.wanted.metal_volume;
  std::optional<double>& volume = asked.integrals.metal;
  if (volume) return *volume;
  volume = 0.0;
  for (const Wall& wall : asked.shells.walls) {
    *volume += layer_volume(wall, -sizes.g, 0.0);
    for (const Rim& rim : wall.metal_openings) *volume -= opening_volume(wall, rim, -sizes.g, 0.0);
  }
  return *volume;
}

double inside_wanted(Case& asked, double depth) {
  const auto [place, fresh] = asked.integrals.insides.emplace(depth, 0.0);
  if (fresh) place->second = inside_volume(asked.shells, depth);
  return place->second;
}

Sizes sizes_of(const Case& asked) {
  const Request& request = asked.made.request;
  return {request.outer_face(), request.inner_face(), request.bore_depth(), request.value("gauge")};
}

// A mitred branch and its hole end on straight lines from face to face; one laid over or put through ends on
// the body's face, its hole on the branch's, layer by layer.
double liner_volume(Case& asked, const Wall& wall, double from, double to) {
  const auto [place, fresh] = asked.integrals.liners.emplace(std::make_tuple(wall.id, from, to), 0.0);
  if (fresh) {
    place->second = asked.made.request.word("joint") == "mitre" ? piece_volume(wall, from, to)
                                                                : layer_volume(wall, from, to);
    for (const Rim& rim : wall.openings) place->second -= opening_volume(wall, rim, from, to);
  }
  return place->second;
}

}  // namespace

void prove_bodies(Case& asked, const std::vector<Body>& bodies) {
  if (bodies.empty()) return;
  const Sizes sizes = sizes_of(asked);
  Worst named("bodies", 0.0, "", "a metal, a bore and a liner for each piece");
  Worst volumes("volumes", k_volume, "", "integrals of the walls, a share of volume or surface");
  Worst ends("open ends", 1e-4, "mm", "centres, directions and radii where the duct opens");
  Worst figures("volume figures", k_volume, "", "integrals of the walls between their depths");
  std::map<std::string, double> liners;
  for (const Wall& wall : asked.wanted.walls) liners[wall.id] = 0.0;
  std::map<std::string, std::vector<RoundEnd>> wall_ends;
  std::optional<Body> metal;  // all lengths of duct together
  const Body* bore = nullptr;
  std::size_t lengths = 0;
  for (const Body& body : bodies) {
    if (body.name.compare(0, 5, "metal") == 0) {
      if (++lengths == 1) metal = Body{"metal", 0.0, {}};
      metal->volume += body.volume;
      metal->ends.insert(metal->ends.end(), body.ends.begin(), body.ends.end());
    }
    if (body.name == "bore") bore = &body;
    if (body.name.compare(0, 6, "liner ") != 0) continue;
    bool found = false;
    for (auto& [wall, volume] : liners)
      if (!found && belongs(body.name.substr(6), wall)) {
        volume += body.volume;
        auto& all = wall_ends[wall];
        all.insert(all.end(), body.ends.begin(), body.ends.end());
        found = true;
      }
    named.expect(found, "'" + body.name + "' was not asked for");
  }
  named.expect(lengths == 1 + asked.wanted.duct_joints.size() || sizes.outer > 0.0,
               std::to_string(lengths) + " bodies of metal");
  const bool opens = !asked.wanted.bore.empty();
  named.expect((bore != nullptr) == opens || sizes.outer > 0.0, opens ? "no bore" : "a bore in a disc alone");
  double liner = 0.0;
  for (const Wall& wall : asked.wanted.walls) {
    const double wanted = liner_volume(asked, wall, sizes.outer, sizes.inner);
    liner += wanted;
    if (sizes.bore > sizes.inner) liner += liner_volume(asked, wall, sizes.inner, sizes.bore);
    const double middle = 0.5 * (sizes.outer + sizes.inner);
    const double rims = 2.0 * k_turn * (wall.larger() - middle) * (sizes.inner - sizes.outer);
    const double surface = area_at(wall, sizes.outer) + area_at(wall, sizes.inner) + rims;
    volumes.off((liners[wall.id] - wanted) / std::max(wanted, k_layer * surface), "liner " + wall.id);
  }
  if (sizes.outer > 0.0) {  // metal and bore are no matter of a layer inside another
    for (const Worst* line : {&named, &volumes}) line->into(asked.findings);
    return;
  }
  const double inside = inside_wanted(asked, sizes.bore);
  const double cavity = inside_wanted(asked, 0.0);
  const double metal_volume = metal_wanted(asked, sizes);
  double covered = 0.0;
  for (const Wall& wall : asked.shells.walls) covered += area_at(wall, 0.0);
  if (metal)
    volumes.off((metal->volume - metal_volume) / std::max(metal_volume, k_layer * 2.0 * covered), "metal");
  if (bore != nullptr) volumes.off((bore->volume - inside) / std::max(inside, k_layer * covered), "bore");
  const std::map<std::string, double> stated{
      {"liner", liner}, {"metal", metal_volume}, {"bore", inside}, {"cavity", cavity}};
  for (const auto& [key, wanted] : stated) {
    const auto found = asked.made.volumes.find(key);
    if (found == asked.made.volumes.end())
      named.wrong("fitting.json states no volume of the " + key);
    else
      figures.off(std::max(0.0, std::abs(found->second - wanted) - k_written) /
                      std::max(wanted, key == "bore" ? k_layer * covered : 0.0),
                  key);
  }
  for (const OpenEnd& end : asked.wanted.ends) {
    std::vector<double> radii{end.radius};
    if (end.square) radii.push_back(end.radius - sizes.inner);
    ends.off(end_off(wall_ends[end.wall], end, radii), "liner " + end.wall);
    if (bore != nullptr && end.square && asked.wanted.bore_ends.empty())
      ends.off(end_off(bore->ends, end, {end.radius - sizes.bore}), "bore");
  }
  if (bore != nullptr)
    for (const OpenEnd& end : asked.wanted.bore_ends)
      ends.off(end_off(bore->ends, end, {end.radius}), "bore");
  if (metal)
    for (const OpenEnd& end : asked.wanted.metal_ends.empty() ? asked.wanted.ends : asked.wanted.metal_ends) {
      std::vector<double> radii{end.radius};
      if (end.square) radii.push_back(end.radius + sizes.g);
      ends.off(end_off(metal->ends, end, radii), "metal");
    }
  for (const Worst* line : {&named, &volumes, &figures, &ends}) line->into(asked.findings);
}

namespace {

// How far a corner is off the surfaces it may lie on: of any wall between whose edges it stands, at one of
// the depths or between them.
double off_surfaces(const Place& corner, const Wanted& wanted, double from, double to) {
  double best = 1e300;
  for (const Wall& wall : wanted.walls) {
    const double depth = wall.depth_of(corner);
    const double off = std::max({0.0, from - depth, depth - to});
    if (off >= best) continue;
    const Place rim = corner - wall.origin;
    const double theta = wall.ruling_over(corner);
    const double w = std::clamp(depth, from, to);
    const double v = wall.taper > 0.0 ? along(rim - wall.at(theta, 0.0, w) + wall.origin, wall.ruling(theta))
                                      : along(rim, wall.axis);
    // the face between both depths' edges runs straight from one to the other
    const double share = to > from ? (w - from) / (to - from) : 0.0;
    const auto edge = [&](const Edge& at) { return (1.0 - share) * at(theta, from) + share * at(theta, to); };
    const double beyond = std::max({0.0, edge(wall.low) - v, v - edge(wall.high)});
    best = std::min(best, std::max(off, beyond));
  }
  return best;
}

// The largest and the least distance from the centre of the corners in an end's plane, against the radii.
double end_off(const std::vector<Facet>& facets, const OpenEnd& end, double outer, double inner) {
  double most = -1e300;
  double least = 1e300;
  for (const Facet& facet : facets) {
    bool flat = true;
    for (const Place& corner : facet.corner)
      flat = flat && std::abs(along(corner - end.centre, end.outward)) < 1e-3;
    if (!flat) continue;
    for (const Place& corner : facet.corner) {
      const double out = size(corner - end.centre);
      if (out > outer + 1.0) continue;  // another face in the same plane
      most = std::max(most, out);
      least = std::min(least, out);
    }
  }
  return inner > 0.0 ? std::max(std::abs(most - outer), std::abs(least - inner)) : std::abs(most - outer);
}

}  // namespace

void prove_meshes(Case& asked) {
  const Sizes sizes = sizes_of(asked);
  // a float holds 24 binary digits
  Worst ends("mesh ends", 0.002, "mm", "radii around the open ends' centres");
  Worst corners("mesh corners", 0.01, "mm", "corners of facets between the walls' depths and edges");
  Worst volumes("mesh volumes", asked.made.deflection, "mm", "integrals, over the surface");
  const bool follows = !asked.wanted.metal_volume;
  struct Kind {
    const char* name;
    double volume, from, to;
  };
  double liner = 0.0;
  for (const Wall& wall : asked.wanted.walls) {
    liner += liner_volume(asked, wall, 0.0, sizes.inner);
    if (sizes.bore > sizes.inner) liner += liner_volume(asked, wall, sizes.inner, sizes.bore);
  }
  const Kind kinds[] = {{"liner", liner, 0.0, sizes.bore},
                        {"metal", metal_wanted(asked, sizes), -sizes.g, 0.0},
                        {"bore", inside_wanted(asked, sizes.bore), sizes.bore, sizes.bore}};
  for (const Kind& kind : kinds) {
    const std::string name = name_ending(asked.files, std::string("-") + kind.name + ".stl");
    if (name.empty()) continue;
    const std::vector<Facet> facets = read_facets(asked.files.at(name), name);
    if (facets.empty()) throw Unreadable(name + " has no facet");
    const std::string which = kind.name;
    volumes.off((volume_of(facets) - kind.volume) / surface_of(facets), which);
    if (which == "metal" && !follows) {
      for (const OpenEnd& end : asked.wanted.metal_ends)
        ends.off(end_off(facets, end, end.radius + sizes.g, end.radius), which);
      continue;
    }
    const Wanted& wanted = which == "liner" ? asked.wanted : asked.shells;
    for (const OpenEnd& end : wanted.ends) {
      if (!end.square) continue;
      if (which == "liner") ends.off(end_off(facets, end, end.radius, end.radius - sizes.bore), which);
      if (which == "metal") ends.off(end_off(facets, end, end.radius + sizes.g, end.radius), which);
      if (which == "bore" && wanted.bore_ends.empty())
        ends.off(end_off(facets, end, end.radius - sizes.bore, 0.0), which);
    }
    if (which == "bore")
      for (const OpenEnd& end : wanted.bore_ends) ends.off(end_off(facets, end, end.radius, 0.0), which);
    const bool layers = which == "liner" && sizes.bore > sizes.inner;  // end faces bend where they meet
    const std::size_t stride = 1 + facets.size() / 2000;
    for (std::size_t i = 0; i < facets.size(); i += stride)
      for (const Place& corner : facets[i].corner) {
        double off = off_surfaces(corner, wanted, kind.from, layers ? sizes.inner : kind.to);
        if (layers) off = std::min(off, off_surfaces(corner, wanted, sizes.inner, kind.to));
        if (which != "liner" && wanted.off_closure)
          off = std::min(off, wanted.off_closure(corner, which == "metal"));
        corners.off(off, which);
      }
  }
  for (const Worst* line : {&ends, &corners, &volumes}) line->into(asked.findings);
}

}  // namespace linerwright::asked
