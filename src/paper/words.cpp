#include <algorithm>
#include <sstream>

#include "sheets.hpp"

namespace linerwright {

namespace {

constexpr double k_pitch = 1.7;  // of the height, from line to line

}  // namespace

void Words::line(const std::string& text, double larger) {
  const std::string spelled = pen_spelling(text);
  const double wanted = larger * height_;
  const double width = stroke_text_width(spelled, wanted);
  const double height = width > width_ ? wanted * width_ / width : wanted;
  at_.y -= wanted;
  texts.push_back({Layer::label, at_, height, 0.0, false, spelled});
  at_.y -= (k_pitch - 1.0) * wanted;
}

void Words::write(const std::string& text, double larger) {
  std::istringstream words(text);
  std::string current;
  for (std::string word; words >> word;) {
    const std::string longer = current.empty() ? word : current + " " + word;
    if (!current.empty() && stroke_text_width(pen_spelling(longer), larger * height_) > width_) {
      line(current, larger);
      current = word;
    } else {
      current = longer;
    }
  }
  if (!current.empty()) line(current, larger);
}

Ink word_ink() {
  return {"words", "#000000", "#ffffff", 0.25, {}};
}
Ink frame_ink() {
  return {"frame", "#707070", "#a0a0a0", 0.15, {3.0, 1.5}};
}
Ink square_ink() {
  return {"square", "#707070", "#a0a0a0", 0.2, {}};
}

namespace {

constexpr double k_square = 100.0;
constexpr double k_ruler = 4.0 * 25.4;
constexpr double k_ruler_gap = 6.0;  // from the square
constexpr double k_tick = 3.0;

}  // namespace

Box square_room(Units units) {
  if (units != Units::inch) return {{0.0, 0.0}, {k_square, k_square}};
  return {{-k_ruler_gap - k_tick, -k_ruler_gap - k_tick}, {k_ruler, k_ruler}};
}

void add_square(Picture& picture, Vec2 low, Units units) {
  InkedGroup group{square_ink(), {}, {}};
  const auto at = [&](double x, double y) { return low + Vec2{x, y}; };
  const auto line = [&](Vec2 a, Vec2 b) { group.lines.push_back({false, {a, b}}); };
  group.lines.push_back({true, {at(0.0, 0.0), at(k_square, 0.0), at(k_square, k_square), at(0.0, k_square)}});
  group.texts.push_back({Layer::label, at(0.5 * k_square, k_square - 5.0), 2.8, 0.0, true,
                         "measure: 100 mm wide, 100 mm high"});
  if (units == Units::inch) {
    line(at(0.0, -k_ruler_gap), at(k_ruler, -k_ruler_gap));
    line(at(-k_ruler_gap, 0.0), at(-k_ruler_gap, k_ruler));
    for (int i = 0; i <= 4; ++i) {
      line(at(25.4 * i, -k_ruler_gap - k_tick), at(25.4 * i, -k_ruler_gap));
      line(at(-k_ruler_gap - k_tick, 25.4 * i), at(-k_ruler_gap, 25.4 * i));
    }
    group.texts.push_back({Layer::label, at(1.5 * 25.4, -k_ruler_gap + 1.2), 2.8, 0.0, true, "4 in"});
    group.texts.push_back({Layer::label, at(-k_ruler_gap + 4.0, 1.5 * 25.4), 2.8, 0.5 * k_pi, true, "4 in"});
  }
  picture.push_back(std::move(group));
}

}  // namespace linerwright
