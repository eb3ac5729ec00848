// The library's functions as they work inside: public.cpp calls each under the guard against what the kernel
// throws. Documented in linerwright/solid/solid.hpp.
#pragma once

#include "linerwright/solid/drawn.hpp"
#include "linerwright/solid/mesh_fit.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright::kernel {

Model build_model(const Fitting& fitting, Gate gate);
Mesh mesh_of(const Solid& solid, const MeshOptions& options, double thinnest);
void write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model);
std::vector<Part> read_step(const std::filesystem::path& file);
void load_step_reader();
std::vector<DrawnBody> read_drawn(const std::filesystem::path& file);
double slice_area(const Solid& solid, const PlaneTarget& plane);
double slice_area_at(const Solid& solid, const PlaneTarget& plane);
double common_volume(const Solid& a, const Solid& b);
double distance_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                         const std::vector<std::size_t>& which);
std::vector<double> distances_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                       const std::vector<std::size_t>& which);
std::vector<std::vector<Vec3>> edge_points(const Solid& solid, double spacing);
std::vector<SeenLines> seen_lines(const std::vector<PlacedSolid>& solids, const Eye& eye,
                                  const MeshOptions& options);

MeshFit mesh_fit(const Mesh& mesh, const Solid& solid, double within);

}  // namespace linerwright::kernel
