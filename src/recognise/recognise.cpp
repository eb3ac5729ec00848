#include "linerwright/recognise/recognise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <sstream>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/job/toml_file.hpp"
#include "linerwright/units/error.hpp"
#include "residual.hpp"

namespace linerwright {

namespace {

struct Bounds {
  Vec3 low{1e300, 1e300, 1e300};
  Vec3 high{-1e300, -1e300, -1e300};

  // Of the places that are known, and a little more: between two of them a circle reaches further.
  explicit Bounds(const DrawnBody& body) {
    for (const DrawnFace& face : body.faces)
      for (const DrawnPoint& p : face.points) take(p.at);
    for (const DrawnEdge& edge : body.edges)
      for (const Vec3 p : edge.points) take(p);
    const double more = 0.02 * distance(low, high);
    low = low - Vec3{more, more, more};
    high = high + Vec3{more, more, more};
  }
  void take(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  bool holds(Vec3 p, double within) const {
    return p.x > low.x - within && p.y > low.y - within && p.z > low.z - within && p.x < high.x + within &&
           p.y < high.y + within && p.z < high.z + within;
  }
};

// Whether a point lies in the hollow that one of the surfaces goes round.
bool within_hollow(const Inside& inside, Vec3 point, double within) {
  return std::any_of(inside.surfaces.begin(), inside.surfaces.end(), [&](const InsideSurface& surface) {
    const FittedSurface& fit = surface.fit;
    const Vec3 d = point - fit.origin;
    const double z = dot(d, fit.axis);
    const double across = norm(d - z * fit.axis);
    switch (fit.sort) {
      case SurfaceSort::cylinder:
        return across < fit.radius + within;
      case SurfaceSort::cone:
        return z > -within && across < z * std::tan(fit.angle) + 2.0 * within;
      case SurfaceSort::torus:
        return std::hypot(across - fit.radius, z) < fit.minor + within;
      default:
        // rulings go round a convex hollow: it lies before all of their tangent planes
        return fit.sort == SurfaceSort::ruled &&
               std::all_of(surface.points.begin(), surface.points.end(),
                           [&](const DrawnPoint& p) { return dot(p.normal, point - p.at) > -within; });
    }
  });
}

// A liner lies in its metal, air in its liner.
bool lies_in(const DrawnBody& body, const DrawnBody& other, const Inside& hollow, const Bounds& bounds) {
  constexpr double k_within = 0.05;  // mm
  if (&body == &other || hollow.surfaces.empty()) return false;
  for (const DrawnFace& face : body.faces)
    for (const DrawnPoint& p : face.points)
      if (!bounds.holds(p.at, k_within) || !within_hollow(hollow, p.at, k_within)) return false;
  return true;
}

// Whether two walls about one axis lie beside each other, not one behind the other.
bool side_by_side(const InsideSurface& a, const InsideSurface& b) {
  const auto reach = [&](const InsideSurface& of) {
    double low = 1e300, high = -1e300;
    for (const DrawnPoint& p : of.points) {
      const double at = dot(p.at - a.fit.origin, a.fit.axis);
      low = std::min(low, at);
      high = std::max(high, at);
    }
    return std::make_pair(low, high);
  };
  const auto [a_low, a_high] = reach(a);
  const auto [b_low, b_high] = reach(b);
  return std::min(a_high, b_high) - std::max(a_low, b_low) > 0.5 * std::min(a_high - a_low, b_high - b_low);
}

// The metal's thickness: between the inside and the nearest like surface outside.
std::optional<double> gauge_of(const Inside& inside) {
  std::optional<double> least;
  for (const InsideSurface& surface : inside.surfaces)
    for (const InsideSurface& other : inside.outer) {
      const FittedSurface& fit = surface.fit;
      const FittedSurface& outer = other.fit;
      if (outer.sort != fit.sort || norm(cross(outer.axis, fit.axis)) > 1e-5) continue;
      double gauge = 0.0;
      if (fit.sort == SurfaceSort::cylinder && norm(cross(outer.origin - fit.origin, fit.axis)) < 0.01)
        gauge = outer.radius - fit.radius;
      if (fit.sort == SurfaceSort::torus && distance(outer.origin, fit.origin) < 0.01)
        gauge = outer.minor - fit.minor;
      if (fit.sort == SurfaceSort::cone && std::fabs(outer.angle - fit.angle) < 1e-5)
        gauge = distance(outer.origin, fit.origin) * std::sin(fit.angle);
      if (gauge > 0.25 && gauge < 7.0 && (fit.sort == SurfaceSort::torus || side_by_side(surface, other)) &&
          (!least || gauge < *least))
        least = gauge;
    }
  return least;
}

std::string faces_told(const std::vector<int>& faces) {
  std::string out;
  for (std::size_t i = 0; i < std::min<std::size_t>(faces.size(), 12); ++i)
    out += (i > 0 ? ", " : "") + std::to_string(faces[i]);
  return faces.size() > 12 ? out + fmt::format(" and {} more", faces.size() - 12) : out;
}

// The values of a shape with no more decimals than points that stray so far can tell: lengths, which name
// their unit, to a fifth of that, angles to a fiftieth of a degree for each millimetre.
std::string told_within(const std::string& value, double within) {
  std::istringstream in(value);
  std::vector<std::string> words;
  for (std::string word; in >> word;) words.push_back(word);
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string rest = i + 1 < words.size() ? words[i + 1] : "";
    const bool is_length = rest.substr(0, 2) == "mm";
    double number = 0.0;
    const char* end = words[i].data() + words[i].size();
    const auto read = std::from_chars(words[i].data(), end, number);
    const std::string tail(read.ptr, end);  // a comma between parts
    if (read.ec == std::errc() && (tail.empty() || tail == ","))
      words[i] = shortest(number, is_length ? 0.2 * within : 0.02 * within) + tail;
    out += (i > 0 ? " " : "") + words[i];
  }
  return out;
}

// Compares the fitting that a shape says with what is drawn; `out` gets keys, residual and fault.
void compare(const Inside& inside, const ReadShape& shape, long pieces, RecognisedBody& out) {
  out.kind = shape.kind;
  out.keys = shape.keys;
  out.notes = shape.notes;
  out.fault = shape.fault;
  if (!out.fault.empty()) return;
  const bool exact = !(length_slack(inside) > 0.0);
  for (auto& [key, value] : out.keys)
    if (!exact) value = told_within(value, inside.within);
  std::map<std::string, std::string> flags;
  for (const auto& [key, value] : out.keys) flags[key] = value;
  if (flags.count("form") != 0) flags["pieces"] = std::to_string(pieces);
  if (flags.count("form") != 0) out.keys.emplace_back("pieces", std::to_string(pieces));
  if (const std::optional<double> gauge = gauge_of(inside)) {
    flags["gauge"] = exact ? length_value(*gauge) : told_within(length_value(*gauge), inside.within);
    out.keys.emplace_back("gauge", flags["gauge"]);
  }
  // the thinnest liner there is: the metal alone is compared
  flags["thickness"] = "1mm";
  try {
    Frame start = shape.start;
    const Fitting fitting = make_fitting(request_from_flags(out.kind, flags, Units::metric, job_schema()));
    ReadShape placed = shape;
    placed.start.y = cross(start.z, start.x);
    const Residual residual = residual_of(inside, placed, fitting);
    out.residual = residual.largest;
    out.fault = residual.fault;
    if (out.fault.empty() && !(residual.largest <= k_recognised_within))
      out.fault = fmt::format("is nearest to a {}, but {} lies {} mm away from it", out.kind, residual.worst,
                              trimmed(residual.largest, 3));
  } catch (const InputError& error) {
    Problem problem = error.problems().front();
    out.fault = fmt::format("would be a {}, but {}", out.kind, one_line(problem));
  } catch (const GeometryError& error) {
    out.fault = fmt::format("would be a {}, but {}", out.kind, error.what());
  }
}

// What the faces of the inside are, for a body that is none of ours.
std::string faces_of_inside(const Inside& inside) {
  static const std::map<SurfaceSort, std::string> names = {
      {SurfaceSort::plane, "plane"}, {SurfaceSort::cylinder, "cylinder"},
      {SurfaceSort::cone, "cone"},   {SurfaceSort::torus, "torus"},
      {SurfaceSort::ruled, "ruled"}, {SurfaceSort::other, "no such surface"}};
  std::map<std::string, std::vector<int>> faces;
  for (const InsideSurface& surface : inside.surfaces)
    for (const int face : surface.faces) faces[names.at(surface.fit.sort)].push_back(face);
  for (const int face : inside.others) faces[names.at(SurfaceSort::other)].push_back(face);
  std::string out;
  for (auto& [name, numbers] : faces) {
    std::sort(numbers.begin(), numbers.end());
    out += (out.empty() ? "" : ", ") + name + " " + faces_told(numbers);
  }
  return out;
}

void read_body(const DrawnBody& body, const Inside& inside, long pieces, RecognisedBody& out) {
  const Inside apart = inside_of(body, true);
  std::optional<RecognisedBody> nearest;
  for (const ReadShape& shape : shapes_of(inside, apart)) {
    RecognisedBody read = out;
    compare(shape.apart ? apart : inside, shape, pieces, read);
    if (read.fault.empty()) {
      nearest = std::move(read);
      break;
    }
    // a kind that could be made tells more than one that could not be read
    if (nearest && nearest->kind.empty() && read.kind.empty() && nearest->fault != read.fault)
      nearest->fault += "; " + read.fault;
    else if (!nearest || (nearest->kind.empty() && !read.kind.empty()))
      nearest = std::move(read);
  }
  out = std::move(*nearest);
  out.left = inside.left;
  if (!out.fault.empty() && !inside.surfaces.empty())
    out.fault += "; faces of its inside: " + faces_of_inside(inside);
}

const KeySpec* spec_named(const std::string& name, const std::vector<KeySpec>& keys) {
  const auto spec =
      std::find_if(keys.begin(), keys.end(), [&](const KeySpec& key) { return key.name == name; });
  return spec == keys.end() ? nullptr : &*spec;
}

std::string tag_of(const Recognised& recognised, const std::string& name, std::size_t i) {
  return recognised.bodies.size() == 1 ? name : fmt::format("{}-{}", name, i + 1);
}

}  // namespace

Recognised recognise(const std::vector<DrawnBody>& bodies, long pieces) {
  std::vector<Inside> insides;
  std::vector<Bounds> bounds;
  for (const DrawnBody& body : bodies) {
    insides.push_back(inside_of(body));
    bounds.emplace_back(body);
  }
  Recognised recognised;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    bool content = false;
    for (std::size_t k = 0; k < bodies.size() && !content; ++k)
      content = lies_in(bodies[i], bodies[k], insides[k], bounds[k]);
    if (content) {
      ++recognised.contents;
      continue;
    }
    RecognisedBody body;
    body.body = i;
    read_body(bodies[i], insides[i], pieces, body);
    recognised.bodies.push_back(std::move(body));
  }
  return recognised;
}

