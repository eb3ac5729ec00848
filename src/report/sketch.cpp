#include "sketch.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/draw/page_text.hpp"

namespace linerwright {

namespace {

constexpr double k_point = 25.4 / 72.0;  // mm

}  // namespace

// The bold face is the wider one.
double shop_text_width(const std::string& text, double points) {
  return text_width(text, points, true);
}

Box box_of(const ShopText& text) {
  const double width = shop_text_width(text.text, text.points);
  const double left = text.align == ShopAlign::left     ? 0.0
                      : text.align == ShopAlign::middle ? 0.5 * width
                                                        : width;
  const double size = text.points * k_point;
  return {text.at - Vec2{left, 0.22 * size}, text.at + Vec2{width - left, 0.76 * size}};
}

void Sketch::line(ShopInk ink, std::vector<Vec2> points, bool closed) {
  if (points.size() > 1) drawing_.lines.push_back({ink, closed, std::move(points)});
}

void Sketch::curve(ShopInk ink, const std::vector<Vec2>& points, bool closed) {
  constexpr ThinOptions k_on_paper{0.04, 20.0 * k_pi / 180.0};  // mm, as fine as a printer's line
  line(ink, thinned(points, closed, k_on_paper), closed);
}

void Sketch::arrow(ShopInk ink, Vec2 from, Vec2 to, double head) {
  const double length = distance(from, to);
  if (length < 1e-6) return;
  const Vec2 way = (1.0 / length) * (to - from);
  const Vec2 side{-way.y, way.x};
  line(ink, {from, to});
  line(ink, {to - head * way + 0.5 * head * side, to, to - head * way - 0.5 * head * side});
}

void Sketch::dimension(Vec2 from, Vec2 to, const std::string& words) {
  const bool upright = std::fabs(to.y - from.y) > std::fabs(to.x - from.x);
  const Vec2 tick = upright ? Vec2{0.9, 0.0} : Vec2{0.0, 0.9};
  line(ShopInk::dimension, {from, to});
  for (const Vec2 end : {from, to}) line(ShopInk::dimension, {end - tick, end + tick});
  const Vec2 middle = 0.5 * (from + to);
  if (upright)
    text(middle + Vec2{1.2, -0.9}, words, k_least_letter, ShopAlign::left);
  else
    text(middle + Vec2{0.0, 0.9}, words);
}

void Sketch::text(Vec2 at, const std::string& words, double points, ShopAlign align, bool bold) {
  if (words.empty()) return;
  drawing_.texts.push_back({at, points, align, bold, words});
  taken_.push_back(box_of(drawing_.texts.back()));
}

bool Sketch::is_free(const Box& box) const {
  return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) {
    return box.low.x < other.high.x && other.low.x < box.high.x && box.low.y < other.high.y &&
           other.low.y < box.high.y;
  });
}

bool Sketch::text_if_free(Vec2 at, const std::string& words, double points, ShopAlign align, bool bold) {
  if (!is_free(box_of({at, points, align, bold, words}))) return false;
  text(at, words, points, align, bold);
  return true;
}

}  // namespace linerwright
