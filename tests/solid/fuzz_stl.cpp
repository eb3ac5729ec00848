// Fuzz target: whatever bytes come in, the reader either refuses them with one problem or gives a mesh that
// can be measured and split.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <sstream>
#include <string>

#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::istringstream in(std::string(data, data + size));
  try {
    const linerwright::Mesh mesh = linerwright::read_stl(in, "fuzz.stl");
    linerwright::mesh_volume(mesh);
    linerwright::open_edges(mesh);
    std::size_t facets = 0;
    for (const linerwright::Mesh& body : linerwright::split_bodies(mesh)) facets += body.triangles.size();
    if (facets != mesh.triangles.size()) std::abort();
  } catch (const linerwright::InputError& error) {
    if (error.problems().size() != 1) std::abort();
  }
  return 0;
}
