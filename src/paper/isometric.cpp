// The picture that shows a fitting at a glance. All of it is seen from above: the corner of a cube that
// stands nearest to the eye.
#include <algorithm>
#include <cmath>
#include <utility>

#include "chains.hpp"

namespace linerwright {

namespace {

constexpr Vec2 k_page{160.0, 120.0};  // mm, the largest picture
constexpr double k_apart = 0.3;       // how much farther from their common middle the pieces are drawn
constexpr double k_between = 0.12;    // of the picture's larger side, between duct and liner
constexpr double k_turn = 0.1;        // rad between neighbouring facets

struct View {
  std::vector<SeenLines> lines;
  Box box;
};

View view_of(const std::vector<PlacedSolid>& solids, const Eye& eye, double deflection) {
  View view{seen_lines(solids, eye, {deflection, k_turn}), {}};
  std::vector<Vec2> points;
  for (const SeenLines& each : view.lines)
    for (const auto& line : each) points.insert(points.end(), line.begin(), line.end());
  view.box = bounding_box(points).value_or(Box{});
  return view;
}

Vec3 middle_of(const Fitting& fitting, const Piece& piece) {
  constexpr int k_rulings = 8;
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(piece.wall)].sheet;
  Vec3 sum{};
  for (int i = 0; i < k_rulings; ++i) {
    const double theta = piece.seam + piece.span * i / k_rulings;
    const double v = 0.5 * (end_height(fitting, piece.wall, false, theta, 0.0) +
                            end_height(fitting, piece.wall, true, theta, 0.0));
    sum = sum + sheet.point(theta, v, 0.0);
  }
  return (1.0 / k_rulings) * sum;
}

InkedGroup drawn(const View& view, Ink ink, double scale, Vec2 to) {
  InkedGroup group{std::move(ink), {}, {}};
  for (const SeenLines& each : view.lines) {
    SeenLines placed = each;
    for (auto& line : placed)
      for (Vec2& p : line) p = scale * (p - view.box.low) + to;
    for (InkedLine& line : joined_lines(placed)) group.lines.push_back(std::move(line));
  }
  group.lines = without_twins(std::move(group.lines));
  return group;
}

// Both bodies of the picture from one side, and how large they can be drawn.
struct Layout {
  View duct, liner;
  bool side_by_side;
  double gap;    // between the two, in the solids' mm
  double scale;  // of the solids' mm on the page
};

Layout layout_of(const std::vector<PlacedSolid>& duct, const std::vector<PlacedSolid>& liner, const Eye& eye,
                 double size) {
  Layout layout{view_of(duct, eye, size), view_of(liner, eye, size), true, 0.0, 0.0};
  const Vec2 a = layout.duct.box.high - layout.duct.box.low;
  const Vec2 b = layout.liner.box.high - layout.liner.box.low;
  layout.gap = k_between * std::max({a.x, a.y, b.x, b.y});
  const auto scale_for = [](double width, double height) {
    return std::min(k_page.x / width, k_page.y / height);
  };
  const double beside = scale_for(a.x + layout.gap + b.x, std::max(a.y, b.y));
  const double above = scale_for(std::max(a.x, b.x), a.y + layout.gap + b.y);
  layout.side_by_side = beside >= above;
  layout.scale = std::max(beside, above);
  return layout;
}

Picture drawn(const Layout& layout) {
  const double k = layout.scale;
  const Vec2 a = k * (layout.duct.box.high - layout.duct.box.low);
  const Vec2 b = k * (layout.liner.box.high - layout.liner.box.low);
  const double gap = k * layout.gap;
  const Vec2 all = layout.side_by_side ? Vec2{a.x + gap + b.x, std::max(a.y, b.y)}
                                       : Vec2{std::max(a.x, b.x), a.y + gap + b.y};
  const Vec2 duct =
      layout.side_by_side ? Vec2{0.0, 0.5 * (all.y - a.y)} : Vec2{0.5 * (all.x - a.x), b.y + gap};
  const Vec2 liner =
      layout.side_by_side ? Vec2{a.x + gap, 0.5 * (all.y - b.y)} : Vec2{0.5 * (all.x - b.x), 0.0};
  return {drawn(layout.duct, {"duct", "#5b6b7a", "#9fb0c0", 0.35, {}}, k, duct),
          drawn(layout.liner, {"liner", "#a2560b", "#f0b272", 0.5, {}}, k, liner)};
}

}  // namespace

Picture isometric_picture(const Model& model, const Fitting& fitting) {
  Eye eye{normalised({1.0, -1.0, 1.0}), {}};
  eye.right = normalised(cross(Vec3{0.0, 0.0, 1.0}, eye.toward));
  const double size = std::cbrt(model.cavity_volume);
  std::vector<PlacedSolid> duct;
  std::vector<PlacedSolid> liner;
  std::vector<Vec3> middles;
  Vec3 middle{};
  for (const Part& part : model.parts) {
    if (part.role == PartRole::metal) duct.push_back({part.solid});
    if (part.role != PartRole::liner) continue;
    liner.push_back({part.solid});
    middles.push_back(middle_of(fitting, fitting.pieces[static_cast<std::size_t>(part.piece)]));
    middle = middle + middles.back();
  }
  middle = (1.0 / static_cast<double>(liner.size())) * middle;
  for (std::size_t i = 0; i < liner.size(); ++i) liner[i].shift = k_apart * (middles[i] - middle);

  return drawn(layout_of(duct, liner, eye, size));
}

}  // namespace linerwright
