// A pattern as people look at it: with its main dimensions, its lines thick enough for the page it is put on.
#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/paper/paper.hpp"

namespace linerwright {

namespace {

constexpr double k_page_side = 320.0;   // mm: lines are as thick as if the picture were this large
constexpr double k_text_share = 0.016;  // of the longer side: height of the dimensions' figures

// Dimension lines round a box, further out for each one more on the same side.
class Dimensions {
 public:
  Dimensions(Box around, double height, Units units) : around_(around), height_(height), units_(units) {
    group_.ink = {"dimension", "#4a5560", "#b8c2cc", 0.25, {}};
  }

  // Between two points of the drawing, as far apart as they lie along x, below the box.
  void below(double from, double to) {
    const double y = around_.low.y - reach();
    for (const double x : {from, to}) add({{x, around_.low.y - gap()}, {x, y - gap()}});
    arrow({from, y}, {to, y});
    write({0.5 * (from + to), y + 0.4 * height_}, to - from, 0.0);
  }
  // Along y, to the left of the box.
  void left(double from, double to) {
    const double x = around_.low.x - reach();
    for (const double y : {from, to}) add({{around_.low.x - gap(), y}, {x - gap(), y}});
    arrow({x, from}, {x, to});
    write({x - 0.4 * height_, 0.5 * (from + to)}, to - from, 0.5 * k_pi);
  }

  // Under the dimensions, a line each, in the middle.
  void words_below(const std::vector<std::string>& lines) {
    double y = around_.low.y - reach() - height_;
    for (const std::string& line : lines) {
      y -= 1.7 * height_;
      group_.texts.push_back(
          {Layer::label, {0.5 * (around_.low.x + around_.high.x), y}, height_, 0.0, true, line});
    }
  }

  InkedGroup group() && { return std::move(group_); }

 private:
  double gap() const { return 0.5 * height_; }
  double reach() const { return 2.5 * height_; }
  void add(std::vector<Vec2> points) { group_.lines.push_back({false, std::move(points)}); }
  void arrow(Vec2 a, Vec2 b) {
    add({a, b});
    const Vec2 along = (1.0 / distance(a, b)) * (b - a);
    const Vec2 across{-along.y, along.x};
    for (const auto& [tip, back] : {std::pair{a, along}, std::pair{b, -1.0 * along}})
      add({tip + 0.9 * height_ * back + 0.25 * height_ * across, tip,
           tip + 0.9 * height_ * back - 0.25 * height_ * across});
  }
  void write(Vec2 at, double length, double angle) {
    group_.texts.push_back(
        {Layer::label, at, height_, angle, true,
         format_quantity(Quantity::length, length, units_, units_ == Units::inch ? 2 : 1)});
  }

  Box around_;
  double height_;
  Units units_;
  InkedGroup group_;
};

// What the piece's labels say where there is room, and this piece has none for.
std::vector<std::string> words_without_room(const Pattern& pattern) {
  std::vector<std::string> words;
  for (const LabelBlock& block : pattern.label_blocks)
    for (const std::string& line : block.lines)
      if (std::none_of(pattern.labels.begin(), pattern.labels.end(),
                       [&](const Text& text) { return text.text == line; }))
        words.push_back(line);
  return words;
}

}  // namespace

Picture pattern_picture(const Pattern& pattern, const Fitting& fitting) {
  Picture picture = picture_of(drawing_of(pattern, fitting.units));
  const Box drawn = extents(picture).value();
  const Box cut = bounding_box(pattern.cut.outer).value();
  const Vec2 size = cut.high - cut.low;
  const double side = std::max(size.x, size.y);
  const double height = std::max(5.0, k_text_share * side);
  Dimensions dimensions(joined(drawn, cut), height, fitting.units);
  dimensions.below(cut.low.x, cut.high.x);
  dimensions.left(cut.low.y, cut.high.y);
  dimensions.words_below(words_without_room(pattern));
  picture.push_back(std::move(dimensions).group());
  const double thicker = std::max(1.0, side / k_page_side);
  for (InkedGroup& group : picture) {
    group.ink.width *= thicker;
    for (double& dash : group.ink.dashes) dash *= thicker;
  }
  return picture;
}

}  // namespace linerwright
