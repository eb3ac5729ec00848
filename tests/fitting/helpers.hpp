// Figures of a fitting, reasons of a refusal, and the closed forms the fittings are held against.
#pragma once

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/units/error.hpp"
#include "sheet/numeric.hpp"
#include "support/elliptic.hpp"
#include "support/requests.hpp"

namespace linerwright {

using support::fitting_from;
using support::Flags;
using support::with;
using support::written;

// A stated figure; throws where the fitting does not state it.
inline double fact(const Fitting& fitting, const std::string& key) {
  for (const Fact& each : fitting.facts)
    if (each.key == key) return each.value;
  throw std::out_of_range("no figure called " + key);
}

// The problems of a refused request, a line each, or "(made)".
inline std::string refusal(const FittingRequest& request) {
  try {
    make_fitting(request);
  } catch (const InputError& error) {
    std::string lines;
    for (const Problem& problem : error.problems()) lines += (lines.empty() ? "" : "\n") + one_line(problem);
    return lines;
  }
  return "(made)";
}
inline std::string refusal(const std::string& kind, const Flags& flags) {
  return refusal(support::request_from(kind, flags));
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

inline double square(double x) {
  return x * x;
}

// Exact to the double for round trips through a flag.
inline std::string mm(double value) {
  return fixed(value, 9);
}

// J. H. Hubbell, Common Volume of Two Intersecting Cylinders, J. Res. NBS 69C (1965): axes that meet at beta,
// radii r1 <= r2, k = r1/r2: V = r2^3 v(k) / sin beta, v(k) = (8/3) ((1 + k^2) E(k) - (1 - k^2) K(k)).
inline double common_volume(double r1, double r2, double beta) {
  const double k = r1 / r2;
  const double second = k < 1.0 ? (1 - k * k) * support::elliptic_k(k) : 0.0;
  return std::pow(r2, 3) * 8.0 / 3.0 * ((1 + k * k) * support::elliptic_e(k) - second) / std::sin(beta);
}

// Developed hole of a cylinder r in a cylinder R, axes meeting at beta: 4 R^2 (E(k) - (1 - k^2) K(k)) / sin
// beta, k = r/R: integral of the chord 2 sqrt(r^2 - R^2 sin^2(u/R)) / sin beta along the girth.
inline double hole_of(double r, double R, double beta) {
  const double k = r / R;
  const double second = k < 1.0 ? (1 - k * k) * support::elliptic_k(k) : 0.0;
  return 4 * R * R * (support::elliptic_e(k) - second) / std::sin(beta);
}

// Volume of a straight branch outside the body. Over the disk of its section the body's surface lies at
// (sqrt(R^2 - (y + e)^2) + x cos beta)/sin beta along the axis; the second part integrates to zero:
// pi r^2 L - (1/sin beta) integral of 2 sqrt(r^2 - y^2) sqrt(R^2 - (y + e)^2) dy, with y = r sin u.
inline double branch_outside(double R, double r, double L, double beta, double e) {
  const double inside = integrate(
      [&](double u) {
        const double room = r * (1 - std::sin(u)) + (R - r - e);
        return 2 * square(r * std::cos(u)) * std::sqrt(std::max(0.0, room * (2 * R - room)));
      },
      -k_pi / 2, k_pi / 2, 60);
  return k_pi * r * r * L - inside / std::sin(beta);
}

inline double frustum_volume(double r1, double r2, double height) {
  return k_pi * height * (r1 * r1 + r1 * r2 + r2 * r2) / 3.0;
}

inline double total_wall_area(const Fitting& fitting, double w) {
  double sum = 0.0;
  for (std::size_t i = 0; i < fitting.walls.size(); ++i) sum += wall_area(fitting, static_cast<int>(i), w);
  return sum;
}

// The piece of this name.
inline const Piece& piece_of(const Fitting& fitting, const std::string& id) {
  for (const Piece& piece : fitting.pieces)
    if (piece.id == id) return piece;
  throw std::out_of_range("no piece " + id);
}

// Between a piece's ends on its zero ruling, at the duct face.
inline double height(const Fitting& fitting, const Piece& piece) {
  return liner_end(fitting, piece.wall, End::high, 0.0, 0.0) -
         liner_end(fitting, piece.wall, End::low, 0.0, 0.0);
}

}  // namespace linerwright
