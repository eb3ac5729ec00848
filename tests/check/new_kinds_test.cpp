// Random fittings of the kinds that bend, part and turn: solids valid and closed, volumes and pattern areas
// as their integrals say, neighbours' edges in one place in space and of one length on their boards.
// LINERWRIGHT_CASES multiplies their number; a full run (20 and more) tries 2000 of each.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

using support::Chance;
using support::Flags;

struct Asked {
  const char* name;
  const char* kind;
  const char* with;  // a key that it has to have
};

std::ostream& operator<<(std::ostream& out, const Asked& asked) {
  return out << asked.name;
}

const Wall& wall_at(const Fitting& fitting, int wall) {
  return fitting.wall(wall);
}

const Piece& piece_on(const Fitting& fitting, int wall) {
  for (const Piece& piece : fitting.pieces)
    if (piece.wall == wall) return piece;
  throw std::out_of_range("no piece on the wall");
}

// Valid and full by the kernel's own analyzer, volumes by the walls' integrals, meshes without open edges.
void expect_solid(const Fitting& fitting, bool full) {
  const Model model = build_model(fitting, full ? Gate::full : Gate::quick);
  EXPECT_LE(model.fill_error, 1e-8);
  EXPECT_LE(model.curve_deviation, 1e-3);
  const std::size_t bores = fitting.passages.empty() ? 0 : 1;  // a disc alone has none
  EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 1 + bores);
  for (const Part& part : model.parts) {
    EXPECT_GT(part.volume, 0.0) << part.name;
    if (part.role == PartRole::metal) {
      EXPECT_NEAR(part.volume / metal_volume(fitting), 1.0, 1e-6);
    }
    if (part.role == PartRole::bore) {
      EXPECT_NEAR(part.volume / shell_volume(fitting, fitting.liner.bore_depth()), 1.0, 1e-6);
    }
    if (!full) continue;
    const Mesh mesh = mesh_of(part.solid, MeshOptions{0.5, 0.2}, thinnest_layer(fitting));
    EXPECT_EQ(open_edges(mesh), 0) << part.name;
  }
  // and the same from the sheets alone, which throws where a body is open
  EXPECT_EQ(fitting_meshes(fitting, MeshOptions{0.5, 0.3}).size(), model.parts.size());
}

// A developable wall keeps its area: the flat duct face's is the wall's own, less what chords cut off. Holes
// are added on both sides, for a branch over or through its body leaves another hole in the liner.
void expect_areas(const Fitting& fitting) {
  int looked_at = 0;
  double together = 0.0;
  double chords = 0.0;
  const bool in_pieces = fitting.request.kind == "square_to_round";  // of one wall, beside a collar
  for (const Pattern& pattern : make_patterns(fitting)) {
    if (pattern.pieces.size() != 1) continue;
    const Piece& piece = fitting.piece(pattern.pieces.front());
    ++looked_at;
    // its tabs stand on a straight line: no development of the wall, and of another area
    if (notched_with(fitting, pattern.pieces.front()) != nullptr) continue;
    const double area = std::fabs(signed_area(pattern.duct.outer));
    const double chord_area = k_chord_error * polyline_length(pattern.duct.outer, true);
    together += area;
    chords += chord_area;
    if (in_pieces) continue;
    double whole = wall_area(fitting, piece.wall, 0.0);
    for (std::size_t h = 0; h < wall_at(fitting, piece.wall).holes.size(); ++h)
      whole += hole_area(fitting, piece.wall, h, 0.0);
    if (fitting.request.kind == "cap") {  // ring and disc end on each other, not where the metal's do
      const Sheet& sheet = wall_at(fitting, piece.wall).sheet;
      const double low = liner_end(fitting, piece.wall, End::low, 0.0, 0.0);
      const double high = liner_end(fitting, piece.wall, End::high, 0.0, 0.0);
      whole = sheet.is_flat() ? k_pi * std::pow(sheet.r1() - low, 2) : k_two_pi * sheet.r1() * (high - low);
    }
    EXPECT_NEAR(area, whole, chord_area) << piece.id;
  }
  if (in_pieces) {
    double whole = 0.0;
    for (int wall = 0; wall < static_cast<int>(fitting.walls.size()); ++wall)
      whole += wall_area(fitting, wall, 0.0);
    EXPECT_NEAR(together, whole, chords);
  }
  EXPECT_EQ(looked_at, static_cast<int>(fitting.pieces.size()));
}

// A joint as one of its walls has it.
struct Met {
  int wall;
  Side side;
  bool hole;
};

std::vector<Met> met_in(const Fitting& fitting, int joint) {
  std::vector<Met> all;
  for (int w = 0; w < static_cast<int>(fitting.walls.size()); ++w) {
    const Wall& wall = wall_at(fitting, w);
    for (const End end : k_both_ends)
      for (const JointUse& use : joints_at(wall, end))
        if (use.joint == joint) all.push_back({w, use.side, false});
    for (const JointUse& use : wall.holes)
      if (use.joint == joint) all.push_back({w, use.side, true});
  }
  return all;
}

// Length on the board, and the farthest from where the joint lies in space, of one wall's edge.
struct EdgeOf {
  double length = 0.0;
  double off = 0.0;
};

