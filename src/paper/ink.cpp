#include "ink.hpp"

#include <algorithm>
#include <cstdlib>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_stroke_share = 0.09;  // of a text's height: width of its strokes

void trace(cairo_t* context, const std::vector<Vec2>& points, bool closed) {
  if (points.size() < 2) return;
  cairo_move_to(context, points.front().x, points.front().y);
  for (std::size_t i = 1; i < points.size(); ++i) cairo_line_to(context, points[i].x, points[i].y);
  if (closed) cairo_close_path(context);
}

void set_colour(cairo_t* context, const std::string& colour) {
  const long rgb = std::strtol(colour.c_str() + 1, nullptr, 16);
  const auto part = [&](int shift) { return static_cast<double>((rgb >> shift) & 0xff) / 255.0; };
  cairo_set_source_rgb(context, part(16), part(8), part(0));
}

}  // namespace

void use_millimetres(cairo_t* context, Vec2 low, double height, double scale) {
  cairo_translate(context, 0.0, height);
  cairo_scale(context, scale, -scale);
  cairo_translate(context, -low.x, -low.y);
  cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
}

void paint(cairo_t* context, const Picture& picture, double thinnest) {
  for (const InkedGroup& group : picture) {
    set_colour(context, group.ink.light);
    cairo_set_line_width(context, std::max(thinnest, group.ink.width));
    cairo_set_dash(context, group.ink.dashes.data(), static_cast<int>(group.ink.dashes.size()), 0.0);
    cairo_set_line_cap(context, group.ink.dashes.empty() ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    for (const InkedLine& line : group.lines) trace(context, line.points, line.closed);
    if (group.ink.width <= 0.0)  // its lines are filled
      cairo_fill(context);
    else
      cairo_stroke(context);
    cairo_set_dash(context, nullptr, 0, 0.0);
    cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
    for (Text text : group.texts) {
      // numbers in the place of letters take more room: smaller, as far as they can be read
      constexpr double k_readable = 2.5;
      const double wide = stroke_text_width(text.text, text.height);
      text.text = pen_spelling(text.text);
      const double wider = stroke_text_width(text.text, text.height);
      if (wider > wide) text.height = std::max(std::min(k_readable, text.height), text.height * wide / wider);
      for (const auto& stroke : stroke_text(text)) trace(context, stroke, false);
      cairo_set_line_width(context, std::max(thinnest, k_stroke_share * text.height));
      cairo_stroke(context);
    }
  }
}

Picture within(const Picture& picture, const Box& box) {
  Picture near;
  for (const InkedGroup& group : picture) {
    near.push_back({group.ink, {}, {}});
    for (const InkedLine& line : group.lines) {
      const auto& p = line.points;
      const std::size_t sides = p.size() - (line.closed ? 0 : 1);
      const auto shows = [&](std::size_t i) { return meets_box(box, p[i], p[(i + 1) % p.size()]); };
      std::size_t i = 0;
      while (i < sides) {
        if (!shows(i)) {
          ++i;
          continue;
        }
        std::vector<Vec2> stretch{p[i]};
        for (; i < sides && shows(i); ++i) stretch.push_back(p[(i + 1) % p.size()]);
        near.back().lines.push_back({false, std::move(stretch)});
      }
    }
    for (const Text& text : group.texts) {
      const std::vector<Vec2> corners = text_corners(text);
      const Box room = bounding_box(corners).value();
      const Vec2 tails{text.height, text.height};
      const Box all{room.low - tails, room.high + tails};
      if (all.low.x < box.high.x && all.high.x > box.low.x && all.low.y < box.high.y &&
          all.high.y > box.low.y)
        near.back().texts.push_back(text);
    }
  }
  return near;
}

void require_good(cairo_status_t status, const std::string& what) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw WriteError(what + ": " + std::string(cairo_status_to_string(status)));
}

cairo_status_t take_bytes(void* closure, const unsigned char* bytes, unsigned length) {
  auto& taken = *static_cast<std::string*>(closure);
  taken.insert(taken.end(), bytes, bytes + length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace linerwright
