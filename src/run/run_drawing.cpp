// Isometric line drawings. Inks are Linerwright's own.
#include "linerwright/run/run_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

constexpr double k_letter = 2.5;  // mm, capitals
constexpr double k_row = 4.5;     // mm between lines of text
constexpr double k_ball = 2.8;    // mm, radius around a number
constexpr double k_stroke = 2.2;  // mm to each side of the line at a joint
constexpr double k_apart = 1.2;   // mm between the two strokes of a field joint

// Rectangles that are taken, and lines that are not to be written over.
class Room {
 public:
  void add_line(Vec2 a, Vec2 b) { lines_.push_back({a, b}); }
  void take(const Box& box) { boxes_.push_back(box); }

  int clashes(const Box& box) const {
    int count = 0;
    for (const Box& other : boxes_)
      if (box.low.x < other.high.x && other.low.x < box.high.x && box.low.y < other.high.y &&
          other.low.y < box.high.y)
        count += 2;
    for (const auto& [a, b] : lines_) count += crosses(box, a, b) ? 1 : 0;
    return count;
  }

 private:
  std::vector<std::pair<Vec2, Vec2>> lines_;
  std::vector<Box> boxes_;

  // Clips the line against the box (Liang and Barsky).
  static bool crosses(const Box& box, Vec2 a, Vec2 b) {
    double from = 0.0;
    double to = 1.0;
    const Vec2 along = b - a;
    const auto clip = [&](double start, double step, double low, double high) {
      if (step == 0.0) return start >= low && start <= high;
      const double first = (low - start) / step;
      const double second = (high - start) / step;
      from = std::max(from, std::min(first, second));
      to = std::min(to, std::max(first, second));
      return true;
    };
    return clip(a.x, along.x, box.low.x, box.high.x) && clip(a.y, along.y, box.low.y, box.high.y) &&
           from <= to;
  }
};

class Isometric {
 public:
  explicit Isometric(const LaidRun& run) : run_(run) {
    const Vec3 toward = normalised({1.0, -1.0, 1.0});
    right_ = normalised(cross(Vec3{0.0, 0.0, 1.0}, toward));
    up_ = cross(toward, right_);
    std::vector<Vec2> points;
    for (const Placed& placed : run.fittings) {
      for (const WayPoint& point : placed.way) points.push_back(flat(point.point));
      for (const Port& port : placed.ports) points.push_back(flat(port.frame.origin));
    }
    const Box box = bounding_box(points).value_or(Box{});
    const Vec2 size = box.high - box.low;
    const double many = std::sqrt(std::max(1.0, static_cast<double>(run.fittings.size()) / 12.0));
    scale_ = std::min(many * 230.0 / std::max(size.x, 1.0), many * 150.0 / std::max(size.y, 1.0));
    origin_ = box.low;
  }

  Picture picture() {
    for (std::size_t i = 0; i < run_.fittings.size(); ++i) draw(run_.fittings[i]);
    for (const RunJoint& joint : run_.joints) draw(joint);
    for (std::size_t i = 0; i < run_.fittings.size(); ++i) name(i);
    name_ends();
    list();
    return {line_, stroke_, leader_, words_};
  }

 private:
  const LaidRun& run_;
  Vec3 right_{}, up_{};
  Vec2 origin_{};
  double scale_ = 1.0;
  Room room_;
  InkedGroup line_{{"duct", "#24425f", "#a9c7e6", 0.7, {}}, {}, {}};
  InkedGroup stroke_{{"joint", "#24425f", "#a9c7e6", 0.35, {}}, {}, {}};
  InkedGroup leader_{{"leader", "#7a8794", "#8795a3", 0.18, {}}, {}, {}};
  InkedGroup words_{{"label", "#2b2b2b", "#e8e8e8", 0.25, {}}, {}, {}};

  Vec2 flat(Vec3 p) const { return {dot(p, right_), dot(p, up_)}; }
  Vec2 on_sheet(Vec3 p) const { return scale_ * (flat(p) - origin_); }
  std::string length(double mm) const {
    return format_quantity(Quantity::length, mm, run_.run.units, run_.run.units == Units::inch ? 2 : 0);
  }
  std::string plain(double mm) const {
    return trimmed(to_units(Quantity::length, mm, run_.run.units), run_.run.units == Units::inch ? 2 : 0);
  }

