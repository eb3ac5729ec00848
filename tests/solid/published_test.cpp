// Volumes against published formulas and values.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/solid/solid.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;

constexpr double k_degree = k_pi / 180.0;

std::string mm(double value) {
  return fixed(value, 9);
}

// Truncated cylinder, volume = pi r^2 times the mean of its heights (rule for the cylindrical segment,
// mathwords.com "Cylindrical Segment"). Over 2 (n - 1) half segments of mean height R tan(theta) the liner of
// a mitred elbow takes pi/4 (D^2 - (D - 2t)^2) 2 (n - 1) R tan(theta); the number is that product for D 315,
// R 1.5 D, five pieces, t 25.
TEST(Published, LinerVolumeOfAFivePieceElbow) {
  const Model model = build_model(fitting_from(
      "elbow",
      {{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"radius_ratio", "1.5"}, {"thickness", "25"}}));
  EXPECT_NEAR(model.liner_volume / 17125429.0, 1.0, 1e-6);
  EXPECT_NEAR(model.cavity_volume / 58595542.0, 1.0, 1e-6);
  EXPECT_NEAR(model.liner_volume,
              k_pi / 4.0 * (315.0 * 315.0 - 265.0 * 265.0) * 8.0 * 472.5 * std::tan(11.25 * k_degree),
              1e-8 * model.liner_volume);
}

// EN 1506 standard diameters (reproduced on homemicro.co.uk, "HVAC duct bends"); its pressed bends have r_m =
// d over 100 mm and r_m = 100 up to it. The mean height rule above gives every volume.
TEST(Published, EveryStandardDiameterMakesAnElbow) {
  int built = 0;
  for (const double d :
       {63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 315.0, 400.0, 500.0, 630.0, 800.0, 1000.0, 1250.0})
    for (const char* form : {"gored", "smooth"}) {
      const double centreline = d <= 100.0 ? 100.0 : d;
      const double t = d < 100.0 ? 13.0 : 25.0;
      const Model model = build_model(fitting_from("elbow", {{"diameter", mm(d)},
                                                             {"centreline_radius", mm(centreline)},
                                                             {"angle", "90"},
                                                             {"pieces", "5"},
                                                             {"form", form},
                                                             {"thickness", mm(t)}}));
      ++built;
      if (form[0] == 's') {
        // Pappus: the metal of a pressed bend is its section times the way of the section's centre
        const double g = 0.8;
        EXPECT_NEAR(model.metal_volume / (k_pi * g * (d + g) * centreline * k_pi / 2.0), 1.0, 1e-9) << d;
        continue;
      }
      const double way = 8.0 * centreline * std::tan(11.25 * k_degree);
      EXPECT_NEAR(model.cavity_volume / (k_pi / 4.0 * d * d * way), 1.0, 1e-9) << d;
      EXPECT_NEAR(model.bore_volume / (k_pi / 4.0 * (d - 2.0 * t) * (d - 2.0 * t) * way), 1.0, 1e-9) << d;
    }
  EXPECT_EQ(built, 28);
}

// J. H. Hubbell, "Common Volume of Two Intersecting Cylinders", J. Res. NBS 69C (1965): axes that meet at
// beta, radii r1 <= r2: V = r2^3 v(k) / sin(beta), k = r1/r2, v(k) = (8/3) [(1 + k^2) E(k) - (1 - k^2) K(k)].
// The values of v are computed from that form and by quadrature of 8 times the integral of k E(k).
struct Hubbell {
  double k, v;
};
constexpr Hubbell k_hubbell[] = {{0.10, 0.062753214773}, {0.20, 0.250064412097}, {0.25, 0.389606670303},
                                 {0.30, 0.559051287012}, {0.40, 0.984779688031}, {0.50, 1.52003998817},
                                 {0.60, 2.15496262022},  {0.70, 2.87634974088},  {0.75, 3.26414570577},
                                 {0.80, 3.66641308490},  {0.90, 4.49991287796},  {1.00, 16.0 / 3.0}};

double v_of(double k) {
  for (const Hubbell& row : k_hubbell)
    if (std::fabs(row.k - k) < 1e-12) return row.v;
  ADD_FAILURE() << "no value of v for k = " << k;
  return std::nan("");
}

// A body and a branch from the crossing of the axes out: the half of their common volume on the branch's side
// counts once.
double tee_volume(double body, double length, double branch, double reach, double beta) {
  return k_pi * body * body * length + k_pi * branch * branch * reach -
         0.5 * body * body * body * v_of(branch / body) / std::sin(beta);
}

