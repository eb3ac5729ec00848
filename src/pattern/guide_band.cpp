// A band's inner face lies on the liner's outer one, its middle fibre half a sheet outside of it: that one
// keeps its length when the sheet is bent, so the flat band is the wall's development at that depth.
#include "linerwright/pattern/guide_band.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

#include "band_ends.hpp"
#include "band_window.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/error.hpp"
#include "sampling.hpp"

namespace linerwright {

namespace {

std::string number(double value) {
  return trimmed(value, 2);
}

// Draws a group's band.
class Maker {
 public:
  Maker(const BandGroup& group, const BandSheet& sheet)
      : group_(group),
        end_(group.ends.front()),
        sheet_(sheet),
        lap_(sheet.lap / (end_.middle + 0.5 * sheet.thickness)),
        from_(group.place_of_lap() - 0.5 * lap_),
        flat_(end_.of().sheet, end_.depth - 0.5 * sheet.thickness, 1.0, from_) {
    const double side = -outward(end_.end);
    straight_ = side * (end_.reach().second + sheet.width);
  }

  GuideBand band() {
    GuideBand band{
        {}, {}, {}, 2.0 * end_.middle, {}, {}, end_.of().sheet, end_.depth, from_, sheet_.thickness};
    std::tie(band.id, band.words) = name_of(end_);
    require_room(band);
    for (std::size_t use = 0; use < group_.ends.size(); ++use) add_use(band, use);
    Pattern& pattern = band.pattern;
    pattern.id = band.id;
    outline(pattern);
    bolt_holes(pattern);
    lay(band);
    return band;
  }

 private:
  const BandGroup& group_;
  const BandEnd& end_;
  BandSheet sheet_;
  double lap_;   // radians
  double from_;  // ruling
  Development flat_;
  double straight_;  // height of the edge that is not cut along

  double to() const { return from_ + k_two_pi + lap_; }

  void require_room(const GuideBand& band) const {
    const double narrow = std::min(end_.of().sheet.spread(from_, straight_, end_.depth), end_.middle);
    if (lap_ > 0.5 * k_pi)
      throw InputError({Problem{{},
                                0,
                                band.id,
                                "lap of a band",
                                number(sheet_.lap) + " mm",
                                fmt::format("at most {} mm", number(0.5 * k_pi * end_.middle)),
                                "more than a quarter of its liner's girth"}});
    if (narrow < sheet_.bolt)
      throw InputError({Problem{{},
                                0,
                                band.id,
                                "width of a band",
                                number(sheet_.width) + " mm",
                                "a smaller one",
                                "it reaches past the point where the piece's cone ends"}});
  }

  void add_use(GuideBand& band, std::size_t use) const {
    const BandEnd& end = group_.ends[use];
    for (const Piece& piece : end.fitting->pieces) {
      if (piece.wall != end.wall) continue;
      band.uses.push_back(
          {end.index, piece.id, end.end, end.middle * group_.from_seam(from_ + 0.5 * lap_, use)});
      return;
    }
  }

  Vec2 on_edge(double theta) const { return flat_.point(theta, end_.edge(theta)); }

  void outline(Pattern& pattern) const {
    const auto run = [&](const std::function<Vec2(double)>& at, double a, double b) {
      std::vector<double> corners;
      for (const double corner : corners_at(*end_.fitting, end_.wall, end_.end, end_.depth))
        for (double turned = corner - 3.0 * k_two_pi; turned < to(); turned += k_two_pi)
          if (turned > from_) corners.push_back(turned);
      std::sort(corners.begin(), corners.end());
      if (a > b) std::reverse(corners.begin(), corners.end());
      std::vector<Vec2> points;
      for (const double theta : spend_points([&](double t) { return FacePair{at(t), at(t)}; }, a, b, corners))
        points.push_back(at(theta));
      return points;
    };
    const auto straight = [&](double theta) { return flat_.point(theta, straight_); };
    const auto edge = [&](double theta) { return on_edge(theta); };
    // counter-clockwise: the lower side from left to right
    std::vector<Vec2> below =
        run(end_.end == End::high ? std::function<Vec2(double)>(straight) : edge, from_, to());
    const std::vector<Vec2> above =
        run(end_.end == End::high ? std::function<Vec2(double)>(edge) : straight, to(), from_);
    below.insert(below.end(), above.begin(), above.end());
    pattern.cut.outer = std::move(below);
  }

  void bolt_holes(Pattern& pattern) const {
    const double side = outward(end_.end);  // from the straight edge on
    add_bolt_holes(pattern, sheet_.bolt, [&](double turn, double share) {
      return flat_.point(from_ + turn + 0.5 * lap_, straight_ + side * share * sheet_.width);
    });
  }

  void lay(GuideBand& band) const {
    lay_band(band.pattern);
    add_marks(band);
    add_band_label(band, *end_.fitting);
  }