  void draw(const Placed& placed) {
    InkedLine line{false, {}};
    for (const WayPoint& point : placed.way) line.points.push_back(on_sheet(point.point));
    for (std::size_t i = 1; i < line.points.size(); ++i) room_.add_line(line.points[i - 1], line.points[i]);
    line_.lines.push_back(line);
    // ports beside the way: from the way's nearest place
    for (std::size_t i = 0; i < placed.ports.size(); ++i) {
      if (i == placed.in || i == placed.out) continue;
      const Vec3 end = placed.ports[i].frame.origin;
      const Vec2 foot = on_sheet(foot_of(placed, placed.ports[i]));
      line_.lines.push_back({false, {foot, on_sheet(end)}});
      room_.add_line(foot, on_sheet(end));
      across(on_sheet(end), on_sheet(end) - foot, 0.0);
    }
    taper(placed);
  }

  // Where the port's axis comes nearest to the way.
  static Vec3 foot_of(const Placed& placed, const Port& port) {
    Vec3 best = placed.way.front().point;
    double least = 1e300;
    for (std::size_t i = 1; i < placed.way.size(); ++i) {
      const Vec3 a = placed.way[i - 1].point;
      const Vec3 along = placed.way[i].point - a;
      constexpr int k_steps = 64;
      for (int s = 0; s <= k_steps; ++s) {
        const Vec3 p = a + (static_cast<double>(s) / k_steps) * along;
        const double off = norm(cross(p - port.frame.origin, port.frame.z));
        if (off < least) {
          least = off;
          best = p;
        }
      }
    }
    return best;
  }

  // A stroke across the line.
  void across(Vec2 at, Vec2 along, double shift) {
    const double size = norm(along);
    if (!(size > 1e-9)) return;
    const Vec2 unit = (1.0 / size) * along;
    const Vec2 side{-unit.y, unit.x};
    const Vec2 middle = at + shift * unit;
    stroke_.lines.push_back({false, {middle - k_stroke * side, middle + k_stroke * side}});
  }

  void draw(const RunJoint& joint) {
    const Placed& before = run_.fittings[joint.before];
    const Vec2 at = on_sheet(joint.at);
    const Port& out = before.ports[*before.out];
    const Vec2 along = on_sheet(joint.at + out.frame.z) - at;
    if (joint.field) {
      across(at, along, -0.5 * k_apart);
      across(at, along, 0.5 * k_apart);
    } else {
      across(at, along, 0.0);
    }
  }

  // Two lines that come together where a fitting changes the diameter.
  void taper(const Placed& placed) {
    if (!placed.in || !placed.out) return;
    const double from = placed.ports[*placed.in].bare_diameter;
    const double to = placed.ports[*placed.out].bare_diameter;
    if (std::fabs(from - to) <= 1e-6 || placed.ports.size() > 2) return;
    const Vec2 a = on_sheet(placed.way.front().point);
    const Vec2 b = on_sheet(placed.way.back().point);
    const double size = norm(b - a);
    if (!(size > 1e-9)) return;
    const Vec2 side{-(b - a).y / size, (b - a).x / size};
    const double largest = std::max(from, to);
    for (const double sign : {-1.0, 1.0})
      stroke_.lines.push_back(
          {false,
           {a + (sign * k_stroke * from / largest) * side, b + (sign * k_stroke * to / largest) * side}});
  }

  void write(Vec2 at, const std::string& text, bool centred = false, double height = k_letter) {
    words_.texts.push_back({Layer::label, at, height, 0.0, centred, text});
  }

  void circle(Vec2 middle, double radius) {
    constexpr int k_sides = 24;
    InkedLine line{true, {}};
    for (int i = 0; i < k_sides; ++i)
      line.points.push_back(middle + Vec2{radius * std::cos(k_two_pi * i / k_sides),
                                          radius * std::sin(k_two_pi * i / k_sides)});
    leader_.lines.push_back(line);
  }

  // The nearest place for a block of this size beside `at`; its lower left corner.
  Vec2 place_for(Vec2 at, Vec2 size) {
    constexpr std::size_t k_most_searched =
        500;  // fittings; more are written beside their middles as they come
    Vec2 best{};
    int least = run_.fittings.size() > k_most_searched ? 1 : 1 << 30;
    if (least == 1) return at + Vec2{5.0, -0.5 * size.y};
    for (const double off : {5.0, 9.0, 14.0, 20.0, 28.0, 38.0, 50.0})
      for (int k = 0; k < 16; ++k) {
        const double angle = k_two_pi * (k * 7 % 16 + 1.5) / 16.0;
        const Vec2 way{std::cos(angle), std::sin(angle)};
        const Vec2 middle = at + off * way + Vec2{0.5 * size.x * way.x, 0.5 * size.y * way.y};
        const Vec2 low = middle - 0.5 * size;
        const int clashes = room_.clashes({low, low + size});
        if (clashes >= least) continue;
        least = clashes;
        best = low;
        if (clashes == 0) return best;
      }
    return best;
  }

