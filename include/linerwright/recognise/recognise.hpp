// Fittings told from drawn metal: what the faces are in value, not what a file calls them.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/job/job.hpp"
#include "linerwright/solid/drawn.hpp"

namespace linerwright {

// All bodies of an STL file as drawn metal: facets whose corners lie on one plane, cylinder, cone, torus or
// ruled surface are a face. `unit`: the length of the file's unit, mm, which the file does not say. Throws
// InputError.
std::vector<DrawnBody> read_drawn_mesh(const std::filesystem::path& file, double unit);
std::vector<DrawnBody> read_drawn_mesh(std::istream& in, const std::string& name, double unit);

struct RecognisedBody {
  std::size_t body = 0;  // index of the drawn body
  std::string kind;
  std::vector<std::pair<std::string, std::string>> keys;  // as a job file takes them: "600 mm", "90"
  double residual = 0.0;           // largest distance between the drawn inside surface and ours, mm
  std::size_t left = 0;            // faces that are not of the inside
  std::vector<std::string> notes;  // what metal does not tell
  std::string fault;               // why it is none of ours; then the rest does not count
};

struct Recognised {
  std::vector<RecognisedBody> bodies;
  std::size_t contents = 0;  // bodies that lie inside another: its liner, its air
};

// The largest residual of a drawing that is one of our fittings, mm: rounded corners of half a millimetre
// stay below.
constexpr double k_recognised_within = 0.5;

// Every body as a fitting, or why it is none. `pieces`: how many pieces line a pressed bend, which metal does
// not tell.
Recognised recognise(const std::vector<DrawnBody>& bodies, long pieces = 5);

// A job file of all bodies, tags made of `name`; `liner` as written, may be empty.
std::string recognised_job(const Recognised& recognised, const std::string& name, const std::string& liner);

// What was read, for a person.
std::string recognised_table(const Recognised& recognised);

}  // namespace linerwright
