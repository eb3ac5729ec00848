// A pattern's look and words on paper.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "sheets.hpp"

namespace linerwright {

namespace {

// What a piece meets at one end of its wall.
std::string met_at(const Fitting& fitting, int wall, End end) {
  const std::vector<JointUse> ends = joints_at(fitting.wall(wall), end);
  if (fitting.joint(ends.front().joint).open()) return "open end";
  const auto is_there = [&](const JointUse& use) {
    return std::any_of(ends.begin(), ends.end(), [&](const JointUse& own) { return own.joint == use.joint; });
  };
  std::string met;
  for (const Piece& piece : fitting.pieces) {
    const std::vector<JointUse> theirs = joints_of(fitting.wall_of(piece));
    if (piece.wall != wall && std::any_of(theirs.begin(), theirs.end(), is_there))
      met += (met.empty() ? "meets " : ", ") + piece.id;
  }
  return met;
}

// Where an edge's middle lies on the board, high or low.
double height_on_board(const Fitting& fitting, const Pattern& pattern, const Piece& piece, End end) {
  const Development flat = development_of(fitting, piece);
  constexpr int k_rulings = 16;
  double sum = 0.0;
  for (int i = 0; i <= k_rulings; ++i) {
    const double theta = piece.seam + piece.span * i / k_rulings;
    sum += pattern.placement.board(flat.point(theta, liner_end(fitting, piece.wall, end, theta, 0.0))).y;
  }
  return sum / (k_rulings + 1);
}

std::string edges_of(const Fitting& fitting, const Pattern& pattern, bool turned) {
  const Piece& piece = fitting.piece(pattern.pieces.back());
  const std::string sides = turned ? "upper and lower edge" : "left and right edge";
  const std::string seam = fmt::format("{}: seam, {}", sides, piece.seam_place);
  const bool notched =
      std::any_of(fitting.notched.begin(), fitting.notched.end(),
                  [&](const NotchedBlank& blank) { return blank.taper == pattern.pieces.back(); });
  if (notched) return "notched edge: closes to the small end; plain edge: large end; " + seam;
  std::string upper = met_at(fitting, piece.wall, End::high);
  std::string lower = met_at(fitting, piece.wall, End::low);
  if (height_on_board(fitting, pattern, piece, End::high) <
      height_on_board(fitting, pattern, piece, End::low))
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

namespace {

double middle_of(const Pattern& pattern) {
  const Box box = bounding_box(pattern.cut.outer).value();
  return 0.5 * (box.low.x + box.high.x);
}

// Whether every corner's mirror image lies on the contour.
bool is_own_mirror(const Pattern& pattern) {
  constexpr double k_same = 0.1;  // mm, on a template that is drawn round by hand
  if (!pattern.cut.holes.empty() || !pattern.open_cuts.empty()) return false;
  const double middle = middle_of(pattern);
  const Ring& ring = pattern.cut.outer;
  return std::all_of(ring.begin(), ring.end(), [&](Vec2 p) {
    const Vec2 image{2.0 * middle - p.x, p.y};
    double nearest = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i)
      nearest = std::min(nearest, distance_to_segment(image, ring[i], ring[(i + 1) % ring.size()]));
    return nearest <= k_same;
  });
}

// The parts of a line left of x, and the line to fold along in the place of what is right of it.
std::vector<InkedLine> left_of(const InkedLine& line, double x) {
  std::vector<InkedLine> parts;
  std::vector<Vec2> points = line.points;
  if (line.closed) points.push_back(points.front());
  std::vector<Vec2> now;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool in = points[i].x <= x;
    if (i > 0 && in != (points[i - 1].x <= x)) {
      const double share = (x - points[i - 1].x) / (points[i].x - points[i - 1].x);
      now.push_back(points[i - 1] + share * (points[i] - points[i - 1]));
      if (!in) {
        parts.push_back({false, now});
        now.clear();
      }
    }
    if (in) now.push_back(points[i]);
  }
  if (now.size() > 1) parts.push_back({false, now});
  return parts;
}

void halve(Picture& picture, Region& board, double x) {
  const Box box = bounding_box(board.outer).value();
  const Vec2 past = box.high + Vec2{1.0, 1.0};
  std::vector<Region> left =
      subtracted({board}, {{{{x, box.low.y - 1.0}, {past.x, box.low.y - 1.0}, past, {x, past.y}}, {}}});
  board = std::move(left.front());
  for (InkedGroup& group : picture) {
    std::vector<InkedLine> kept;
    for (const InkedLine& line : group.lines)
      for (InkedLine& part : left_of(line, x)) kept.push_back(std::move(part));
    group.lines = std::move(kept);
    group.texts.erase(std::remove_if(group.texts.begin(), group.texts.end(),
                                     [&](const Text& text) {
                                       const Box words = bounding_box(text_corners(text)).value();
                                       return words.high.x > x;
                                     }),
                      group.texts.end());
  }
  double low = 1e300, high = -1e300;
  for (const Vec2 p : board.outer)
    if (std::fabs(p.x - x) < 1e-3) {
      low = std::min(low, p.y);
      high = std::max(high, p.y);
    }
  InkedGroup fold{frame_ink(), {{false, {{x, low}, {x, high}}}}, {}};
  fold.texts.push_back({Layer::label,
                        {x - 2.0, 0.5 * (low + high)},
                        3.5,
                        0.5 * k_pi,
                        true,
                        "fold here: the other half is its mirror image"});
  picture.push_back(std::move(fold));
}

}  // namespace

PaperPattern on_paper(const Fitting& fitting, const Pattern& pattern,
                      const std::vector<const Pattern*>& alike, const Paper& paper, bool half) {
  PaperPattern made{&pattern, {}, {}, {}, {}, {}};
  made.picture = picture_of(drawing_of(pattern, fitting.units), {Layer::scale, Layer::stock});
  Laid laid{pattern.cut, {}};
  const bool halved = half && is_own_mirror(pattern);
  if (halved) halve(made.picture, laid.board, middle_of(pattern));
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
  for (const Pattern* other : alike) made.title += ", " + other->id;
  if (!alike.empty()) made.title += fmt::format(": cut {}", alike.size() + 1);
  if (halved) made.title += ": one half";
  if (pattern.pieces.empty()) {  // a template of a hole
    made.facts = fmt::format("{}, {} around x {} along",
                             pattern.placement.mirrored ? "lies against the duct's liner from inside"
                                                        : "wraps the duct's metal from outside",
                             shown(pattern.board.x), shown(pattern.board.y));
    made.edges = fmt::format("{} edge: toward the duct's far end; cut the hole out of the sheet",
                             made.tiling.turned ? "left" : "upper");
    return made;
  }
  const Piece& piece = fitting.piece(pattern.pieces.back());
  made.facts = fmt::format("{}{} face up, liner {}, {} around x {} along",
                           piece.role == pattern.id ? std::string() : piece.role + ", ",
                           face_word(liner_of(fitting, pattern), liner_of(fitting, pattern).face_up),
                           shown(liner_of(fitting, pattern).thickness), shown(pattern.board.x),
                           shown(pattern.board.y));
  made.edges = edges_of(fitting, pattern, made.tiling.turned);
  if (!alike.empty()) made.edges += fmt::format("; names and letters drawn are those of {}", pattern.id);
  return made;
}

}  // namespace linerwright
