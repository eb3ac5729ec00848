// What a fitting's metal tells of its request, in numbers that do not depend on how the request was written.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/recognise/recognise.hpp"
#include "linerwright/units/error.hpp"
#include "support/random_fittings.hpp"

namespace linerwright::testing {

using Told = std::map<std::string, double>;  // millimetres and degrees

inline double degrees(double radians) {
  return radians * 180.0 / k_pi;
}

inline double full_turn(double angle) {
  const double rest = std::remainder(angle, 360.0);
  return rest < -179.9999999 ? rest + 360.0 : rest;
}

inline void tell_bend(const Values& v, Told& told, double angle, bool gores_between) {
  const double rho =
      v.maybe("centreline_radius")
          .value_or(v.has("radius_ratio") ? v.quantity("radius_ratio") * v.quantity("diameter") : 0.0);
  const long pieces = v.integer("pieces");
  told["angle"] = degrees(angle);
  const bool smooth = v.has("form") && v.text("form") == "smooth";
  if (!smooth) told["pieces"] = static_cast<double>(pieces);
  if (smooth || gores_between) {
    told["centreline_radius"] = rho;
    told["collar"] = v.quantity("collar");
  } else {
    // two pieces: where their axes cross, from the opening on
    told["end"] = v.quantity("collar") + rho * std::tan(0.5 * angle / static_cast<double>(pieces - 1));
  }
}

inline void tell_branches(const Values& v, Told& told) {
  const std::size_t count = v.list("branch_diameter").size();
  const auto of = [&](const char* key, std::size_t i, double otherwise) {
    if (!v.has(key)) return otherwise;
    const std::vector<double> all = v.list(key);
    return all[std::min(i, all.size() - 1)];
  };
  struct One {
    double position, diameter, length, angle, around, offset, base;
  };
  std::vector<One> all;
  for (std::size_t i = 0; i < count; ++i) {
    const double diameter = of("branch_diameter", i, 0.0);
    all.push_back({of("position", i, 0.5 * v.quantity("length")), diameter, of("branch_length", i, 0.0),
                   degrees(of("angle", i, 0.5 * k_pi)), full_turn(degrees(of("around", i, 0.0))),
                   of("offset", i, 0.0), of("branch_base", i, diameter)});
  }
  std::sort(all.begin(), all.end(), [](const One& a, const One& b) {
    return std::fabs(a.position - b.position) > 0.01 ? a.position < b.position : a.around < b.around;
  });
  for (std::size_t i = 0; i < count; ++i) {
    const std::string n = std::to_string(i);
    told["position" + n] = all[i].position;
    told["branch_diameter" + n] = all[i].diameter;
    told["branch_length" + n] = all[i].length;
    told["angle" + n] = all[i].angle;
    told["around" + n] = all[i].around;
    told["offset" + n] = all[i].offset;
    told["branch_base" + n] = all[i].base;
  }
}

// Legs in the order of their directions.
inline void tell_legs(const Values& v, Told& told) {
  const std::size_t count = static_cast<std::size_t>(v.integer("legs"));
  const auto of = [&](const char* key, std::size_t i, double otherwise) {
    if (!v.has(key)) return otherwise;
    const std::vector<double> all = v.list(key);
    return all.size() == 1 ? all[0] : all[i];
  };
  std::vector<std::array<double, 4>> legs;
  for (std::size_t i = 0; i < count; ++i) {
    const double angle = degrees(of("angle", i, 0.0));
    const double evenly = k_two_pi * static_cast<double>(i) / static_cast<double>(count);
    // a leg straight on has no direction
    legs.push_back({angle < 1e-9 ? 0.0 : full_turn(degrees(of("around", i, evenly))), angle,
                    of("leg_diameter", i, v.quantity("diameter")), of("leg_length", i, 0.0)});
  }
  std::sort(legs.begin(), legs.end(), [](const auto& a, const auto& b) {
    return std::fabs(a[0] - b[0]) > 1e-6 ? a[0] < b[0] : a[1] < b[1];
  });
  told["inlet_length"] = v.quantity("inlet_length");
  told["legs"] = static_cast<double>(count);
  const char* const names[] = {"around", "angle", "leg_diameter", "leg_length"};
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t k = 0; k < 4; ++k) told[names[k] + std::to_string(i)] = legs[i][k];
}