std::string recognised_job(const Recognised& recognised, const std::string& name, const std::string& liner) {
  std::string out = "# Read from drawn metal: look it over before it is made.\n\n[job]\nunits = \"mm\"\n";
  if (!liner.empty()) out += "\n[liner]\nthickness = " + toml_text(liner) + "\n";
  for (std::size_t i = 0; i < recognised.bodies.size(); ++i) {
    const RecognisedBody& body = recognised.bodies[i];
    out += fmt::format("\n[[fitting]]  # residual {} mm\n", trimmed(body.residual, 6));
    out += "tag = " + toml_text(tag_of(recognised, name, i)) + "\nkind = " + toml_text(body.kind) + "\n";
    const auto kind = std::find_if(job_schema().kinds.begin(), job_schema().kinds.end(),
                                   [&](const KindSchema& k) { return k.kind == body.kind; });
    for (const auto& [key, value] : body.keys) {
      const KeySpec* spec = spec_named(key, kind->keys);
      if (spec == nullptr) spec = spec_named(key, job_schema().liner_keys);
      out += key + " = " + (spec == nullptr ? toml_text(value) : toml_value(*spec, value)) + "\n";
    }
  }
  return out;
}

std::string recognised_table(const Recognised& recognised) {
  std::string out;
  for (const RecognisedBody& body : recognised.bodies) {
    if (!body.fault.empty()) continue;
    out += fmt::format("body {}: {}\n", body.body + 1, body.kind);
    for (const auto& [key, value] : body.keys) out += fmt::format("  {:<18} {}\n", key, value);
    out += fmt::format("  {:<18} {} mm between the drawn inside and ours\n", "residual",
                       trimmed(body.residual, 6));
    out += fmt::format("  {:<18} {} faces outside, at ends and in flanges\n", "left", body.left);
    for (const std::string& note : body.notes) out += "  note: " + note + "\n";
  }
  if (recognised.contents > 0)
    out += fmt::format("{} bodies lie inside another, as liner and air do: left\n", recognised.contents);
  return out;
}

}  // namespace linerwright
