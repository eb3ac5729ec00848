// A pattern as a shop drawing: to scale, with letters as large as they are to be read.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "linerwright/shop_words.hpp"
#include "sketch.hpp"

namespace linerwright {

namespace {

constexpr double k_row = 3.4;       // mm from line to line
constexpr double k_left = 4.0;      // beside the pattern
constexpr double k_right = 19.0;    // likewise, with the height's words
constexpr double k_tallest = 46.0;  // of a pattern on the sheet
constexpr double k_above = 9.0;     // letters and the girth
constexpr double k_below = 7.5;     // letters and station numbers

// What is written below a pattern with a line up to its place.
struct Callout {
  Vec2 at;
  std::string words;
};

class PatternDrawing {
 public:
  PatternDrawing(const Fitting& fitting, const Pattern& pattern, double width)
      : fitting_(fitting), pattern_(pattern), sketch_(drawing_) {
    box_ = bounding_box(pattern.cut.outer).value();
    const Vec2 size = box_.high - box_.low;
    scale_ = std::min((width - k_left - k_right) / size.x, k_tallest / size.y);
    drawing_.id = pattern.id;
    drawing_.size.x = width;
    gather();
    const double rows = place_rows(width);
    origin_ = {k_left, rows * k_row + k_below};
    drawing_.size.y = origin_.y + scale_ * size.y + k_above;
  }

  ShopDrawing draw() {
    contours();
    marks();
    dimensions();
    letters();
    name();
    stations();
    callouts();
    return std::move(drawing_);
  }

 private:
  const Fitting& fitting_;
  const Pattern& pattern_;
  ShopDrawing drawing_;
  Sketch sketch_;
  Box box_;
  double scale_ = 1.0;
  Vec2 origin_{};
  std::vector<Callout> callouts_;  // on the board
  std::vector<Vec2> written_;  // where each one's words are centred, from the left; y is the row from the top

  Vec2 at(Vec2 board) const { return origin_ + scale_ * (board - box_.low); }
  std::string length(double mm) const { return shop_length(fitting_, mm); }
  bool is_single() const {
    return pattern_.pieces.size() == 1 && notched_with(fitting_, pattern_.pieces.front()) == nullptr;
  }
  const Piece& piece() const { return fitting_.pieces[static_cast<std::size_t>(pattern_.pieces.front())]; }

  Vec2 on_board(const Development& flat, double theta, double v) const {
    return pattern_.placement.board(flat.point(theta, v));
  }

  // Heights on the duct face at the seam and at each mark, holes, notches.
  void gather() {
    if (is_single()) {
      const Development flat = development_of(fitting_, piece());
      const double outer = liner_of(fitting_, pattern_).outer_depth;
      const auto height = [&](double theta, const std::string& name) {
        const double low = end_height(fitting_, piece().wall, false, theta, outer);
        const double high = end_height(fitting_, piece().wall, true, theta, outer);
        // on the board from the seam on, however the ruling is counted
        double turn = std::fmod(theta - piece().seam, k_two_pi);
        if (turn < -1e-9) turn += k_two_pi;
        if (turn > piece().span + 1e-6) return;
        callouts_.push_back(
            {on_board(flat, piece().seam + turn, low), fmt::format("{} {}", name, length(high - low))});
      };
      const Sheet& sheet = fitting_.walls[static_cast<std::size_t>(piece().wall)].sheet;
      if (!sheet.is_flat())
        height(piece().seam, piece().full_turn() ? "seam, " + piece().seam_place : "edge");
      for (const RulingMark& mark : piece().marks)
        if (std::fabs(std::remainder(mark.theta - piece().seam, k_two_pi)) > 1e-6)
          height(mark.theta, mark.name);
    }
    for (const Ring& hole : pattern_.cut.holes) {
      const Box around = bounding_box(hole).value();
      const Vec2 middle = 0.5 * (around.low + around.high);
      callouts_.push_back(
          {{middle.x, around.low.y},
           fmt::format("hole {} x {}, its middle {} in, {} up", length(around.high.x - around.low.x),
                       length(around.high.y - around.low.y), length(middle.x - box_.low.x),
                       length(middle.y - box_.low.y))});
    }
    if (!pattern_.notch_ordinates.empty()) {
      const NotchOrdinate& o = pattern_.notch_ordinates.front();
      callouts_.push_back(
          {o.tip, fmt::format("{} notches, {} wide, {} deep; first point {} in",
                              pattern_.notch_ordinates.size(), length(distance(o.duct[0], o.duct[1])),
                              length(std::fabs(o.duct[0].y - o.tip.y)), length(o.tip.x - box_.low.x))});
      for (std::size_t i = 0; i < pattern_.marks.size(); ++i)
        if (pattern_.mark_names[i] == "bend line" || pattern_.mark_names[i] == "trim to here")
          callouts_.push_back(
              {pattern_.marks[i].front(), fmt::format("{} {} up", pattern_.mark_names[i],
                                                      length(pattern_.marks[i].front().y - box_.low.y))});
    }
  }

