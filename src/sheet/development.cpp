#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "board_ways.hpp"
#include "linerwright/sheet/part_places.hpp"
#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

namespace {

constexpr int k_panels = 64;
constexpr double k_step = k_two_pi / k_panels;

}  // namespace

Development::Development(const Sheet& sheet, double reference_depth, double scale, double seam, bool general)
    : sheet_(sheet),
      depth_(reference_depth),
      scale_(scale),
      seam_(seam),
      general_(general || (!sheet.is_cylinder() && !sheet.is_right_cone())) {
  if (!general_) {
    if (sheet_.is_cylinder()) return;
    const Sheet::Ruling r = sheet_.ruling(0.0);
    sin_phi_ = (sheet_.r1() - sheet_.r2()) / r.length;
    slant_ = (sheet_.r1() - depth_ * r.direction.z) / sin_phi_;
    return;
  }
  knots_.reserve(k_panels + 1);
  between_.resize(k_panels);
  knots_.push_back({0.0, {0.0, 0.0}});
  for (int i = 0; i < k_panels; ++i)
    knots_.push_back(advance(knots_.back(), seam_ + i * k_step, seam_ + (i + 1) * k_step,
                             &between_[static_cast<std::size_t>(i)]));
}

// A Legendre polynomial's integral from the step's beginning, by the neighbouring ones: (P(m+1) - P(m-1)) /
// (2 (2 m + 1)), the step being 1 long. The recurrence is (m + 1) P(m+1) = (2 m + 1) t P(m) - m P(m-1).
Development::State Development::along_step(const State& from, const Terms& terms, double share) {
  const double t = 2.0 * share - 1.0;
  double before = 1.0;
  double here = t;
  State to = from;
  const auto add = [&to](const State& term, double by) {
    to.lean += by * term.lean;
    to.point = to.point + by * term.point;
  };
  add(terms[0], share);
  for (int m = 1; m < k_terms; ++m) {
    const double next = ((2 * m + 1) * t * here - m * before) / (m + 1);
    add(terms[static_cast<std::size_t>(m)], (next - before) / (2 * (2 * m + 1)));
    before = here;
    here = next;
  }
  return to;
}

// Unrolling keeps lengths along the rulings and (times `scale`) across them. In the moving frame (e, d) the
// flat image p of the base curve and the lean alpha of the ruling obey
//   alpha' = scale * d'.e,   p' = (b'.d) d_board + scale * (b'.e) e_board,
// which follows from (b + v d)' = (b'.d) d + (b'.e + v d'.e) e on a developable, where d'.n = b'.n = 0. At
// the reference depth b' is replaced by (b - w n)'. The ten-point Gauss collocation rule gives alpha at its
// own nodes, so one pass integrates both.
Development::State Development::advance(const State& from, double theta_from, double theta_to,
                                        Terms* terms) const {
  const GaussRule& rule = gauss_rule();
  const double step = theta_to - theta_from;
  std::array<double, GaussRule::k_points> turn{};
  std::array<Vec2, GaussRule::k_points> slope{};  // (along d, along e)
  for (std::size_t i = 0; i < GaussRule::k_points; ++i) {
    const Sheet::Ruling r = sheet_.ruling(theta_from + step * rule.node[i]);
    const Vec3 base_slope = r.base_slope - depth_ * r.normal_slope;
    turn[i] = scale_ * dot(r.direction_slope, r.around);
    slope[i] = {dot(base_slope, r.direction), scale_ * dot(base_slope, r.around)};
  }
  State to = from;
  for (std::size_t i = 0; i < GaussRule::k_points; ++i) {
    double lean = from.lean;
    for (std::size_t j = 0; j < GaussRule::k_points; ++j) lean += step * rule.partial[i][j] * turn[j];
    const State change{turn[i], slope[i].x * along_board(lean) + slope[i].y * around_board(lean)};
    const double h = step * rule.weight[i];
    to.point = to.point + h * change.point;
    to.lean += h * change.lean;
    if (terms != nullptr) add_to_terms(*terms, change, h, rule.node[i]);
  }
  return to;
}

// One node's part of (2 m + 1) times the integral of f P(m).
void Development::add_to_terms(Terms& terms, const State& change, double h, double node) {
  const double t = 2.0 * node - 1.0;
  double before = 0.0;
  double here = 1.0;
  for (int m = 0; m < k_terms; ++m) {
    State& term = terms[static_cast<std::size_t>(m)];
    const double by = (2 * m + 1) * h * here;
    term.lean += by * change.lean;
    term.point = term.point + by * change.point;
    const double next = ((2 * m + 1) * t * here - m * before) / (m + 1);
    before = here;
    here = next;
  }
}

Development::State Development::slope_free(double theta) const {
  const double turn = theta - seam_;
  if (!general_ && sheet_.is_cylinder()) return {0.0, {scale_ * (sheet_.r1() - depth_) * turn, 0.0}};
  if (!general_) {
    // A right cone unrolls to a sector about its apex: with s = r1 / sin(phi) the slant distance of the base
    // circle from the apex at depth 0, the normal's foot at depth w lies w / tan(phi) nearer, and the whole
    // turn takes 2 pi sin(phi). sin(phi) < 0 for a cone that widens upward (apex below).
    const double lean = -scale_ * turn * sin_phi_;
    // apex at (0, slant) while the seam's base point is the origin
    return {lean, Vec2{0.0, slant_} - slant_ * along_board(lean)};
  }
  int panel = static_cast<int>(std::floor(turn / k_step));
  panel = panel < 0 ? 0 : (panel > k_panels ? k_panels : panel);
  const double knot = seam_ + panel * k_step;
  const State& start = knots_[static_cast<std::size_t>(panel)];
  if (theta == knot) return start;
  const double share = (theta - knot) / k_step;
  if (panel < k_panels && share > 0.0 && share < 1.0)
    return along_step(start, between_[static_cast<std::size_t>(panel)], share);
  return advance(start, knot, theta);
}

Vec2 Development::point(double theta, double v) const {
  const State state = slope_free(theta);
  return state.point + v * along_board(state.lean);
}

double Development::lean(double theta) const {
  return slope_free(theta).lean;
}

Sheet::Place Development::place(Vec2 flat, double theta_guess) const {
  if (sheet_.is_square_to_round()) return places_on_board(*this, sheet_, flat, theta_guess).front();
  // Newton's method on the distance of the flat point from the ruling; its slope is scale times the spread.
  double theta = theta_guess;
  for (int step = 0; step < 60; ++step) {
    const State state = slope_free(theta);
    const Vec2 from_base = flat - state.point;
    const double v = dot(from_base, along_board(state.lean));
    const double miss = dot(from_base, around_board(state.lean));
    const double slope = scale_ * sheet_.spread(theta, v, depth_);
    if (!(std::fabs(slope) > 0.0)) break;
    const double change = miss / slope;
    theta += change;
    if (std::fabs(change) < 1e-14)
      return {theta, dot(flat - slope_free(theta).point, along_board(slope_free(theta).lean))};
  }
  const State state = slope_free(theta);
  const Vec2 from_base = flat - state.point;
  if (std::fabs(dot(from_base, around_board(state.lean))) > 1e-6)
    throw std::invalid_argument("the flat point lies on no ruling of the sheet");
  return {theta, dot(from_base, along_board(state.lean))};
}

}  // namespace linerwright
