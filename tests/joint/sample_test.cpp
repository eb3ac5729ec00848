// Sampling: enough points that a cubic through them follows the joint.
#include <gtest/gtest.h>

#include "joint/joints.hpp"

using namespace linerwright;

namespace {

struct Reached {
  double worst = 0.0;
  std::size_t points = 0;
};

Reached reached(const Joint& joint, const std::vector<DepthPair>& depths, double tolerance) {
  Reached all;
  for (const Arc& arc : arcs_of(joint)) {
    const std::vector<double> s = sample_arc(joint, arc, depths, tolerance);
    all.points += s.size();
    for (const DepthPair& pair : depths) {
      std::vector<Vec3> points;
      for (const double at : s) points.push_back(point_of(joint, at, pair));
      for (std::size_t i = 0; i + 1 < s.size(); ++i) {
        const std::size_t first = std::min(i == 0 ? 0 : i - 1, s.size() - 4);
        for (int k = 1; k < 20; ++k) {
          const double at = s[i] + (s[i + 1] - s[i]) * k / 20;
          Vec3 curve{};
          for (std::size_t a = first; a < first + 4; ++a) {
            double weight = 1.0;
            for (std::size_t b = first; b < first + 4; ++b)
              if (a != b) weight *= (at - s[b]) / (s[a] - s[b]);
            curve = curve + weight * points[a];
          }
          all.worst = std::max(all.worst, distance(curve, point_of(joint, at, pair)));
        }
      }
    }
  }
  return all;
}

const std::vector<DepthPair> k_depths{shell_depths(0), shell_depths(25)};

}  // namespace

TEST(Sample, hard_arcs_stay_within_their_tolerance) {
  struct Case {
    const char* what;
    Joint joint;
  };
  const double square = k_pi / 2;
  const Case all[] = {
      {"mitre", mitre_joint(300, 17 * k_degree)},
      {"steep mitre", mitre_joint(300, 60 * k_degree)},
      {"tee", saddle_joint(300, 150)},
      {"equal", saddle_joint(300, 300)},
      {"nearly equal", saddle_joint(300, 299.99)},
      {"nearly equal lateral", saddle_joint(300, 299.99, 30 * k_degree)},
      {"tangent", saddle_joint(300, 100, square, 200)},
      {"tangent but for a micrometre", saddle_joint(300, 100, square, 199.999)},
      {"tangent but for a thousandth of that", saddle_joint(300, 100, square, 200 - 1e-6)},
      {"steep eccentric taper", collar_joint(Sheet::cone(Frame{}, 200, 125, 100, 75), End::low)},
      {"conical branch", cone_saddle_joint(300, 290, 150, 900, 57 * k_degree, 5)},
  };
  for (const Case& c : all)
    for (const double tolerance : {1e-1, 1e-2, 1e-3, 1e-5}) {
      const Reached got = reached(c.joint, k_depths, tolerance);
      EXPECT_LE(got.worst, tolerance) << c.what << " at " << tolerance;
      EXPECT_GT(got.worst, 0.0) << c.what;
    }
}

TEST(Sample, any_branch_down_to_touching_the_side) {
  Dice dice(36);
  for (int i = 0; i < cases(400); ++i) {
    const double R = dice.between(100, 800);
    const double gap = std::pow(10.0, dice.between(std::log10(1e-7 * R), 1.9));
    const double r = dice.between(0.3, 1.0) * (R - gap);
    const double angle = dice.between(30, 150) * k_degree;
    const double tolerance = std::pow(10.0, dice.between(-4, -2));
    const Reached got = reached(saddle_joint(R, r, angle, R - r - gap), k_depths, tolerance);
    EXPECT_LE(got.worst, tolerance) << "R " << R << ", gap " << gap << ", r " << r << ", angle " << angle
                                    << ", tolerance " << tolerance;
  }
}

TEST(Sample, runs_upward_from_end_to_end_and_no_finer_than_asked) {
  const Joint joint = saddle_joint(300, 299.99);
  for (const Arc& arc : arcs_of(joint)) {
    const std::vector<double> coarse = sample_arc(joint, arc, k_depths, 1e9);
    const std::vector<double> fine = sample_arc(joint, arc, k_depths, 1e-3);
    EXPECT_EQ(coarse.size(), 17U);
    EXPECT_GT(fine.size(), 40U);
    EXPECT_LT(fine.size(), 200U);
    for (const auto& s : {coarse, fine}) {
      EXPECT_EQ(s.front(), arc.from);
      EXPECT_EQ(s.back(), arc.to);
      for (std::size_t i = 0; i + 1 < s.size(); ++i) EXPECT_LT(s[i], s[i + 1]);
    }
  }
  // the coarse points would not have done: the measure above sees it
  EXPECT_GT(reached(joint, k_depths, 1e9).worst, 0.1);
}
