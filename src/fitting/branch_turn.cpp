#include "branch_turn.hpp"

#include <fmt/format.h>

#include <cmath>

namespace linerwright {

namespace {

constexpr double k_no_turn = 1e-9;  // radians
constexpr long k_pieces = 3;        // where nothing is asked for
constexpr double k_ratio = 1.5;

}  // namespace

std::vector<KeySpec> branch_turn_keys() {
  KeySpec to = optional_key(length_key("turn_to",
                                       "the branch turns, by a bend of gores, until its end looks at this "
                                       "angle from the body's far end: 90 square to the body, 0 parallel",
                                       {}, 0.0, k_pi));
  to.quantity = Quantity::angle;
  to.many = true;
  std::vector<KeySpec> keys{
      to,
      with_default(integer_key("pieces", "of a branch's bend, the one on the body and the end piece counted",
                               {}, 2, 12),
                   std::to_string(k_pieces))};
  KeySpec ratio = with_default(
      length_key("radius_ratio", "of a branch's bend: centreline radius over the branch's diameter", {}, 0.5,
                 20.0),
      trimmed(k_ratio, 1));
  ratio.quantity = Quantity::number;
  keys.push_back(ratio);
  keys.push_back(optional_key(
      length_key("centreline_radius", "of a branch's bend, instead of radius_ratio", {}, 12.0, 50000.0)));
  keys.push_back(with_default(
      length_key("collar", "straight collar behind a branch's bend, part of the end piece", {}, 0.0, 5000.0),
      "0mm"));
  return keys;
}

void read_turns(const FittingRequest& request, std::vector<Branch>& branches, Reasons& reasons) {
  const Values& values = request.values;
  if (!values.has("turn_to")) {
    // what a key says by itself may be said
    const auto refuse = [&](const char* key, bool said) {
      if (said) reasons.add(key, "with turn_to", "only a branch that turns has a bend");
    };
    refuse("pieces", values.integer("pieces") != k_pieces);
    refuse("radius_ratio", values.quantity("radius_ratio") != k_ratio);
    refuse("centreline_radius", values.has("centreline_radius"));
    refuse("collar", values.quantity("collar") != 0.0);
    return;
  }
  if (values.has("centreline_radius") && values.given("radius_ratio"))
    reasons.add("centreline_radius", "one of the two", "radius_ratio says the same thing; give only one");
  const std::vector<double> to = values.list("turn_to");
  if (to.size() != 1 && to.size() != branches.size()) {
    reasons.add("turn_to", fmt::format("one value, or {}", branches.size()),
                fmt::format("{} values for {} branches (branch_diameter gives their number)", to.size(),
                            branches.size()));
    return;
  }
  for (std::size_t i = 0; i < branches.size(); ++i) {
    Branch& b = branches[i];
    const double turn = b.angle - to[to.size() == 1 ? 0 : i];
    if (std::fabs(turn) < k_no_turn) continue;  // it looks there as it stands
    b.toward_far = turn > 0.0;
    b.bend =
        Bend{b.radius,
             values.maybe("centreline_radius").value_or(values.quantity("radius_ratio") * 2.0 * b.radius),
             std::fabs(turn), static_cast<int>(values.integer("pieces")), values.quantity("collar")};
  }
}

void require_turn(Reasons& reasons, const Fitting& fitting, const Branch& b) {
  if (b.bend) require_throat(reasons, fitting, *b.bend);
}

Path path_of(const Branch& b, const Sheet& sheet) {
  std::vector<PathPart> parts(3);
  PathPart& first = parts[0];
  first.length = end_of(b, sheet);
  if (!sheet.is_cylinder()) {
    first.form = PathPart::Form::taper;
    first.to_diameter = 2.0 * b.radius;
  }
  PathPart& bend = parts[1];
  bend.form = PathPart::Form::bend;
  bend.angle = b.bend->angle;
  bend.turn = b.toward_far ? 0.0 : k_pi;  // ruling 0 faces the far end
  bend.centreline = b.bend->centreline;
  bend.pieces = b.bend->pieces;
  parts[2].length = b.bend->collar;
  return laid(parts, 2.0 * sheet.r1(), sheet.frame());
}

std::vector<Piece> turned_pieces(const Path& path, const Branch& b, const Piece& first) {
  std::vector<Piece> pieces;
  const double throat = b.toward_far ? 0.0 : k_pi;
  const auto id = [&](std::size_t i) { return i == 0 ? b.name : fmt::format("{}G{}", b.name, i); };
  for (std::size_t i = 1; i < path.walls.size(); ++i) {
    const bool last = i + 1 == path.walls.size();
    // seams alternate, as along any bend
    const double seam = std::remainder(first.seam + (i % 2 == 0 ? 0.0 : k_pi), k_two_pi);
    const double from_throat = std::fabs(std::remainder(seam - throat, k_two_pi));
    Piece piece{id(i),
                last ? "branch end piece" : "branch gore",
                b.wall.value() + static_cast<int>(i),
                seam,
                k_two_pi,
                from_throat < 1e-9          ? "throat"
                : from_throat > k_pi - 1e-9 ? "heel"
                : i % 2 == 0                ? "as on the branch"
                                            : "opposite the branch's",
                {{throat, "throat"}, {throat + k_pi, "heel"}},
                {id(i - 1)}};
    if (!last) piece.next.push_back(id(i + 1));
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace linerwright
