// Paths: straights, gored bends and tapers in a row, by the turns of one bend at a time. A mitre of half the
// angle between two gores stands r tan(mitre) cos x short of its middle in the throat (Longfield, Sheet Metal
// Drafting, 1921, p. 52 and 59); two bends whose planes differ by 180 degrees make an offset. Where a taper
// of half angle p meets its collar the corner of a layer w deep lies w tan(p/2) before the seam.
#include <algorithm>
#include <map>
#include <optional>

#include "kinds.hpp"
#include "worded_list.hpp"

namespace linerwright::asked {

namespace {

// "bend 45 turn 180" to what stands behind each word.
std::vector<Words> parts_of(const std::string& text) {
  return worded_list(text, {"straight", "bend", "taper", "turn", "pieces", "radius", "to", "over"});
}

// The walls laid so far and where the next one begins.
struct Way {
  const Request& request;
  Wanted wanted{};
  Place origin{}, axis{0.0, 0.0, 1.0}, zero{1.0, 0.0, 0.0};
  double radius = 0.0;
  double at = 0.0;                       // along the wall that is being laid
  double throat = 0.0;                   // its ruling
  double half_before = 0.0;              // half angle of the taper before
  std::optional<double> mitre_before{};  // and the mitre
  double throat_before = 0.0;

  Wall begun(bool open_before) const {
    Wall wall;
    wall.id = std::to_string(wanted.walls.size() + 1);
    wall.radius = radius;
    wall.origin = origin;
    wall.axis = axis;
    wall.zero = zero;
    wall.low_open = open_before;
    return wall;
  }

  // A cylinder that ends in a mitre, at a taper of this half angle, or openly.
  void cylinder(std::optional<double> mitre, double half) {
    Wall wall = begun(wanted.walls.empty());
    wall.role = "middle piece";
    const double r = radius;
    const double s = at;
    const double before = half_before;
    const double face = throat;
    if (mitre_before) {
      const double rise = std::tan(*mitre_before);
      const double faced = throat_before;
      wall.low = [=](double theta, double w) { return (r - w) * rise * std::cos(theta - faced); };
    } else {
      wall.low = [before](double, double w) { return -w * std::tan(0.5 * before); };
    }
    if (mitre) {
      const double rise = std::tan(*mitre);
      wall.high = [=](double theta, double w) { return s - (r - w) * rise * std::cos(theta - face); };
    } else {
      wall.high = [=](double, double w) { return s - w * std::tan(0.5 * half); };
    }
    wall.high_open = false;
    wanted.walls.push_back(wall);
  }

  void bend(const Words& words) {
    const auto has = [&](const char* name) { return words.count(name) > 0; };
    const double angle = value_of(words.at("bend"), What::angle, request.inches);
    const double pieces =
        has("pieces") ? value_of(words.at("pieces"), What::number, request.inches) : request.value("pieces");
    const double centre = has("radius") ? value_of(words.at("radius"), What::length, request.inches)
                          : request.stated("centreline_radius")
                              ? request.value("centreline_radius")
                              : request.value("radius_ratio") * 2.0 * radius;
    if (has("turn")) throat += value_of(words.at("turn"), What::angle, request.inches);
    const double mitre = angle / (2.0 * (pieces - 1.0));
    for (int k = 1; k < static_cast<int>(pieces); ++k) {
      at += centre * std::tan(mitre);
      cylinder(mitre, 0.0);
      const Place side = square_to(axis, zero);
      const Place toward = std::cos(throat) * zero + std::sin(throat) * side;
      const Place about = square_to(axis, toward);
      origin = origin + at * axis;
      const auto turned = [&](const Place& way) {
        const double share = along(way, about);
        const Place flat = way - share * about;
        return share * about + std::cos(2.0 * mitre) * flat + std::sin(2.0 * mitre) * square_to(about, flat);
      };
      const Place next_axis = turned(axis);
      zero = turned(zero);
      axis = next_axis;
      at = centre * std::tan(mitre);
      mitre_before = mitre;
      throat_before = throat;
    }
  }

