// Any faces as drawn metal: bodies are fittings within the residual, whose job file reads, or refused in one
// line.
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/recognise/recognise.hpp"
#include "linerwright/units/error.hpp"

namespace {

using namespace linerwright;

struct Bytes {
  const std::uint8_t* data;
  std::size_t left;

  unsigned byte() {
    if (left == 0) return 0;
    --left;
    return *data++;
  }
  // -1 to 1, most often a round number
  double share() { return (static_cast<int>(byte()) - 128) / 128.0; }
  double length() { return 1000.0 * share() + 0.01 * static_cast<double>(byte() % 4); }
  Vec3 point() { return {length(), length(), length()}; }
  Vec3 direction() {
    const unsigned axis = byte() % 4;
    if (axis < 3) return {axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
    const Vec3 any{share(), share(), share()};
    return norm(any) > 1e-6 ? normalised(any) : Vec3{0, 0, 1};
  }
};

// A round face about an axis: a cylinder, cone or ring with its two edges, or points that lie anywhere.
void add_face(Bytes& bytes, DrawnBody& body) {
  DrawnFace face;
  face.number = static_cast<int>(body.faces.size()) + 1;
  face.area = 1000.0 * static_cast<double>(bytes.byte());
  const unsigned sort = bytes.byte() % 5;
  const Vec3 origin = bytes.point();
  const Vec3 z = bytes.direction();
  const Vec3 x = normalised(cross(z, std::fabs(z.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0}));
  const Vec3 y = cross(z, x);
  const double radius = std::fabs(bytes.length()), grow = sort == 1 ? bytes.share() : 0.0,
               height = bytes.length();
  const double side = bytes.byte() % 2 == 0 ? 1.0 : -1.0;
  DrawnEdge ends[2];
  for (int i = 0; i < 24; ++i) {
    const double u = k_two_pi * i / 23.0;
    const Vec3 radial = std::cos(u) * x + std::sin(u) * y;
    for (int k = 0; k < 5; ++k) {
      const double v = k / 4.0;
      if (sort == 4) {
        face.points.push_back({bytes.point(), bytes.direction()});
      } else if (sort == 3) {
        const Vec3 out = std::cos(k_two_pi * v) * radial + std::sin(k_two_pi * v) * z;
        face.points.push_back({origin + radius * radial + height * out, side * out});
      } else {
        face.points.push_back({origin + (radius + grow * v * height) * radial + v * height * z,
                               side * normalised(radial - grow * z)});
      }
    }
    ends[0].points.push_back(origin + radius * radial);
    ends[1].points.push_back(origin + (radius + grow * height) * radial + height * z);
  }
  for (const DrawnEdge& end : ends) {
    // an edge of its own, or one that is there already
    const unsigned shared = bytes.byte();
    if (shared % 3 == 0 && !body.edges.empty()) {
      face.edges.push_back(static_cast<int>(shared % body.edges.size()));
    } else {
      face.edges.push_back(static_cast<int>(body.edges.size()));
      body.edges.push_back(end);
    }
  }
  body.faces.push_back(std::move(face));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes{data, size};
  std::vector<DrawnBody> bodies(1 + bytes.byte() % 3);
  for (DrawnBody& body : bodies) {
    body.is_solid = bytes.byte() % 4 != 0;
    const unsigned faces = bytes.byte() % 9;
    for (unsigned i = 0; i < faces && bytes.left > 0; ++i) add_face(bytes, body);
  }
  const Recognised recognised = recognise(bodies);
  bool all = !recognised.bodies.empty();
  for (const RecognisedBody& body : recognised.bodies) {
    all = all && body.fault.empty();
    if (body.fault.find_first_of("\n\r") != std::string::npos) std::abort();
    if (body.fault.empty() && !(body.residual <= k_recognised_within)) std::abort();
  }
  recognised_table(recognised);
  if (!all) return 0;
  const Job job = read_job_text(recognised_job(recognised, "D", "1mm"), "job.toml", job_schema());
  if (job.fittings.size() != recognised.bodies.size() || !job.problems.empty()) std::abort();
  for (const FittingRequest& request : job.fittings) make_fitting(request);
  return 0;
}
