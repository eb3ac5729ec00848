// A sheet is one developable wall of a round fitting: straight rulings around a circle. Depth w is the
// distance from the duct's inside surface toward the axis: 0 on the duct face of the liner, its thickness on
// the air face, negative in the metal.
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// A wall from a circle of radius r1 in the local plane z = 0 to a circle of radius r2 in the plane z =
// height, whose centre is moved by `offset` along local +x. One formula covers the cylinder (r1 = r2), the
// right cone and the oblique cone of an eccentric reducer.
class Sheet {
 public:
  // Throw std::invalid_argument on a radius or height that is not positive and finite.
  static Sheet cylinder(const Frame& frame, double radius);
  static Sheet cone(const Frame& frame, double r1, double r2, double height, double offset = 0.0);
  // Four flat triangles and four parts of oblique cones: the side of the convex hull of a rectangle in the
  // local plane z = 0, 2 half_x by 2 half_y about the origin, and a circle in the plane z = height about
  // `centre`. Each part has an eighth of a turn of theta; flats lie about 0, 90, 180 and 270 degrees and are
  // ruled from the rectangle's side to the point in which they touch the circle, cones from the rectangle's
  // corner to a quarter of the circle. r1 is the radius of the circle about the rectangle. A straight
  // rectangular collar of this length may stand below it, whose four panels are walls of their own
  // (panels.hpp).
  static Sheet square_to_round(const Frame& frame, double half_x, double half_y, double radius, double height,
                               Vec2 centre = {}, double collar = 0.0);
  // A flat wall, a cone of half angle 90 degrees: its rulings run in the plane z = 0 from the rim to the
  // centre, and its outside faces +z.
  static Sheet disc(const Frame& frame, double radius);

  const Frame& frame() const { return frame_; }
  double r1() const { return r1_; }
  double r2() const { return r2_; }
  double height() const { return height_; }
  double offset() const { return offset_; }
  bool is_square_to_round() const { return half_.x > 0.0; }
  bool is_cylinder() const { return !is_square_to_round() && r1_ == r2_ && offset_ == 0.0; }
  // A disc is one, too.
  bool is_right_cone() const { return !is_square_to_round() && r1_ != r2_ && offset_ == 0.0; }
  bool is_flat() const { return height_ == 0.0; }
  // Of a square-to-round: half the rectangle's sides, and the circle's centre.
  Vec2 half_sides() const { return half_; }
  Vec2 centre() const { return centre_; }
  // Length of its rectangular collar; 0: it has none.
  double square_collar() const { return collar_; }

  // The point of ruling theta at distance v along the ruling from the base circle, at depth w.
  Vec3 point(double theta, double v, double w) const;
  // The outward unit normal and the unit direction along the ruling: constant along the ruling.
  Vec3 normal(double theta) const;
  Vec3 direction(double theta) const;

  // The same in local coordinates, with derivatives by theta; e = d x n completes the moving frame (e, d, n).
  struct Ruling {
    Vec3 base, base_slope;            // b and db/dtheta on the duct's inside surface
    Vec3 direction, direction_slope;  // d
    Vec3 normal, normal_slope;        // n
    Vec3 around;                      // e
    double length;                    // of the ruling between the two circles
    double lean;                      // c: the normal is (cos, sin, c) / sqrt(1 + c^2); of a disc infinite
  };
  Ruling ruling(double theta) const;

  struct Place {
    double theta;  // in (-pi, pi]
    double v;
  };
  // Where a point that lies on this sheet at depth w has its ruling. Closed form; cylinder and right cone
  // only (throws std::logic_error otherwise).
  Place locate(Vec3 point, double w) const;
  // v at which ruling theta, at depth w, reaches local height z; of a disc's none does.
  double v_at_height(double theta, double z, double w) const;
  // Distance around per radian at (theta, v, w), positive while the layer has not folded over.
  double spread(double theta, double v, double w) const;