  // Rows of words that touch neither each other nor the others' leaders; returns how many.
  double place_rows(double width) {
    std::vector<std::size_t> order(callouts_.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return callouts_[a].at.x < callouts_[b].at.x; });
    written_.assign(callouts_.size(), {});
    std::vector<std::size_t> placed;
    double rows = 0.0;
    for (const std::size_t i : order) {
      const double half = half_width(i);
      const double wanted = k_left + scale_ * (callouts_[i].at.x - box_.low.x);
      std::optional<Vec2> best;
      constexpr double k_most_rows = 7.0;  // from there on a leader may cross words
      for (double row = 0.0; !best; row += 1.0)
        for (int step = 0; step < k_shifts && !best; ++step) {
          const double shift = (step % 2 == 0 ? 0.5 : -0.5) * k_shift * (step + 1);
          const Vec2 place{std::max(half, std::min(wanted + (step == 0 ? 0.0 : shift), width - half)), row};
          const bool clear = std::all_of(placed.begin(), placed.end(), [&](std::size_t other) {
            return (row >= k_most_rows && written_[other].y != row) ||
                   apart(place, half, written_[other], half_width(other));
          });
          if (clear) best = place;
        }
      written_[i] = *best;
      placed.push_back(i);
      rows = std::max(rows, best->y + 1.0);
    }
    return rows;
  }

  static constexpr int k_shifts = 12;
  static constexpr double k_shift = 4.0;  // mm

  double half_width(std::size_t callout) const {
    return 0.5 * shop_text_width(callouts_[callout].words, k_least_letter) + 0.8;
  }

  // In one row the words stand beside each other; a leader comes down between the words of the rows above.
  static bool apart(Vec2 a, double half_a, Vec2 b, double half_b) {
    const double between = std::fabs(a.x - b.x);
    return a.y == b.y ? between > half_a + half_b : between > (a.y > b.y ? half_b : half_a);
  }

  void contours() {
    const auto ring = [&](const std::vector<Vec2>& points, bool closed) {
      std::vector<Vec2> drawn;
      for (const Vec2 p : points) drawn.push_back(at(p));
      sketch_.curve(ShopInk::cut, drawn, closed);
    };
    ring(pattern_.cut.outer, true);
    for (const Ring& hole : pattern_.cut.holes) ring(hole, true);
    for (const auto& cut : pattern_.open_cuts) ring(cut, false);
  }

  // Rulings that have names, lines across, and a cross for each fastener.
  void marks() {
    constexpr double k_shortest = 3.0;  // mm on the paper
    for (std::size_t i = 0; i < pattern_.marks.size(); ++i) {
      const auto& mark = pattern_.marks[i];
      if (pattern_.mark_names[i].empty() || scale_ * distance(mark.front(), mark.back()) < k_shortest)
        continue;
      std::vector<Vec2> drawn;
      for (const Vec2 p : mark) drawn.push_back(at(p));
      sketch_.curve(ShopInk::mark, drawn, false);
    }
    if (!is_single()) return;
    for (const Vec2 place : fasteners())
      for (const Vec2 arm : {Vec2{0.7, 0.0}, Vec2{0.0, 0.7}})
        sketch_.line(ShopInk::mark, {at(place) - arm, at(place) + arm});
  }

