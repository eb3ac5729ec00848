#include "collar_seams.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace linerwright {

namespace {

constexpr double k_same = 1e-9;    // rad
constexpr double k_strip = 0.01;   // rad, half the width of a strip beside a split that moves
constexpr int k_turns = 72;        // places tried for a seam
constexpr double k_enough = 25.0;  // mm

bool is_oblique(const Sheet& sheet) {
  return sheet.offset() != 0.0 || sheet.is_square_to_round();
}

double in_turn(double angle) {
  const double turn = std::fmod(angle, k_two_pi);
  return turn < 0.0 ? turn + k_two_pi : turn;
}

CollarSeam seam_on(const Joint& joint, double theta) {
  const double split = in_turn(parameter_at(joint, Side::follow, theta, shell_depths(0.0)));
  return {split, std::get<CollarTarget>(joint.target), joint.follow.at(0), theta};
}

// A split's parameter on the metal's outside, the duct face and the air face.
using Track = std::array<double, 3>;

std::array<double, 3> depths_of(const Fitting& fitting) {
  return {-fitting.liner.gauge, 0.0, fitting.liner.thickness};
}

Track track_of(const Fitting& fitting, const Joint& joint, const CollarSeam& seam) {
  Track track{};
  const std::array<double, 3> depths = depths_of(fitting);
  std::transform(depths.begin(), depths.end(), track.begin(),
                 [&](double w) { return split_at(joint.lead, seam, w); });
  return track;
}

// How far apart two splits are where they are nearest, radians: 0 where they change places between two
// depths, infinite where they are one at every depth, as in the taper's plane of symmetry.
double room_between(const Track& a, const Track& b) {
  double least = std::numeric_limits<double>::infinity();
  bool same = true;
  for (std::size_t k = 0; k < a.size(); ++k) {
    const double apart = std::remainder(a[k] - b[k], k_two_pi);
    const double first = std::remainder(a[0] - b[0], k_two_pi);
    same = same && std::fabs(apart) < k_same;
    least = std::min(least, apart * first > 0.0 ? std::fabs(apart) : 0.0);
  }
  return same ? std::numeric_limits<double>::infinity() : least;
}

// The splits that a new seam has to keep clear of.
std::vector<Track> taken_on(const Fitting& fitting, const Joint& joint,
                            const std::vector<double>& taper_seams) {
  std::vector<Track> taken;
  for (const CollarSeam& seam : joint.collar_seams) taken.push_back(track_of(fitting, joint, seam));
  for (const double split : joint.splits)
    if (std::none_of(joint.collar_seams.begin(), joint.collar_seams.end(),
                     [&](const CollarSeam& seam) { return seam.split == split; }))
      taken.push_back({split, split, split});
  for (const double seam : taper_seams) taken.push_back({seam, seam, seam});
  return taken;
}

}  // namespace

const Joint* joint_with_oblique_taper(const Fitting& fitting, const Wall& wall) {
  for (const JointUse& use : {wall.low, wall.high}) {
    const Joint& joint = fitting.joint(use.joint);
    if (use.side == Side::follow && is_oblique(joint.lead) &&
        std::holds_alternative<CollarTarget>(joint.target))
      return &joint;
  }
  return nullptr;
}

void add_collar_seam(Fitting& fitting, const Joint& joint, double theta) {
  const CollarSeam seam = seam_on(joint, theta);
  const Track track = track_of(fitting, joint, seam);
  const std::vector<Track> taken = taken_on(fitting, joint, {});
  for (const Track& other : taken)
    if (std::isinf(room_between(track, other))) return;
  if (joint.folded()) {  // its layers are divided anew at each depth
    for (Joint& each : fitting.joints)
      if (&each == &joint) each.collar_seams.push_back(seam);
    return;
  }
  // Between its splits a joint's face is ruled evenly from face to face. Splits that stay where they are, on
  // both sides of the one that moves, keep all but a strip of it as it would be without.
  double reach = k_strip;
  for (const double s : track) reach = std::max(reach, 4.0 * std::fabs(s - seam.split));
  std::vector<double> beside;
  for (const double at : {seam.split - reach, seam.split + reach})
    if (std::all_of(taken.begin(), taken.end(), [&](const Track& other) {
          const double room = room_between({at, at, at}, other);
          return room > reach && !std::isinf(room);
        }))
      beside.push_back(in_turn(at));
  std::vector<Joint*> ends;
  for (const Wall& wall : fitting.walls)
    if (is_oblique(wall.sheet))
      for (const JointUse& use : {wall.low, wall.high}) ends.push_back(&fitting.joint(use.joint));
  std::sort(ends.begin(), ends.end());
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  for (Joint* end : ends) {
    end->splits.push_back(seam.split);
    end->splits.insert(end->splits.end(), beside.begin(), beside.end());
    std::sort(end->splits.begin(), end->splits.end());
    end->collar_seams.push_back(seam);
  }
}

double clear_ruling(const Fitting& fitting, const Joint& joint, double from) {
  const std::vector<Track> taken = taken_on(fitting, joint, {});
  const double radius = joint.follow.at(0).r1();
  double best = from;
  double most = -1.0;
  for (int i = 0; i < k_turns && most < k_enough; ++i) {
    const double theta = in_turn(from + k_two_pi * i / k_turns);
    const Track track = track_of(fitting, joint, seam_on(joint, theta));
    double room = std::numeric_limits<double>::infinity();
    for (const Track& other : taken) room = std::min(room, room_between(track, other) * radius);
    if (room <= most) continue;
    most = room;
    best = theta;
  }
  return best;
}

std::optional<Division> clear_of_taper(const Fitting& fitting, const Piece& piece, const Divider& divider,
                                       const Division& division, const std::vector<double>& taper_seams) {
  const Wall& wall = fitting.wall_of(piece);
  const Joint* joint = joint_with_oblique_taper(fitting, wall);
  if (joint == nullptr || !division.in_panels()) return division;
  const std::vector<Track> taken = taken_on(fitting, *joint, taper_seams);
  const bool at_low = &fitting.joint(wall.low.joint) == joint;
  const std::size_t met = at_low ? 0 : division.rings() - 1;
  const double radius = wall.sheet.r1();
  const auto room_of = [&](const Division& tried) {
    double least = std::numeric_limits<double>::infinity();
    for (int p = 0; p < tried.panels_in(met); ++p) {
      const double theta = tried.seams[met] + tried.span(met) * p;
      const Track track = track_of(fitting, *joint, seam_on(*joint, theta));
      for (const Track& other : taken) least = std::min(least, room_between(track, other) * radius);
    }
    return least;
  };
  // seams stay where they usually lie if that is clear enough; else the clearest of even turns, the least
  // turn among equals
  double best_room = room_of(division);
  if (best_room >= k_enough) return division;
  Division best = division;
  for (int i = 1; i < k_turns; ++i) {
    Division turned = division;
    for (double& seam : turned.seams) seam += division.span(met) * i / k_turns;
    const double room = room_of(turned);
    if (room <= best_room * (1.0 + k_same) || !divider.fits(turned)) continue;
    best_room = room;
    best = std::move(turned);
  }
  if (best_room < k_seams_apart) return std::nullopt;
  return best;
}

}  // namespace linerwright
