// What is told of a square-to-round: lengths of its lines on the board, and the steps of the work.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/folds.hpp"
#include "square_to_round.hpp"

namespace linerwright {

// The greatest way from a corner along its rulings within which the board bends more tightly than `radius`:
// where it bends about a ruling, its radius is the distance from the corner over V, the edge of regression
// per unit of depth.
double kerfed_length(const Sheet& sheet, double radius) {
  double most = 0.0;
  constexpr int k_rulings = 32;
  for (int corner = 0; corner < 4; ++corner)
    for (int i = 0; i <= k_rulings; ++i) {
      constexpr double k_inside =
          1e-9;  // of the rounded part, which the first and last ruling share with flats
      const double turn = std::clamp(0.5 * k_pi * i / k_rulings, k_inside, 0.5 * k_pi - k_inside);
      const double theta = corner_theta(corner, turn);
      most = std::max(most, std::min(radius * fold_edge(sheet, theta), sheet.ruling(theta).length));
    }
  return most;
}

void add_square_facts(Fitting& fitting, const SquareEnd& ends, const Sheet& sheet, double kerfed) {
  const auto add = [&](const std::string& key, const std::string& label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  const double t = fitting.liner.thickness;
  // concentric: one corner is like the other three, mirrored
  const bool concentric = ends.centre == Vec2{};
  const int corners = concentric ? 1 : 4;
  for (int side = 0; side < 4; ++side)
    if (!concentric || side < 2)
      add(fmt::format("slope_{}", k_square_sides[side]),
          fmt::format("height of the flat on the {} side, up its slope", k_square_sides[side]),
          Quantity::length, ends.length * std::hypot(1.0, sheet.ruling(0.5 * k_pi * side).lean));
  for (int corner = 0; corner < corners; ++corner) {
    const std::string where = corners == 1 ? std::string() : fmt::format(" of corner {}", corner + 1);
    const std::string key = corners == 1 ? std::string() : fmt::format("_{}", corner + 1);
    const CornerFold fold = corner_fold(sheet, corner);
    const auto bend = [&](double turn) { return sheet.ruling(corner_theta(corner, turn)).length; };
    const CornerLow low = corner_low(sheet, corner, t);
    const Development flat(sheet, 0.0, 1.0, 0.0);
    const double angle =
        std::fabs(flat.lean(corner_theta(corner, 0.5 * k_pi)) - flat.lean(corner_theta(corner, 0.0)));
    add("bend_line_first" + key, fmt::format("bend line beside the {} side{}", k_square_sides[corner], where),
        Quantity::length, bend(0.0));
    add("bend_line_second" + key,
        fmt::format("bend line beside the {} side{}", k_square_sides[(corner + 1) % 4], where),
        Quantity::length, bend(0.5 * k_pi));
    add("cone_angle" + key, "angle of the rounded part on the board" + where, Quantity::angle, angle);
    if (low.stem)
      add("fork" + key, "mitre's fork from the corner, on the board" + where, Quantity::length,
          t * norm(fold.fork + sheet.ruling(fold.fork_theta).normal));
    for (const LowPart on : {LowPart::first, LowPart::second}) {
      const std::string which = (on == LowPart::first ? "_first" : "_second") + key;
      const char* side = k_square_sides[(on == LowPart::first ? corner : corner + 1) % 4];
      const Vec3 edge = sheet.ruling(0.5 * k_pi * (on == LowPart::first ? corner : corner + 1)).base_slope;
      if (!low.stem)
        add("arc" + which,
            fmt::format("from the corner along the {} side to the air face's arc in the rectangular end{}",
                        side, where),
            Quantity::length, std::fabs(dot(low_foot(sheet, corner, on, t), edge)) / norm(edge));
      if (low.stem || low.comes_to(on))
        add("fold_end" + which, fmt::format("mitre's end up the bend line beside the {} side{}", side, where),
            Quantity::length, t * (on == LowPart::first ? fold.first_end : fold.second_end));
    }
  }
  if (kerfed > 0.0)
    add("kerf_to", "kerf the rounded corners from the corner along their rulings as far as", Quantity::length,
        kerfed);
}

namespace {

// Where a transition's board is flush with the metal, and where its duct face ends instead.
const char* flush_where(const SquareEnd& ends) {
  if (ends.square_collar > 0.0)
    return ends.collar > 0.0
               ? "between the two collars, where the duct face ends at either end"
               : "at the round end and the duct face ends where the rectangular collar's metal begins";
  return ends.collar > 0.0 ? "there and their duct face ends where the collar's metal begins"
                           : "at both ends";
}

}  // namespace

void add_square_steps(Fitting& fitting, const SquareEnd& ends, double kerfed) {
  const bool one = ends.pieces == 1;
  fitting.steps = {
      fmt::format("Cut {} along the outer line, then lay {} with the air face up.",
                  one ? "the piece" : "the pieces", one ? "it" : "them"),
      "Carve the corners by hand to the line 'carve to here', in a slope from it down to the point of the "
      "corner on the duct face, which stays whole: no knife through the flat board makes it.",
      "Dress both ends from the duct face's edge to the air face's line, until they lie flat on a table.",
      fmt::format("Bend along the lines '{}', the rounded corners between them evenly, duct face out.",
                  one ? "bend 1' to 'bend 8" : "bend"),
      fmt::format("{} in from the rectangular end{} until {} flush with the metal {}, and tape the {} on "
                  "the air face.",
                  one ? "Slide it" : "Slide the pieces", one ? "" : ", one after the other by their numbers,",
                  one ? "it is" : "they are", flush_where(ends), one ? "seam" : "seams"),
      "Seal the mitres at the rectangle's corners on the air side: their lips lie on each other from the "
      "rectangle up."};
  if (std::any_of(fitting.facts.begin(), fitting.facts.end(),
                  [](const Fact& fact) { return fact.key.compare(0, 4, "arc_") == 0; }))
    fitting.steps.insert(fitting.steps.begin() + 2,
                         "Where the line 'carve to here' turns into the arc of the rectangular end, dress "
                         "that as the end itself: "
                         "down to the point of the corner, level with the duct face's edge.");
  if (ends.collar > 0.0)
    fitting.steps.push_back(
        "Roll the collar with the duct face out, tape its seam on the air face, and dress its inner end from "
        "the duct face's edge to the air face's line. Slide it in from the round end, its marks at the tips "
        "of the flats, until it closes on the transition all around and is flush with the metal; seal the "
        "joint on the air side.");
  if (ends.square_collar > 0.0)
    fitting.steps.push_back(
        "Cut the four panels of the rectangular collar square at the open end and bevelled on the other "
        "three sides, from the duct face's edge to the air face's; where the air face turns aside beside an "
        "upper corner, dress it to that line. Slide them in from the rectangular end, duct face to the "
        "metal, until each closes on the transition and on its neighbours and is flush with the metal; seal "
        "the joints on the air side.");
  if (kerfed > 0.0)
    fitting.steps.insert(
        fitting.steps.begin() + 2,
        fmt::format("Kerf the rounded corners on the air face, lines from the corner to the arc, {} out from "
                    "the corner: the board bends to less than {} there (least_bend; {}).",
                    shop_length(fitting, kerfed),
                    shop_length(fitting, fitting.request.values.quantity("least_bend")), k_usual));
}

}  // namespace linerwright
