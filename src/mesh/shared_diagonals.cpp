#include "linerwright/mesh/shared_diagonals.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace linerwright {

void split_shared_diagonals(Mesh& mesh, std::vector<std::size_t>& face_of) {
  std::map<std::pair<int, int>, std::vector<std::size_t>> triangles_at;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k)
      triangles_at[std::minmax(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3])].push_back(t);
  for (const auto& [edge, found] : triangles_at) {
    if (found.size() != 4) continue;
    std::vector<std::size_t> of_one;  // the two facets of one of the faces
    for (const std::size_t t : found)
      if (face_of[t] == face_of[found.front()]) of_one.push_back(t);
    if (of_one.size() != 2) continue;
    const int middle = static_cast<int>(mesh.points.size());
    mesh.points.push_back(0.5 * (mesh.points[static_cast<std::size_t>(edge.first)] +
                                 mesh.points[static_cast<std::size_t>(edge.second)]));
    for (const std::size_t t : of_one) {
      std::array<int, 3> half = mesh.triangles[t];
      std::replace(half.begin(), half.end(), edge.first, middle);
      std::replace(mesh.triangles[t].begin(), mesh.triangles[t].end(), edge.second, middle);
      mesh.triangles.push_back(half);
      face_of.push_back(face_of[t]);
    }
  }
}

}  // namespace linerwright
