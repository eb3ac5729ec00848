// Every public function that works with the kernel, under the guard against what the kernel throws. A test
// holds this file against the header.
#include <Standard_Type.hxx>

#include "assembly_side.hpp"
#include "guard.hpp"
#include "kernel_side.hpp"

namespace linerwright {

std::string words_of(const char* operation, const Standard_Failure& failure) {
  const char* message = failure.GetMessageString();
  std::string words = std::string(operation) + ": the kernel stopped with " + failure.DynamicType()->Name();
  if (message != nullptr && *message != '\0') words += std::string(" (") + message + ")";
  for (char& c : words)
    if (static_cast<unsigned char>(c) < ' ') c = ' ';
  return words;
}

Model build_model(const Fitting& fitting, Gate gate) {
  return guarded("solids", [&] { return kernel::build_model(fitting, gate); });
}

Mesh mesh_of(const Solid& solid, const MeshOptions& options, double thinnest) {
  return guarded("mesh", [&] { return kernel::mesh_of(solid, options, thinnest); });
}

void write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model) {
  return guarded("step", [&] { return kernel::write_step(file, fitting, model); });
}

std::vector<Part> read_step(const std::filesystem::path& file) {
  return guarded("step", [&] { return kernel::read_step(file); });
}

void load_step_reader() {
  return guarded("step", [&] { return kernel::load_step_reader(); });
}

std::vector<DrawnBody> read_drawn(const std::filesystem::path& file) {
  return guarded("step", [&] { return kernel::read_drawn(file); });
}

Solid placed(const Solid& solid, const Frame& frame) {
  return guarded("place", [&] { return kernel::placed(solid, frame); });
}

double volume_in_place(const Solid& solid) {
  return guarded("volume", [&] { return kernel::volume_in_place(solid); });
}

void write_assembly(const std::filesystem::path& file, const Assembly& assembly, const AssemblyModel& model) {
  return guarded("step", [&] { return kernel::write_assembly(file, assembly, model); });
}

Fused fused(const std::vector<Solid>& solids) {
  return guarded("union", [&] { return kernel::fused(solids); });
}

SolidBox box_around(const Solid& solid) {
  return guarded("box", [&] { return kernel::box_around(solid); });
}

double slice_area(const Solid& solid, const PlaneTarget& plane) {
  return guarded("slice", [&] { return kernel::slice_area(solid, plane); });
}

double slice_area_at(const Solid& solid, const PlaneTarget& plane) {
  return guarded("slice", [&] { return kernel::slice_area_at(solid, plane); });
}

double common_volume(const Solid& a, const Solid& b) {
  return guarded("common volume", [&] { return kernel::common_volume(a, b); });
}

std::vector<double> distances_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                       const std::vector<std::size_t>& which) {
  return guarded("distance to edges", [&] { return kernel::distances_to_edges(solid, points, which); });
}

double distance_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                         const std::vector<std::size_t>& which) {
  return guarded("distance to edges", [&] { return kernel::distance_to_edges(solid, points, which); });
}

std::vector<std::vector<Vec3>> edge_points(const Solid& solid, double spacing) {
  return guarded("points of edges", [&] { return kernel::edge_points(solid, spacing); });
}

MeshFit mesh_fit(const Mesh& mesh, const Solid& solid, double within) {
  return guarded("mesh", [&] { return kernel::mesh_fit(mesh, solid, within); });
}

std::vector<SeenLines> seen_lines(const std::vector<PlacedSolid>& solids, const Eye& eye,
                                  const MeshOptions& options) {
  return guarded("line drawing", [&] { return kernel::seen_lines(solids, eye, options); });
}

}  // namespace linerwright
