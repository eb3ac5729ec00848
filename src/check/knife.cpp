// What the knife follows, held against the joints' closed forms under the cut policy and the allowances.
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "dxf_lines.hpp"
#include "near_lines.hpp"
#include "proof.hpp"
#include "rolled_piece.hpp"

namespace linerwright {

namespace {

// An edge of both faces on the board, point by point, with the allowance of an end added.
struct Reference {
  std::vector<Vec2> duct, air;
  std::vector<bool> corner;  // near one: there a smaller hole's corner lies further in
  bool hole = false;

  // At a share of the way from the duct face's edge to the air face's.
  Vec2 at(std::size_t i, double share) const { return (1.0 - share) * duct[i] + share * air[i]; }
  std::vector<Vec2> between(double share) const {
    std::vector<Vec2> line;
    for (std::size_t i = 0; i < duct.size(); ++i) line.push_back(at(i, share));
    return line;
  }
};

constexpr int k_steps = 2880;  // around

double counted_from(double seam, double theta) {
  double turn = std::fmod(theta - seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  return seam + turn;
}

Reference end_reference(const Fitting& fitting, const RolledPiece& rolled, bool high, double butt) {
  const Piece& piece = rolled.piece();
  const Wall& wall = fitting.walls[static_cast<std::size_t>(piece.wall)];
  const JointUse& use = high ? wall.high : wall.low;
  const Joint& joint = fitting.joints[static_cast<std::size_t>(use.joint)];
  const LinerSpec& liner = fitting.liner;
  const double extra = (joint.open() ? liner.end_allowance : butt) * (high ? 1.0 : -1.0);
  std::vector<double> rulings;
  for (int i = 0; i <= k_steps; ++i) rulings.push_back(piece.seam + piece.span * i / k_steps);
  for (const double s : joint.splits)
    rulings.push_back(counted_from(
        piece.seam,
        place_on(joint, use.side, s, liner_depths(joint.style, use.side, 0.0, liner.thickness)).theta));
  std::sort(rulings.begin(), rulings.end());
  while (rulings.back() > piece.seam + piece.span) rulings.pop_back();
  Reference reference;
  for (const double theta : rulings) {
    const auto at = [&](double w) {
      return rolled.board({theta, end_height(fitting, piece.wall, high, theta, w) + extra});
    };
    reference.duct.push_back(at(0.0));
    reference.air.push_back(at(liner.thickness));
  }
  return reference;
}

Reference hole_reference(const Fitting& fitting, const RolledPiece& rolled, const JointUse& use) {
  const Joint& joint = fitting.joints[static_cast<std::size_t>(use.joint)];
  const LinerSpec& liner = fitting.liner;
  Reference reference;
  reference.hole = true;
  const std::vector<Arc> arcs = arcs_of(joint);
  const int steps = k_steps / static_cast<int>(arcs.size());
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

// Shares of the way from the duct face's edge to the air face's, on any of which the knife may be.
std::vector<double> shares_of(const LinerSpec& liner, bool is_blank) {
  switch (liner.cut) {
    case CutPolicy::outer:
      if (!is_blank) return {0.0, 1.0};
      break;  // a shared cut goes half way
    case CutPolicy::mid:
      break;
    case CutPolicy::duct:
      return {0.0};
    case CutPolicy::air:
      return {1.0};
    case CutPolicy::tilt:
      return {liner.face_up == Face::air ? 1.0 : 0.0};
  }
  return {0.5};
}

// A line that the knife may follow: an end's or a seam, or the closed one of a hole.
struct Followed {
  explicit Followed(BoardLine on) : line(std::move(on)), near({line}) {}
  BoardLine line;
  NearLines near;
};

// How far the knife's point lies from where it may be: on an end's edge, or inside a hole's edge by the butt
// allowance.
double stray(Vec2 p, const std::vector<Followed>& targets, double butt) {
  double least = std::numeric_limits<double>::infinity();
  for (const Followed& target : targets) {
    double away = target.near.distance(p);
    if (target.line.closed && butt > 0.0)
      away = point_in_polygon(p, target.line.points) ? std::fabs(away - butt) : away + butt;
    least = std::min(least, away);
  }
  return least;
}

// How far the edge lies from the nearest cut. Where the knife keeps all material of both faces it follows, of
// an end, whichever face reaches further on the ruling, and of a hole, what of each face's edge lies in the
// other's hole.
double bare(const Reference& reference, const std::vector<double>& shares, const NearLines& cut,
            double butt) {
  double worst = 0.0;
  for (std::size_t i = 0; i < reference.duct.size(); ++i) {
    if (!reference.hole) {
      double away = std::numeric_limits<double>::infinity();
      for (const double share : shares) away = std::min(away, cut.distance(reference.at(i, share)));
      worst = std::max(worst, away);
      continue;
    }
    if (reference.corner[i] && butt > 0.0) continue;
    for (const double share : shares) {
      if (shares.size() > 1 &&
          !point_in_polygon(reference.at(i, share), share > 0.5 ? reference.duct : reference.air))
        continue;
      worst = std::max(worst, cut.distance(reference.at(i, share)) - butt);
    }
  }
  return worst;
}

}  // namespace

CheckResult prove_knife(const Fitting& fitting, const Pattern& pattern, const BoardLines& cut) {
  const LinerSpec& liner = fitting.liner;
  const std::vector<double> shares = shares_of(liner, pattern.is_blank);
  const std::vector<BoardLines> parts = lines_by_part(cut, pattern, liner.butt_allowance);
  double off = 0.0;
  std::size_t points = 0;
  for (std::size_t part = 0; part < parts.size(); ++part) {
    const RolledPiece rolled(fitting, pattern, part);
    // the lines of a blank's parts come without the butt allowance
    const double butt = pattern.is_blank ? 0.0 : liner.butt_allowance;
    std::vector<Reference> references{end_reference(fitting, rolled, false, butt),
                                      end_reference(fitting, rolled, true, butt)};
    for (const std::size_t h : holes_of(fitting, rolled.piece()))
      references.push_back(hole_reference(
          fitting, rolled, fitting.walls[static_cast<std::size_t>(rolled.piece().wall)].holes[h]));
    std::vector<Followed> targets;
    for (const Reference& reference : references)
      for (const double share : shares)
        targets.emplace_back(BoardLine{reference.between(share), reference.hole});
    // the board's seams are straight, and may have points anywhere
    for (const bool last : {false, true}) {
      BoardLine seam;
      for (const Reference* end : {&references[0], &references[1]})
        for (const double share : shares)
          seam.points.push_back(end->at(last ? end->duct.size() - 1 : 0, share));
      targets.emplace_back(std::move(seam));
    }
    for (const BoardLine& line : parts[part])
      for (const Vec2 p : line.points) {
        off = std::max(off, stray(p, targets, liner.butt_allowance));
        ++points;
      }
    const NearLines near(parts[part]);
    for (const Reference& reference : references)
      off = std::max(off, bare(reference, shares, near, liner.butt_allowance));
  }
  return within("knife " + pattern.id, off, 0.05 + k_chord_error, "mm",
                fmt::format("{} points of the cut to the joints' closed forms, and back", points));
}

}  // namespace linerwright
