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
  Vec3 dropped(Vec3 point, double by) const { return point - by * sheet_.frame().z; }
  Vec3 point_at(int index) const { return layer_.points[static_cast<std::size_t>(index)]; }
  // Straight down in the collar's open end.
  int floor_point(int above) {
    const double height = sheet_.frame().local_point(point_at(above)).z;
    return add_point(layer_, dropped(point_at(above), height + sheet_.square_collar()));
  }

  void add_panels() {
    std::array<int, 4> mid{};
    std::array<int, 4> foot{};
    for (int k = 0; k < 4; ++k) {
      mid[of_quarter(k)] = floor_point(layer_.seams[of_quarter(k)].low);
      const FoldedCorner& corner = corners_[of_quarter(k)];
      const int parting = w_ == 0.0 ? corner.lows.front().point : corner.parting;
      foot[of_quarter(k)] = floor_point(parting);
      FoldedUpright& upright = layer_.uprights[of_quarter(k)];
      upright.line = add_curve(layer_, {foot[of_quarter(k)], parting});
      upright.ear = corner.ear;
      upright.ear_on_first = corner.ear_on_first;
    }
    for (int k = 0; k < 4; ++k)
      layer_.floor[of_quarter(k)] = {
          {add_curve(layer_, {mid[of_quarter(k)], foot[of_quarter(k)]}), true},
          {add_curve(layer_, {foot[of_quarter(k)], mid[of_quarter(k + 1)]}), true}};
    for (int k = 0; k < 4; ++k) {
      const FoldedUpright& after = layer_.uprights[of_quarter(k)];
      const FoldedUpright& before = layer_.uprights[of_quarter(k + 3)];
      std::vector<FoldedSide>& outline = layer_.panels[of_quarter(k)];
      outline = {layer_.floor[of_quarter(k)][0], {after.line, true}};
      if (after.ear && !after.ear_on_first) outline.push_back({*after.ear, true});
      outline.push_back({corners_[of_quarter(k)].base_first, false});
      outline.push_back({corners_[of_quarter(k + 3)].base_second, true});
      if (before.ear && before.ear_on_first) outline.push_back({*before.ear, false});
      outline.push_back({before.line, false});
      outline.push_back(layer_.floor[of_quarter(k + 3)][1]);
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
      lines.emplace_back(above, add_curve(layer_, {below(above), above}));
      return lines.back().second;
    };
    for (int q = 0; q < 4; ++q)
      for (const FoldedSide& side : layer_.low_rim[of_quarter(q)]) {
        const FoldedCurve above = layer_.curves[static_cast<std::size_t>(side.curve)];
        FoldedCurve down = above;
        down.from = below(above.from);
        down.to = below(above.to);
        if (above.at)
          down.at = [at = above.at, z = sheet_.frame().z, by = sheet_.square_collar()](double s) {
            return at(s) - by * z;
          };
        const int curve = add_curve(layer_, std::move(down));
        layer_.floor[of_quarter(q)].push_back({curve, side.forward});
        layer_.skirts[of_quarter(q)].push_back(
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