  // Angle of a bend, or the sizes of a taper.
  std::string about(const Placed& placed) const {
    if (!placed.in || !placed.out) return {};
    const Port& in = placed.ports[*placed.in];
    const Port& out = placed.ports[*placed.out];
    const double angle = std::atan2(norm(cross(-in.frame.z, out.frame.z)), dot(-in.frame.z, out.frame.z));
    if (angle > 1e-6) return trimmed(angle * 180.0 / k_pi, 1) + " deg";
    if (std::fabs(in.bare_diameter - out.bare_diameter) > 1e-6)
      return plain(in.bare_diameter) + " to " + plain(out.bare_diameter);
    return {};
  }

  // "60 + 60 + 48" of several lengths of duct inside one lining.
  std::string lengths_of(const Placed& placed) const {
    constexpr std::size_t k_most = 6;
    std::vector<double> joints = duct_joints(placed.fitting->request);
    if (joints.empty()) return {};
    if (joints.size() >= k_most) return fmt::format("{} lengths of duct", joints.size() + 1);
    joints.push_back(placed.fitting->passages.front().stations.back().distance);
    std::vector<std::string> lengths;
    double before = 0.0;
    for (const double joint : joints) {
      lengths.push_back(plain(joint - before));
      before = joint;
    }
    if (placed.in && *placed.in > 0) std::reverse(lengths.begin(), lengths.end());  // run from its end
    return fmt::format("{}", fmt::join(lengths, " + "));
  }

  void name(std::size_t i) {
    const Placed& placed = run_.fittings[i];
    const double half = 0.5 * (placed.way.front().distance + placed.way.back().distance);
    Vec3 middle = placed.way.front().point;
    for (std::size_t k = 1; k < placed.way.size(); ++k) {
      const WayPoint& a = placed.way[k - 1];
      const WayPoint& b = placed.way[k];
      if (half < a.distance || half > b.distance || b.distance <= a.distance) continue;
      middle = a.point + ((half - a.distance) / (b.distance - a.distance)) * (b.point - a.point);
      break;
    }
    const std::string tag = shown(placed.part);
    std::string second = length(placed.way.back().distance - placed.way.front().distance);
    for (const std::string& more : {about(placed), lengths_of(placed)})
      if (!more.empty()) second += ", " + more;
    const double width =
        2.0 * k_ball + 1.2 + std::max(stroke_text_width(tag, k_letter), stroke_text_width(second, k_letter));
    const Vec2 size{width, 2.0 * k_row};
    const Vec2 at = on_sheet(middle);
    const Vec2 low = place_for(at, size);
    room_.take({low, low + size});
    const Vec2 ball = low + Vec2{k_ball, k_row};
    circle(ball, k_ball);
    const std::string number = std::to_string(i + 1);
    write(ball - Vec2{0.0, 0.4 * k_letter}, number, true, number.size() > 2 ? 1.7 : 2.0);
    write(low + Vec2{2.0 * k_ball + 1.2, k_row + 0.6}, tag);
    write(low + Vec2{2.0 * k_ball + 1.2, 0.8}, second);
    // from the block's nearest side to the line
    const Vec2 nearest{std::clamp(at.x, low.x, low.x + size.x), std::clamp(at.y, low.y, low.y + size.y)};
    leader_.lines.push_back({false, {nearest, at}});
  }

  void name_end(Vec3 point, const std::string& what) {
    write_beside(point,
                 fmt::format("{}: x {}, y {}, z {}", what, plain(point.x), plain(point.y), plain(point.z)));
  }

  void write_beside(Vec3 point, const std::string& text) {
    const Vec2 size{stroke_text_width(text, k_letter), k_row};
    const Vec2 at = on_sheet(point);
    const Vec2 low = place_for(at, size);
    room_.take({low, low + size});
    write(low + Vec2{0.0, 1.0}, text);
    const Vec2 nearest{std::clamp(at.x, low.x, low.x + size.x), std::clamp(at.y, low.y, low.y + size.y)};
    leader_.lines.push_back({false, {nearest, at}});
  }

