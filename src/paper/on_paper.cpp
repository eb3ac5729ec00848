// A pattern's look and words on paper.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "sheets.hpp"

namespace linerwright {

namespace {

// What a piece meets at one end of its wall.
std::string met_at(const Fitting& fitting, int wall, bool high) {
  const std::vector<JointUse> ends = joints_at(fitting.walls[static_cast<std::size_t>(wall)], high);
  if (fitting.joints[static_cast<std::size_t>(ends.front().joint)].open()) return "open end";
  const auto is_there = [&](const JointUse& use) {
    return std::any_of(ends.begin(), ends.end(), [&](const JointUse& end) { return end.joint == use.joint; });
  };
  std::string met;
  for (const Piece& piece : fitting.pieces) {
    const std::vector<JointUse> theirs = joints_of(fitting.walls[static_cast<std::size_t>(piece.wall)]);
    if (piece.wall != wall && std::any_of(theirs.begin(), theirs.end(), is_there))
      met += (met.empty() ? "meets " : ", ") + piece.id;
  }
  return met;
}

// Where an edge's middle lies on the board, high or low.
double height_on_board(const Fitting& fitting, const Pattern& pattern, const Piece& piece, bool high) {
  const Development flat = development_of(fitting, piece);
  constexpr int k_rulings = 16;
  double sum = 0.0;
  for (int i = 0; i <= k_rulings; ++i) {
    const double theta = piece.seam + piece.span * i / k_rulings;
    sum += pattern.placement.board(flat.point(theta, end_height(fitting, piece.wall, high, theta, 0.0))).y;
  }
  return sum / (k_rulings + 1);
}

std::string edges_of(const Fitting& fitting, const Pattern& pattern, bool turned) {
  const Piece& piece = fitting.pieces[static_cast<std::size_t>(pattern.pieces.back())];
  const std::string sides = turned ? "upper and lower edge" : "left and right edge";
  const std::string seam = fmt::format("{}: seam, {}", sides, piece.seam_place);
  const bool notched =
      std::any_of(fitting.notched.begin(), fitting.notched.end(),
                  [&](const NotchedBlank& blank) { return blank.taper == pattern.pieces.back(); });
  if (notched) return "notched edge: closes to the small end; plain edge: large end; " + seam;
  std::string upper = met_at(fitting, piece.wall, true);
  std::string lower = met_at(fitting, piece.wall, false);
  if (height_on_board(fitting, pattern, piece, true) < height_on_board(fitting, pattern, piece, false))
    std::swap(upper, lower);
  return fmt::format("{} edge: {}; {} edge: {}; {}", turned ? "left" : "upper", upper,
                     turned ? "right" : "lower", lower, seam);
}

// The layers' inks for a printer without colours.
Ink printed(const Ink& ink) {
  if (ink.name == "cut") return {ink.name, "#000000", "#ffffff", 0.4, {}};
  if (ink.name == "mark") return {ink.name, "#404040", "#c0c0c0", 0.15, {}};
  if (ink.name == "label") return {ink.name, "#202020", "#e0e0e0", 0.25, {}};
  return {ink.name, "#606060", "#b0b0b0", 0.2, ink.dashes};
}

}  // namespace

PaperPattern on_paper(const Fitting& fitting, const Pattern& pattern, const Paper& paper) {
  PaperPattern made{&pattern, {}, {}, {}, {}, {}};
  made.picture = picture_of(drawing_of(pattern, fitting.units), {Layer::scale, Layer::stock});
  Laid laid{pattern.cut, {}};
  for (const InkedGroup& group : made.picture)
    laid.lines.insert(laid.lines.end(), group.lines.begin(), group.lines.end());
  made.tiling = tiling_of(laid, paper);
  for (InkedGroup& group : made.picture) {
    group.ink = printed(group.ink);
    if (!made.tiling.turned) continue;
    for (InkedLine& line : group.lines)
      for (Vec2& p : line.points) p = quarter_turned(p);
    for (Text& text : group.texts) {
      text.at = quarter_turned(text.at);
      text.angle += 0.5 * k_pi;
    }
  }
  const auto shown = [&](double mm) {
    return format_quantity(Quantity::length, mm, fitting.units, fitting.units == Units::inch ? 2 : 1);
  };
  made.title = fmt::format("{}/{}", fitting.tag, pattern.id);
  if (pattern.pieces.empty()) {  // a template of a hole
    made.facts = fmt::format("{}, {} around x {} along",
                             pattern.placement.mirrored ? "lies against the duct's liner from inside"
                                                        : "wraps the duct's metal from outside",
                             shown(pattern.board.x), shown(pattern.board.y));
    made.edges = fmt::format("{} edge: toward the duct's far end; cut the hole out of the sheet",
                             made.tiling.turned ? "left" : "upper");
    return made;
  }
  const Piece& piece = fitting.pieces[static_cast<std::size_t>(pattern.pieces.back())];
  made.facts = fmt::format("{}{} face up, liner {}, {} around x {} along",
                           piece.role == pattern.id ? std::string() : piece.role + ", ",
                           face_word(liner_of(fitting, pattern), liner_of(fitting, pattern).face_up),
                           shown(liner_of(fitting, pattern).thickness), shown(pattern.board.x),
                           shown(pattern.board.y));
  made.edges = edges_of(fitting, pattern, made.tiling.turned);
  return made;
}

}  // namespace linerwright
