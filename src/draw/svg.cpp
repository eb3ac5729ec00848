#include <fmt/format.h>

#include <cmath>
#include <set>

#include "linerwright/draw/draw.hpp"
#include "linerwright/units/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

constexpr int k_decimals = 3;
constexpr int k_page_decimals = 1;        // a screen shows no more
constexpr double k_page_steps = 10.0;     // in a millimetre
constexpr double k_capital_share = 0.72;  // of a sans-serif font's size, common practice, no source

// Text fit for XML: its five marks by name, controls as spaces, what XML 1.0 forbids as the replacement
// character.
std::string xml_escaped(std::string_view text) {
  std::string out;
  for (const char32_t code : repaired_code_points(text)) {
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

class Page {
 public:
  Page(const Picture& picture, const SvgOptions& options) : picture_(picture), options_(options) {
    box_ = extents(picture).value_or(Box{});
    const Vec2 margin{options_.margin, options_.margin};
    box_ = {box_.low - margin, box_.high + margin};
  }

  std::string print() {
    const Vec2 size = box_.high - box_.low;
    svg_ += "<svg xmlns=\"http://www.w3.org/2000/svg\"";
    if (!options_.inside_page)
      svg_ +=
          fmt::format(" class=\"drawing\" width=\"{}mm\" height=\"{}mm\"", number(size.x), number(size.y));
    svg_ += fmt::format(" viewBox=\"0 0 {} {}\">\n", number(size.x), number(size.y));
    if (!options_.title.empty()) svg_ += "<title>" + xml_escaped(options_.title) + "</title>\n";
    if (!options_.inside_page) style();
    for (const InkedGroup& group : picture_) write(group);
    if (!options_.overlay.empty())
      svg_ += fmt::format("<g transform=\"translate({} {}) scale(1 -1)\">\n{}</g>\n", number(-box_.low.x),
                          number(box_.high.y), options_.overlay);
    return svg_ + "</svg>\n";
  }

 private:
  std::string number(double value) const {
    return trimmed(value, options_.inside_page ? k_page_decimals : k_decimals);
  }

  // ".5" and "-.5": SVG needs no zero before the point.
  std::string short_number(double value) const {
    std::string out = number(value);
    const std::size_t first = out[0] == '-' ? 1 : 0;
    if (out.compare(first, 2, "0.") == 0) out.erase(first, 1);
    return out;
  }

  Vec2 on_page(Vec2 p) const { return {p.x - box_.low.x, box_.high.y - p.y}; }

  // Rules that hold inside this picture only, wherever it is pasted.
  void style() {
    std::string dark;
    std::set<std::string> styled;
    svg_ +=
        "<style>\n.drawing path { fill: none; stroke-linejoin: round; stroke-linecap: round }\n.drawing text "
        "{ "
        "font-family: sans-serif; white-space: pre; unicode-bidi: plaintext }\n";
    for (const InkedGroup& group : picture_) {
      const Ink& ink = group.ink;
      if (!styled.insert(ink.name).second) continue;
      if (ink.width <= 0.0) {  // its lines are filled
        svg_ += fmt::format(".drawing .{} path {{ fill: {} }}\n", ink.name, ink.light);
        dark += fmt::format(".drawing .{} path {{ fill: {} }}\n", ink.name, ink.dark);
        continue;
      }
      std::string dashes;
      for (const double dash : ink.dashes)
        dashes += (dashes.empty() ? "; stroke-dasharray: " : " ") + number(dash);
      svg_ += fmt::format(
          ".drawing .{0} path {{ stroke: {1}; stroke-width: {2}{3} }}\n.drawing .{0} text {{ fill: {1} }}\n",
          ink.name, ink.light, number(ink.width), dashes);
      dark += fmt::format(".drawing .{0} path {{ stroke: {1} }} .drawing .{0} text {{ fill: {1} }}\n",
                          ink.name, ink.dark);
    }
    svg_ += "@media (prefers-color-scheme: dark) {\n" + dark + "}\n</style>\n";
  }

  void write(const InkedGroup& group) {
    std::string content;
    std::string data;  // on a screen's page lines of one ink are one path
    for (const InkedLine& line : group.lines) {
      if (line.points.size() < 2) continue;
      if (options_.inside_page)
        data += steps(line);
      else
        content += path(line);
    }
    if (!data.empty()) content += "<path d=\"" + data + "\"/>\n";
    for (const Text& text : group.texts) content += words(text);
    if (!content.empty()) svg_ += fmt::format("<g class=\"{}\">\n{}</g>\n", group.ink.name, content);
  }

  // On a screen's page from point to point, which takes half the letters; every point is rounded by itself.
  std::string steps(const InkedLine& line) const {
    std::string data;
    long before[2] = {0, 0};
    int written = 0;
    for (const Vec2 point : line.points) {
      const Vec2 p = on_page(point);
      const long at[2] = {std::lround(p.x * k_page_steps), std::lround(p.y * k_page_steps)};
      if (written > 0 && at[0] == before[0] && at[1] == before[1]) continue;
      data += written == 0 ? "M" : written == 1 ? "l" : "";
      ++written;
      for (const int k : {0, 1}) {
        const std::string step = short_number(static_cast<double>(at[k] - before[k]) / k_page_steps);
        const bool apart = step[0] == '-' || data.back() == 'M' || data.back() == 'l';
        data += (apart ? "" : " ") + step;
        before[k] = at[k];
      }
    }
    return line.closed ? data + "Z" : data;
  }

  std::string path(const InkedLine& line) const {
    std::string data;
    if (options_.inside_page) return fmt::format("<path d=\"{}{}\"/>\n", steps(line), line.closed ? "Z" : "");
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

  const Picture& picture_;
  const SvgOptions& options_;
  Box box_;
  std::string svg_;
};

}  // namespace

std::string svg_of(const Picture& picture, const SvgOptions& options) {
  return Page(picture, options).print();
}

std::string svg_of(const Drawing& drawing, const SvgOptions& options) {
  return svg_of(picture_of(drawing, options.hidden), options);
}

}  // namespace linerwright
