// The fitting from the side, with its ends and the way of the air, and how the knife leans.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "sketch.hpp"

namespace linerwright {

namespace {

constexpr int k_samples = 72;

// Seen along y: bends and branches turn in the plane y = 0. The first axis runs to the right.
Vec2 seen(Vec3 p) {
  return {p.z, p.x};
}

Vec2 seen_on(const Fitting& fitting, int wall, double theta, End end) {
  return seen(fitting.wall(wall).sheet.point(theta, liner_end(fitting, wall, end, theta, 0.0), 0.0));
}

std::vector<Vec2> rim_of(const Fitting& fitting, int wall, End end) {
  std::vector<Vec2> points;
  for (int i = 0; i < k_samples; ++i) points.push_back(seen_on(fitting, wall, k_two_pi * i / k_samples, end));
  return points;
}

class SideView {
 public:
  SideView(const Fitting& fitting, const Box& box, double scale)
      : fitting_(fitting), ports_(ports_of(fitting)), sketch_(drawing_), box_(box), scale_(scale) {
    drawing_.id = "view";
  }

  ShopDrawing draw() {
    for (std::size_t w = 0; w < fitting_.walls.size(); ++w)
      if (fitting_.walls[w].layer == 0) wall(static_cast<int>(w));
    for (const Port& port : ports_) opening(port);
    for (const Piece& piece : fitting_.pieces)
      if (fitting_.wall_of(piece).layer == 0) name(piece);
    for (std::size_t w = 0; w < fitting_.walls.size(); ++w) letter(static_cast<int>(w));
    return std::move(drawing_);
  }

 private:
  const Fitting& fitting_;
  std::vector<Port> ports_;
  ShopDrawing drawing_;
  Sketch sketch_;
  Box box_;
  double scale_ = 1.0;

  Vec2 at(Vec2 p) const { return scale_ * (p - box_.low); }
  const Sheet& sheet(int wall) const { return fitting_.wall(wall).sheet; }

  Vec2 on(int wall, double theta, End end) const { return seen_on(fitting_, wall, theta, end); }

  std::vector<Vec2> rim(int wall, End end) const { return rim_of(fitting_, wall, end); }

  // Rims, and the rulings where the wall turns away from whoever looks at it.
  void wall(int index) {
    for (const End end : k_both_ends) {
      std::vector<Vec2> drawn;
      for (const Vec2 p : rim(index, end)) drawn.push_back(at(p));
      sketch_.curve(ShopInk::mark, drawn, true);
    }
    const auto away = [&](double theta) { return sheet(index).normal(theta).y; };
    for (int i = 0; i < k_samples; ++i) {
      const double from = k_two_pi * (i - 0.25) / k_samples;
      const double to = k_two_pi * (i + 0.75) / k_samples;
      const double a = away(from), b = away(to);
      if ((a > 0.0) == (b > 0.0)) continue;
      const double theta = from + (to - from) * a / (a - b);
      sketch_.line(ShopInk::cut, {at(on(index, theta, End::low)), at(on(index, theta, End::high))});
    }
  }

  Vec2 centre(int wall) const {
    Vec2 sum{};
    for (const End end : k_both_ends)
      for (const Vec2 p : rim(wall, end)) sum = sum + p;
    return at((1.0 / (2.0 * k_samples)) * sum);
  }

  void name(const Piece& piece) {
    const bool shared =
        std::count_if(fitting_.pieces.begin(), fitting_.pieces.end(), [&](const Piece& other) {
          return piece_name(fitting_, other) == piece_name(fitting_, piece);
        }) > 1;
    const bool by_id = shared || std::isdigit(static_cast<unsigned char>(piece.id.front())) != 0;
    const std::string words = by_id ? piece.id : piece_name(fitting_, piece);
    constexpr double k_name = 8.5;
    std::vector<Vec2> outline = rim(piece.wall, End::low);
    for (const Vec2 p : rim(piece.wall, End::high)) outline.push_back(p);
    const Box around = bounding_box(outline).value();
    const Vec2 middle = centre(piece.wall);
    const double wide = shop_text_width(words, k_name);
    if (wide < scale_ * (around.high.x - around.low.x))
      for (const double down : {0.0, 3.6, -3.6, 7.2, -7.2})
        if (sketch_.text_if_free(middle - Vec2{0.0, 1.2 + down}, words, k_name, ShopAlign::middle, true))
          return;
    // beside the wall, with a line to it
    const double under = at(around.low).y;
    for (const double down : {4.0, 7.6})
      for (const double aside : {0.0, -6.0, 6.0, -12.0, 12.0})
        if (sketch_.text_if_free({middle.x + aside, under - down}, words, k_name, ShopAlign::middle, true)) {
          sketch_.line(ShopInk::dimension, {{middle.x + aside, under - down + 2.6}, middle});
          return;
        }
  }