  void add_marks(GuideBand& band) const {
    Pattern& pattern = band.pattern;
    const auto place = [&](double theta, double v) { return pattern.placement.board(flat_.point(theta, v)); };
    const double side = -outward(end_.end);  // from the cut edge inward
    const auto tick = [&](double theta, double length, const std::string& name) {
      const double edge = end_.edge(theta);
      pattern.marks.push_back({place(theta, edge), place(theta, edge + side * length)});
      pattern.mark_names.push_back(name);
    };
    const LinerSpec& liner = liner_of(*end_.fitting, end_.wall);
    const int n = liner.stations;
    constexpr double k_tick = 5.0;
    constexpr double k_long_tick = 14.0;
    for (int i = 0; i < n; ++i) {
      const double around = k_two_pi * i / n;
      const double theta = from_ + 0.5 * lap_ + around;
      tick(theta, k_tick, {});
      const double inner = liner_end(*end_.fitting, end_.wall, end_.end, theta, liner.inner_depth());
      const double deeper = inner - end_.edge(theta);
      band.stations.push_back(
          {0.5 * lap_ + around, place(theta, end_.edge(theta)), std::atan2(-side * deeper, liner.thickness)});
    }
    for (const Piece& piece : end_.fitting->pieces) {
      if (piece.wall != end_.wall) continue;
      for (const RulingMark& mark : piece.marks) {
        double theta = mark.theta;
        while (theta < from_) theta += k_two_pi;
        while (theta >= from_ + k_two_pi) theta -= k_two_pi;
        tick(theta, k_long_tick, mark.name);
      }
      break;
    }
    // the other end comes to lie here
    pattern.marks.push_back({place(from_ + lap_, straight_), place(from_ + lap_, end_.edge(from_ + lap_))});
    pattern.mark_names.push_back("lap");
  }
};

}  // namespace

void add_band_label(GuideBand& band, const Fitting& fitting) {
  LabelBlock block;
  block.piece = band.id;
  block.part = band.pattern.cut;
  block.lines = {
      band.id, band.words, "outer face up; the clamp never on the seam",
      fmt::format("sheet {} mm, liner {} outside", number(band.sheet), shop_length(fitting, band.outside))};
  band.pattern.label_blocks.push_back(std::move(block));
  place_labels(band.pattern);
}

Sheet::Place rolled(const GuideBand& band, Vec2 flat) {
  const Development development(band.wall, band.depth - 0.5 * band.sheet, 1.0, band.begins);
  const Vec2 at = band.pattern.placement.flat(flat);
  return development.place(at, band.begins + at.x / (0.5 * band.outside));
}

std::vector<GuideBand> guide_bands(const std::vector<Fitting>& fittings, const BandSheet& sheet) {
  std::vector<GuideBand> bands;
  const auto add = [&](GuideBand band) {
    // sizes alone do not tell all shapes apart: branches beside the axis
    std::string id = band.id;
    for (int k = 2;
         std::any_of(bands.begin(), bands.end(), [&](const GuideBand& one) { return one.id == id; }); ++k)
      id = fmt::format("{}-{}", band.id, k);
    band.id = band.pattern.id = id;
    for (LabelBlock& block : band.pattern.label_blocks) block.piece = block.lines.front() = id;
    place_labels(band.pattern);
    bands.push_back(std::move(band));
  };
  for (const BandGroup& group : band_groups(fittings)) add(Maker(group, sheet).band());
  for (GuideBand& band : window_bands(fittings, sheet)) add(std::move(band));
  return bands;
}

double edge_error(const GuideBand& band, const std::vector<Fitting>& fittings) {
  if (band.uses.front().hole) return window_error(band, fittings);
  constexpr double k_near = 0.03;  // radians
  constexpr int k_steps = 60;
  constexpr double k_level = 2e-3;  // mm: what a file's decimals leave of an edge that is level
  const BandUse& use = band.uses.front();
  const Fitting& fitting = fittings.at(use.fitting);
  int wall = 0;
  for (const Piece& piece : fitting.pieces)
    if (piece.id == use.piece) wall = piece.wall;
  const double radius = 0.5 * band.outside;
  const auto edge = [&](double theta) { return liner_end(fitting, wall, use.end, theta, band.depth); };
  const Ring& ring = band.pattern.cut.outer;
  std::vector<Sheet::Place> places;
  double straight = use.end == End::high ? 1e300 : -1e300;  // the other edge, which reaches furthest inward
  for (const Vec2 corner : ring) {
    places.push_back(rolled(band, corner));
    straight =
        use.end == End::high ? std::min(straight, places.back().v) : std::max(straight, places.back().v);
  }
  const auto is_straight = [&](std::size_t i) { return std::fabs(places[i].v - straight) < k_level; };
  double worst = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i)
    for (const double share : {0.0, 0.5}) {
      const std::size_t next = (i + 1) % ring.size();
      if (is_straight(i) || is_straight(next)) continue;
      const Sheet::Place place = rolled(band, (1.0 - share) * ring[i] + share * ring[next]);
      double nearest = 1e300;
      const auto at = [&](int k) {
        const double around = k_near * k / k_steps;
        return Vec2{radius * around, edge(place.theta + around)};
      };
      for (int k = -k_steps; k < k_steps; ++k)
        nearest = std::min(nearest, distance_to_segment({0.0, place.v}, at(k), at(k + 1)));
      worst = std::max(worst, nearest);
    }
  return worst;
}

}  // namespace linerwright
