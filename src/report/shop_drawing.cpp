// A pattern as a shop drawing: to scale, with letters as large as they are to be read.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "linerwright/fitting/shop_words.hpp"
#include "sketch.hpp"

namespace linerwright {

namespace {

constexpr double k_row = 3.4;         // mm from line to line
constexpr double k_left = 5.0;        // beside the pattern
constexpr double k_right = 5.0;       // likewise, and the height's words
constexpr double k_above = 9.0;       // letters and the girth
constexpr double k_narrowest = 40.0;  // that a title is read over
constexpr double k_below = 7.5;       // letters and station numbers

// What is written below a pattern with a line up to its place.
struct Callout {
  Vec2 at;
  std::vector<std::string> lines;
};

std::string ids_of(const std::vector<const Pattern*>& alike) {
  std::string ids;
  for (const Pattern* each : alike) ids += (ids.empty() ? "" : ", ") + each->id;
  return ids;
}

class PatternDrawing {
 public:
  PatternDrawing(const Fitting& fitting, const std::vector<const Pattern*>& alike, Vec2 most)
      : fitting_(fitting), alike_(alike), pattern_(*alike.front()), sketch_(drawing_) {
    box_ = bounding_box(pattern_.cut.outer).value();
    const Vec2 size = box_.high - box_.low;
    scale_ = std::min(most.x / size.x, most.y / size.y);
    drawing_.id = pattern_.id;
    gather();
    drawing_.size.x = std::max(
        k_narrowest, k_left + scale_ * size.x + k_right + shop_text_width(length(size.y), k_least_letter));
    for (std::size_t i = 0; i < callouts_.size(); ++i) drawing_.size.x = std::max(drawing_.size.x, wide(i));
    const double rows = place_rows(drawing_.size.x);
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
  const std::vector<const Pattern*>& alike_;
  const Pattern& pattern_;  // the first of them
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
  const Piece& piece() const { return piece_of(pattern_); }
  const Piece& piece_of(const Pattern& pattern) const { return fitting_.piece(pattern.pieces.front()); }

  Vec2 on_board(const Development& flat, double theta, double v) const {
    return pattern_.placement.board(flat.point(theta, v));
  }

  // Heights on the duct face at the seam and at each mark, holes, notches.
  void gather() {
    if (is_single()) {
      const Development flat = development_of(fitting_, piece());
      const double outer = liner_of(fitting_, pattern_).outer_depth;
      const auto height = [&](double theta, const std::string& name) {
        const double low = liner_end(fitting_, piece().wall, End::low, theta, outer);
        const double high = liner_end(fitting_, piece().wall, End::high, theta, outer);
        // on the board from the seam on, however the ruling is counted
        const double turn = turn_to(piece(), theta);
        if (turn > piece().span + 1e-6) return;
        callouts_.push_back(
            {on_board(flat, piece().seam + turn, low), {fmt::format("{} {}", name, length(high - low))}});
      };
      const Sheet& sheet = fitting_.wall(piece().wall).sheet;
      // a longer place stands in the table
      constexpr std::size_t k_short = 12;
      const std::string& place = piece().seam_place;
      if (!sheet.is_flat())
        height(piece().seam, !piece().full_turn()     ? "edge"
                             : place.size() > k_short ? "seam"
                                                      : "seam, " + place);
      for (const RulingMark& mark : piece().marks)
        if (std::fabs(std::remainder(mark.theta - piece().seam, k_two_pi)) > 1e-6)
          height(mark.theta, mark.name);
    }
    for (const Ring& hole : pattern_.cut.holes) {
      const Box around = bounding_box(hole).value();
      const Vec2 middle = 0.5 * (around.low + around.high);
      callouts_.push_back({{middle.x, around.low.y},
                           {fmt::format("hole {} x {}", length(around.high.x - around.low.x),
                                        length(around.high.y - around.low.y)),
                            fmt::format("middle {} from the left, {} up", length(middle.x - box_.low.x),
                                        length(middle.y - box_.low.y))}});
    }
    if (!pattern_.notch_ordinates.empty()) {
      const NotchOrdinate& o = pattern_.notch_ordinates.front();
      callouts_.push_back(
          {o.tip,
           {fmt::format("{} notches, {} wide, {} deep", pattern_.notch_ordinates.size(),
                        length(distance(o.duct[0], o.duct[1])), length(std::fabs(o.duct[0].y - o.tip.y))),
            fmt::format("first point {} from the left", length(o.tip.x - box_.low.x))}});
      for (std::size_t i = 0; i < pattern_.marks.size(); ++i)
        if (pattern_.mark_names[i] == "bend line" || pattern_.mark_names[i] == "trim to here")
          callouts_.push_back({pattern_.marks[i].front(),
                               {fmt::format("{} {} up", pattern_.mark_names[i],
                                            length(pattern_.marks[i].front().y - box_.low.y))}});
    }
  }

  // Each callout hangs to the right of its leader, the further to the right its place lies the higher: a
  // leader comes down left of all words above. Returns how many rows there are.
  double place_rows(double width) {
    std::vector<std::size_t> order(callouts_.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return callouts_[a].at.x > callouts_[b].at.x; });
    written_.assign(callouts_.size(), {});
    std::vector<std::size_t> placed;
    double rows = 0.0;
    double before = width;
    for (const std::size_t i : order) {
      const double wanted = k_left + scale_ * (callouts_[i].at.x - box_.low.x);
      written_[i].x = std::max(0.0, std::min({wanted, width - wide(i), before - k_apart}));
      while (std::any_of(placed.begin(), placed.end(), [&](std::size_t other) { return meets(i, other); }))
        written_[i].y += 1.0;
      before = written_[i].x;
      placed.push_back(i);
      rows = std::max(rows, written_[i].y + lines_of(i));
    }
    return rows;
  }