  void name_ends() {
    const Vec3 start = run_.fittings.front().way.front().point;
    name_end(start, run_.run.from
                        ? fmt::format("start at {}:{}", shown(run_.run.from->part), run_.run.from->port)
                        : std::string("start"));
    if (!run_.run.close) name_end(run_.fittings.back().way.back().point, "end");
    for (const auto& [name, from] : run_.branches)
      for (const Placed& placed : run_.fittings)
        for (const Port& port : placed.ports)
          if (placed.part == from.part && port.name == from.port)
            write_beside(port.frame.origin, fmt::format("to run {}", name));
  }

  // Below the drawing: what the numbers stand for, the axes, what the strokes mean.
  void list() {
    double left = 0.0;
    double right = 0.0;
    double bottom = 0.0;
    for (const InkedGroup* group : {&line_, &stroke_, &leader_})
      for (const InkedLine& line : group->lines)
        for (const Vec2 p : line.points) {
          left = std::min(left, p.x);
          right = std::max(right, p.x);
          bottom = std::min(bottom, p.y);
        }
    for (const Text& text : words_.texts) {
      bottom = std::min(bottom, text.at.y);
      left = std::min(left, text.at.x);
      right = std::max(right, text.at.x + stroke_text_width(text.text, text.height));
    }
    bottom -= 2.0 * k_row;  // below the last words, room for the axes
    double y = bottom - 3.0 * k_row;
    write({left, y},
          fmt::format("{}: {} along the line of centres, {} fittings, lengths in {}", run_.run.name,
                      length(run_.length), run_.fittings.size(),
                      run_.run.units == Units::inch ? "inches" : "mm"),
          false, 3.2);
    axes({left + 8.0, bottom - 1.0 * k_row});
    y -= 1.6 * k_row;
    const double bottom_of_rows = list_rows(left, y, right - left);
    write({left, bottom_of_rows - 1.5 * k_row},
          "One line for the line of centres; not to scale across it. The licensed designer and local codes "
          "decide.");
  }

  // The list in as many blocks beside one another as the drawing is wide for; returns its lower edge.
  double list_rows(double left, double top, double width) {
    constexpr double k_block = 195.0;
    const double columns[] = {0.0, 10.0, 45.0, 75.0, 105.0, 130.0, 155.0};
    const char* heads[] = {"no.", "tag", "kind", "diameter", "length", "turn", "joint before it"};
    const std::size_t n = run_.fittings.size();
    const auto blocks = static_cast<std::size_t>(
        std::clamp(width / k_block, 1.0, std::max(1.0, static_cast<double>(n) / 20.0)));
    const std::size_t rows = (n + blocks - 1) / blocks;
    for (std::size_t block = 0; block * rows < n; ++block) {
      const double x = left + k_block * static_cast<double>(block);
      for (std::size_t c = 0; c < 7; ++c) write({x + columns[c], top}, heads[c]);
      leader_.lines.push_back({false, {{x, top - 1.2}, {x + k_block - 5.0, top - 1.2}}});
      for (std::size_t i = block * rows; i < std::min(n, (block + 1) * rows); ++i) {
        const std::vector<std::string> cells = row_of(i);
        const double y = top - k_row * static_cast<double>(i - block * rows + 1);
        for (std::size_t c = 0; c < 7; ++c) write({x + columns[c], y}, cells[c]);
      }
    }
    return top - k_row * static_cast<double>(rows);
  }

  std::vector<std::string> row_of(std::size_t i) const {
    const Placed& placed = run_.fittings[i];
    const Port& port = placed.only_port();
    return {std::to_string(i + 1),
            shown(placed.part),
            placed.fitting->kind,
            plain(port.bare_diameter),
            plain(placed.way.back().distance - placed.way.front().distance),
            trimmed(run_.run.steps[i].turn * 180.0 / k_pi, 1) + " deg",
            i == 0         ? ""
            : placed.field ? "field, two strokes"
                           : "shop"};
  }

  void axes(Vec2 at) {
    const std::pair<const char*, Vec3> all[] = {{"x", {1, 0, 0}}, {"y", {0, 1, 0}}, {"z", {0, 0, 1}}};
    for (const auto& [word, axis] : all) {
      const Vec2 way{dot(axis, right_), dot(axis, up_)};
      leader_.lines.push_back({false, {at, at + 6.0 * way}});
      write(at + 8.0 * way - Vec2{0.0, 0.8}, word, true, 2.0);
    }
  }
};

}  // namespace

Picture run_isometric(const LaidRun& run) {
  return Isometric(run).picture();
}

}  // namespace linerwright
