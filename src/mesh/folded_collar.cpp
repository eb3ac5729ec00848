// The rectangular collar under a square-to-round's layer.
#include <utility>
#include <vector>

#include "folded_parts.hpp"

namespace linerwright {

namespace {

class CollarBuilder {
 public:
  CollarBuilder(FoldedLayer& layer, const std::array<FoldedCorner, 4>& corners, const Sheet& sheet, double w)
      : layer_(layer), corners_(corners), sheet_(sheet), w_(w) {}

  void add() {
    layer_.collared = true;
    if (w_ < 0.0)
      add_skirts();
    else
      add_panels();
  }

 private:
  static std::size_t index(int quarter) { return static_cast<std::size_t>(((quarter % 4) + 4) % 4); }
  int new_point(Vec3 p) {
    layer_.points.push_back(p);
    return static_cast<int>(layer_.points.size()) - 1;
  }
  int new_curve(FoldedCurve curve) {
    layer_.curves.push_back(std::move(curve));
    return static_cast<int>(layer_.curves.size()) - 1;
  }

  Vec3 dropped(Vec3 point, double by) const { return point - by * sheet_.frame().z; }
  Vec3 point_at(int index) const { return layer_.points[static_cast<std::size_t>(index)]; }
  // Straight down in the collar's open end.
  int floor_point(int above) {
    const double height = sheet_.frame().local_point(point_at(above)).z;
    return new_point(dropped(point_at(above), height + sheet_.square_collar()));
  }

  void add_panels() {
    std::array<int, 4> mid{};
    std::array<int, 4> foot{};
    for (int k = 0; k < 4; ++k) {
      mid[index(k)] = floor_point(layer_.seams[index(k)].low);
      const FoldedCorner& corner = corners_[index(k)];
      const int parting = w_ == 0.0 ? corner.lows.front().point : corner.parting;
      foot[index(k)] = floor_point(parting);
      FoldedUpright& upright = layer_.uprights[index(k)];
      upright.line = new_curve({foot[index(k)], parting});
      upright.ear = corner.ear;
      upright.ear_on_first = corner.ear_on_first;
    }
    for (int k = 0; k < 4; ++k)
      layer_.floor[index(k)] = {{new_curve({mid[index(k)], foot[index(k)]}), true},
                                {new_curve({foot[index(k)], mid[index(k + 1)]}), true}};
    for (int k = 0; k < 4; ++k) {
      const FoldedUpright& after = layer_.uprights[index(k)];
      const FoldedUpright& before = layer_.uprights[index(k + 3)];
      std::vector<FoldedSide>& outline = layer_.panels[index(k)];
      outline = {layer_.floor[index(k)][0], {after.line, true}};
      if (after.ear && !after.ear_on_first) outline.push_back({*after.ear, true});
      outline.push_back({corners_[index(k)].base_first, false});
      outline.push_back({corners_[index(k + 3)].base_second, true});
      if (before.ear && before.ear_on_first) outline.push_back({*before.ear, false});
      outline.push_back({before.line, false});
      outline.push_back(layer_.floor[index(k + 3)][1]);
    }
  }

  // Outside of the duct face an upright wall under every side of the low rim.
  void add_skirts() {
    std::vector<std::pair<int, int>> under;  // points
    const auto below = [&](int above) {
      for (const auto& [point, floor] : under)
        if (point == above) return floor;
      under.emplace_back(above, floor_point(above));
      return under.back().second;
    };
    std::vector<std::pair<int, int>> lines;  // from a point of the rim
    const auto upright = [&](int above) {
      for (const auto& [point, line] : lines)
        if (point == above) return line;
      lines.emplace_back(above, new_curve({below(above), above}));
      return lines.back().second;
    };
    for (int q = 0; q < 4; ++q)
      for (const FoldedSide& side : layer_.low_rim[index(q)]) {
        const FoldedCurve above = layer_.curves[static_cast<std::size_t>(side.curve)];
        FoldedCurve down = above;
        down.from = below(above.from);
        down.to = below(above.to);
        if (above.at)
          down.at = [at = above.at, z = sheet_.frame().z, by = sheet_.square_collar()](double s) {
            return at(s) - by * z;
          };
        const int curve = new_curve(std::move(down));
        layer_.floor[index(q)].push_back({curve, side.forward});
        layer_.skirts[index(q)].push_back(
            {side, {curve, side.forward}, upright(above.from), upright(above.to)});
      }
  }

  FoldedLayer& layer_;
  const std::array<FoldedCorner, 4>& corners_;
  const Sheet& sheet_;
  double w_;
};

}  // namespace

void add_square_collar(FoldedLayer& layer, const std::array<FoldedCorner, 4>& corners, const Sheet& sheet,
                       double w) {
  CollarBuilder(layer, corners, sheet, w).add();
}

}  // namespace linerwright