  static constexpr double k_apart = 1.6;  // mm between leaders, and beside words
  static constexpr double k_flag = 0.8;   // from a leader to its words

  double wide(std::size_t callout) const {
    double widest = 0.0;
    for (const std::string& line : callouts_[callout].lines)
      widest = std::max(widest, shop_text_width(line, k_least_letter));
    return widest + k_flag;
  }
  double lines_of(std::size_t callout) const { return static_cast<double>(callouts_[callout].lines.size()); }

  // Whether the words of a callout touch one further to the right, or its leader.
  bool meets(std::size_t callout, std::size_t right) const {
    return written_[callout].y < written_[right].y + lines_of(right) &&
           written_[callout].x + wide(callout) + k_apart > written_[right].x;
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
    for (std::size_t i = 0; i < piece().meets.size(); ++i) {
      const MeetMark& mark = piece().meets[i];
      const double turn = turn_to(piece(), mark.theta);
      if (turn > piece().span + 1e-6) continue;
      std::string letters;  // of each piece that is cut by it
      for (const Pattern* each : alike_) {
        const std::string& name = piece_of(*each).meets[i].name;
        letters += (letters.empty() ? "" : ", ") + name.substr(0, name.find(' '));
      }
      std::vector<double> places{turn};
      if (turn < 1e-6 && piece().full_turn()) places.push_back(piece().span);
      for (const double place : places) {
        const double theta = piece().seam + place;
        const double v =
            liner_end(fitting_, piece().wall, mark.end, theta, liner_of(fitting_, pattern_).outer_depth);
        const Vec2 edge = at(on_board(flat, theta, v));
        const bool above = edge.y > at(0.5 * (box_.low + box_.high)).y;
        const double aside = place < 1e-6                  ? -1.4
                             : place > piece().span - 1e-6 ? 1.4
                                                           : 0.0;  // off the seam's edge
        sketch_.text_if_free(edge + Vec2{aside, above ? 0.9 : -3.2}, letters, 8.0, ShopAlign::middle, true);
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
      const std::string words = alike_.size() == 1 ? block.piece : ids_of(alike_);
      const double wide = shop_text_width(words, k_name);
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
        sketch_.text(*place - Vec2{0.0, 1.2}, words, k_name, ShopAlign::middle, true);
      if (!block.flow) continue;
      const double reach = std::min(6.0, 0.32 * (high.y - low.y));
      if (reach < 1.8) continue;
      const double air = shop_text_width("air", k_least_letter);
      if (const auto place = spot({1.6 + 0.5 * air, reach + 0.3})) {
        const double up = block.flow->y >= 0.0 ? 1.0 : -1.0;
        const Vec2 stem = *place + Vec2{-0.5 * air, 0.0};
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
        sketch_.text(*place + Vec2{1.6 - 0.5 * air, -0.9}, "air", k_least_letter, ShopAlign::left);
      }
    }
  }

  // Whether all of the box lies on the board, on the paper.
  bool is_board(const Box& box) const {
    const Vec2 inside = box_.low + (1.0 / scale_) * (0.5 * (box.low + box.high) - origin_);
    return point_in_polygon(inside, pattern_.cut.outer) && !on_cut(box) &&
           std::none_of(pattern_.cut.holes.begin(), pattern_.cut.holes.end(),
                        [&](const Ring& hole) { return point_in_polygon(inside, hole); });
  }

  // Whether a contour runs through the box on the paper.
  bool on_cut(const Box& box) const {
    const auto meets = [&](const Ring& ring) {
      for (std::size_t i = 0; i < ring.size(); ++i)
        if (meets_box(box, at(ring[i]), at(ring[(i + 1) % ring.size()]))) return true;
      return false;
    };
    return meets(pattern_.cut.outer) ||
           std::any_of(pattern_.cut.holes.begin(), pattern_.cut.holes.end(), meets);
  }

  // As many station numbers as have room; the stations' ticks are all there.
  void stations() {
    constexpr double k_tick = 1.2;
    int number = 0;
    for (const Ordinate& o : pattern_.ordinates) {
      const Vec2 foot = at(o.at);
      sketch_.line(ShopInk::mark, {foot, foot + Vec2{0.0, k_tick}});
      const std::string words = std::to_string(number++);
      for (const Vec2 place : {Vec2{0.0, -2.9}, Vec2{0.0, k_tick + 0.6}})
        if (!on_cut(box_of({foot + place, k_least_letter, ShopAlign::middle, false, words})) &&
            sketch_.text_if_free(foot + place, words))
          break;
    }
  }

  void callouts() {
    const double top = origin_.y - k_below;
    for (std::size_t i = 0; i < callouts_.size(); ++i) {
      const double x = written_[i].x;
      const double foot = top - k_row * (written_[i].y + lines_of(i)) + 0.8;
      for (std::size_t line = 0; line < callouts_[i].lines.size(); ++line)
        sketch_.text({x + k_flag, top - k_row * (written_[i].y + static_cast<double>(line) + 1.0) + 0.8},
                     callouts_[i].lines[line], k_least_letter, ShopAlign::left);
      sketch_.line(ShopInk::dimension, {{x, foot}, {x, top + 0.6}, at(callouts_[i].at)});
    }
  }
};

// "middle piece (2, 4), alike".
std::string title_of(const Fitting& fitting, const std::vector<const Pattern*>& alike) {
  std::vector<std::string> names;
  for (const Pattern* each : alike) {
    std::string name = pattern_name(fitting, *each);
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
  }
  std::string title;
  for (const std::string& name : names) title += (title.empty() ? "" : "; ") + name;
  const std::string ids = ids_of(alike);
  if (title != ids) title += fmt::format(" ({})", ids);
  return alike.size() > 1 ? title + ", alike" : title;
}

}  // namespace

ShopDrawing pattern_drawing(const Fitting& fitting, const std::vector<const Pattern*>& alike, Vec2 most) {
  const Pattern& pattern = *alike.front();
  ShopDrawing drawing = PatternDrawing(fitting, alike, most).draw();
  drawing.title = title_of(fitting, alike);
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
