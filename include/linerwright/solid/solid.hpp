// Solids of a fitting, built from shared edges with Open CASCADE; meshes and files made of them. No kernel
// type shows here: a Solid is a handle.
#pragma once

#include <array>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

// A closed body; copies share it. Kernel shapes must not be used from two threads at once.
class Solid {
 public:
  struct Shape;  // holds the kernel's shape
  Solid() = default;
  explicit Solid(std::shared_ptr<const Shape> shape) : shape_(std::move(shape)) {}
  const Shape& shape() const { return *shape_; }
  explicit operator bool() const { return shape_ != nullptr; }

 private:
  std::shared_ptr<const Shape> shape_;
};

struct Part {
  std::string name;  // "metal", or "metal 1" and on of lengths inside one lining; "liner 1", "bore"
  PartRole role;
  // Index of the liner piece; of a length of duct where the metal is several.
  std::optional<int> piece{};
  Solid solid;
  double volume;  // mm3, from the solid
};

// All bodies of a fitting. Every one has passed the gate: one valid solid, no free edge, small tolerances,
// and a volume that agrees with the closed-form integrals.
struct Model {
  std::vector<Part> parts;
  double cavity_volume;  // mm3, inside the metal along the walls the liner lies on
  double liner_volume;
  double metal_volume;
  double bore_volume;
  double plug_volume;      // that openings take out of the liner
  double fill_error;       // |liner + plugs - (cavity - bore)| / liner
  double curve_deviation;  // largest distance of a fitted joint curve from the exact one, mm
  double volume_error;  // largest relative distance of cavity, bore and metal from the closed-form integrals
};

// How hard a solid is looked at. `closed`: one solid each, every edge between two faces and within a
// ten-thousandth of a millimetre of them, volumes as the integrals have them; what the kernel's analyzer adds
// follows from how the solids are built from shared edges. `quick` asks the analyzer all the same; `full`
// also for its search for self-intersecting outlines, which takes longer than building the solid and is left
// to `check` and the tests.
enum class Gate { closed, quick, full };

// Throws GeometryError naming the step that failed.
Model build_model(const Fitting& fitting, Gate gate = Gate::quick);

// Mesh of a part; the deflection is capped at an eighth of `thinnest`, the thinnest wall of the fitting.
// Checked: every edge shared by two facets in opposite directions, positive volume. Throws GeometryError.
Mesh mesh_of(const Solid& solid, const MeshOptions& options, double thinnest);

// A STEP file with named, coloured parts and a fixed time stamp; one writer at a time (a lock inside). Throws
// WriteError.
void write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model);
// The parts of a STEP file as written by write_step, with names and volumes (other files' solids count as
// liner, by their own names). Throws InputError on a broken file.
std::vector<Part> read_step(const std::filesystem::path& file);

// Has what reads STEP at hand before a process is forked that will: else each loads it for itself. Throws
// GeometryError where it is not there.
void load_step_reader();

// Area of the slice of a solid by a plane, mm2: of the whole slice, and of the connected region nearest to
// the plane's point. Throw GeometryError where the kernel reports any doubt.
double slice_area(const Solid& solid, const PlaneTarget& plane);
double slice_area_at(const Solid& solid, const PlaneTarget& plane);
// Volume common to two solids, mm3, by boolean operation. Throws GeometryError where the kernel reports any
// doubt, or where what is common and what is left do not make up the first solid.
double common_volume(const Solid& a, const Solid& b);
// The largest distance of these points from the nearest edge of a solid, mm; 0 without points. `which` picks
// edges by their place in edge_points(); empty takes all.
double distance_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                         const std::vector<std::size_t>& which = {});
// The distance of each of them.
std::vector<double> distances_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                       const std::vector<std::size_t>& which = {});
// Points along each edge of a solid from one end to the other, about `spacing` mm apart or closer.
std::vector<std::vector<Vec3>> edge_points(const Solid& solid, double spacing);

// A solid in a picture, moved out of its place.
struct PlacedSolid {
  Solid solid;
  Vec3 shift{};  // mm
};
// Where a picture is looked at from, far away: unit directions from the picture to the eye and to the right,
// square to each other.
struct Eye {
  Vec3 toward;
  Vec3 right;
};
// Short straight lines from end to end, mm in the picture's plane, y up.
using SeenLines = std::vector<std::array<Vec2, 2>>;
// What is seen of each solid, hidden lines removed: edges where faces meet at an angle, and outlines. The
// solids hide one another. Throws GeometryError.
std::vector<SeenLines> seen_lines(const std::vector<PlacedSolid>& solids, const Eye& eye,
                                  const MeshOptions& options);

}  // namespace linerwright
