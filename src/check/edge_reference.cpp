#include "edge_reference.hpp"

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

double counted_from(double seam, double theta) {
  double turn = std::fmod(theta - seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  return seam + turn;
}

}  // namespace

std::vector<Vec2> EdgeReference::between(double share) const {
  std::vector<Vec2> line;
  for (std::size_t i = 0; i < duct.size(); ++i) line.push_back(at(i, share));
  return line;
}

EdgeReference end_reference(const Fitting& fitting, const RolledPiece& rolled, bool high, double butt,
                            int steps) {
  const Piece& piece = rolled.piece();
  const Wall& wall = fitting.walls[static_cast<std::size_t>(piece.wall)];
  const JointUse& use = high ? wall.high : wall.low;
  const Joint& joint = fitting.joints[static_cast<std::size_t>(use.joint)];
  const LinerSpec& liner = fitting.liner;
  const double extra = (joint.open() ? liner.end_allowance : butt) * (high ? 1.0 : -1.0);
  std::vector<double> rulings;
  for (int i = 0; i <= steps; ++i) rulings.push_back(piece.seam + piece.span * i / steps);
  for (const double s : joint.splits)
    rulings.push_back(counted_from(
        piece.seam,
        place_on(joint, use.side, s, liner_depths(joint.style, use.side, 0.0, liner.thickness)).theta));
  std::sort(rulings.begin(), rulings.end());
  while (rulings.back() > piece.seam + piece.span) rulings.pop_back();
  EdgeReference reference;
  for (const double theta : rulings) {
    const auto at = [&](double w) {
      return rolled.board({theta, end_height(fitting, piece.wall, high, theta, w) + extra});
    };
    reference.duct.push_back(at(0.0));
    reference.air.push_back(at(liner.thickness));
  }
  return reference;
}

EdgeReference hole_reference(const Fitting& fitting, const RolledPiece& rolled, const JointUse& use,
                             int steps_around) {
  const Joint& joint = fitting.joints[static_cast<std::size_t>(use.joint)];
  const LinerSpec& liner = fitting.liner;
  EdgeReference reference;
  reference.hole = true;
  const std::vector<Arc> arcs = arcs_of(joint);
  const int steps = steps_around / static_cast<int>(arcs.size());
  for (const Arc& arc : arcs)
    for (int i = 0; i < steps; ++i) {
      // close together toward the ends, where a curve that is nearly cornered bends
      const double s = arc.from + (arc.to - arc.from) * 0.5 * (1.0 - std::cos(k_pi * i / steps));
      const auto at = [&](double w) {
        Sheet::Place place =
            place_on(joint, use.side, s, liner_depths(joint.style, use.side, w, liner.thickness));
        place.theta = counted_from(rolled.piece().seam, place.theta);
        return rolled.board(place);
      };
      reference.duct.push_back(at(0.0));
      reference.air.push_back(at(liner.thickness));
    }
  for (std::size_t i = 0; i < reference.duct.size(); ++i) {
    bool corner = false;
    for (std::size_t a = 0; a < arcs.size(); ++a) {
      const std::size_t split = a * static_cast<std::size_t>(steps);
      for (const auto* line : {&reference.duct, &reference.air})
        corner = corner || distance((*line)[i], (*line)[split]) < 4.0 * liner.butt_allowance;
    }
    reference.corner.push_back(corner);
  }
  return reference;
}

}  // namespace linerwright
