// Seams of neighbouring pieces: how far apart they stand, and how a straight's lining is turned.
#include <algorithm>
#include <cmath>

#include "joints.hpp"

namespace linerwright {

namespace {

Vec3 turned(Vec3 direction, Vec3 axis, double angle) {
  // Rodrigues' rotation
  return std::cos(angle) * direction + std::sin(angle) * cross(axis, direction) +
         (1.0 - std::cos(angle)) * dot(axis, direction) * axis;
}

// A straight's lining is a cylinder: turned about the axis it stays what it is.
bool may_be_turned(const Placed& placed) {
  return placed.fitting->straight_run;
}

// The seams of every joint of the run that this fitting has a side of: its own, and the other side's.
struct Sides {
  std::vector<Vec3> own, other;
  bool other_stays;  // it is no straight that is still to be turned
};

// The smallest angle at all of these joints when the lining is turned by `angle` about `axis`.
double least_apart(const std::vector<Sides>& joints, Vec3 axis, double angle) {
  double least = k_pi;
  for (const Sides& joint : joints) {
    std::vector<Vec3> own;
    for (const Vec3 seam : joint.own) own.push_back(turned(seam, axis, angle));
    if (const auto apart = seams_apart(own, joint.other)) least = std::min(least, *apart);
  }
  return least;
}

}  // namespace

std::vector<Vec3> seams_at(const Placed& placed, const Port& port) {
  const Fitting& fitting = *placed.fitting;
  std::vector<Vec3> seams;
  for (const Piece& piece : fitting.pieces) {
    if (piece.wall != port.wall) continue;
    const Vec3 normal = fitting.wall_of(piece).sheet.normal(piece.seam);
    Vec3 seam = placed.frame.direction(normal);
    seam = seam - dot(seam, port.frame.z) * port.frame.z;
    if (!(norm(seam) > 1e-9)) continue;
    if (placed.ring_turn != 0.0) seam = turned(seam, placed.frame.z, placed.ring_turn);
    seams.push_back(normalised(seam));
  }
  return seams;
}

std::optional<double> seams_apart(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  std::optional<double> least;
  for (const Vec3 one : a)
    for (const Vec3 other : b) {
      const double angle = std::atan2(norm(cross(one, other)), dot(one, other));
      if (!least || angle < *least) least = angle;
    }
  return least;
}

void stagger_straights(LaidRun& run) {
  constexpr double k_step = 5.0 / 180.0 * k_pi;
  constexpr double k_slack = 1e-9;
  const std::size_t n = run.fittings.size();
  for (std::size_t i = 0; i < n; ++i) {
    Placed& placed = run.fittings[i];
    if (!may_be_turned(placed)) continue;
    std::vector<Sides> joints;
    const auto meets = [&](std::optional<std::size_t> own, std::size_t other,
                           std::optional<std::size_t> theirs) {
      if (!own || !theirs) return;
      const Placed& neighbour = run.fittings[other];
      joints.push_back({seams_at(placed, placed.ports[*own]), seams_at(neighbour, neighbour.ports[*theirs]),
                        other < i || !may_be_turned(neighbour)});
    };
    if (i > 0 || run.run.close)
      meets(placed.in, i > 0 ? i - 1 : n - 1, run.fittings[i > 0 ? i - 1 : n - 1].out);
    if (i + 1 < n || run.run.close) meets(placed.out, (i + 1) % n, run.fittings[(i + 1) % n].in);
    // the next straight is turned in its own time
    joints.erase(std::remove_if(joints.begin(), joints.end(), [](const Sides& s) { return !s.other_stays; }),
                 joints.end());
    if (joints.empty()) continue;
    double best = 0.0;
    double apart = least_apart(joints, placed.frame.z, 0.0);
    for (int k = 1; k <= 36 && apart < run.run.seam_stagger - k_slack; ++k)
      for (const double angle : {k * k_step, -k * k_step}) {
        const double now = least_apart(joints, placed.frame.z, angle);
        if (now > apart + k_slack) {
          apart = now;
          best = angle;
        }
        if (apart >= run.run.seam_stagger - k_slack) break;
      }
    placed.ring_turn = best;
  }
}

}  // namespace linerwright