  // The pen draws a cross of two lines of one length at each.
  std::vector<Vec2> fasteners() const {
    std::vector<Vec2> places;
    for (std::size_t i = 0; i + 1 < pattern_.marks.size(); ++i) {
      const auto& a = pattern_.marks[i];
      const auto& b = pattern_.marks[i + 1];
      if (a.size() != 2 || b.size() != 2 || !pattern_.mark_names[i].empty()) continue;
      const Vec2 middle = 0.5 * (a[0] + a[1]);
      if (distance(middle, 0.5 * (b[0] + b[1])) < 1e-6) places.push_back(middle);
    }
    return places;
  }

  void dimensions() {
    const Vec2 low = at(box_.low);
    const Vec2 high = at(box_.high);
    sketch_.dimension({low.x, high.y + 4.6}, {high.x, high.y + 4.6},
                      length(box_.high.x - box_.low.x) + " around");
    sketch_.dimension({high.x + 3.0, low.y}, {high.x + 3.0, high.y}, length(box_.high.y - box_.low.y));
  }

  // Where edges meet the neighbours', outside the edge.
  void letters() {
    if (!is_single()) return;
    const Development flat = development_of(fitting_, piece());
    for (const MeetMark& mark : piece().meets) {
      double turn = std::fmod(mark.theta - piece().seam, k_two_pi);
      if (turn < -1e-9) turn += k_two_pi;
      if (turn > piece().span + 1e-6) continue;
      std::vector<double> places{turn};
      if (turn < 1e-6 && piece().full_turn()) places.push_back(piece().span);
      for (const double place : places) {
        const double theta = piece().seam + place;
        const double v =
            end_height(fitting_, piece().wall, mark.high, theta, liner_of(fitting_, pattern_).outer_depth);
        const Vec2 edge = at(on_board(flat, theta, v));
        const bool above = edge.y > at(0.5 * (box_.low + box_.high)).y;
        sketch_.text_if_free(edge + Vec2{0.0, above ? 0.8 : -2.8}, mark.name.substr(0, mark.name.find(' ')),
                             8.0, ShopAlign::middle, true);
      }
    }
  }

  // Its name and the way of the air where they fit, clear of the letters.
  void name() {
    for (const LabelBlock& block : pattern_.label_blocks) {
      const Box part = bounding_box(block.part.outer).value();
      const Vec2 low = at(part.low);
      const Vec2 high = at(part.high);
      const Vec2 middle = at(0.5 * (part.low + part.high));
      constexpr double k_name = 9.0;
      const double wide = shop_text_width(block.piece, k_name);
      const auto spot = [&](Vec2 half) -> std::optional<Vec2> {
        for (const double share : {-0.22, 0.22, -0.36, 0.36, -0.1, 0.1}) {
          const Vec2 at_share = middle + Vec2{share * (high.x - low.x), 0.0};
          if (is_board({at_share - half, at_share + half}) &&
              sketch_.is_free({at_share - half, at_share + half}))
            return at_share;
        }
        return std::nullopt;
      };
      if (const auto place = spot({0.5 * wide + 0.5, 1.8}))
        sketch_.text(*place - Vec2{0.0, 1.2}, block.piece, k_name, ShopAlign::middle, true);
      if (!block.flow) continue;
      const double reach = std::min(6.0, 0.32 * (high.y - low.y));
      if (reach < 1.8) continue;
      const double words = shop_text_width("air", k_least_letter);
      if (const auto place = spot({1.6 + 0.5 * words, reach + 0.3})) {
        const double up = block.flow->y >= 0.0 ? 1.0 : -1.0;
        const Vec2 stem = *place + Vec2{-0.5 * words, 0.0};
        const auto arrow = [&](double from, double to) {
          sketch_.arrow(ShopInk::air, stem + Vec2{0.0, from}, stem + Vec2{0.0, to}, 1.8);
        };
        if (!block.two_flows) {
          arrow(-up * reach, up * reach);
        } else {  // tip to tip, or foot to foot
          const double outer = up > 0.0 ? reach : 0.15 * reach;
          const double inner = up > 0.0 ? 0.15 * reach : reach;
          arrow(-outer, -inner);
          arrow(outer, inner);
        }
        sketch_.text(*place + Vec2{1.6 - 0.5 * words, -0.9}, "air", k_least_letter, ShopAlign::left);
      }
    }
  }

