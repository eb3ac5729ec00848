#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "proof.hpp"

namespace linerwright {

CheckResult within(std::string name, double value, double limit, std::string unit, std::string detail) {
  return {std::move(name), value, limit, value <= limit, std::move(unit), std::move(detail)};
}

CheckResult undone(std::string name, std::string why) {
  return {std::move(name), 1.0, 0.0, false, "", std::move(why)};
}

std::string one_line(const CheckResult& result) {
  const auto shown = [](double value) {
    return value != 0.0 && std::fabs(value) < 1e-4 ? fmt::format("{:.1e}", value) : trimmed(value, 5);
  };
  const std::string unit = result.unit.empty() ? "" : " " + result.unit;
  std::string line = fmt::format("{}  {:<24} {}{}  (limit {}{})", result.pass ? "pass" : "FAIL", result.name,
                                 shown(result.value), unit, shown(result.limit), unit);
  if (!result.detail.empty()) line += "  " + result.detail;
  return line;
}

namespace {

// Length of a joint's edge on the board of one side, unshortened, with the duct face as reference: the
// unrolling keeps lengths, so it is the edge's length in space, and the same for both pieces that meet there.
double developed_length(const Fitting& fitting, const Wall& wall, const JointUse& use) {
  const Joint& joint = fitting.joints[static_cast<std::size_t>(use.joint)];
  const Development board(wall.sheet, 0.0, 1.0, 0.0);
  double length = 0.0;
  for (const Arc& arc : arcs_of(joint)) {
    double last_theta = place_on(joint, use.side, arc.from, shell_depths(0.0)).theta;
    const auto at = [&](double psi) {
      const double s = 0.5 * (arc.from + arc.to) - 0.5 * (arc.to - arc.from) * std::cos(psi);
      Sheet::Place place = place_on(joint, use.side, s, shell_depths(0.0));
      place.theta += k_two_pi * std::round((last_theta - place.theta) / k_two_pi);
      return board.point(place.theta, place.v);
    };
    constexpr double h = 2e-3;
    length += integrate(
        [&](double psi) {
          last_theta =
              place_on(joint, use.side, 0.5 * (arc.from + arc.to) - 0.5 * (arc.to - arc.from) * std::cos(psi),
                       shell_depths(0.0))
                  .theta;
          return norm((1.0 / (12.0 * h)) *
                      (8.0 * (at(psi + h) - at(psi - h)) - (at(psi + 2.0 * h) - at(psi - 2.0 * h))));
        },
        0.0, k_pi, 24);
  }
  return length;
}

}  // namespace

std::vector<CheckResult> quick_checks(const Fitting& fitting, const Model& model,
                                      const std::vector<Pattern>& patterns) {
  std::vector<CheckResult> results;
  results.push_back(within("fill", model.fill_error, 1e-8, "", "liner volumes against cavity less bore"));
  results.push_back(
      within("volumes", model.volume_error, 1e-7, "", "metal, cavity and bore against the integrals"));
  results.push_back(within("joint curves", model.curve_deviation, 1e-3, "mm", "fitted against exact"));

  // edges that meet
  double worst = 0.0;
  int met = 0;
  for (std::size_t j = 0; j < fitting.joints.size(); ++j) {
    if (fitting.joints[j].open()) continue;
    std::vector<double> lengths;
    for (const Wall& wall : fitting.walls) {
      std::vector<JointUse> uses = wall.holes;
      uses.push_back(wall.low);
      uses.push_back(wall.high);
      for (const JointUse& use : uses)
        if (use.joint == static_cast<int>(j)) lengths.push_back(developed_length(fitting, wall, use));
    }
    if (lengths.size() == 2) {
      worst = std::max(worst, std::fabs(lengths[0] - lengths[1]));
      ++met;
    }
  }
  if (met > 0)
    results.push_back(within("edges that meet", worst, 1e-3, "mm",
                             fmt::format("difference of developed lengths, {} joints", met)));

  // areas of the duct face, where its edges are the shells' own and the duct face is the reference
  double area_off = 0.0;
  int areas = 0;
  for (const Pattern& pattern : patterns) {
    if (pattern.pieces.size() != 1 || fitting.liner.neutral_factor != 0.0 ||
        fitting.liner.joint != JointStyle::mitre)
      continue;
    const Piece& piece = fitting.pieces[static_cast<std::size_t>(pattern.pieces.front())];
    const bool notched =
        std::any_of(fitting.notched.begin(), fitting.notched.end(),
                    [&](const NotchedBlank& blank) { return patterns.size() > 0 && blank.id == pattern.id; });
    if (notched || !piece.full_turn()) continue;
    // a chord within the stated error takes off at most that times the contour's length
    double perimeter = polyline_length(pattern.duct.outer, true);
    for (const Ring& hole : pattern.duct.holes) perimeter += polyline_length(hole, true);
    const double exact = wall_area(fitting, piece.wall, 0.0) * fit_scale(fitting, piece.wall);
    area_off = std::max(area_off, std::fabs(pattern.duct_area - exact) / perimeter);
    ++areas;
  }
  if (areas > 0)
    results.push_back(within("pattern areas", area_off, k_chord_error, "mm",
                             "area off the integral, over the contour's length"));
  return results;
}

}  // namespace linerwright