  // Where a taper's corner with what it meets lies on its rulings, over the depth: 0 half angle a collar's.
  static double corner(double half, double other) {
    const double before = (std::sin(half) + std::sin(other)) / (1.0 + std::cos(half - other));
    return (std::sin(half) - before) / std::cos(half);
  }

  void taper(const Words& words) {
    const double to = value_of(words.at("to"), What::length, request.inches) / 2.0;
    const double length = value_of(words.at("over"), What::length, request.inches);
    const double half = std::atan2(radius - to, length);
    const bool first = wanted.walls.empty() && at == 0.0;
    if (at > 0.0 || mitre_before) cylinder(std::nullopt, half);
    origin = origin + at * axis;
    Wall wall = begun(first);
    wall.role = "taper";
    wall.taper = length;
    wall.to_radius = to;
    const double full = std::hypot(length, radius - to);
    const bool on_taper = at == 0.0 && !mitre_before && !first;
    const double met = on_taper ? half_before : 0.0;
    const double walk = first ? std::tan(half) : corner(half, met);
    wall.low = [walk](double, double w) { return w * walk; };
    wall.high = [=](double, double w) { return full + w * corner(half, 0.0); };
    if (on_taper) {  // and the one before ends there
      Wall& before = wanted.walls.back();
      const double its = half_before;
      const double length_before = std::hypot(before.taper, before.radius - before.to_radius);
      before.high = [=](double, double w) { return length_before + w * corner(its, half); };
    }
    wall.high_open = false;
    wanted.walls.push_back(wall);
    origin = origin + length * axis;
    radius = to;
    at = 0.0;
    half_before = half;
    mitre_before.reset();
  }

  // The last wall ends openly.
  void finish() {
    if (at > 0.0 || mitre_before) {
      cylinder(std::nullopt, 0.0);
    } else {
      Wall& last = wanted.walls.back();
      const double full = std::hypot(last.taper, last.radius - last.to_radius);
      const double half = std::atan2(last.radius - last.to_radius, last.taper);
      last.high = [=](double, double w) { return full + w * std::tan(half); };
    }
    wanted.walls.back().high_open = true;
  }
};

}  // namespace

Wanted wanted_path(const Request& request) {
  Way way{request};
  way.radius = request.value("diameter") / 2.0;
  std::optional<double> first_throat;
  for (const Words& words : parts_of(request.word("parts"))) {
    if (words.count("straight") > 0) {
      way.at += value_of(words.at("straight"), What::length, request.inches);
    } else if (words.count("bend") > 0) {
      way.bend(words);
      if (!first_throat) first_throat = way.throat;
    } else {
      way.taper(words);
    }
  }
  way.finish();
  Wanted& wanted = way.wanted;
  const bool at_throat = request.word("seam") == "throat";
  for (std::size_t k = 0; k < wanted.walls.size(); ++k) {
    Wall& wall = wanted.walls[k];
    if (wall.taper <= 0.0 && (k == 0 || k + 1 == wanted.walls.size())) wall.role = "end piece";
    wall.seam = first_throat.value_or(0.0) + ((k % 2 == 0) == at_throat ? 0.0 : k_pi);
  }
  const Wall& low = wanted.walls.front();
  const Wall& high = wanted.walls.back();
  const double from = request.value("diameter") / 2.0;
  wanted.ends = {{low.id, low.origin, -1.0 * low.axis, from, low.taper <= 0.0},
                 {high.id, way.origin + way.at * high.axis, high.axis, way.radius, high.taper <= 0.0}};
  const double t = request.bore_depth();
  const auto lined = [&](const OpenEnd& end) { return 2.0 * std::sqrt(end_area(wanted, end, t) / k_pi); };
  wanted.bore = {{"through", "one end", 2.0 * from, lined(wanted.ends[0])},
                 {"through", "other end", 2.0 * way.radius, lined(wanted.ends[1])}};
  return wanted;
}

}  // namespace linerwright::asked
