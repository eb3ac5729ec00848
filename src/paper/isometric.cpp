// The picture that shows a fitting at a glance. All of it is seen from above: the corner of a cube that
// stands nearest to the eye.
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "linerwright/paper.hpp"

namespace linerwright {

namespace {

constexpr Vec2 k_page{160.0, 120.0};  // mm, the largest picture
constexpr double k_apart = 0.3;       // how much farther from their common middle the pieces are drawn
constexpr double k_between = 0.12;    // of the picture's larger side, between duct and liner
constexpr double k_fine = 0.05;       // mm on the page: lines closer than this are one line
constexpr double k_turn = 0.1;        // rad between neighbouring facets

using Line = std::vector<Vec2>;

// Joins short lines where exactly two ends meet, and drops every second one of equals.
class Chains {
 public:
  explicit Chains(double fine) : fine_(fine) {}

  void add(const SeenLines& lines) {
    for (const auto& [from, to] : lines) {
      const Key a = key(from);
      const Key b = key(to);
      if (a == b || !known_.emplace(std::minmax(a, b), links_.size()).second) continue;
      at_[a].push_back(links_.size());
      at_[b].push_back(links_.size());
      links_.push_back({a, b, from, to, false});
    }
  }

  std::vector<InkedLine> lines() {
    std::vector<InkedLine> all;
    // from the open ends first, then what is closed
    for (const bool closed : {false, true})
      for (std::size_t i = 0; i < links_.size(); ++i)
        for (const bool turned : {false, true}) {
          const Link& link = links_[i];
          if (link.used || (!closed && at_[turned ? link.b : link.a].size() == 2)) continue;
          Line line = follow(i, turned);
          const bool ring = closed && line.size() > 2 && key(line.front()) == key(line.back());
          if (ring) line.pop_back();
          all.push_back({ring, thinned(line, ring, {fine_, 5.0 / 180.0 * k_pi})});
        }
    return all;
  }

 private:
  using Key = std::pair<long, long>;
  struct Link {
    Key a, b;
    Vec2 from, to;
    bool used;
  };

  Key key(Vec2 p) const { return {std::lround(p.x / (0.2 * fine_)), std::lround(p.y / (0.2 * fine_))}; }

  Line follow(std::size_t start, bool turned) {
    Line line{turned ? links_[start].to : links_[start].from};
    for (std::size_t i = start;;) {
      Link& link = links_[i];
      link.used = true;
      line.push_back(turned ? link.from : link.to);
      const Key end = turned ? link.a : link.b;
      const std::vector<std::size_t>& here = at_[end];
      if (here.size() != 2) return line;
      i = here[0] == i ? here[1] : here[0];
      if (links_[i].used) return line;
      turned = links_[i].a != end;
    }
  }

  double fine_;
  std::vector<Link> links_;
  std::map<std::pair<Key, Key>, std::size_t> known_;
  std::map<Key, std::vector<std::size_t>> at_;
};

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
    Chains chains(k_fine);
    SeenLines placed = each;
    for (auto& line : placed)
      for (Vec2& p : line) p = scale * (p - view.box.low) + to;
    chains.add(placed);
    for (InkedLine& line : chains.lines()) group.lines.push_back(std::move(line));
  }
  return group;
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

  const View left = view_of(duct, eye, size);
  const View right = view_of(liner, eye, size);
  const Vec2 a = left.box.high - left.box.low;
  const Vec2 b = right.box.high - right.box.low;
  const double gap = k_between * std::max({a.x, a.y, b.x, b.y});
  const Vec2 beside{a.x + gap + b.x, std::max(a.y, b.y)};
  const Vec2 above{std::max(a.x, b.x), a.y + gap + b.y};
  const auto scale_for = [](Vec2 all) { return std::min(k_page.x / all.x, k_page.y / all.y); };
  const bool side_by_side = scale_for(beside) >= scale_for(above);
  const double scale = scale_for(side_by_side ? beside : above);
  const auto place = [&](double x, double y) { return Vec2{scale * x, scale * y}; };
  const Vec2 duct_at =
      side_by_side ? place(0.0, 0.5 * (beside.y - a.y)) : place(0.5 * (above.x - a.x), b.y + gap);
  const Vec2 liner_at =
      side_by_side ? place(a.x + gap, 0.5 * (beside.y - b.y)) : place(0.5 * (above.x - b.x), 0.0);
  return {drawn(left, {"duct", "#5b6b7a", "#9fb0c0", 0.35, {}}, scale, duct_at),
          drawn(right, {"liner", "#a2560b", "#f0b272", 0.5, {}}, scale, liner_at)};
}

}  // namespace linerwright
