// The picture that shows a fitting at a glance. All of it is seen from above: the corner of a cube that
// stands nearest to the eye.
#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "chains.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/sheet/panels.hpp"

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
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  Vec3 sum{};
  for (int i = 0; i < k_rulings; ++i) {
    const double theta = piece.seam + piece.span * i / k_rulings;
    const double v = 0.5 * (liner_end(fitting, piece.wall, End::low, theta, 0.0) +
                            liner_end(fitting, piece.wall, End::high, theta, 0.0));
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

constexpr int k_around = 96;  // places around a turn of an outline

Vec2 seen_from(const Eye& eye, Vec3 p) {
  return {dot(p, eye.right), dot(p, cross(eye.toward, eye.right))};
}

// What a surface of rulings covers in the picture: the stretches that it turns to whoever looks at it and
// those that it turns away, each once, and the ends that look at them.
struct Covering {
  double near = 0.0;
  std::vector<Ring> front, back, ends;
};

class Coverer {
 public:
  Coverer(const Fitting& fitting, int wall, double depth, Vec3 shift, const Eye& eye)
      : fitting_(fitting), wall_(wall), depth_(depth), shift_(shift), eye_(eye) {}

  Covering between(double from, double span) const {
    Covering covering;
    const auto theta = [&](int i) { return from + span * i / k_around; };
    for (int i = 0; i < k_around;) {
      const bool is_front = faces(0.5 * (theta(i) + theta(i + 1)));
      int end = i + 1;
      while (end < k_around && faces(0.5 * (theta(end) + theta(end + 1))) == is_front) ++end;
      Ring strip;
      for (int k = i; k <= end; ++k) strip.push_back(at(theta(k), End::low));
      for (int k = end; k >= i; --k) strip.push_back(at(theta(k), End::high));
      (is_front ? covering.front : covering.back).push_back(std::move(strip));
      i = end;
    }
    if (span < k_two_pi - 1e-9) return covering;
    for (const End end : k_both_ends) {
      Ring rim;
      for (int i = 0; i < k_around; ++i) rim.push_back(at(theta(i), end));
      if ((signed_area(rim) > 0.0) == (end == End::high)) covering.ends.push_back(std::move(rim));
    }
    return covering;
  }

  // At both ends of the wall, ruling by ruling.
  std::vector<std::array<Vec2, 2>> ends(const std::vector<double>& rulings) const {
    std::vector<std::array<Vec2, 2>> places;
    for (const double theta : rulings) places.push_back({at(theta, End::low), at(theta, End::high)});
    return places;
  }

 private:
  const Fitting& fitting_;
  int wall_;
  double depth_;
  Vec3 shift_;
  const Eye& eye_;

  const Sheet& sheet() const { return fitting_.wall(wall_).sheet; }
  bool faces(double theta) const { return dot(sheet().normal(theta), eye_.toward) > 0.0; }
  Vec2 at(double theta, End end) const {
    return seen_from(eye_,
                     sheet().point(theta, liner_end(fitting_, wall_, end, theta, depth_), depth_) + shift_);
  }
};

// Even ones of a piece, and those at which its faces' ends have corners.
std::vector<double> rulings_of(const Fitting& fitting, const Piece& piece, double outer, double inner) {
  std::vector<double> rulings;
  for (int i = 0; i <= k_around; ++i) rulings.push_back(piece.seam + piece.span * i / k_around);
  for (const End end : k_both_ends)
    for (const double depth : {outer, inner})
      for (const double theta : corners_at(fitting, piece.wall, end, depth)) {
        const double turn = theta - piece.seam - k_two_pi * std::floor((theta - piece.seam) / k_two_pi);
        if (turn < piece.span) rulings.push_back(piece.seam + turn);
      }
  std::sort(rulings.begin(), rulings.end());
  return rulings;
}

// What lies between two lines in the picture, in rings that turn one way each.
void add_between(std::vector<Ring>& rings, const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
  const auto turn = [&](std::size_t i) { return signed_area({a[i], a[i + 1], b[i + 1], b[i]}) > 0.0; };
  for (std::size_t i = 0; i + 1 < a.size();) {
    std::size_t end = i + 1;
    while (end + 1 < a.size() && turn(end) == turn(i)) ++end;
    Ring ring(a.begin() + static_cast<std::ptrdiff_t>(i), a.begin() + static_cast<std::ptrdiff_t>(end) + 1);
    for (std::size_t k = end + 1; k-- > i;) ring.push_back(b[k]);
    rings.push_back(std::move(ring));
    i = end;
  }
}

// All else of a panel, which is seen beside the face it turns to the metal: its air face, ends and seams.
void add_thickness(std::vector<Ring>& rings, const std::vector<std::array<Vec2, 2>>& outer,
                   const std::vector<std::array<Vec2, 2>>& inner) {
  const auto line = [](const std::vector<std::array<Vec2, 2>>& places, std::size_t end) {
    std::vector<Vec2> points;
    for (const std::array<Vec2, 2>& place : places) points.push_back(place[end]);
    return points;
  };
  add_between(rings, line(inner, 0), line(inner, 1));
  for (const std::size_t end : {0U, 1U}) add_between(rings, line(outer, end), line(inner, end));
  for (const std::size_t seam : {std::size_t{0}, outer.size() - 1})
    rings.push_back({outer[seam][0], outer[seam][1], inner[seam][1], inner[seam][0]});
}

// A flat panel shows whichever of its faces look this way, and its edges beside them. They are flat from
// corner to corner: a ruling's places at two depths may lie on either side of a corner, and what lies between
// such in the picture is not what the edge covers.
Covering covering_of_panel(const Fitting& fitting, const Piece& piece, const PanelTarget& panel, Vec3 shift,
                           const Eye& eye) {
  const Frame& frame = fitting.wall_of(piece).sheet.frame();
  const std::vector<PanelRay> rays = panel_rays(panel.hull, panel.side);
  const auto face = [&](double depth) {
    Ring ring;
    for (const PanelRay& ray : rays) {
      const Vec2 corner = ray.at + depth * ray.way;
      ring.push_back(seen_from(eye, frame.point({corner.x, corner.y, -depth}) + shift));
    }
    return ring;
  };
  const auto [outer_depth, inner_depth] = liner_of(fitting, piece).faces();
  const Ring outer = face(outer_depth);
  const Ring inner = face(inner_depth);
  Covering covering;
  if (dot(frame.z, eye.toward) > 0.0) covering.front.push_back(outer);
  covering.back.push_back(inner);
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const std::size_t next = (i + 1) % rays.size();
    covering.back.push_back({outer[i], outer[next], inner[next], inner[i]});
  }
  return covering;
}

