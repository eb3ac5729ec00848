#include "pattern_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/draw/polygon.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

constexpr double k_least_tilt = 0.05 / 180.0 * k_pi;  // below it a cut counts as square

// What lies on top of the pattern's own lines, in its coordinates; sizes follow from the letters' height.
class Overlay {
 public:
  Overlay(const Fitting& fitting, const Pattern& pattern, const Box& box)
      : fitting_(fitting), pattern_(pattern), box_(box) {
    const Vec2 size = box.high - box.low;
    letter_ = std::max(size.x / 70.0, size.y / 36.0);
  }

  std::string print() {
    dimensions();
    stations();
    const double steepest = std::max(pattern_.max_tilt, k_least_tilt);
    for (std::size_t from = 0; from < pattern_.tilts.size();) {
      std::size_t to = from;
      while (to < pattern_.tilts.size() && pattern_.tilts[to].contour == pattern_.tilts[from].contour) ++to;
      comb(from, to, steepest);
      from = to;
    }
    for (const auto& [kind, teeth] :
         {std::make_pair("comb-out", &teeth_out_), std::make_pair("comb-in", &teeth_in_)})
      if (!teeth->empty()) svg_ += fmt::format("<path class=\"{}\" d=\"{}\"/>\n", kind, *teeth);
    return std::move(svg_);
  }
  double letter() const { return letter_; }  // its height, mm
  // What the overlay needs around the pattern.
  double margin() const { return 7.4 * letter_; }

 private:
  static std::string at(double value) { return trimmed(value, 1); }

  static std::string line(Vec2 a, Vec2 b) {
    return fmt::format("M{} {}L{} {}", at(a.x), at(a.y), at(b.x), at(b.y));
  }
  // Text centred on a point, upright although y is up.
  void words(const char* kind, Vec2 middle, const std::string& text, bool upward = false) {
    svg_ += fmt::format(
        "<text class=\"note {}\" transform=\"translate({} {}) scale(1 -1){}\" dy=\".35em\">{}</text>\n", kind,
        at(middle.x), at(middle.y), upward ? " rotate(-90)" : "", html_text(text));
  }

  void dimensions() {
    svg_ += "<g class=\"dimension\">\n";
    const double y = box_.high.y + 4.6 * letter_;
    const double x = box_.high.x + 4.6 * letter_;
    const double tick = 0.8 * letter_;
    std::string way = line({box_.low.x, y}, {box_.high.x, y}) + line({x, box_.low.y}, {x, box_.high.y});
    for (const double end : {box_.low.x, box_.high.x}) way += line({end, y - tick}, {end, y + tick});
    for (const double end : {box_.low.y, box_.high.y}) way += line({x - tick, end}, {x + tick, end});
    svg_ += fmt::format("<path d=\"{}\"/>\n", way);
    words("length", {0.5 * (box_.low.x + box_.high.x), y + 1.4 * letter_},
          length_text(fitting_, box_.high.x - box_.low.x) + " around");
    words("length", {x + 1.6 * letter_, 0.5 * (box_.low.y + box_.high.y)},
          length_text(fitting_, box_.high.y - box_.low.y) + " along", true);
    svg_ += "</g>\n";
  }

  void stations() {
    int number = 0;
    for (const Ordinate& o : pattern_.ordinates)
      words("station", o.at + Vec2{0.0, 1.2 * letter_}, std::to_string(number++));
  }

  // Ticks along the rows from..to of the tilt table, the longer the more the cut leans, and its degrees now
  // and then, in the waste beside the piece.
  void comb(std::size_t from, std::size_t to, double steepest) {
    const double pitch = 0.8 * letter_;
    least_numbered_ = k_least_tilt;
    Box box{pattern_.tilts[from].at, pattern_.tilts[from].at};
    double largest = 0.0;
    for (std::size_t i = from; i < to; ++i) {
      box = joined(box, {pattern_.tilts[i].at, pattern_.tilts[i].at});
      largest = std::max(largest, std::fabs(pattern_.tilts[i].tilt));
    }
    // a small hole has room for one number
    if (box.high.x - box.low.x < 12.0 * letter_) least_numbered_ = 0.999 * largest;
    double next = 0.0;  // tick, along the current stretch
    for (std::size_t i = from; i + 1 < to; ++i) {
      const TiltRow& a = pattern_.tilts[i];
      const TiltRow& b = pattern_.tilts[i + 1];
      const double length = distance(a.at, b.at);
      for (; next <= length && length > 0.0; next += pitch) {
        const double share = next / length;
        tooth(a.at + share * (b.at - a.at), a.heading, a.tilt + share * (b.tilt - a.tilt), steepest);
      }
      next = std::max(0.0, next - length);
    }
  }

  void tooth(Vec2 at_cut, double heading, double tilt, double steepest) {
    if (std::fabs(tilt) < k_least_tilt) return;
    const char* kind = tilt > 0.0 ? "comb-out" : "comb-in";
    const Vec2 out{std::sin(heading), -std::cos(heading)};
    const double reach = letter_ * (0.4 + 1.4 * std::fabs(tilt) / steepest);
    (tilt > 0.0 ? teeth_out_ : teeth_in_) +=
        fmt::format("M{} {}l{} {}", at(at_cut.x), at(at_cut.y), at(reach * out.x), at(reach * out.y));
    if (std::fabs(tilt) < least_numbered_) return;
    const Vec2 place = at_cut + (reach + 1.1 * letter_) * out;
    const bool crowded = std::any_of(numbers_.begin(), numbers_.end(),
                                     [&](Vec2 other) { return distance(place, other) < 6.0 * letter_; });
    if (crowded) return;
    numbers_.push_back(place);
    words(kind, place, trimmed(std::fabs(tilt) * 180.0 / k_pi, 1));
  }

  const Fitting& fitting_;
  const Pattern& pattern_;
  Box box_;
  double letter_;
  double least_numbered_ = 0.0;  // tilt whose degrees are written
  std::vector<Vec2> numbers_;    // where degrees stand
  std::string teeth_out_, teeth_in_;
  std::string svg_;
};

}  // namespace

std::string pattern_figure(const Fitting& fitting, const Pattern& pattern) {
  Overlay overlay(fitting, pattern, bounding_box(pattern.cut.outer).value());
  SvgOptions options;
  options.inside_page = true;
  options.margin = overlay.margin();
  options.overlay = overlay.print();
  // a screen shows less than a knife follows: a tenth of a pixel on the largest
  Drawing drawing = drawing_of(pattern, fitting.units);
  const ThinOptions seen{0.01 * overlay.letter(), 15.0 / 180.0 * k_pi};
  for (Polyline& line : drawing.lines) line.points = thinned(line.points, line.closed, seen);
  return fmt::format("<div class=\"pattern\" style=\"--letter: {}\">{}</div>", trimmed(overlay.letter(), 2),
                     svg_of(drawing, options));
}

}  // namespace linerwright
