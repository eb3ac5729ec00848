// The solids read back from the STEP.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/pressed_bend.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/solid/face_edges.hpp"
#include "linerwright/solid/inside_points.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"

namespace linerwright {

const Wall& wall_of(const Fitting& fitting, const Part& part) {
  return fitting.wall_of(fitting.piece(part.piece.value()));
}

namespace {

constexpr int k_points_around = 24;
constexpr double k_edge_spacing = 20.0;  // mm

const Part* part_named(const std::vector<Part>& parts, const std::string& name) {
  const auto found =
      std::find_if(parts.begin(), parts.end(), [&](const Part& part) { return part.name == name; });
  return found == parts.end() ? nullptr : &*found;
}

// Points around the ends of each length of duct inside one lining, where the metal is joined.
std::vector<Vec3> around_ends(const Fitting& straight, double low, double high) {
  std::vector<Vec3> points;
  const Sheet& sheet = straight.walls.front().sheet;
  for (const double v : {low, high})
    for (int i = 0; i < k_points_around; ++i)
      points.push_back(sheet.point(k_two_pi * i / k_points_around, v, 0.0));
  return points;
}

// Points on the edges of the metal and the bore, as the parameters have them: all around every open end.
std::vector<Vec3> around_ends(const Fitting& fitting, double depth) {
  std::vector<Vec3> points;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    for (const End end : k_both_ends) {
      const Wall& wall = fitting.walls[w];
      const JointUse& use = wall.use(end);
      if (wall.layer != 0) continue;
      if (is_disc_alone(fitting) && end == End::low)  // its metal's rim
        for (int i = 0; i < k_points_around; ++i)
          points.push_back(wall.sheet.point(k_two_pi * i / k_points_around, 0.0, depth));
      if (!fitting.joint(use.joint).open()) continue;
      if (end == End::low && wall.sheet.square_collar() > 0.0)
        for (int side = 0; side < 4; ++side) {
          const Frame frame = panel_frame(wall.sheet, side);
          const std::vector<Vec2> face = panel_face(wall.sheet, side, depth);
          for (const double share : {0.0, 0.25, 0.5, 0.75}) {
            const Vec2 at = (1.0 - share) * face[0] + share * face[1];
            points.push_back(frame.point({at.x, at.y, -depth}));
          }
        }
      const int metal = metal_end_of(fitting, wall, end);
      // beyond the lining the bore is the metal's own
      const double at = metal == use.joint ? depth : std::min(depth, 0.0);
      for (int i = 0; i < k_points_around; ++i) {
        const double theta = k_two_pi * i / k_points_around;
        points.push_back(
            wall.sheet.point(theta, height_at(fitting.joint(metal), use.side, theta, shell_depths(at)), at));
      }
    }
  return points;
}

std::vector<Vec3> around_ends(const PressedBend& bend) {
  std::vector<Vec3> points;
  const Frame far = far_end(bends_of(bend).back());
  for (int i = 0; i < k_points_around; ++i) {
    const double x = bend.radius * std::cos(k_two_pi * i / k_points_around);
    const double y = bend.radius * std::sin(k_two_pi * i / k_points_around);
    points.push_back(bend.frame.point({x, y, -bend.low_collar}));
    points.push_back(far.point({x, y, 0.0}));
  }
  return points;
}

std::vector<Vec3> points_of(const std::vector<std::vector<Vec3>>& edges) {
  std::vector<Vec3> points;
  for (const std::vector<Vec3>& edge : edges) points.insert(points.end(), edge.begin(), edge.end());
  return points;
}

// At most so many of the points, evenly spread over their list.
std::vector<Vec3> evenly(const std::vector<Vec3>& points, std::size_t most) {
  std::vector<Vec3> taken;
  const std::size_t count = std::min(most, points.size());
  for (std::size_t i = 0; i < count; ++i) taken.push_back(points[i * points.size() / count]);
  return taken;
}

// On which sides of the plane an edge that runs along it for a while lies.
struct Sides {
  bool above = false;
  bool below = false;
};

Sides grazing_sides(const std::vector<Vec3>& edge, const PlaneTarget& plane) {
  constexpr double k_touching = 0.01;  // mm
  constexpr double k_flat = 0.1;       // rise per length
  Sides sides;
  double low = 1e300;
  double high = -1e300;
  bool grazes = false;
  for (std::size_t i = 0; i < edge.size(); ++i) {
    const double away = dot(edge[i] - plane.point, plane.normal);
    low = std::min(low, away);
    high = std::max(high, away);
    for (const std::size_t k : {i - 1, i + 1})
      if (k < edge.size() && std::fabs(away) < k_touching &&
          std::fabs(dot(edge[k] - edge[i], plane.normal)) < k_flat * distance(edge[k], edge[i]))
        grazes = true;
  }
  if (grazes) sides = {high > k_touching, low < -k_touching};
  return sides;
}

// Area of the bore at a station. In an end's own plane the bore has no slice, and where one of its edges runs
// along the plane on one side, as at the seam of an eccentric taper, the kernel errs by more than the limit:
// there the area is carried on to the plane in a straight line from two slices on the other side.
double area_at(const Solid& bore, const std::vector<std::vector<Vec3>>& edges, const Passage& passage,
               std::size_t station) {
  const PlaneTarget plane = passage.stations[station].plane;
  Sides taken;
  const bool first = station == 0;
  if (first || station + 1 == passage.stations.size()) {
    const Vec3 next = passage.stations[first ? 1 : station - 1].plane.point;
    (dot(next - plane.point, plane.normal) < 0.0 ? taken.above : taken.below) = true;
  } else {
    for (const std::vector<Vec3>& edge : edges) {
      const Sides sides = grazing_sides(edge, plane);
      taken = {taken.above || sides.above, taken.below || sides.below};
    }
  }
  const auto area = [&](double away) {
    return slice_area_at(bore, {plane.point + away * plane.normal, plane.normal});
  };
  if (taken.above == taken.below) return area(0.0);
  const double step = taken.above ? -1e-4 : 1e-4;  // mm
  return 2.0 * area(step) - area(2.0 * step);
}

// Where no common volume of two pieces is to be had: points just inside either one, so many of each, a
// fiftieth of a millimetre under its facets, none of which may lie in the other.
CheckResult common_points(const Part& a, const Part& b, std::size_t most, const std::string& why) {
  constexpr double k_depth = 0.02;  // mm
  const MeshOptions fine{0.1 * k_depth, 0.2};
  const Mesh mesh_a = mesh_of(a.solid, fine, 1.0);
  const Mesh mesh_b = mesh_of(b.solid, fine, 1.0);
  // beside a sharp edge a point may come out on the other side of its own piece: it is looked for there, too
  const std::vector<Vec3> of_a = points_under_facets(mesh_a, k_depth, most);
  const std::vector<Vec3> of_b = points_under_facets(mesh_b, k_depth, most);
  const std::size_t shared =
      count_in_both(a.solid, b.solid, mesh_b, of_a) + count_in_both(b.solid, a.solid, mesh_a, of_b);
  return within("interference", static_cast<double>(shared), 0.0, "points",
                fmt::format("of {} points just inside {} and {}, made again, that lie in the other: {}",
                            of_a.size() + of_b.size(), a.name, b.name, why));
}

// The layers of a taper whose rulings lean unevenly touch all over on a face that neither the kernel's nor
// our surfaces hold in closed form: its booleans take minutes there. Where one reached into the other, edges
// would.
bool touch_on_ruled_faces(const Fitting& fitting, const Part& a, const Part& b) {
  const auto leans_unevenly = [&](const Part& part) {
    const Sheet& sheet = wall_of(fitting, part).sheet;
    return !sheet.is_cylinder() && !sheet.is_right_cone();
  };
  return wall_of(fitting, a).layer != wall_of(fitting, b).layer && (leans_unevenly(a) || leans_unevenly(b));
}

// Cones about one sphere meet in faces that are ruled between fitted curves: the kernel's booleans of such
// pieces take half a minute and more.
bool meet_about_a_sphere(const Fitting& fitting, const Part& a, const Part& b) {
  const auto about_a_sphere = [&](const Part& part) {
    const Wall& wall = wall_of(fitting, part);
    return std::any_of(fitting.joints.begin(), fitting.joints.end(), [&](const Joint& joint) {
      const int index = static_cast<int>(&joint - fitting.joints.data());
      return std::holds_alternative<SphereTarget>(joint.target) &&
             (wall.low.joint == index || wall.high.joint == index);
    });
  };
  return about_a_sphere(a) && about_a_sphere(b) &&
         !(wall_of(fitting, a).sheet.is_cylinder() && wall_of(fitting, b).sheet.is_cylinder());
}

// Of edges that touch the other's ruled faces the kernel takes up to 10 ms for a point.
CheckResult edges_in_each_other(const Part& a, const Part& b) {
  const auto on_edges = [](const Part& part) {
    constexpr std::size_t k_most = 60;
    return evenly(points_of(edge_points(part.solid, k_edge_spacing)), k_most);
  };
  const std::vector<Vec3> of_a = on_edges(a);
  const std::vector<Vec3> of_b = on_edges(b);
  const std::size_t shared = inside(b.solid, of_a).size() + inside(a.solid, of_b).size();
  return within("interference", static_cast<double>(shared), 0.0, "points",
                fmt::format("of {} points on edges of {} and {}, made again, that lie in the other",
                            of_a.size() + of_b.size(), a.name, b.name));
}

void add_slices(std::vector<CheckResult>& results, const Fitting& fitting, const Part& bore) {
  constexpr double k_spacing = 5.0;  // mm
  const std::vector<std::vector<Vec3>> edges = edge_points(bore.solid, k_spacing);
  double off = 0.0;
  int slices = 0;
  for (const Passage& passage : fitting.passages)
    for (std::size_t i = 0; i < passage.stations.size() && passage.stations.size() > 1; ++i) {
      const double exact = passage.stations[i].lined_area;
      try {
        off = std::max(off, std::fabs(area_at(bore.solid, edges, passage, i) - exact) / exact);
        ++slices;
      } catch (const GeometryError& error) {
        results.push_back(
            undone("bore slices", fmt::format("{} at {} mm: {}", passage.name,
                                              trimmed(passage.stations[i].distance, 1), error.what())));
      }
    }
  results.push_back(slices > 0 ? within("bore slices", off, 1e-6, "",
                                        fmt::format("{} slices against the closed form", slices))
                               : undone("bore slices", "no slice was taken"));
}

}  // namespace

std::vector<CheckResult> prove_parts(const Fitting& fitting, const Model& model,
                                     const std::vector<Part>& parts) {
  std::vector<CheckResult> results;
  if (parts.size() != model.parts.size())
    return {undone("step parts", fmt::format("{} parts instead of {}", parts.size(), model.parts.size()))};
  double worst = 0.0;
  double liner = 0.0;
  for (const Part& expected : model.parts) {
    const Part* part = part_named(parts, expected.name);
    if (part == nullptr) return {undone("step parts", "no part named " + expected.name)};
    worst = std::max(worst, std::fabs(part->volume - expected.volume) / expected.volume);
    if (expected.role == PartRole::liner) liner += part->volume;
  }
  results.push_back(within("step volumes", worst, 1e-7, "",
                           fmt::format("{} parts against the solids made again", model.parts.size())));
  const bool alone = is_disc_alone(fitting);
  const Part* bore = part_named(parts, "bore");
  const double open = alone ? 0.0 : bore->volume;
  const double fill = std::fabs(liner + model.plug_volume - (model.cavity_volume - open)) / liner;
  results.push_back(within("step fill", fill, 1e-8, "", fill_words(fitting)));

  // equal volumes may still be mirrored or moved: the ends must be where the parameters have them
  std::vector<double> lengths = duct_joints(fitting.request);
  lengths.insert(lengths.begin(), 0.0);
  if (!alone) lengths.push_back(fitting.passages.front().stations.back().distance);
  const std::vector<Vec3> air =
      alone ? std::vector<Vec3>{} : around_ends(fitting, fitting.liner.bore_depth());
  double off_ends = alone ? 0.0 : distance_to_edges(bore->solid, air);
  std::size_t points = air.size();
  for (const Part& expected : model.parts) {
    if (expected.role != PartRole::metal) continue;
    const auto i = static_cast<std::size_t>(expected.piece.value_or(0));
    const std::vector<Vec3> metal = fitting.pressed  ? around_ends(*fitting.pressed)
                                    : expected.piece ? around_ends(fitting, lengths.at(i), lengths.at(i + 1))
                                                     : around_ends(fitting, 0.0);
    off_ends = std::max(off_ends, distance_to_edges(part_named(parts, expected.name)->solid, metal));
    points += metal.size();
  }
  results.push_back(
      within("step places", off_ends, 1e-3, "mm", fmt::format("{} points around the ends", points)));

  // Touching bodies share their faces only before they are written apart into a file, and the boolean
  // operation is sure of itself only then: the pairs are taken from the solids made again, once edges and
  // volumes have shown that the file's are the same.
  double apart = 0.0;
  std::size_t compared = 0;
  for (const Part& expected : model.parts) {
    const Part* part = part_named(parts, expected.name);
    const std::vector<Vec3> made = points_of(edge_points(expected.solid, k_edge_spacing));
    // a file of another size, which any of its points shows, may have a thousand times as many
    const std::vector<Vec3> read =
        evenly(points_of(edge_points(part->solid, k_edge_spacing)), 4 * made.size());
    apart = std::max({apart, distance_to_edges(part->solid, made), distance_to_edges(expected.solid, read)});
    compared += made.size() + read.size();
  }
  results.push_back(within("step edges", apart, 1e-3, "mm",
                           fmt::format("{} points of the edges against the solids made again", compared)));
  double off = 0.0;
  for (const Part& part : parts) off = std::max(off, edges_off_faces(part.solid));
  results.push_back(within("step faces", off, 1e-3, "mm", "edges of the file's solids from their faces"));
  double common = 0.0;
  int pairs = 0;
  bool folded = false;
  for (std::size_t i = 0; i < model.parts.size(); ++i)
    for (std::size_t k = i + 1; k < model.parts.size(); ++k) {
      const Part& a = model.parts[i];
      const Part& b = model.parts[k];
      if (a.role != PartRole::liner || b.role != PartRole::liner) continue;
      if (are_folded(fitting, a, b)) {
        folded = true;
        continue;
      }
      if (touch_on_ruled_faces(fitting, a, b)) {
        results.push_back(edges_in_each_other(a, b));
        results.push_back(common_points(a, b, 200, "layers that touch on ruled faces"));
        continue;
      }
      if (meet_about_a_sphere(fitting, a, b)) {
        results.push_back(common_points(a, b, 200, "cones about one sphere"));
        continue;
      }
      try {
        common = std::max(common, common_volume(a.solid, b.solid) / std::min(a.volume, b.volume));
        ++pairs;
      } catch (const GeometryError&) {
        results.push_back(common_points(a, b, 2000, "the kernel doubts their common volume"));
      }
    }
  if (folded) results.push_back(prove_folded_apart(fitting, model));
  if (pairs > 0)
    results.push_back(within("interference", common, 1e-9, "",
                             fmt::format("common volume of {} pairs of pieces, made again", pairs)));

  if (!alone) add_slices(results, fitting, *bore);
  return results;
}

}  // namespace linerwright