Covering covering_of(const Fitting& fitting, const Piece& piece, Vec3 middle, Vec3 shift, const Eye& eye) {
  const Joint& low = fitting.joint(fitting.wall_of(piece).low.joint);
  if (const auto* panel = std::get_if<PanelTarget>(&low.target)) {
    Covering covering = covering_of_panel(fitting, piece, *panel, shift, eye);
    covering.near = dot(middle + shift, eye.toward);
    return covering;
  }
  const auto [outer, inner] = liner_of(fitting, piece).faces();
  Covering covering = Coverer(fitting, piece.wall, outer, shift, eye).between(piece.seam, piece.span);
  for (Ring& end : covering.ends) covering.front.push_back(std::move(end));
  covering.ends = Coverer(fitting, piece.wall, inner, shift, eye).between(piece.seam, piece.span).ends;
  // what a whole ring turns away lies behind it or is seen through its end
  if (piece.full_turn()) {
    covering.back.clear();
  } else {
    const std::vector<double> rulings = rulings_of(fitting, piece, outer, inner);
    add_thickness(covering.back, Coverer(fitting, piece.wall, outer, shift, eye).ends(rulings),
                  Coverer(fitting, piece.wall, inner, shift, eye).ends(rulings));
  }
  covering.near = dot(middle + shift, eye.toward);
  return covering;
}

// Inks without a width fill: metal as a tint, liner as a solid colour and darker inside, what is nearer
// later.
class Tint {
 public:
  Tint(Picture& picture, double scale) : picture_(picture), scale_(scale) {}

  void fill(const std::vector<Ring>& rings, const View& view, Vec2 to, Ink ink) {
    if (rings.empty()) return;
    InkedGroup group{std::move(ink), {}, {}};
    constexpr ThinOptions k_seen{0.1, 15.0 / 180.0 * k_pi};  // mm on the page
    for (const Ring& ring : rings) {
      std::vector<Vec2> placed;
      for (const Vec2 p : ring) {
        // no further than the lines, whose facets are others
        const Vec2 within{std::min(std::max(p.x, view.box.low.x), view.box.high.x),
                          std::min(std::max(p.y, view.box.low.y), view.box.high.y)};
        placed.push_back(scale_ * (within - view.box.low) + to);
      }
      if (signed_area(placed) < 0.0) std::reverse(placed.begin(), placed.end());
      group.lines.push_back({true, thinned(placed, true, k_seen)});
    }
    picture_.push_back(std::move(group));
  }

 private:
  Picture& picture_;
  double scale_;
};

Picture drawn(const Layout& layout, const std::vector<Ring>& metal, std::vector<Covering> pieces) {
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
  Tint tint(picture, k);
  tint.fill(metal, layout.duct, duct, {"duct-tint", "#dfe6ec", "#2c3a45", 0.0, {}});
  std::sort(pieces.begin(), pieces.end(),
            [](const Covering& x, const Covering& y) { return x.near < y.near; });
  const Ink solid{"liner-solid", "#eaa64f", "#8a5413", 0.0, {}};
  const Ink inside{"liner-inside", "#b87425", "#5c370b", 0.0, {}};
  for (const Covering& piece : pieces) {
    tint.fill(piece.back, layout.liner, liner, inside);
    tint.fill(piece.front, layout.liner, liner, solid);
    tint.fill(piece.ends, layout.liner, liner, inside);
  }
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
    middles.push_back(middle_of(fitting, fitting.piece(part.piece.value())));
    middle = middle + middles.back();
  }
  middle = (1.0 / static_cast<double>(liner.size())) * middle;
  std::vector<Covering> covering;
  std::size_t next = 0;
  for (const Part& part : model.parts) {
    if (part.role != PartRole::liner) continue;
    liner[next].shift = k_apart * (middles[next] - middle);
    covering.push_back(
        covering_of(fitting, fitting.piece(part.piece.value()), middles[next], liner[next].shift, eye));
    ++next;
  }
  std::vector<Ring> metal;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w) {
    if (fitting.walls[w].layer != 0) continue;
    Covering wall =
        Coverer(fitting, static_cast<int>(w), -fitting.liner.gauge, {}, eye).between(0.0, k_two_pi);
    for (std::vector<Ring>* rings : {&wall.front, &wall.ends})
      std::move(rings->begin(), rings->end(), std::back_inserter(metal));
  }
  return drawn(layout_of(duct, liner, eye, size), metal, std::move(covering));
}

}  // namespace linerwright
