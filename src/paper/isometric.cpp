// The picture that shows a fitting at a glance. All of it is seen from above: the corner of a cube that
// stands nearest to the eye.
#include <algorithm>
#include <cmath>
#include <utility>

#include "chains.hpp"
#include "linerwright/polygon.hpp"

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

constexpr int k_around = 48;  // places around a turn of an outline

Vec2 seen_from(const Eye& eye, Vec3 p) {
  return {dot(p, eye.right), dot(p, cross(eye.toward, eye.right))};
}

// An end of a wall from `from` on around, at one depth.
Ring rim_of(const Fitting& fitting, int wall, bool high, double from, double span, double depth, Vec3 shift,
            const Eye& eye) {
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(wall)].sheet;
  Ring ring;
  for (int i = 0; i <= k_around; ++i) {
    const double theta = from + span * i / k_around;
    ring.push_back(
        seen_from(eye, sheet.point(theta, end_height(fitting, wall, high, theta, depth), depth) + shift));
  }
  return ring;
}

// All that a wall's surface covers between two rulings.
std::vector<Region> covered(const Fitting& fitting, int wall, double from, double span, double depth,
                            Vec3 shift, const Eye& eye) {
  const Ring low = rim_of(fitting, wall, false, from, span, depth, shift, eye);
  const Ring high = rim_of(fitting, wall, true, from, span, depth, shift, eye);
  std::vector<Region> quads;
  for (std::size_t i = 0; i + 1 < low.size(); ++i)
    quads.push_back({{low[i], low[i + 1], high[i + 1], high[i]}, {}});
  return united(quads);
}

// A piece as it covers the picture, and its end that looks at whoever looks at it.
struct Covering {
  double near = 0.0;
  std::vector<Region> all, inside;
};

Covering covering_of(const Fitting& fitting, const Piece& piece, Vec3 middle, Vec3 shift, const Eye& eye) {
  const auto [outer, inner] = liner_of(fitting, piece).faces();
  Covering covering{dot(middle + shift, eye.toward),
                    covered(fitting, piece.wall, piece.seam, piece.span, outer, shift, eye),
                    {}};
  if (!piece.full_turn()) return covering;
  for (const bool high : {false, true}) {
    const Ring rim = rim_of(fitting, piece.wall, high, piece.seam, piece.span, inner, shift, eye);
    if ((signed_area(rim) > 0.0) == high) covering.inside.push_back({rim, {}});
  }
  return covering;
}

InkedGroup filled(const std::vector<Region>& regions, Ink ink) {
  InkedGroup group{std::move(ink), {}, {}};
  constexpr ThinOptions k_seen{0.15, 15.0 / 180.0 * k_pi};  // mm on the page
  for (const Region& region : regions) group.lines.push_back({true, thinned(region.outer, true, k_seen)});
  return group;
}

std::vector<Region> placed(std::vector<Region> regions, const View& view, double scale, Vec2 to) {
  for (Region& region : regions)
    for (Vec2& p : region.outer) p = scale * (p - view.box.low) + to;
  return regions;
}

// Inks without a width fill: metal as a tint, liner as a solid colour and darker inside.
void tint(Picture& picture, const Layout& layout, Vec2 duct_at, Vec2 liner_at,
          const std::vector<Region>& duct, std::vector<Covering> liner) {
  std::sort(liner.begin(), liner.end(), [](const Covering& a, const Covering& b) { return a.near > b.near; });
  std::vector<Region> all, inside, before;  // `before`: what stands nearer
  for (const Covering& piece : liner) {
    for (const Region& open : subtracted(piece.inside, before)) inside.push_back(open);
    before.insert(before.end(), piece.all.begin(), piece.all.end());
  }
  all = united(before);
  const auto fill = [&](const std::vector<Region>& regions, const View& view, Vec2 to, Ink ink) {
    picture.push_back(filled(placed(regions, view, layout.scale, to), std::move(ink)));
  };
  fill(duct, layout.duct, duct_at, {"duct-tint", "#dfe6ec", "#2c3a45", 0.0, {}});
  fill(all, layout.liner, liner_at, {"liner-solid", "#eaa64f", "#8a5413", 0.0, {}});
  fill(inside, layout.liner, liner_at, {"liner-inside", "#b87425", "#5c370b", 0.0, {}});
}

Picture drawn(const Layout& layout, const std::vector<Region>& metal, std::vector<Covering> pieces) {
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
  Picture picture;
  tint(picture, layout, duct, liner, metal, std::move(pieces));
  picture.push_back(drawn(layout.duct, {"duct", "#5b6b7a", "#9fb0c0", 0.35, {}}, k, duct));
  picture.push_back(drawn(layout.liner, {"liner", "#a2560b", "#f0b272", 0.5, {}}, k, liner));
  return picture;
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
  std::vector<Covering> covering;
  std::size_t next = 0;
  for (const Part& part : model.parts) {
    if (part.role != PartRole::liner) continue;
    liner[next].shift = k_apart * (middles[next] - middle);
    covering.push_back(covering_of(fitting, fitting.pieces[static_cast<std::size_t>(part.piece)],
                                   middles[next], liner[next].shift, eye));
    ++next;
  }
  std::vector<Region> metal;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (fitting.walls[w].layer == 0)
      for (Region& region : covered(fitting, static_cast<int>(w), 0.0, k_two_pi, 0.0, {}, eye))
        metal.push_back(std::move(region));
  return drawn(layout_of(duct, liner, eye, size), united(metal), std::move(covering));
}

}  // namespace linerwright