EdgeOf edge_of(const Fitting& fitting, const Joint& joint, const Met& met, double w) {
  constexpr int k_steps = 1440;
  const Piece& piece = piece_on(fitting, met.wall);
  const Sheet& sheet = wall_at(fitting, met.wall).sheet;
  const Development flat = development_of(fitting, piece);
  EdgeOf edge;
  for (const Arc& arc : arcs_of(joint)) {
    Vec2 before{};
    double theta_before = 0.0;
    const int steps = 8 + static_cast<int>(k_steps * (arc.to - arc.from) / k_two_pi);
    for (int i = 0; i <= steps; ++i) {
      const double s = arc.from + (arc.to - arc.from) * i / steps;
      Sheet::Place place = place_on(joint, met.side, s, shell_depths(w));
      if (i > 0) place.theta = theta_before + std::remainder(place.theta - theta_before, k_two_pi);
      theta_before = place.theta;
      const Vec3 own = sheet.point(place.theta, place.v, w);
      edge.off = std::max(edge.off, distance(own, point_of(joint, s, shell_depths(w))));
      if (!met.hole) {
        // and the piece ends there
        const std::vector<JointUse> uses = joints_at(fitting.wall(met.wall), End::high);
        const End end = std::any_of(uses.begin(), uses.end(),
                                    [&](const JointUse& use) { return &fitting.joint(use.joint) == &joint; })
                            ? End::high
                            : End::low;
        edge.off = std::max(edge.off, std::fabs(shell_end(fitting, met.wall, end, place.theta, w) - place.v));
      }
      const Vec2 at = flat.point(place.theta, place.v);
      if (i > 0) edge.length += distance(before, at);
      before = at;
    }
  }
  return edge;
}

int expect_edges(const Fitting& fitting) {
  int compared = 0;
  for (int j = 0; j < static_cast<int>(fitting.joints.size()); ++j) {
    const Joint& joint = fitting.joint(j);
    const std::vector<Met> met = met_in(fitting, j);
    if (met.size() != 2) continue;  // an open end, or a tap's duct
    // inside a square-to-round flats may end in a point before they come to the collar: its heights are held
    // against the request
    const double deepest = joint.lead.is_square_to_round() ? 0.0 : fitting.liner.bore_depth();
    for (const double w : {0.0, deepest})
      for (const Met& one : met) EXPECT_LT(edge_of(fitting, joint, one, w).off, 1e-6) << "joint " << j;
    const double length = edge_of(fitting, joint, met[0], 0.0).length;
    EXPECT_NEAR(edge_of(fitting, joint, met[1], 0.0).length / length, 1.0, 2e-5) << "joint " << j;
    ++compared;
  }
  return compared;
}

class NewKinds : public testing::TestWithParam<Asked> {};

TEST_P(NewKinds, AreSoundHoweverTheyAreDrawn) {
  const Asked asked = GetParam();
  constexpr int k_full_every = 25;
  const bool full = support::cases(1) >= 20;
  const bool slow = std::string(asked.kind) == "square_to_round";
  const int wanted = support::cases(full ? 100 : slow ? 1 : 8);
  Chance chance(5017);
  int made = 0;
  int compared = 0;
  int alone = 0;  // of one piece, which meets none
  for (int tried = 0; made < wanted && tried < 80 * wanted; ++tried) {
    Flags flags = support::random_flags(chance, asked.kind);
    if (asked.with[0] != '\0' && flags.count(asked.with) == 0) continue;
    flags["neutral_factor"] = "0";  // boards that keep the duct face's lengths
    flags["fit_allowance"] = "0";
    SCOPED_TRACE(support::written(asked.kind, flags));
    try {
      const Fitting fitting = support::fitting_from(asked.kind, flags);
      expect_solid(fitting, made % k_full_every == 0);
      expect_areas(fitting);
      compared += expect_edges(fitting);
      alone += fitting.walls.size() == 1 ? 1 : 0;
      ++made;
    } catch (const InputError&) {
      continue;
    } catch (const std::exception& error) {
      ADD_FAILURE() << error.what();
    }
    if (HasFailure()) return;
  }
  EXPECT_EQ(made, wanted);
  const std::string kind = asked.kind;
  if (kind != "tap" && kind != "straight" && kind != "square_to_round") {
    EXPECT_GE(2 * compared, wanted - alone);  // a reducer may have no collars
  }
}

INSTANTIATE_TEST_SUITE_P(
    Random, NewKinds,
    testing::Values(Asked{"offset", "offset", ""}, Asked{"path", "path", ""}, Asked{"wye", "wye", ""},
                    Asked{"tap", "tap", ""}, Asked{"turned", "tee", "turn_to"}, Asked{"cap", "cap", ""},
                    Asked{"square_to_round", "square_to_round", ""}, Asked{"pressed", "offset", "form"},
                    Asked{"opened_straight", "straight", "openings"},
                    Asked{"opened_elbow", "elbow", "openings"},
                    Asked{"opened_reducer", "reducer", "openings"}, Asked{"opened_tee", "tee", "openings"}),
    [](const auto& one) { return std::string(one.param.name); });

}  // namespace
}  // namespace linerwright
