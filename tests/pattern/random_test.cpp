// Random fittings of all kinds: what is written passes the audit, is as fine as stated, and its faces pair
// up.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "chance.hpp"
#include "linerwright/units/error.hpp"
#include "made.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

using testing::Flags;

using testing::cases;
using testing::Chance;

// A ruling at a seam: one straight segment over a good part of the piece, leaning no more than a taper's
// does.
bool is_seam(Vec2 segment, double height) {
  return std::fabs(segment.x) < 0.36 * std::fabs(segment.y) && std::fabs(segment.y) > 0.3 * height;
}

// Where one neighbour's joint ends on a piece and the next one's begins: corners however little they turn.
std::vector<Vec2> ends_of_joints(const Fitting& fitting, const Pattern& pattern) {
  std::vector<Vec2> ends;
  if (pattern.pieces.size() != 1) return ends;
  const Piece& piece = fitting.piece(pattern.pieces.front());
  const Wall& wall = fitting.wall_of(piece);
  const Development development = development_of(fitting, piece);
  for (const End end : k_both_ends)
    for (const JointUse& use : joints_at(wall, end)) {
      const Joint& joint = fitting.joint(use.joint);
      if (!joint.stretch) continue;
      for (const double w : fitting.liner.faces()) {
        const DepthPair depths = liner_depths(joint.style, use.side, w, fitting.liner.bore_depth());
        const std::vector<Arc> arcs = arcs_at(joint, depths);
        for (const double s : {arcs.front().from, arcs.back().to}) {
          const Sheet::Place place = place_on(joint, use.side, s, depths);
          const double on = place.theta - piece.seam;
          ends.push_back(pattern.placement.board(
              development.point(piece.seam + on - k_two_pi * std::floor(on / k_two_pi), place.v)));
        }
      }
    }
  return ends;
}

// Largest turn at a vertex between two segments that are both longer than the shortest one, corners left out.
void expect_fine(const Ring& ring, const Ring& other, const std::vector<Vec2>& corners,
                 const std::string& what) {
  const std::size_t n = ring.size();
  const Box box = bounding_box(ring).value();
  const double height = box.high.y - box.low.y;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 before = ring[i] - ring[(i + n - 1) % n];
    const Vec2 after = ring[(i + 1) % n] - ring[i];
    const double turn = std::fabs(std::atan2(cross(before, after), dot(before, after)));
    // a seam meets a steep mitre in a corner, however little it turns there
    const bool seam = is_seam(before, height) != is_seam(after, height);
    const bool corner =
        seam || turn > 20.0 / 180.0 * k_pi ||
        std::any_of(corners.begin(), corners.end(), [&](Vec2 at) { return distance(at, ring[i]) < 1e-3; });
    // where either face bends tightly, segments of half a millimetre come before the turn
    const Vec2 other_before = other[i] - other[(i + n - 1) % n];
    const Vec2 other_after = other[(i + 1) % n] - other[i];
    const bool tight = std::min({norm(before), norm(after), norm(other_before), norm(other_after)}) < 1.2;
    if (!corner && !tight) {
      EXPECT_LE(turn, k_turn_per_vertex) << what << " vertex " << i;
    }
  }
}

class RandomPatterns : public ::testing::TestWithParam<unsigned> {};

TEST_P(RandomPatterns, KeepTheirPromises) {
  Chance chance(GetParam());
  const int wanted = cases(100);
  int made = 0;
  int tried = 0;
  while (made < wanted && tried < 4 * wanted) {
    ++tried;
    const auto [kind, flags] = support::random_fitting(chance);
    const std::string what = testing::shown(kind, flags);
    SCOPED_TRACE(what);
    std::vector<Pattern> patterns;
    Fitting fitting;
    try {
      fitting = testing::fitting_of(kind, flags);
    } catch (const InputError&) {
      continue;  // outside what the kind allows
    }
    ASSERT_NO_THROW(patterns = make_patterns(fitting)) << what;
    ++made;
    for (const Pattern& pattern : patterns) {
      EXPECT_EQ(testing::audited(pattern, chance.pick({Units::inch, Units::metric}),
                                 chance.pick({DxfVersion::r2000, DxfVersion::r12})),
                "")
          << what;
      if (pattern.faces_paired) {
        ASSERT_EQ(pattern.duct.outer.size(), pattern.air.outer.size()) << what;
      }
      ASSERT_EQ(pattern.duct.holes.size(), pattern.air.holes.size()) << what;
      for (std::size_t h = 0; h < pattern.duct.holes.size(); ++h)
        EXPECT_EQ(pattern.duct.holes[h].size(), pattern.air.holes[h].size()) << what;
      const bool notched = std::any_of(fitting.notched.begin(), fitting.notched.end(),
                                       [&](const NotchedBlank& b) { return b.id == pattern.id; });
      if (!notched) {
        const std::vector<Vec2> corners = ends_of_joints(fitting, pattern);
        expect_fine(pattern.duct.outer, pattern.air.outer, corners, what + " " + pattern.id);
        expect_fine(pattern.air.outer, pattern.duct.outer, corners, what + " " + pattern.id);
        for (std::size_t h = 0; h < pattern.duct.holes.size(); ++h)
          expect_fine(pattern.duct.holes[h], pattern.air.holes[h], {}, what + " " + pattern.id);
      }
      for (const Ring* ring : {&pattern.cut.outer, &pattern.duct.outer, &pattern.air.outer})
        for (const Vec2 p : *ring) {
          EXPECT_GE(p.x, -1e-9) << what;
          EXPECT_GE(p.y, -1e-9) << what;
        }
    }
    if (HasFailure()) return;
  }
  EXPECT_EQ(made, wanted) << tried << " tried";
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomPatterns, ::testing::Values(11u, 12u, 13u, 14u));

// Chords against the exact contour: halfway along every chord of a piece's edges, through a sampling of its
// own.
TEST(Chords, StayWithinTheStatedError) {
  Chance chance(99);
  int checked = 0;
  for (int i = 0; i < cases(60); ++i) {
    const auto [kind, flags] = support::random_fitting(chance);
    Fitting fitting;
    try {
      fitting = testing::fitting_of(kind, flags);
    } catch (const InputError&) {
      continue;
    }
    for (const Pattern& pattern : make_patterns(fitting)) {
      // a notched blank is folded, not developed
      if (pattern.pieces.size() != 1 || notched_with(fitting, pattern.pieces.front()) != nullptr) continue;
      const Piece& piece = fitting.piece(pattern.pieces.front());
      const Development development = development_of(fitting, piece);
      for (int k = 0; k <= 2000; ++k) {
        const double theta = piece.seam + piece.span * (k + 0.37) / 2001.0;
        for (const End end : k_both_ends) {
          // all rulings of a disc end in its middle
          if (end == End::high && fitting.wall_of(piece).sheet.is_flat()) continue;
          for (const auto& [face, w] : {std::pair<const Region*, double>{&pattern.duct, 0.0},
                                        {&pattern.air, fitting.liner.thickness}}) {
            const Vec2 exact = pattern.placement.board(
                development.point(theta, liner_end(fitting, piece.wall, end, theta, w)));
            double nearest = 1e300;
            const Ring& ring = face->outer;
            for (std::size_t v = 0; v < ring.size(); ++v)
              nearest = std::min(nearest, distance_to_segment(exact, ring[v], ring[(v + 1) % ring.size()]));
            ASSERT_LE(nearest, k_chord_error) << testing::shown(kind, flags) << " " << pattern.id;
            ++checked;
          }
        }
      }
    }
  }
  EXPECT_GT(checked, cases(100000));
}

}  // namespace
}  // namespace linerwright
