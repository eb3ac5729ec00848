#include "linerwright/mesh/fitting_meshes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/pressed_bend.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_faces.hpp"

namespace linerwright {

namespace {

// Triangles of a wall with a hole may reach farther around than the steps of its curves; then these are made
// smaller.
constexpr double k_shares[] = {0.8, 0.55, 0.4, 0.28, 0.2};

Mesh closed(Mesh mesh, const std::string& name) {
  if (const int open = open_edges(mesh); open > 0)
    throw GeometryError(fmt::format("{}: {} open edges", name, open));
  if (!(mesh_volume(mesh) > 0.0)) throw GeometryError(name + ": it is turned inside out");
  return mesh;
}

// A pressed bend's metal: circles along its centreline, outside and inside.
Mesh pressed_mesh(const PressedBend& bend, double gauge, const MeshOptions& options) {
  const auto step = [&](double radius, double deflection) {
    return std::min(options.angle, 2.0 * std::acos(std::max(0.0, 1.0 - 0.4 * deflection / radius)));
  };
  const double along_bend = deflection_along(bend, gauge, options.deflection);
  const Frame& frame = bend.frame;
  struct Section {
    Vec3 middle, outside;  // of the first bend
  };
  std::vector<Section> sections;
  double side = 1.0;  // a second bend's outside is the first one's inside
  for (const PressedBend& one : bends_of(bend)) {
    const Vec3 centre = one.frame.origin + one.centreline_radius * one.frame.x;
    const auto add = [&](double turn, double ahead) {
      const Vec3 along = std::sin(turn) * one.frame.x + std::cos(turn) * one.frame.z;
      const Vec3 outside = std::sin(turn) * one.frame.z - std::cos(turn) * one.frame.x;
      sections.push_back({centre + one.centreline_radius * outside + ahead * along, side * outside});
    };
    if (one.low_collar > 0.0) add(0.0, -one.low_collar);
    const int turns =
        static_cast<int>(std::ceil(one.angle / step(one.centreline_radius + one.radius + gauge, along_bend)));
    // where the way before ended there is a section
    for (int i = sections.empty() || one.low_collar > 0.0 ? 0 : 1; i <= turns; ++i)
      add(one.angle * i / turns, 0.0);
    if (one.high_collar > 0.0) add(one.angle, one.high_collar);
    side = -1.0;
  }
  const int around = static_cast<int>(std::ceil(k_two_pi / step(bend.radius + gauge, options.deflection)));
  Mesh mesh;
  // corner (section, around, inside); outside of the bend at 0, then toward the frame's y
  const auto corner = [&](std::size_t section, int k, bool inside) {
    return static_cast<int>((section * 2 + (inside ? 1 : 0)) * static_cast<std::size_t>(around)) + k % around;
  };
  for (const Section& section : sections)
    for (const bool inside : {false, true})
      for (int k = 0; k < around; ++k) {
        const double theta = k_two_pi * k / around;
        const double radius = bend.radius + (inside ? 0.0 : gauge);
        mesh.points.push_back(section.middle + (radius * std::cos(theta)) * section.outside +
                              (radius * std::sin(theta)) * frame.y);
      }
  const auto quad = [&](int a, int b, int c, int d) {
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
  };
  const std::size_t last = sections.size() - 1;
  for (int k = 0; k < around; ++k) {
    for (std::size_t i = 0; i < last; ++i) {
      quad(corner(i, k, false), corner(i + 1, k, false), corner(i + 1, k + 1, false),
           corner(i, k + 1, false));
      quad(corner(i, k, true), corner(i, k + 1, true), corner(i + 1, k + 1, true), corner(i + 1, k, true));
    }
    quad(corner(0, k, false), corner(0, k + 1, false), corner(0, k + 1, true), corner(0, k, true));
    quad(corner(last, k, false), corner(last, k, true), corner(last, k + 1, true),
         corner(last, k + 1, false));
  }
  // the sense of the circles depends on the frame's hand against the way along
  if (mesh_volume(mesh) < 0.0)
    for (auto& triangle : mesh.triangles) std::swap(triangle[1], triangle[2]);
  return mesh;
}

void add_metal(const Fitting& fitting, const MeshOptions& options, double share, MeshFaces& faces,
               std::vector<BodyPart>& parts) {
  const auto add = [&](Mesh mesh, const std::string& name, std::optional<int> piece) {
    parts.push_back({name, PartRole::metal, piece, closed(std::move(mesh), name)});
  };
  if (fitting.pressed)
    return add(pressed_mesh(*fitting.pressed, fitting.liner.gauge, options), "metal", std::nullopt);
  const std::vector<Fitting> lengths = lengths_of_duct(fitting);
  if (lengths.empty())
    return add(faces.mesh_of(Bodies<MeshFaces>(fitting, faces).metal()), "metal", std::nullopt);
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    MeshFaces own(lengths[i], options, share);
    add(own.mesh_of(Bodies<MeshFaces>(lengths[i], own).metal()), fmt::format("metal {}", i + 1),
        lengths.size() == 1 ? std::nullopt : std::optional<int>(static_cast<int>(i)));
  }
}

std::vector<BodyPart> meshes_with(const Fitting& fitting, const MeshOptions& options, double share) {
  MeshFaces faces(fitting, options, share);
  Bodies<MeshFaces> bodies(fitting, faces);
  std::vector<BodyPart> parts;
  add_metal(fitting, options, share, faces, parts);
  for (std::size_t i = 0; i < fitting.pieces.size(); ++i) {
    const std::string name = "liner " + fitting.pieces[i].id;
    parts.push_back({name, PartRole::liner, static_cast<int>(i),
                     closed(faces.mesh_of(bodies.liner(fitting.pieces[i])), name)});
  }
  if (!is_disc_alone(fitting))
    parts.push_back({"bore", PartRole::bore, std::nullopt,
                     closed(faces.mesh_of(bodies.filled(fitting.liner.bore_depth())), "bore")});
  return parts;
}

}  // namespace

double deflection_along(const PressedBend& bend, double gauge, double deflection) {
  constexpr double k_of_heel = 3e-5;
  return std::max(deflection, k_of_heel * (bend.centreline_radius + bend.radius + gauge));
}

std::vector<BodyPart> fitting_meshes(const Fitting& fitting, const MeshOptions& options) {
  if (!(options.deflection > 0.0) || !(options.angle > 0.0))
    throw GeometryError("mesh: it needs a deflection and an angle above zero");
  for (const double share : k_shares) try {
      return meshes_with(fitting, options, share);
    } catch (const StepsTooLarge&) {
      // once more with smaller ones
    }
  throw GeometryError("mesh: a wall with a hole has no triangles that are narrow enough");
}

std::vector<BodyPart> fitting_meshes(const Fitting& fitting, MeshOptions options, double thinnest) {
  options.deflection = std::min(options.deflection, 0.125 * thinnest);
  return fitting_meshes(fitting, options);
}

std::vector<std::pair<std::string, std::string>> stl_files(const std::vector<BodyPart>& bodies) {
  std::vector<std::pair<std::string, std::string>> files;
  for (const auto& [role, name] : {std::pair<PartRole, const char*>{PartRole::metal, "metal"},
                                   {PartRole::liner, "liner"},
                                   {PartRole::bore, "bore"}}) {
    std::vector<Mesh> meshes;
    for (const BodyPart& body : bodies)
      if (body.role == role) meshes.push_back(body.mesh);
    if (meshes.empty()) continue;  // a disc alone has no bore
    std::ostringstream out;
    write_stl(out, meshes, name);
    files.emplace_back(name, out.str());
  }
  return files;
}

}  // namespace linerwright