TEST(Published, CommonVolumeOfTwoCylindersInTeesAndLaterals) {
  constexpr double k_length = 5000.0;
  constexpr double k_reach = 2000.0;
  struct Pair {
    double duct, bore;  // k at the duct's face and at the air face
  };
  int checked = 0;
  // t such that (r - t) / (R - t) is in the table, too
  for (const Pair& pair : {Pair{0.20, 0.10}, Pair{0.30, 0.25}, Pair{0.50, 0.40}, Pair{0.70, 0.60},
                           Pair{0.80, 0.75}, Pair{0.90, 0.80}, Pair{1.00, 1.00}})
    for (const double beta : {90.0, 60.0, 45.0, 30.0, 15.0, 120.0, 150.0}) {
      const double body = 200.0;
      const double branch = pair.duct * body;
      const double t = pair.duct == 1.0 ? 25.0 : body * (pair.duct - pair.bore) / (1.0 - pair.bore);
      const Model model = build_model(fitting_from("tee", {{"diameter", mm(2.0 * body)},
                                                           {"length", mm(k_length)},
                                                           {"branch_diameter", mm(2.0 * branch)},
                                                           {"branch_length", mm(k_reach)},
                                                           {"angle", mm(beta)},
                                                           {"thickness", mm(t)}}));
      const double angle = beta * k_degree;
      EXPECT_NEAR(model.cavity_volume / tee_volume(body, k_length, branch, k_reach, angle), 1.0, 1e-9)
          << pair.duct << ' ' << beta;
      EXPECT_NEAR(model.bore_volume / tee_volume(body - t, k_length, branch - t, k_reach, angle), 1.0, 1e-9)
          << pair.duct << ' ' << beta;
      ++checked;
    }
  EXPECT_EQ(checked, 49);
}

// Equal radii at right angles: common volume 16 r^3 / 3 (Archimedes; en.wikipedia.org "Steinmetz curve").
TEST(Published, EqualTee) {
  const Model model = build_model(fitting_from("tee", {{"diameter", "200"},
                                                       {"length", "600"},
                                                       {"branch_diameter", "200"},
                                                       {"branch_length", "300"},
                                                       {"thickness", "20"}}));
  const auto volume = [](double r) { return k_pi * r * r * 900.0 - 8.0 * r * r * r / 3.0; };
  EXPECT_NEAR(model.cavity_volume / volume(100.0), 1.0, 1e-9);
  EXPECT_NEAR(model.bore_volume / volume(80.0), 1.0, 1e-9);
}

// Frustum, V = pi h (R^2 + R r + r^2) / 3 (textbook formula, from memory): 400 to 250 over 300 mm gives
// 25 329 091 mm3, and moved sideways the same (Cavalieri). 8 to 5 in over 4 in gives 135.08848 in3; the ducts
// of that size are an exercise of ceemrr.com, "Drawings and nets".
TEST(Published, Frusta) {
  const Flags taper{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
  const double exact = k_pi * 300.0 * (200.0 * 200.0 + 200.0 * 125.0 + 125.0 * 125.0) / 3.0;
  EXPECT_NEAR(exact, 25329091.0, 0.5);
  EXPECT_NEAR(build_model(fitting_from("reducer", taper)).cavity_volume / exact, 1.0, 1e-12);
  for (const char* offset : {"20", "75", "120"})
    EXPECT_NEAR(
        build_model(fitting_from("reducer", support::with(taper, {{"offset", offset}}))).cavity_volume /
            exact,
        1.0, 1e-8)
        << offset;
  const Model inches = build_model(fitting_from(
      "reducer", {{"diameter", "8in"}, {"to_diameter", "5in"}, {"length", "4in"}, {"thickness", "0.5in"}}));
  EXPECT_NEAR(inches.cavity_volume / (25.4 * 25.4 * 25.4), 135.08848, 1e-5);
  // The parallel cone: the liner narrows the bore by t / cos(phi) in radius at the same station.
  const double phi = std::atan2(75.0, 300.0);
  const double lost = 25.0 / std::cos(phi);
  const double R = 200.0 - lost;
  const double r = 125.0 - lost;
  EXPECT_NEAR(lost, 25.769410, 1e-6);
  EXPECT_NEAR(build_model(fitting_from("reducer", taper)).bore_volume /
                  (k_pi * 300.0 * (R * R + R * r + r * r) / 3.0),
              1.0, 1e-12);
}

}  // namespace
}  // namespace linerwright
