// Edges that meet are as long as each other, and as the curve in space they come from.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/units/error.hpp"
#include "made.hpp"
#include "support/elliptic.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

// The chords of a curve whose chord error is e and whose chords turn by no more than k_turn_per_vertex are
// shorter than it by at most a share of turn^2 / 24 (chord of an arc of that turn: 1 - turn^2 / 24).
double chord_loss(double length) {
  return length * k_turn_per_vertex * k_turn_per_vertex / 24.0;
}

// The duct face's edge at one end: the run of outline vertices between the two seams.
double edge_length(const Fitting& fitting, const Pattern& pattern, End end) {
  const Piece& piece = fitting.piece(pattern.pieces.front());
  const Development development = development_of(fitting, piece);
  const auto corner = [&](double theta) {
    const Vec2 at =
        pattern.placement.board(development.point(theta, liner_end(fitting, piece.wall, end, theta, 0.0)));
    std::size_t best = 0;
    for (std::size_t i = 0; i < pattern.duct.outer.size(); ++i)
      if (distance(pattern.duct.outer[i], at) < distance(pattern.duct.outer[best], at)) best = i;
    EXPECT_LT(distance(pattern.duct.outer[best], at), 1e-9);
    return best;
  };
  std::size_t from = corner(piece.seam);
  std::size_t to = corner(piece.seam + piece.span);
  if ((end == End::high) != pattern.placement.mirrored) std::swap(from, to);  // counter-clockwise
  const Ring& ring = pattern.duct.outer;
  double length = 0.0;
  for (std::size_t i = from; i != to; i = (i + 1) % ring.size())
    length += distance(ring[i], ring[(i + 1) % ring.size()]);
  return length;
}

// D 315, 5 pieces, 90 degrees: every mitre edge is an ellipse of perimeter (2 D / cos a) E(sin a) = 999.31892
// mm (complete elliptic integral of the second kind).
TEST(Seams, MitreEdgesAreOneEllipse) {
  for (const char* face : {"duct", "air"}) {
    const Fitting fitting = fitting_of("elbow", {{"diameter", "315mm"},
                                                 {"angle", "90"},
                                                 {"pieces", "5"},
                                                 {"thickness", "25mm"},
                                                 {"fit_allowance", "0mm"},
                                                 {"face_up", face}});
    const std::vector<Pattern> patterns = make_patterns(fitting);
    const double ellipse = 2.0 * 315.0 / std::cos(k_pi / 16.0) * support::elliptic_e(std::sin(k_pi / 16.0));
    EXPECT_NEAR(ellipse, 999.31892, 5e-6);
    for (std::size_t i = 0; i < 5; ++i)
      for (const End end : k_both_ends) {
        const double length = edge_length(fitting, patterns[i], end);
        const bool open = (i == 0 && end == End::low) || (i == 4 && end == End::high);
        const double exact = open ? k_pi * 315.0 : ellipse;
        EXPECT_LE(length, exact + 1e-6) << face << " piece " << i + 1;
        EXPECT_GE(length, exact - chord_loss(exact)) << face << " piece " << i + 1;
      }
  }
}

// On a tee the branch's saddle edge, the hole's edge and the curve in space are one length. Branches of all
// sorts: lateral, off-centre, touching the side, equal.
TEST(Seams, SaddleAndHoleAreOneCurve) {
  const Flags cases[] = {
      {{"branch_diameter", "200mm"}},
      {{"branch_diameter", "200mm"}, {"angle", "45"}},
      {{"branch_diameter", "200mm"}, {"offset", "-50mm"}},
      {{"branch_diameter", "150mm"}, {"offset", "30mm"}, {"angle", "120"}, {"face_up", "air"}},
      {{"branch_diameter", "300mm"}},
      {{"branch_diameter", "299.9mm"}},
      {{"branch_diameter", "150mm"}, {"branch_base", "220mm"}},
  };
  for (const Flags& each : cases) {
    Flags flags{{"diameter", "300mm"},
                {"length", "1500mm"},
                {"branch_length", "700mm"},
                {"thickness", "20mm"},
                {"fit_allowance", "0mm"}};
    for (const auto& [key, value] : each) flags[key] = value;
    const Fitting fitting = fitting_of("tee", flags);
    const std::string what = testing::shown("tee", flags);
    const std::vector<Pattern> patterns = make_patterns(fitting);
    const double hole = polyline_length(pattern_of(patterns, "body").duct.holes.at(0), true);
    const double saddle = edge_length(fitting, pattern_of(patterns, "branch"), End::low);
    const int joint = fitting.walls[1].low.joint;
    const double exact = joint_length(fitting.joint(joint), shell_depths(0.0));
    for (const double length : {hole, saddle}) {
      EXPECT_LE(length, exact + 1e-3) << what;
      EXPECT_GE(length, exact - chord_loss(exact)) << what;
    }
  }
}

