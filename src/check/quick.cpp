#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/sheet/panels.hpp"
#include "proof.hpp"

namespace linerwright {

std::string fill_words(const Fitting& fitting) {
  return fitting.openings.empty() ? "liner volumes against cavity less bore"
                                  : "liner volumes and what openings take out against cavity less bore";
}

namespace {

// Length of a joint's edge on the board of one side, unshortened, with the duct face as reference: the
// unrolling keeps lengths, so it is the edge's length in space, and the same for both pieces that meet there.
double developed_length(const Fitting& fitting, const Wall& wall, const JointUse& use) {
  const Joint& joint = fitting.joint(use.joint);
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

// Area of one face of a piece on the board, by integrals over the rulings. Across a ruling's length the
// distance around per radian grows evenly, so its mean is that of the ends.
double face_area(const Fitting& fitting, const Piece& piece, double w) {
  const Wall& wall = fitting.wall_of(piece);
  if (const auto* panel = std::get_if<PanelTarget>(&fitting.joint(wall.low.joint).target))
    return panel_area(panel->hull, panel->side, w);
  const Development board = development_of(fitting, piece);
  const LinerSpec& liner = liner_of(fitting, piece);
  const double depth = liner.reference_depth();
  const auto joint_of = [&](const JointUse& use) -> const Joint& { return fitting.joint(use.joint); };
  const auto from_seam = [&](double theta) {
    double turn = std::fmod(theta - piece.seam, k_two_pi);
    return piece.seam + (turn < 0.0 ? turn + k_two_pi : turn);
  };
  double sum = 0.0;
  for (const End end : k_both_ends) {
    std::vector<double> corners{piece.seam, piece.seam + piece.span};
    for (const double theta : corners_at(fitting, piece.wall, end, w)) corners.push_back(from_seam(theta));
    const double last = piece.seam + piece.span;
    corners.erase(std::remove_if(corners.begin(), corners.end(), [&](double c) { return c > last; }),
                  corners.end());
    std::sort(corners.begin(), corners.end());
    for (std::size_t i = 0; i + 1 < corners.size(); ++i)
      sum += outward(end) *
             integrate(
                 [&](double theta) {
                   const double v = liner_end(fitting, piece.wall, end, theta, w);
                   return 0.5 * v * board.scale() *
                          (wall.sheet.spread(theta, 0.0, depth) + wall.sheet.spread(theta, v, depth));
                 },
                 corners[i], corners[i + 1], 8);
  }
  for (const std::size_t h : holes_of(fitting, piece)) {
    const JointUse& use = wall.holes[h];
    const Joint& joint = joint_of(use);
    Ring hole;
    constexpr int k_steps = 256;  // close together toward corners: the area is within 1e-4 of the exact one
    for (const Arc& arc : arcs_of(joint))
      for (int i = 0; i < k_steps; ++i) {
        const double s = arc.from + (arc.to - arc.from) * 0.5 * (1.0 - std::cos(k_pi * i / k_steps));
        const Sheet::Place place =
            place_on(joint, use.side, s, liner_depths(joint.style, use.side, w, liner.bore_depth()));
        hole.push_back(board.point(from_seam(place.theta), place.v));
      }
    sum -= std::fabs(signed_area(hole));
  }
  return sum;
}

// A chord within the stated error takes off, or adds, at most that times the contour's length.
void add_areas(std::vector<CheckResult>& results, const Fitting& fitting,
               const std::vector<Pattern>& patterns) {
  double off = 0.0;
  int areas = 0;
  for (const Pattern& pattern : patterns) {
    const LinerSpec& liner = liner_of(fitting, pattern);
    if (std::any_of(fitting.notched.begin(), fitting.notched.end(),
                    [&](const NotchedBlank& blank) { return blank.id == pattern.id; }))
      continue;  // folded, not developed
    for (const auto& [face, w] : {std::pair<const Region*, double>{&pattern.duct, liner.outer_depth},
                                  {&pattern.air, liner.inner_depth()}}) {
      double exact = 0.0;
      for (const int index : pattern.pieces) exact += face_area(fitting, fitting.piece(index), w);
      // a shared cut leaves both its pieces their butt allowance
      exact +=
          2.0 * liner.butt_allowance * static_cast<double>(pattern.pieces.size() - 1) * pattern.stretch_out;
      double perimeter = polyline_length(face->outer, true);
      for (const Ring& hole : face->holes) perimeter += polyline_length(hole, true);
      off = std::max(off, std::fabs(area(*face) - exact) / perimeter);
      ++areas;
    }
  }
  if (areas > 0)
    results.push_back(within("pattern areas", off, k_chord_error, "mm",
                             fmt::format("{} faces off their integrals, over the contour's length", areas)));
}

}  // namespace

std::vector<CheckResult> quick_checks(const Fitting& fitting, const Model& model,
                                      const std::vector<Pattern>& patterns) {
  std::vector<CheckResult> results;
  results.push_back(within("fill", model.fill_error, 1e-8, "", fill_words(fitting)));
  results.push_back(
      within("volumes", model.volume_error, 1e-7, "", "metal, cavity and bore against the integrals"));
  results.push_back(within("joint curves", model.curve_deviation, 1e-3, "mm", "fitted against exact"));

  // edges that meet
  double worst = 0.0;
  int met = 0;
  for (std::size_t j = 0; j < fitting.joints.size(); ++j) {
    if (fitting.joints[j].open()) continue;
    std::vector<double> lengths;
    for (const Wall& wall : fitting.walls)
      for (const JointUse& use : joints_of(wall))
        if (use.joint == static_cast<int>(j)) lengths.push_back(developed_length(fitting, wall, use));
    if (lengths.size() == 2) {
      worst = std::max(worst, std::fabs(lengths[0] - lengths[1]));
      ++met;
    }
  }
  if (met > 0)
    results.push_back(within("edges that meet", worst, 1e-3, "mm",
                             fmt::format("difference of developed lengths, {} joints", met)));

  add_areas(results, fitting, patterns);
  return results;
}

}  // namespace linerwright