  // Whether all of the box lies on the board, on the paper.
  bool is_board(const Box& box) const {
    const Vec2 inside = box_.low + (1.0 / scale_) * (0.5 * (box.low + box.high) - origin_);
    if (!point_in_polygon(inside, pattern_.cut.outer)) return false;
    const auto meets = [&](const Ring& ring) {
      for (std::size_t i = 0; i < ring.size(); ++i)
        if (meets_box(box, at(ring[i]), at(ring[(i + 1) % ring.size()]))) return true;
      return false;
    };
    if (meets(pattern_.cut.outer)) return false;
    return std::none_of(pattern_.cut.holes.begin(), pattern_.cut.holes.end(),
                        [&](const Ring& hole) { return point_in_polygon(inside, hole) || meets(hole); });
  }

  // As many station numbers as have room; the stations' ticks are all there.
  void stations() {
    constexpr double k_tick = 1.2;
    int number = 0;
    for (const Ordinate& o : pattern_.ordinates) {
      const Vec2 foot = at(o.at);
      sketch_.line(ShopInk::mark, {foot, foot + Vec2{0.0, k_tick}});
      sketch_.text_if_free(foot + Vec2{0.0, -2.9}, std::to_string(number++));
    }
  }

  void callouts() {
    const double top = origin_.y - k_below;
    for (std::size_t i = 0; i < callouts_.size(); ++i) {
      const Vec2 words{written_[i].x, top - k_row * (written_[i].y + 1.0) + 0.8};
      sketch_.text(words, callouts_[i].words);
      const Vec2 anchor = at(callouts_[i].at);
      sketch_.line(ShopInk::dimension, {words + Vec2{0.0, 2.1}, {words.x, top + 0.6}, anchor});
    }
  }
};

}  // namespace

double cut_mass(const Fitting& fitting, const Pattern& pattern) {
  constexpr double k_cubic_metre = 1e9;  // mm3
  const LinerSpec& liner = liner_of(fitting, pattern);
  return pattern.board_area * liner.thickness / k_cubic_metre * liner.density;
}

std::string pattern_name(const Fitting& fitting, const Pattern& pattern) {
  if (pattern.pieces.empty()) return "template of the hole";
  std::string name;
  if (pattern.is_blank && notched_with(fitting, pattern.pieces.front()) == nullptr)
    return "all pieces in one blank, shared cuts";
  for (const int index : pattern.pieces) {
    const std::string one = piece_name(fitting, fitting.pieces[static_cast<std::size_t>(index)]);
    name += (name.empty() ? "" : " and ") + one;
  }
  return pattern.pieces.size() > 1 ? name + " in one board" : name;
}

ShopDrawing pattern_drawing(const Fitting& fitting, const Pattern& pattern, double width) {
  ShopDrawing drawing = PatternDrawing(fitting, pattern, width).draw();
  const std::string name = pattern_name(fitting, pattern);
  drawing.title = name == pattern.id ? pattern.id : fmt::format("{} ({})", name, pattern.id);
  if (pattern.pieces.empty()) {
    drawing.note = pattern.placement.mirrored ? "against the duct's liner, seen from inside"
                                              : "around the duct's metal, seen from outside";
    return drawing;
  }
  const LinerSpec& liner = liner_of(fitting, pattern);
  drawing.note =
      fmt::format("{} face up; cut square: gap {}, overlap {}; leans to {}\u00b0",
                  face_word(liner, liner.face_up), shop_length(fitting, pattern.gap_square),
                  shop_length(fitting, pattern.overlap_square), trimmed(pattern.max_tilt * 180.0 / k_pi, 1));
  return drawing;
}

}  // namespace linerwright
