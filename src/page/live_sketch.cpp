#include "linerwright/page/live_sketch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "html.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

constexpr int k_samples = 48;  // around a wall

// Seen along y: bends and branches turn in the plane y = 0. The first axis runs to the right.
Vec2 seen(Vec3 p) {
  return {p.z, p.x};
}

// Lines of one shell of the fitting: the rims of its walls and the rulings at which they turn away.
struct Outline {
  std::vector<std::vector<Vec2>> lines;
};

Outline outline_of(const Fitting& fitting, double w) {
  Outline outline;
  for (std::size_t index = 0; index < fitting.walls.size(); ++index) {
    const Wall& wall = fitting.walls[index];
    if (wall.layer != 0) continue;
    const auto on = [&](double theta, End end) {
      const double v = shell_end(fitting, static_cast<int>(index), end, theta, w);
      return seen(wall.sheet.point(theta, v, w));
    };
    for (const End end : k_both_ends) {
      std::vector<Vec2> rim;
      for (int i = 0; i <= k_samples; ++i) rim.push_back(on(k_two_pi * i / k_samples, end));
      outline.lines.push_back(std::move(rim));
    }
    const auto away = [&](double theta) { return wall.sheet.normal(theta).y; };
    for (int i = 0; i < k_samples; ++i) {
      const double from = k_two_pi * (i - 0.25) / k_samples;
      const double to = k_two_pi * (i + 0.75) / k_samples;
      const double a = away(from), b = away(to);
      if ((a > 0.0) == (b > 0.0)) continue;
      const double theta = from + (to - from) * a / (a - b);
      outline.lines.push_back({on(theta, End::low), on(theta, End::high)});
    }
  }
  return outline;
}

struct Change {
  Vec2 from{}, to{};
  double far = 0.0;
};

// Where the lines of two fittings lie furthest apart; nowhere where they are not of one build.
Change largest_change(const Outline& now, const Outline& then) {
  Change most;
  if (now.lines.size() != then.lines.size()) return most;
  for (std::size_t i = 0; i < now.lines.size(); ++i)
    for (std::size_t k = 0; k < std::min(now.lines[i].size(), then.lines[i].size()); ++k) {
      const double far = distance(now.lines[i][k], then.lines[i][k]);
      if (far > most.far) most = {now.lines[i][k], then.lines[i][k], far};
    }
  return most;
}

class Picture {
 public:
  explicit Picture(const std::vector<const Outline*>& outlines) {
    std::vector<Vec2> all;
    for (const Outline* outline : outlines)
      for (const auto& line : outline->lines) all.insert(all.end(), line.begin(), line.end());
    box_ = bounding_box(all).value();
    const Vec2 size = box_.high - box_.low;
    unit_ = std::max({size.x, size.y, 1.0}) / 100.0;  // a hundredth of the picture
  }

  void add(const Outline& outline, const char* name) {
    std::string way;
    for (const auto& line : outline.lines)
      for (std::size_t i = 0; i < line.size(); ++i)
        way += fmt::format("{}{}", i == 0 ? "M" : "L", at(line[i]));
    parts_ += fmt::format("<path class=\"{}\" d=\"{}\"/>\n", name, way);
  }

  void line(Vec2 from, Vec2 to, const char* name) {
    parts_ += fmt::format("<path class=\"{}\" d=\"M{}L{}\"/>\n", name, at(from), at(to));
  }

  void text(Vec2 where, const std::string& words, const char* name, const char* anchor) {
    parts_ +=
        fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\">{}</text>\n",
                    name, number(where.x - box_.low.x), number(box_.high.y - where.y), number(4.2 * unit_),
                    anchor, html_text(words));
  }

  double unit() const { return unit_; }
  const Box& box() const { return box_; }

  std::string svg(const std::string& told) const {
    constexpr double k_beside = 26.0, k_above = 9.0;  // hundredths, for words
    const Vec2 size = box_.high - box_.low;
    return fmt::format(
        "<svg class=\"sketch\" role=\"img\" aria-label=\"{}\" viewBox=\"{} {} {} {}\">\n{}</svg>\n",
        html_text(told), number(-k_beside * unit_), number(-k_above * unit_),
        number(size.x + 2.0 * k_beside * unit_), number(size.y + 2.0 * k_above * unit_), parts_);
  }

 private:
  Box box_;
  double unit_ = 1.0;
  std::string parts_;

  static std::string number(double value) { return trimmed(value, 1); }
  std::string at(Vec2 p) const { return number(p.x - box_.low.x) + " " + number(box_.high.y - p.y); }
};

void add_openings(const Fitting& fitting, Picture& picture) {
  for (const Port& port : ports_of(fitting)) {
    const Vec2 middle = seen(port.frame.origin);
    const Vec2 way{port.frame.z.z, port.frame.z.x};
    const double length = norm(way);
    if (length < 0.3) continue;  // it looks at whoever looks at it
    const Vec2 out = middle + (2.5 * picture.unit() / length) * way;
    const double across = way.x / length;
    picture.text(out - Vec2{0.0, 1.4 * picture.unit()}, port_size(fitting, port), "end",
                 across > 0.3    ? "start"
                 : across < -0.3 ? "end"
                                 : "middle");
  }
}

}  // namespace

std::string live_sketch(const Fitting& fitting, const Fitting* grown, const std::string& label) {
  const Outline metal = outline_of(fitting, 0.0);
  const Outline bore = outline_of(fitting, fitting.liner.bore_depth());
  if (grown == nullptr) {
    Picture picture({&metal});
    picture.add(bore, "bore");
    picture.add(metal, "body");
    add_openings(fitting, picture);
    return picture.svg("the fitting from the side");
  }
  const Outline then = outline_of(*grown, 0.0);
  const Outline then_bore = outline_of(*grown, grown->liner.bore_depth());
  Picture picture({&metal, &then});
  picture.add(bore, "bore");
  picture.add(metal, "body");
  Change change = largest_change(metal, then);
  const double seen_at_all = 0.02 * picture.unit();
  if (change.far > seen_at_all) {
    picture.add(then, "would");
  } else {
    change = largest_change(bore, then_bore);
    if (change.far > seen_at_all || bore.lines.size() != then_bore.lines.size())
      picture.add(then_bore, "would");
    if (metal.lines.size() != then.lines.size()) picture.add(then, "would");
  }
  add_openings(fitting, picture);
  const Vec2 foot{0.5 * (picture.box().low.x + picture.box().high.x),
                  picture.box().low.y - 7.5 * picture.unit()};
  if (change.far > seen_at_all) {
    picture.line(change.from, change.to, "way");
    picture.line(change.to, foot + Vec2{0.0, 4.5 * picture.unit()}, "lead");
  }
  picture.text(foot, label, "label", "middle");
  return picture.svg("the fitting from the side, and how it changes with " + label);
}

}  // namespace linerwright
