#include "bore_graph.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

// The drawing's size and the graph's frame in it, in its own units.
constexpr double k_width = 720.0, k_height = 312.0;
constexpr double k_left = 64.0, k_right = 704.0, k_top = 36.0, k_bottom = 256.0;

// A step of 1, 2, 2.5 or 5 times a power of ten that makes at most `most` of them reach `span`.
double tidy_step(double span, int most) {
  const double rough = span / most;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double factor : {1.0, 2.0, 2.5, 5.0})
    if (factor * power >= rough * (1.0 - 1e-9)) return factor * power;
  return 10.0 * power;
}

std::string at(double value) {
  return trimmed(value, 1);
}

}  // namespace

std::string bore_graph(const Fitting& fitting, const Passage& passage) {
  const auto in_units = [&](double mm) { return to_units(Quantity::length, mm, fitting.units); };
  const std::vector<Station>& stations = passage.stations;
  const double begin = in_units(stations.front().distance);
  const double length = in_units(stations.back().distance) - begin;
  if (length <= 0.0) return {};
  double tallest = 0.0;
  for (const Station& station : stations) tallest = std::max(tallest, in_units(station.bare_diameter));
  const double rise = tidy_step(1.1 * tallest, 5);
  const double top = rise * std::ceil(1.1 * tallest / rise - 1e-9);
  const auto x = [&](double distance) { return k_left + (k_right - k_left) * (distance - begin) / length; };
  const auto y = [&](double diameter) { return k_bottom - (k_bottom - k_top) * diameter / top; };

  std::string svg = fmt::format(
      "<svg class=\"graph\" viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"bare and lined diameter along "
      "the "
      "path, {}\">\n",
      at(k_width), at(k_height), html_text(passage.name));
  for (double d = 0.0; d <= top * (1.0 + 1e-9); d += rise)
    svg +=
        fmt::format("<path class=\"grid\" d=\"M{} {}H{}\"/><text class=\"end\" x=\"{}\" y=\"{}\">{}</text>\n",
                    at(k_left), at(y(d)), at(k_right), at(k_left - 8), at(y(d) + 4), trimmed(d, 3));
  const double stride = tidy_step(length, 8);
  for (double s = std::ceil(begin / stride - 1e-9) * stride; s <= (begin + length) * (1.0 + 1e-9);
       s += stride)
    svg += fmt::format(
        "<path class=\"grid\" d=\"M{0} {1}v6\"/><text class=\"middle\" x=\"{0}\" y=\"{2}\">{3}</text>\n",
        at(x(s)), at(k_bottom), at(k_bottom + 20), trimmed(s, 3));

  std::string bare, lined, back;
  for (const Station& station : stations) {
    const std::string place = at(x(in_units(station.distance)));
    bare += fmt::format("{}{} {}", bare.empty() ? "M" : "L", place, at(y(in_units(station.bare_diameter))));
    lined +=
        fmt::format("{}{} {}", lined.empty() ? "M" : "L", place, at(y(in_units(station.lined_diameter))));
    back = fmt::format("L{} {}", place, at(y(in_units(station.lined_diameter)))) + back;
  }
  svg += fmt::format("<path class=\"open\" d=\"{}L{} {}H{}Z\"/>\n", lined, at(k_right), at(k_bottom),
                     at(k_left));
  svg += fmt::format("<path class=\"lost\" d=\"{}{}Z\"/>\n", bare, back);
  svg += fmt::format("<path class=\"bare\" d=\"{}\"/>\n<path class=\"lined\" d=\"{}\"/>\n", bare, lined);

  const Station& tight = narrowest(passage);
  const double tx = x(in_units(tight.distance));
  const double share = (tx - k_left) / (k_right - k_left);
  svg += fmt::format(
      "<path class=\"narrowest\" d=\"M{0} {1}V{2}\"/><circle class=\"narrowest\" cx=\"{0}\" cy=\"{2}\" "
      "r=\"4\"/>\n",
      at(tx), at(k_bottom), at(y(in_units(tight.lined_diameter))));
  svg +=
      fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\">narrowest: {} clear of {}, {} % of the area</text>\n",
                  share < 0.5 ? "note" : "note end", at(tx + (share < 0.5 ? 10.0 : -10.0)),
                  at(0.5 * (k_bottom + y(in_units(tight.lined_diameter)))),
                  html_text(length_text(fitting, tight.lined_diameter)),
                  html_text(length_text(fitting, tight.bare_diameter)), fixed(100.0 * free_share(tight), 1));
  svg += fmt::format("<text class=\"middle\" x=\"{}\" y=\"{}\">along the path, {}</text>\n",
                     at(0.5 * (k_left + k_right)), at(k_height - 8.0), unit_text(fitting));
  const auto key = [&](double x_at, const char* kind, const char* name) {
    svg += fmt::format("<path class=\"{0}\" d=\"M{1} 5h14v12h-14Z\"/><text x=\"{2}\" y=\"16\">{3}</text>\n",
                       kind, at(x_at), at(x_at + 20.0), name);
  };
  key(430.0, "lost", "lost to the liner");
  key(600.0, "open", "clear");
  svg += fmt::format("<text x=\"{}\" y=\"14\">diameter, {}</text>\n", at(8.0), unit_text(fitting));
  return svg + "</svg>\n";
}

}  // namespace linerwright
