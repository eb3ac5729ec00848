// What no kind can be made without: a bore, length left on every piece at every depth, board that stays in
// one piece.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "common.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

void require_bore(Reasons& reasons, const Fitting& fitting, double diameter,
                  const std::string& diameter_key) {
  const LinerSpec& liner = fitting.liner;
  const double most = 0.5 * (diameter - k_smallest_bore);
  if (liner.bore_depth() > most)
    reasons.add(
        "thickness",
        fmt::format("under {}, so that a bore of {} is left", reasons.length(0.5 * diameter),
                    reasons.length(k_smallest_bore)),
        fmt::format("liner {}{} closes a {} bore ({})", reasons.length(liner.bore_depth()),
                    liner.inside > 0.0 ? " in two layers" : "", reasons.length(diameter), diameter_key));
  require_fit(reasons, fitting, diameter, "duct");
}

void require_fit(Reasons& reasons, const Fitting& fitting, double diameter, const std::string& around) {
  const double girth = k_two_pi * (0.5 * diameter - fitting.liner.reference_depth());
  if (fitting.liner.fit_allowance > 0.25 * girth)
    reasons.add("fit_allowance", "at most " + reasons.length(0.25 * girth),
                fmt::format("takes more than a quarter off the {} stretch-out of a {} {}",
                            reasons.length(girth), reasons.length(diameter), around));
}

namespace {

// The shortest stretch found between a piece's ends, and its depth; and how far from the axis, at the least.
struct Shortest {
  double length = 1e300;
  double depth = 0.0;
  double spread = 1e300;
};

constexpr int k_rulings = 144;  // at which pieces are measured

double ruling_at(int i) {
  return k_two_pi * i / k_rulings;
}

// v of an end of a wall on one ruling, of the shell or of the liner: shell_end or liner_end.
using EndHeight = double (*)(const Fitting&, int wall, End, double theta, double w);

// Takes in one ruling at one depth.
void take_in(Shortest& shortest, const Fitting& fitting, const Piece& piece, double theta, double w,
             EndHeight end) {
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  const double low = end(fitting, piece.wall, End::low, theta, w);
  const double high = end(fitting, piece.wall, End::high, theta, w);
  if (high - low < shortest.length) {
    shortest.length = high - low;
    shortest.depth = w;
  }
  const double far = sheet.is_flat() ? low : high;  // a disc's rulings run together where there is no bore
  shortest.spread =
      std::min(shortest.spread, std::min(sheet.spread(theta, low, w), sheet.spread(theta, far, w)));
}

// What is wrong with a piece at any depth from the metal to the air face, before its length is looked at.
std::optional<std::string> measure(const Reasons& reasons, Shortest& shortest, const Fitting& fitting,
                                   const Piece& piece) {
  constexpr double k_rounding = 1e-9;  // mm: a bore of exactly the smallest is allowed
  const double gauge = fitting.liner.gauge;
  try {
    for (int i = 0; i < k_rulings; ++i) {
      const double theta = ruling_at(i);
      take_in(shortest, fitting, piece, theta, -gauge, shell_end);
      for (const double w : fitting.liner.faces())
        for (const EndHeight end : {shell_end, liner_end}) take_in(shortest, fitting, piece, theta, w, end);
      if (shortest.spread <= k_rounding)
        return fmt::format("the {}'s bore closes: its layers cross on the axis", piece.role);
    }
  } catch (const GeometryError& error) {
    return fmt::format("{}: {}", piece.role, error.what());
  }
  if (shortest.spread <= 0.5 * k_smallest_bore - k_rounding)
    return fmt::format("the {}'s bore all but closes: it is under {} wide at its narrowest", piece.role,
                       reasons.length(k_smallest_bore));
  return std::nullopt;
}

// A blade goes through both faces: along each ruling they must lie over each other by so much.
double least_shared(const Fitting& fitting, const Piece& piece) {
  const auto [outer, inner] = fitting.liner.faces();
  double shared = 1e300;
  for (int i = 0; i < k_rulings; ++i) {
    const auto at = [&](End end, double w) { return liner_end(fitting, piece.wall, end, ruling_at(i), w); };
    shared = std::min(shared, std::min(at(End::high, outer), at(End::high, inner)) -
                                  std::max(at(End::low, outer), at(End::low, inner)));
  }
  return shared;
}

std::optional<std::string> fault_of(const Reasons& reasons, const Fitting& fitting, const Piece& piece) {
  Shortest shortest;
  if (std::optional<std::string> fault = measure(reasons, shortest, fitting, piece)) return fault;
  if (shortest.length < k_shortest_piece)
    return fmt::format(
        "the layers cross: the {} has only {} left on its {}", piece.role, reasons.length(shortest.length),
        shortest.depth < 0.0
            ? "metal"
            : fmt::format("{} face",
                          face_word(fitting.liner,
                                    shortest.depth > fitting.liner.outer_depth ? Face::air : Face::duct)));
  if (least_shared(fitting, piece) < k_shortest_piece)
    return fmt::format("the {} leans so far that its two faces do not lie over each other on the board",
                       piece.role);
  return std::nullopt;
}

// How near the board of a cone's piece, with its allowance, comes to the apex: the least distance around for
// each radian on one of its ends.
double least_spread(const Fitting& fitting, const Piece& piece, End end, double extra) {
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  double spread = 1e300;
  for (int i = 0; i < k_rulings; ++i)
    for (const double w : fitting.liner.faces()) {
      const double v = liner_end(fitting, piece.wall, end, ruling_at(i), w) + outward(end) * extra;
      spread = std::min(spread, sheet.spread(ruling_at(i), v, fitting.liner.reference_depth()));
    }
  return spread;
}

bool is_notched(const Fitting& fitting, int piece) {
  return std::any_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
    return blank.taper == piece || blank.collar == piece;
  });
}

}  // namespace

void require_lengths(Reasons& reasons, const Fitting& fitting, const std::string& key) {
  for (const Piece& piece : fitting.pieces)
    if (const std::optional<std::string> fault = fault_of(reasons, fitting, piece))
      reasons.add(key, "longer, or a thinner liner", *fault);
}

namespace {

void require_clear_of_apex(Reasons& reasons, const Fitting& fitting, const Piece& piece) {
  constexpr double k_least_spread = 1.0;  // mm around per radian: nearer the apex the board runs into itself
  const LinerSpec& liner = fitting.liner;
  const Wall& wall = fitting.wall_of(piece);
  for (const End end : k_both_ends) {
    const JointUse& use = wall.use(end);
    const bool open = fitting.joint(use.joint).open();
    const double extra = open ? liner.end_allowance : liner.butt_allowance;
    if (least_spread(fitting, piece, end, extra) < k_least_spread)
      reasons.add(
          open ? "end_allowance" : "butt_allowance", "a smaller one",
          fmt::format("the board added to the {} would reach the point where its cone ends", piece.role));
  }
}

}  // namespace

void require_allowances(Reasons& reasons, const Fitting& fitting) {
  for (int p = 0; p < static_cast<int>(fitting.pieces.size()); ++p) {
    const Piece& piece = fitting.piece(p);
    const Sheet& sheet = fitting.wall_of(piece).sheet;
    if (!sheet.is_cylinder() && !sheet.is_flat() && !is_notched(fitting, p))
      require_clear_of_apex(reasons, fitting, piece);
  }
}

}  // namespace linerwright
