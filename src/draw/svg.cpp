#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/draw.hpp"
#include "linerwright/error.hpp"
#include "linerwright/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

constexpr int k_decimals = 3;
constexpr double k_capital_share = 0.72;  // of a sans-serif font's size, common practice, no source

// Each layer's colour on white and on dark, its line's width in mm and its dashes.
struct Look {
  const char* light;
  const char* dark;
  double width;
  const char* dashes;
};

Look look_of(Layer layer) {
  switch (layer) {
    case Layer::cut:
      return {"#b3261e", "#ff9a8f", 0.5, ""};
    case Layer::duct_face:
      return {"#1f5fa8", "#8ec1ff", 0.3, "4 1.5"};
    case Layer::air_face:
      return {"#0f766e", "#6fd8cb", 0.3, "1.5 1.5"};
    case Layer::mark:
      return {"#6d28a8", "#d0a8ff", 0.3, ""};
    case Layer::label:
      return {"#2b2b2b", "#e8e8e8", 0.3, ""};
    case Layer::scale:
      return {"#6b5b00", "#e3cd5f", 0.3, ""};
    case Layer::stock:
      return {"#6f7680", "#9aa3ad", 0.3, "8 3"};
  }
  return {"#000000", "#ffffff", 0.3, ""};
}

// A class for the layer: cut, duct-face and so on.
std::string class_of(Layer layer) {
  std::string name = layer_name(layer);
  for (char& c : name) c = c == '_' ? '-' : static_cast<char>(c - 'A' + 'a');
  return name;
}

// Text fit for XML: its five marks by name, controls as spaces, what XML 1.0 forbids as the replacement
// character.
std::string xml_escaped(std::string_view text) {
  std::string out;
  for (const char32_t code : code_points(text)) {
    if (is_control_code(code)) {
      out += ' ';
    } else if (code == U'&') {
      out += "&amp;";
    } else if (code == U'<') {
      out += "&lt;";
    } else if (code == U'>') {
      out += "&gt;";
    } else if (code == U'"') {
      out += "&quot;";
    } else if (code == U'\'') {
      out += "&#39;";
    } else {
      append_utf8(out, code == 0xFFFE || code == 0xFFFF ? k_replacement : code);
    }
  }
  return out;
}

std::string number(double value) {
  return trimmed(value, k_decimals);
}

class Page {
 public:
  Page(const Drawing& drawing, const SvgOptions& options) : drawing_(drawing), options_(options) {
    measure();
  }

  std::string print() {
    const Vec2 size = box_.high - box_.low;
    fmt::format_to(std::back_inserter(svg_),
                   "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 "
                   "{0} {1}\">\n",
                   number(size.x), number(size.y));
    if (!options_.title.empty()) svg_ += "<title>" + xml_escaped(options_.title) + "</title>\n";
    style();
    for (const Layer layer : k_all_layers) {
      if (shown(layer)) group(layer);
    }
    return svg_ + "</svg>\n";
  }

 private:
  bool shown(Layer layer) const {
    return std::find(options_.hidden.begin(), options_.hidden.end(), layer) == options_.hidden.end();
  }

  void measure() {
    std::optional<Box> box;
    const auto stretch = [&](const std::vector<Vec2>& points) {
      for (const Vec2 p : points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y))
          throw GeometryError("SVG: a coordinate is not a finite number");
        box = box ? joined(*box, {p, p}) : Box{p, p};
      }
    };
    for (const Polyline& line : drawing_.lines) {
      if (shown(line.layer)) stretch(line.points);
    }
    for (const Text& text : drawing_.texts) {
      if (shown(text.layer)) stretch(text_corners(text));
    }
    if (box) box_ = *box;
    const Vec2 margin{options_.margin, options_.margin};
    box_ = {box_.low - margin, box_.high + margin};
  }

  Vec2 on_page(Vec2 p) const { return {p.x - box_.low.x, box_.high.y - p.y}; }

  void style() {
    std::string dark;
    svg_ +=
        "<style>\npath { fill: none; stroke-linejoin: round; stroke-linecap: round }\ntext { font-family: "
        "sans-serif; "
        "white-space: pre; unicode-bidi: plaintext }\n";
    for (const Layer layer : k_all_layers) {
      if (!shown(layer)) continue;
      const Look look = look_of(layer);
      const std::string name = class_of(layer);
      const std::string dashes =
          *look.dashes == '\0' ? "" : fmt::format("; stroke-dasharray: {}", look.dashes);
      svg_ += fmt::format(".{0} path {{ stroke: {1}; stroke-width: {2}{3} }}\n.{0} text {{ fill: {1} }}\n",
                          name, look.light, number(look.width), dashes);
      dark += fmt::format(".{0} path {{ stroke: {1} }} .{0} text {{ fill: {1} }}\n", name, look.dark);
    }
    svg_ += "@media (prefers-color-scheme: dark) {\n" + dark + "}\n</style>\n";
  }

  void group(Layer layer) {
    std::string content;
    for (const Polyline& line : drawing_.lines) {
      if (line.layer == layer && line.points.size() > 1) content += path(line);
    }
    for (const Text& text : drawing_.texts) {
      if (text.layer == layer) content += words(text);
    }
    if (!content.empty()) svg_ += fmt::format("<g class=\"{}\">\n{}</g>\n", class_of(layer), content);
  }

  std::string path(const Polyline& line) const {
    std::string data;
    for (const Vec2 point : line.points) {
      const Vec2 p = on_page(point);
      data += fmt::format("{}{} {}", data.empty() ? "M" : "L", number(p.x), number(p.y));
    }
    return fmt::format("<path d=\"{}{}\"/>\n", data, line.closed ? "Z" : "");
  }

  std::string words(const Text& text) const {
    const Vec2 p = on_page(text.at);
    const std::string turn = text.angle == 0.0
                                 ? ""
                                 : fmt::format(" transform=\"rotate({} {} {})\"",
                                               number(-text.angle * 180.0 / k_pi), number(p.x), number(p.y));
    return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{}>{}</text>\n", number(p.x), number(p.y),
                       number(text.height / k_capital_share), text.centred ? " text-anchor=\"middle\"" : "",
                       turn, xml_escaped(text.text));
  }

  const Drawing& drawing_;
  const SvgOptions& options_;
  Box box_;
  std::string svg_;
};

}  // namespace

std::string svg_of(const Drawing& drawing, const SvgOptions& options) {
  return Page(drawing, options).print();
}

}  // namespace linerwright