// Several lists of parts say one path: its walls are what the metal tells, from its first opening on.
// Where a cylinder's frame lies along its axis is each kind's own: `frames` says whether they are told.
inline void tell_walls(const Fitting& fitting, Told& told, bool frames = true) {
  const Vec3 start = ports_of(fitting).front().frame.origin;
  std::size_t count = 0;
  for (const Wall& wall : fitting.walls) {
    if (wall.layer != 0) continue;
    const std::string n = std::to_string(count++);
    told["r" + n] = wall.sheet.r1();
    told["s" + n] = wall.sheet.r2();
    if (!frames) continue;
    const Vec3 origin = wall.sheet.frame().origin - start;
    told["x" + n] = origin.x;
    told["y" + n] = origin.y;
    told["z" + n] = origin.z;
  }
  const Frame end = ports_of(fitting).back().frame;
  const Vec3 far = end.origin - start;
  const double end_place[] = {far.x, far.y, far.z, end.z.x, end.z.y, end.z.z};
  for (int i = 0; i < 6; ++i) told["end" + std::to_string(i)] = end_place[i];
  told["walls"] = static_cast<double>(count);
}

inline Told told_by(const FittingRequest& request, const Fitting& fitting) {
  const Values& v = request.values;
  Told told{{"diameter", v.quantity("diameter")}, {"gauge", v.quantity("gauge")}};
  if (request.kind == "straight" || request.kind == "tee") told["length"] = v.quantity("length");
  if (request.kind == "tee") tell_branches(v, told);
  if (request.kind == "wye") tell_legs(v, told);
  if (request.kind == "path") tell_walls(fitting, told);
  if (request.kind == "elbow") tell_bend(v, told, v.quantity("angle"), v.integer("pieces") > 2);
  if (request.kind == "offset") {
    for (const auto& fact : fitting.facts) {
      if (fact.key == "true_offset") told["offset"] = fact.value;
      if (fact.key == "bend_angle") tell_bend(v, told, fact.value, v.integer("pieces") > 2);
    }
  }
  if (request.kind == "reducer") {
    const double r1 = 0.5 * v.quantity("diameter"), r2 = 0.5 * v.quantity("to_diameter");
    told["to_diameter"] = 2.0 * r2;
    told["length"] = v.quantity("length");
    told["collar"] = v.quantity("collar");
    told["to_collar"] = v.quantity("to_collar");
    const double offset = v.flag("flat") ? r1 - r2 : v.quantity("offset");
    told["shift_x"] = offset * std::cos(v.quantity("flat_at"));
    told["shift_y"] = offset * std::sin(v.quantity("flat_at"));
  }
  return told;
}

// The kinds that are read from drawn metal: a tap's metal ends on the duct it sits on, in no circle, and a
// cap's disc closes what would be an end.
inline std::vector<std::string> kinds_read() {
  std::vector<std::string> kinds = support::random_kinds();
  for (const char* unread : {"tap", "cap"})
    kinds.erase(std::remove(kinds.begin(), kinds.end(), unread), kinds.end());
  return kinds;
}

// The request that a recognised body makes, with a liner as thick as the other's.
inline FittingRequest request_of(const RecognisedBody& body) {
  std::map<std::string, std::string> flags{{"thickness", "1mm"}};
  for (const auto& [key, value] : body.keys) flags[key] = value;
  return request_from_flags(body.kind, flags, Units::metric, job_schema());
}

// Where the two differ by more than `within`, or nothing.
inline std::string differences(const Told& wanted, const Told& read, double within) {
  std::string out;
  for (const auto& [key, value] : wanted) {
    const auto found = read.find(key);
    const double off = found == read.end()            ? 1e300
                       : key.substr(0, 6) == "around" ? std::fabs(full_turn(found->second - value))
                                                      : std::fabs(found->second - value);
    if (!(off <= within))
      out += key + " " + fixed(value, 9) + " read as " +
             (found == read.end() ? "nothing" : fixed(found->second, 9)) + "; ";
  }
  return out;
}

// Calls with random fittings of a kind until so many were possible, and returns how many were; those that
// geometry refuses are drawn anew, twenty times as many at most.
template <class Each>
int for_random_fittings(const std::string& kind, unsigned seed, int wanted, const Each& each) {
  support::Chance chance(seed);
  int done = 0;
  for (int i = 0; done < wanted && i < 20 * wanted; ++i) {
    support::Flags flags = support::random_flags(chance, kind);
    flags.erase("openings");  // drawn metal tells holes of branches alone
    // a pressed offset is not read from drawn metal
    if (kind == "offset") flags.erase("form");
    // a branch that turns is not read from drawn metal
    if (kind == "tee")
      for (const char* key : {"turn_to", "pieces", "radius_ratio", "collar"}) flags.erase(key);
    std::optional<Fitting> fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;
    }
    each(*fitting, support::written(kind, flags), done++, chance);
  }
  return done;
}

}  // namespace linerwright::testing