 private:
  Sheet(const Frame& frame, double r1, double r2, double height, double offset);
  Ruling part_ruling(double theta) const;  // of a square-to-round
  Frame frame_;
  double r1_, r2_, height_, offset_;
  Vec2 half_{};  // none: the wall is no square-to-round
  Vec2 centre_{};
  double collar_ = 0.0;
};

// A part of a square-to-round: flat k faces k quarters of a turn; corner k lies between flats k and k + 1.
struct WallPart {
  int quarter;  // k, from 0 to 3
  bool flat;
  double from;  // theta at which it begins; it has an eighth of a turn
};
constexpr double k_part_span = 0.25 * k_pi;
// Of a square-to-round: the lean of a plane whose foot lies so far within its circle's, over this height.
// What rounding leaves of a flat that stands upright is none, or its two ends would take different sides of
// it.
inline double lean_of(double within, double height) {
  constexpr double k_rounding = 1e-12;
  const double lean = within / height;
  return std::fabs(lean) < k_rounding ? 0.0 : lean;
}
WallPart part_at(double theta);
// theta of the cone's ruling whose normal points `turn` radians on from flat k's, and the other way around.
double corner_theta(int quarter, double turn);
double corner_turn(int quarter, double theta);

// The sheet unrolled flat at its reference depth: the fibre that keeps its length when the board is bent. x
// runs around in the direction of growing theta, seen from outside; `scale` shortens the way around (fit
// allowance).
class Development {
 public:
  // `general` forces the numerical integral where a closed form exists (for tests).
  Development(const Sheet& sheet, double reference_depth, double scale, double seam, bool general = false);

  // Flat place of the foot on the reference surface of the normal through (theta, v); any theta, the seam at
  // x = 0.
  Vec2 point(double theta, double v) const;
  // Angle by which the ruling at theta leans from +y toward +x on the board, radians.
  double lean(double theta) const;
  double seam() const { return seam_; }
  double scale() const { return scale_; }
  // The inverse: theta and v of a flat point; `theta_guess` picks the branch and starts the search.
  Sheet::Place place(Vec2 flat, double theta_guess) const;

 private:
  struct State {
    double lean;
    Vec2 point;
  };
  // Lean and place along a stretch of rulings, as sums of Legendre polynomials.
  static constexpr int k_terms = 10;
  using Terms = std::array<State, k_terms>;
  State slope_free(double theta) const;
  State advance(const State& from, double theta_from, double theta_to, Terms* terms = nullptr) const;
  static void add_to_terms(Terms& terms, const State& change, double h, double node);
  static State along_step(const State& from, const Terms& terms, double share);

  Sheet sheet_;
  double depth_, scale_, seam_;
  bool general_;
  double sin_phi_ = 0.0, slant_ = 0.0;  // of a right cone
  std::vector<State> knots_;            // at equal steps of theta over one turn from the seam
  std::vector<Terms> between_;          // of each step
};

// Nodes and weights of Gauss-Legendre quadrature on [0, 1] with 10 points.
struct GaussRule {
  static constexpr int k_points = 10;
  std::array<double, k_points> node;
  std::array<double, k_points> weight;
  // integral from 0 to node i of the Lagrange polynomial of node j
  std::array<std::array<double, k_points>, k_points> partial;
};
const GaussRule& gauss_rule();

// Integral of f over [a, b] by `panels` Gauss-Legendre panels.
template <class F>
double integrate(F&& f, double a, double b, int panels) {
  const GaussRule& rule = gauss_rule();
  const double step = (b - a) / panels;
  double sum = 0.0;
  for (int p = 0; p < panels; ++p)
    for (int i = 0; i < GaussRule::k_points; ++i)
      sum += rule.weight[static_cast<std::size_t>(i)] *
             f(a + step * (p + rule.node[static_cast<std::size_t>(i)]));
  return sum * step;
}

}  // namespace linerwright
