// The bore along a run as curves and as a table; the order of work as a table.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/run/run_drawing.hpp"

namespace linerwright {

namespace {

constexpr double k_letter = 2.4;

double circle(double diameter) {
  return 0.25 * k_pi * diameter * diameter;
}

// A step of 1, 2 or 5 times a power of ten that makes at most `most` of them reach `span`.
double tidy(double span, int most) {
  const double power = std::pow(10.0, std::floor(std::log10(span / most)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power * most >= span * (1.0 - 1e-9)) return factor * power;
  return 10.0 * power;
}

// "12.5", with a quote doubled in quotes where a cell needs them.
std::string cell(const std::string& text) {
  if (text.find_first_of(",;\"\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

struct Curve {
  const char* title;
  Quantity quantity;
  double (*bare)(const BorePoint&);
  double (*lined)(const BorePoint&);
};

class Profile {
 public:
  explicit Profile(const LaidRun& run)
      : run_(run),
        units_(run.run.units),
        width_(std::max(240.0, 4.0 * static_cast<double>(run.fittings.size()))),
        whole_(std::max(1e-9, to_units(Quantity::length, run.length, units_))) {}

  Picture picture() {
    draw({"diameter", Quantity::length, [](const BorePoint& p) { return p.bare_diameter; },
          [](const BorePoint& p) { return p.lined_diameter; }},
         90.0);
    draw({"area", Quantity::area, [](const BorePoint& p) { return circle(p.bare_diameter); },
          [](const BorePoint& p) { return p.lined_area; }},
         0.0);
    name_fittings(90.0 + k_height);
    words({0.5 * width_, -11.0}, fmt::format("along the line of centres, {}", unit(Quantity::length)), true);
    words({0.0, 90.0 + k_height + 30.0}, fmt::format("{}: bore from end to end", run_.run.name), false, 3.2);
    key();
    return {grid_, bare_, lined_, joint_, words_};
  }

 private:
  static constexpr double k_height = 62.0;
  const LaidRun& run_;
  Units units_;
  double width_, whole_;
  InkedGroup grid_{{"grid", "#c3cad1", "#4a5560", 0.15, {}}, {}, {}};
  InkedGroup bare_{{"bare", "#6b7683", "#aab6c2", 0.35, {2.0, 1.2}}, {}, {}};
  InkedGroup lined_{{"lined", "#a2560b", "#f0b272", 0.6, {}}, {}, {}};
  InkedGroup joint_{{"joint", "#24425f", "#a9c7e6", 0.2, {}}, {}, {}};
  InkedGroup words_{{"label", "#2b2b2b", "#e8e8e8", 0.25, {}}, {}, {}};

  std::string unit(Quantity quantity) const { return std::string(unit_name(quantity, units_)); }
  double x(double mm) const { return width_ * to_units(Quantity::length, mm, units_) / whole_; }
  void words(Vec2 at, std::string text, bool centred, double height = k_letter, double angle = 0.0) {
    words_.texts.push_back({Layer::label, at, height, angle, centred, std::move(text)});
  }

  void draw(const Curve& curve, double bottom) {
    double most = 0.0;
    for (const Placed& placed : run_.fittings)
      for (const BorePoint& point : placed.bore)
        most = std::max(most, to_units(curve.quantity, curve.bare(point), units_));
    if (!(most > 0.0)) return;
    const double rise = tidy(1.05 * most, 5);
    const double top = rise * std::ceil(1.05 * most / rise - 1e-9);
    const auto y = [&](double value) {
      return bottom + k_height * to_units(curve.quantity, value, units_) / top;
    };
    for (double value = 0.0; value <= top * (1.0 + 1e-9); value += rise) {
      const double at = bottom + k_height * value / top;
      grid_.lines.push_back({false, {{0.0, at}, {width_, at}}});
      const std::string text = trimmed(value, 4);
      words({-2.0 - stroke_text_width(text, k_letter), at - 1.0}, text, false);
    }
    const double stride = tidy(whole_, std::max(8, static_cast<int>(width_ / 30.0)));
    for (double s = 0.0; s <= whole_ * (1.0 + 1e-9); s += stride) {
      const double at = width_ * s / whole_;
      grid_.lines.push_back({false, {{at, bottom}, {at, bottom - 1.5}}});
      words({at, bottom - 5.0}, trimmed(s, 3), true);
    }
    InkedLine bare{false, {}};
    InkedLine lined{false, {}};
    for (const Placed& placed : run_.fittings)
      for (const BorePoint& point : placed.bore) {
        bare.points.push_back({x(point.distance), y(curve.bare(point))});
        lined.points.push_back({x(point.distance), y(curve.lined(point))});
      }
    bare_.lines.push_back(std::move(bare));
    lined_.lines.push_back(std::move(lined));
    for (const RunJoint& joint : run_.joints)
      joint_.lines.push_back({false, {{x(joint.distance), bottom}, {x(joint.distance), bottom + k_height}}});
    words({0.0, bottom + k_height + 2.0}, fmt::format("{}, {}", curve.title, unit(curve.quantity)), false);
  }

  void name_fittings(double top) {
    for (const Placed& placed : run_.fittings) {
      const double middle = x(0.5 * (placed.way.front().distance + placed.way.back().distance));
      words({middle + 0.5 * k_letter, top + 7.0}, shown(placed.part), false, k_letter, 0.5 * k_pi);
    }
  }

  void key() {
    const double y = -16.0;
    bare_.lines.push_back({false, {{0.0, y}, {14.0, y}}});
    words({17.0, y - 1.0}, "bare metal", false);
    lined_.lines.push_back({false, {{50.0, y}, {64.0, y}}});
    words({67.0, y - 1.0}, "lined", false);
    joint_.lines.push_back({false, {{100.0, y - 2.0}, {100.0, y + 2.0}}});
    words({103.0, y - 1.0}, "joint", false);
  }
};

}  // namespace

Picture run_profile(const LaidRun& run) {
  return Profile(run).picture();
}

std::string run_bore_csv(const LaidRun& run) {
  const Units units = run.run.units;
  const auto name = [&](Quantity quantity) { return std::string(unit_name(quantity, units)); };
  std::string out =
      fmt::format("fitting,distance {0},diameter {0},lined diameter {0},area {1},lined area {1},place\n",
                  name(Quantity::length), name(Quantity::area));
  for (const Placed& placed : run.fittings)
    for (const BorePoint& point : placed.bore) {
      const auto shown_as = [&](Quantity quantity, double value, int decimals) {
        return fixed(to_units(quantity, value, units), decimals);
      };
      out += fmt::format("{},{},{},{},{},{},{}\n", cell(shown(placed.part)),
                         shown_as(Quantity::length, point.distance, 3),
                         shown_as(Quantity::length, point.bare_diameter, 3),
                         shown_as(Quantity::length, point.lined_diameter, 3),
                         shown_as(Quantity::area, circle(point.bare_diameter), 6),
                         shown_as(Quantity::area, point.lined_area, 6), cell(point.place));
    }
  return out;
}

std::string run_order_csv(const LaidRun& run) {
  std::string out = "step,where,what,in words,pieces\n";
  std::size_t number = 0;
  const RunOrder order = order_of(run);
  for (const RunStage& step : order.steps) {
    std::string pieces;
    for (const std::string& piece : step.pieces) pieces += (pieces.empty() ? "" : "; ") + piece;
    out += fmt::format("{},{},{},{},{}\n", ++number, step.where, step.what, cell(step.text), cell(pieces));
  }
  for (const Unreached& each : order.unreached)
    out += fmt::format(",,not to be reached,{},{}\n", cell(each.text), cell(each.piece));
  return out;
}

}  // namespace linerwright