  // Beside the upper end of a joint.
  void letter(int wall) {
    const Wall& of = fitting_.wall(wall);
    if (of.layer != 0 || !of.high_rest.empty()) return;
    const std::string& letter = fitting_.joint_letters[static_cast<std::size_t>(of.high.joint)];
    if (letter.empty()) return;
    const std::vector<Vec2> points = rim(wall, End::high);
    const Vec2 top =
        *std::max_element(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    const Vec2 low =
        *std::min_element(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    if (!sketch_.text_if_free(at(top) + Vec2{0.0, 0.9}, letter))
      sketch_.text_if_free(at(low) - Vec2{0.0, 3.0}, letter);
  }

  // Which end it is, how wide, and which way the air goes there.
  void opening(const Port& port) {
    const Vec2 middle = at(seen(port.frame.origin));
    Vec2 way{port.frame.z.z, port.frame.z.x};
    const double length = norm(way);
    if (length < 0.3) return;  // it looks at whoever looks at it
    way = (1.0 / length) * way;
    constexpr double k_near = 2.0, k_far = 10.0;
    const Vec2 near = middle + k_near * way;
    const Vec2 far = middle + k_far * way;
    if (port.flow == PortFlow::in) sketch_.arrow(ShopInk::air, far, near, 3.0);
    if (port.flow == PortFlow::out) sketch_.arrow(ShopInk::air, near, far, 3.0);
    const std::string name = opening_words(fitting_, port.wall, port.end, false);
    const std::string wide = port_size(fitting_, port);
    const ShopAlign align = std::fabs(way.x) < 0.5 ? ShopAlign::left
                            : way.x > 0.0          ? ShopAlign::left
                                                   : ShopAlign::right;
    const Vec2 beside = std::fabs(way.x) < 0.5 ? middle + 5.0 * way + Vec2{2.5, 0.0}
                                               : far + Vec2{way.x > 0.0 ? 1.0 : -1.0, 0.4};
    sketch_.text(beside, name, 8.0, align, true);
    sketch_.text(beside - Vec2{0.0, 3.3}, wide, k_least_letter, align);
  }
};

Box extent_of(const ShopDrawing& drawing) {
  std::vector<Vec2> all;
  for (const ShopLine& line : drawing.lines) all.insert(all.end(), line.points.begin(), line.points.end());
  for (const ShopText& text : drawing.texts) {
    const Box box = box_of(text);
    all.push_back(box.low);
    all.push_back(box.high);
  }
  return bounding_box(all).value();
}

// Its lower edge at zero, in the middle of so much width.
ShopDrawing moved(ShopDrawing drawing, const Box& extent, double width) {
  const Vec2 by{0.5 * (width - extent.low.x - extent.high.x), -extent.low.y};
  for (ShopLine& line : drawing.lines)
    for (Vec2& p : line.points) p = p + by;
  for (ShopText& text : drawing.texts) text.at = text.at + by;
  drawing.size = {width, extent.high.y - extent.low.y};
  return drawing;
}

// A joint's end of a piece at one ruling: how the air face stands off the duct face.
struct Lean {
  std::string place;
  double reach = 0.0;  // mm, of the air face beyond the duct face
};

std::vector<Lean> leans_of(const Fitting& fitting, const Piece& piece) {
  const auto [outer, inner] = liner_of(fitting, piece).faces();
  const Wall& wall = fitting.wall_of(piece);
  std::vector<Lean> leans;
  for (const End end : k_both_ends) {
    const std::vector<JointUse> uses = joints_at(wall, end);
    if (fitting.joint(uses.front().joint).open()) continue;
    const std::string& letter = fitting.joint_letters[static_cast<std::size_t>(uses.front().joint)];
    const auto add = [&, &outer = outer, &inner = inner](double theta, const std::string& name) {
      const double duct = liner_end(fitting, piece.wall, end, theta, outer);
      const double air = liner_end(fitting, piece.wall, end, theta, inner);
      leans.push_back({letter.empty() ? name : fmt::format("{}, joint {}", name, letter),
                       end == End::high ? air - duct : duct - air});
    };
    for (const RulingMark& mark : piece.marks) add(mark.theta, mark.name);
  }
  return leans;
}

// The board's end where the knife passes: the face that is up above.
ShopDrawing section(const Fitting& fitting, const Pattern& pattern, const Lean& lean_of) {
  const LinerSpec& liner = liner_of(fitting, pattern);
  ShopDrawing drawing;
  Sketch sketch(drawing);
  constexpr double k_thickest = 7.0, k_furthest = 10.0, k_board = 14.0, k_edge = 22.0,
                   k_low = 3.4;  // mm on the paper
  // as it is, however far the knife leans
  const double lean = lean_of.reach / liner.thickness;
  const double thick = std::min(k_thickest, k_furthest / std::max(1e-9, std::fabs(lean)));
  const bool air_up = liner.face_up == Face::air;
  const double top = k_edge + (air_up ? 0.5 : -0.5) * thick * lean;
  const double foot = k_edge - (air_up ? 0.5 : -0.5) * thick * lean;
  sketch.line(ShopInk::mark, {{k_edge - k_board, k_low}, {foot, k_low}});
  sketch.line(ShopInk::mark, {{k_edge - k_board, k_low + thick}, {top, k_low + thick}});
  sketch.line(ShopInk::cut, {{foot, k_low}, {top, k_low + thick}});
  sketch.line(ShopInk::dimension, {{k_edge, k_low}, {k_edge, k_low + thick}});
  const double degrees = std::atan2(std::fabs(lean_of.reach), liner.thickness) * 180.0 / k_pi;
  sketch.text({k_edge + 0.5 * k_furthest + 1.5, k_low + 0.5 * thick - 0.9}, trimmed(degrees, 1) + "\u00b0",
              9.0, ShopAlign::left, true);
  sketch.text({1.0, k_low + thick + 0.9}, std::string(face_word(liner, liner.face_up)) + " face up",
              k_least_letter, ShopAlign::left);
  sketch.text({1.0, 0.6}, shop_length(fitting, liner.thickness) + " board", k_least_letter, ShopAlign::left);
  drawing.size = {43.0, k_low + thick + 3.4};
  drawing.title = fmt::format("{} at the {}", pattern.id, lean_of.place);
  drawing.note = std::fabs(lean_of.reach) < 5e-3 * liner.thickness
                     ? "square to the board"
                     : fmt::format("the {} face reaches {} further",
                                   face_word(liner, lean_of.reach > 0.0 ? Face::air : Face::duct),
                                   shop_length(fitting, std::fabs(lean_of.reach)));
  return drawing;
}

}  // namespace

// What is written beside the fitting is as large at every scale: the scale follows from what it left over.
ShopDrawing side_view(const Fitting& fitting, Vec2 room) {
  std::vector<Vec2> all;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (fitting.walls[w].layer == 0)
      for (const End end : k_both_ends)
        for (const Vec2 p : rim_of(fitting, static_cast<int>(w), end)) all.push_back(p);
  const Box box = bounding_box(all).value();
  const Vec2 size = box.high - box.low;
  double scale = 0.5 * std::min(room.x / std::max(size.x, 1.0), room.y / std::max(size.y, 1.0));
  for (int step = 0;; ++step) {
    ShopDrawing drawing = SideView(fitting, box, scale).draw();
    const Box extent = extent_of(drawing);
    const Vec2 wide = extent.high - extent.low;
    const double fits = std::min((room.x - (wide.x - scale * size.x)) / std::max(size.x, 1.0),
                                 (room.y - (wide.y - scale * size.y)) / std::max(size.y, 1.0));
    constexpr int k_steps = 6;
    const bool is_within = wide.x <= room.x + 1e-6 && wide.y <= room.y + 1e-6;
    if (step >= k_steps && is_within) return moved(std::move(drawing), extent, room.x);
    scale = step < k_steps ? std::max(0.02 * scale, fits) : 0.97 * scale;
  }
}

std::vector<ShopDrawing> knife_sections(const Fitting& fitting, const std::vector<Pattern>& patterns) {
  const Pattern* steepest = nullptr;
  for (const Pattern& pattern : patterns)
    if (!pattern.is_blank && pattern.pieces.size() == 1 &&
        (steepest == nullptr || pattern.max_tilt > steepest->max_tilt))
      steepest = &pattern;
  if (steepest == nullptr) return {};
  std::vector<Lean> leans = leans_of(fitting, fitting.piece(steepest->pieces.front()));
  if (leans.empty()) return {};
  const auto [least, most] = std::minmax_element(
      leans.begin(), leans.end(), [](const Lean& a, const Lean& b) { return a.reach < b.reach; });
  std::vector<ShopDrawing> drawings{section(fitting, *steepest, *most)};
  if (most->reach - least->reach > 1e-3) drawings.push_back(section(fitting, *steepest, *least));
  return drawings;
}

}  // namespace linerwright