// Taper and collars: the seams of a reducer are the collars' circles, pi D less the fit allowance's share.
TEST(Seams, TaperMeetsItsCollars) {
  for (const char* offset : {"0mm", "60mm"}) {
    const Fitting fitting = fitting_of("reducer", {{"diameter", "400mm"},
                                                   {"to_diameter", "250mm"},
                                                   {"length", "300mm"},
                                                   {"offset", offset},
                                                   {"collar", "60mm"},
                                                   {"to_collar", "60mm"},
                                                   {"thickness", "25mm"},
                                                   {"fit_allowance", "0mm"}});
    const std::vector<Pattern> patterns = make_patterns(fitting);
    const Pattern& taper = pattern_of(patterns, "taper");
    for (const auto& [end, diameter] : {std::pair{End::low, 400.0}, {End::high, 250.0}}) {
      const double exact = k_pi * diameter;
      EXPECT_LE(edge_length(fitting, taper, end), exact + 1e-6) << offset;
      EXPECT_GE(edge_length(fitting, taper, end), exact - chord_loss(exact)) << offset;
    }
    EXPECT_NEAR(edge_length(fitting, pattern_of(patterns, "collar"), End::high), k_pi * 400.0, 1e-6)
        << offset;
  }
}

// The line to trim to lies the allowance inside the cut, whichever policy the knife follows, and on the
// board.
TEST(Seams, TrimLinesLieTheAllowanceInsideTheCut) {
  for (const char* policy : {"outer", "mid", "duct", "air", "tilt"})
    for (const char* face : {"duct", "air"}) {
      const Fitting fitting = fitting_of("elbow", {{"diameter", "300mm"},
                                                   {"angle", "90"},
                                                   {"pieces", "3"},
                                                   {"thickness", "50mm"},
                                                   {"butt_allowance", "4mm"},
                                                   {"end_allowance", "20mm"},
                                                   {"cut", policy},
                                                   {"face_up", face}});
      const Pattern pattern = make_patterns(fitting).front();
      int lines = 0;
      for (const auto& line : pattern.marks) {
        const double reach = std::fabs(line.back().x - line.front().x);
        if (reach < pattern.board.x - 1e-3) continue;  // trim lines run from edge to edge
        ++lines;
        const bool end = line.size() == 2;
        for (const Vec2 p : line) {
          // straight along the axis to the cut's edge
          double nearest = 1e300;
          const Ring& ring = pattern.cut.outer;
          for (std::size_t i = 0; i < ring.size(); ++i) {
            const Vec2 a = ring[i];
            const Vec2 b = ring[(i + 1) % ring.size()];
            if (std::fabs(a.x - b.x) < 1e-9 || (a.x - p.x) * (b.x - p.x) > 0.0) continue;
            nearest = std::min(nearest, std::fabs(a.y + (b.y - a.y) * (p.x - a.x) / (b.x - a.x) - p.y));
          }
          EXPECT_NEAR(nearest, end ? 20.0 : 4.0, end ? 1e-6 : 1.1 * k_chord_error) << policy << " " << face;
        }
      }
      EXPECT_EQ(lines, 2) << policy << " " << face;
    }
}

std::string refusal(const std::string& kind, const Flags& flags) {
  try {
    fitting_of(kind, flags);
  } catch (const InputError& error) {
    return one_line(error.problems().front());
  }
  return "made";
}

// A cone's board ends at its apex: from 31.1 to 81.2 mm over 8.7 mm the small end lies 16.5 mm before it (s r
// / (R - r)), so 40 mm of allowance would cross it.
TEST(Seams, AllowancesThatPassAnApexOrCloseAHoleAreRefused) {
  Flags taper{{"diameter", "31.1mm"}, {"to_diameter", "81.2mm"}, {"length", "8.7mm"},
              {"thickness", "3mm"},   {"fit_allowance", "1mm"},  {"end_allowance", "40mm"}};
  EXPECT_NE(refusal("reducer", taper).find("its cone ends"), std::string::npos) << refusal("reducer", taper);
  // the air face stands t tan(phi) = 3 x 25.05 / 8.7 = 8.6 mm nearer to it: 5 mm more still clear it
  taper["end_allowance"] = "5mm";
  EXPECT_EQ(refusal("reducer", taper), "made");
  // a half angle of 63 degrees moves the open end of 69 mm board by 69 tan(63) = 136 mm, past the 126 mm
  // slant
  const Flags flat{{"diameter", "746mm"},
                   {"to_diameter", "521mm"},
                   {"length", "57mm"},
                   {"to_collar", "20mm"},
                   {"thickness", "69mm"}};
  EXPECT_NE(refusal("reducer", flat).find("do not lie over each other"), std::string::npos)
      << refusal("reducer", flat);
  Flags tee{{"diameter", "300mm"},      {"length", "800mm"},   {"branch_diameter", "100mm"},
            {"branch_length", "300mm"}, {"thickness", "25mm"}, {"butt_allowance", "25mm"}};
  EXPECT_NE(refusal("tee", tee).find("closes the hole"), std::string::npos) << refusal("tee", tee);
  tee["butt_allowance"] = "24.8mm";
  EXPECT_EQ(refusal("tee", tee), "made");
  EXPECT_NO_THROW(make_patterns(fitting_of("tee", tee)));
}

}  // namespace
}  // namespace linerwright
