// A band's inner face lies on the liner's outer one, its middle fibre half a sheet outside of it: that one
// keeps its length when the sheet is bent, so the flat band is the wall's development at that depth.
#include "linerwright/guide_band.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

#include "linerwright/error.hpp"
#include "linerwright/shop_words.hpp"
#include "sampling.hpp"

namespace linerwright {

namespace {

constexpr double k_square = 0.05;  // mm: an edge that swings by less is square
constexpr double k_same = 0.05;    // mm: widths of bands that are the same
constexpr int k_places = 720;

// One end of a wall, seen from the band that lies on it.
struct End {
  const Fitting* fitting;
  std::size_t index;  // of the fitting
  int wall;
  bool high;
  double depth;   // of the liner's outer face
  double middle;  // radius there
  std::vector<double> seams;

  const Wall& of() const { return fitting->walls[static_cast<std::size_t>(wall)]; }
  double edge(double theta) const { return end_height(*fitting, wall, high, theta, depth); }
  // Toward the piece's middle positive.
  double inward(double theta) const { return (high ? -1.0 : 1.0) * edge(theta); }
};

const Joint& joint_of(const End& end) {
  const JointUse use = joints_at(end.of(), end.high).front();
  return end.fitting->joints[static_cast<std::size_t>(use.joint)];
}

// The least and the greatest `inward` around.
std::pair<double, double> reach(const End& end) {
  std::pair<double, double> found{1e300, -1e300};
  for (int i = 0; i < k_places; ++i) {
    const double value = end.inward(k_two_pi * i / k_places);
    found = {std::min(found.first, value), std::max(found.second, value)};
  }
  return found;
}

std::vector<End> ends_of(const std::vector<Fitting>& fittings) {
  std::vector<End> ends;
  for (std::size_t f = 0; f < fittings.size(); ++f)
    for (std::size_t w = 0; w < fittings[f].walls.size(); ++w) {
      End end{&fittings[f], f, static_cast<int>(w), false, 0.0, 0.0, {}};
      end.depth = liner_of(fittings[f], end.wall).outer_depth;
      for (const Piece& piece : fittings[f].pieces)
        if (piece.wall == end.wall) end.seams.push_back(piece.seam);
      for (const bool high : {false, true}) {
        end.high = high;
        const Joint& joint = joint_of(end);
        if (joint.open() || joint.of_rings || end.seams.empty()) continue;
        const auto [least, most] = reach(end);
        if (most - least < k_square) continue;
        end.middle = end.of().sheet.spread(0.0, end.edge(0.0), end.depth);
        ends.push_back(end);
      }
    }
  return ends;
}

// Rulings at which the band is narrowest, its edge furthest inward.
std::vector<double> narrowest(const End& end) {
  std::vector<double> values;
  for (int i = 0; i < k_places; ++i) values.push_back(end.inward(k_two_pi * i / k_places));
  const double most = *std::max_element(values.begin(), values.end());
  std::vector<double> found;
  for (int i = 0; i < k_places; ++i) {
    const double here = values[static_cast<std::size_t>(i)];
    const double before = values[static_cast<std::size_t>((i + k_places - 1) % k_places)];
    const double after = values[static_cast<std::size_t>((i + 1) % k_places)];
    if (here < before || here < after || most - here > k_same) continue;
    double low = k_two_pi * (i - 1) / k_places;
    double high = k_two_pi * (i + 1) / k_places;
    while (high - low > 1e-7) {
      const double third = (high - low) / 3.0;
      (end.inward(low + third) < end.inward(high - third) ? low : high) =
          end.inward(low + third) < end.inward(high - third) ? low + third : high - third;
    }
    found.push_back(0.5 * (low + high));
  }
  return found;
}

// How one end's band lies on another's: where that one's place `at` comes to lie.
struct Match {
  double from, to;
  double sense;
  double at(double theta) const { return to + sense * (theta - from); }
};

std::optional<Match> matched(const End& a, const End& b) {
  const Sheet& one = a.of().sheet;
  const Sheet& other = b.of().sheet;
  // both cylinders, or the same cone's same end
  if (std::fabs(a.middle - b.middle) > k_same || one.is_cylinder() != other.is_cylinder() ||
      (!one.is_cylinder() &&
       (a.high != b.high || std::fabs(one.r1() - other.r1()) > k_same ||
        std::fabs(one.r2() - other.r2()) > k_same || std::fabs(one.height() - other.height()) > k_same ||
        std::fabs(one.offset() - other.offset()) > 0.0)))
    return std::nullopt;
  const double from = narrowest(a).front();
  const double far = a.inward(from);
  for (const double to : narrowest(b))
    for (const double sense : {1.0, -1.0}) {
      const Match match{from, to, sense};
      double worst = 0.0;
      for (int i = 0; i < 90; ++i) {
        const double theta = from + k_two_pi * i / 90;
        worst =
            std::max(worst, std::fabs((a.inward(theta) - far) - (b.inward(match.at(theta)) - b.inward(to))));
      }
      if (worst < k_same) return match;
    }
  return std::nullopt;
}

// A band and the ends that it serves, the first one its own.
struct Group {
  std::vector<End> ends;
  std::vector<Match> matches;
};

std::vector<Group> grouped(const std::vector<End>& ends) {
  std::vector<Group> groups;
  for (const End& end : ends) {
    bool found = false;
    for (Group& group : groups) {
      const std::optional<Match> match = matched(group.ends.front(), end);
      if (!match) continue;
      group.ends.push_back(end);
      group.matches.push_back(*match);
      found = true;
      break;
    }
    if (!found) groups.push_back({{end}, {{0.0, 0.0, 1.0}}});
  }
  return groups;
}

double from_seam(const Group& group, double theta, std::size_t use) {
  double least = k_pi;
  for (const double seam : group.ends[use].seams)
    least = std::min(least, std::fabs(std::remainder(group.matches[use].at(theta) - seam, k_two_pi)));
  return least;
}

// Where the lap's middle lies: aside of the narrowest place, and clear of the seams of all it serves.
double place_of_lap(const Group& group) {
  const double narrow = narrowest(group.ends.front()).front();
  double best = narrow;
  double clearest = -1.0;
  for (const double turn : {90.0, 270.0, 60.0, 300.0, 120.0, 240.0, 30.0, 330.0, 150.0, 210.0, 180.0, 0.0}) {
    const double theta = narrow + turn / 180.0 * k_pi;
    double least = k_pi;
    for (std::size_t use = 0; use < group.ends.size(); ++use)
      least = std::min(least, from_seam(group, theta, use));
    if (least > clearest + 1e-9) {
      clearest = least;
      best = theta;
    }
  }
  return best;
}

std::string number(double value) {
  return trimmed(value, 2);
}

// "mitre-400-22.5" and what it is in words.
std::pair<std::string, std::string> named(const End& end) {
  const Joint& joint = joint_of(end);
  const bool inches = end.fitting->units == Units::inch;
  const auto size = [&](double mm) { return number(inches ? mm / 25.4 : mm); };
  const auto shown = [&](double mm) { return shop_length(*end.fitting, mm); };
  const double outside = 2.0 * end.middle;
  const auto turned = [](double radians) { return number(radians * 180.0 / k_pi); };
  const bool alone = joints_at(end.of(), end.high).size() == 1;
  if (const auto* plane = std::get_if<PlaneTarget>(&joint.target);
      plane != nullptr && alone && end.of().sheet.is_cylinder()) {
    const double lean = std::acos(std::min(1.0, std::fabs(dot(plane->normal, end.of().sheet.frame().z))));
    return {fmt::format("mitre-{}-{}", size(outside), turned(lean)),
            fmt::format("mitre of {} degrees on {}", turned(lean), shown(outside))};
  }
  if (const auto* body = std::get_if<BodyTarget>(&joint.target)) {
    const double angle = std::acos(std::fabs(dot(body->body.frame().z, end.of().sheet.frame().z)));
    return {fmt::format("saddle-{}-on-{}-{}", size(outside), size(2.0 * body->body.r1()), turned(angle)),
            fmt::format("saddle of {} on {} at {} degrees", shown(outside), shown(2.0 * body->body.r1()),
                        turned(angle))};
  }
  const std::string piece = [&] {
    for (const Piece& one : end.fitting->pieces)
      if (one.wall == end.wall) return one.id;
    return std::string();
  }();
  return {fmt::format("{}-{}-{}", end.fitting->tag, piece, end.high ? "high" : "low"),
          fmt::format("{} end of {}/{} on {}", end.high ? "high" : "low", end.fitting->tag, piece,
                      shown(outside))};
}

// Draws a group's band.
class Maker {
 public:
  Maker(const Group& group, const BandSheet& sheet)
      : group_(group),
        end_(group.ends.front()),
        sheet_(sheet),
        lap_(sheet.lap / (end_.middle + 0.5 * sheet.thickness)),
        from_(place_of_lap(group) - 0.5 * lap_),
        flat_(end_.of().sheet, end_.depth - 0.5 * sheet.thickness, 1.0, from_) {
    const double side = end_.high ? -1.0 : 1.0;
    straight_ = side * (reach(end_).second + sheet.width);
  }

  GuideBand band() {
    GuideBand band{
        {}, {}, {}, 2.0 * end_.middle, {}, {}, end_.of().sheet, end_.depth, from_, sheet_.thickness};
    std::tie(band.id, band.words) = named(end_);
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
  const Group& group_;
  const End& end_;
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
                                "--lap",
                                number(sheet_.lap) + " mm",
                                fmt::format("at most {} mm", number(0.5 * k_pi * end_.middle)),
                                "more than a quarter of its liner's girth"}});
    if (narrow < sheet_.bolt)
      throw InputError({Problem{{},
                                0,
                                band.id,
                                "--width",
                                number(sheet_.width) + " mm",
                                "a smaller one",
                                "it reaches past the point where the piece's cone ends"}});
  }

  void add_use(GuideBand& band, std::size_t use) const {
    const End& end = group_.ends[use];
    for (const Piece& piece : end.fitting->pieces) {
      if (piece.wall != end.wall) continue;
      band.uses.push_back(
          {end.index, piece.id, end.high, end.middle * from_seam(group_, from_ + 0.5 * lap_, use)});
      return;
    }
  }

  Vec2 on_edge(double theta) const { return flat_.point(theta, end_.edge(theta)); }

  void outline(Pattern& pattern) const {
    const auto run = [&](const std::function<Vec2(double)>& at, double a, double b) {
      std::vector<double> corners;
      for (const double corner : corners_at(*end_.fitting, end_.wall, end_.high, end_.depth))
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
    std::vector<Vec2> below = run(end_.high ? std::function<Vec2(double)>(straight) : edge, from_, to());
    const std::vector<Vec2> above =
        run(end_.high ? std::function<Vec2(double)>(edge) : straight, to(), from_);
    below.insert(below.end(), above.begin(), above.end());
    pattern.cut.outer = std::move(below);
  }

  // Two through either end, one on the other where it is clamped.
  void bolt_holes(Pattern& pattern) const {
    constexpr int k_corners = 36;
    const double side = end_.high ? 1.0 : -1.0;  // from the straight edge on
    for (const double turn : {0.0, k_two_pi})
      for (const double share : {0.25, 0.75}) {
        const Vec2 middle = flat_.point(from_ + turn + 0.5 * lap_, straight_ + side * share * sheet_.width);
        Ring hole;
        for (int i = 0; i < k_corners; ++i) {
          const double angle = -k_two_pi * i / k_corners;
          hole.push_back(middle + 0.5 * sheet_.bolt * Vec2{std::cos(angle), std::sin(angle)});
        }
        pattern.cut.holes.push_back(std::move(hole));
      }
  }

  void lay(GuideBand& band) const {
    Pattern& pattern = band.pattern;
    const Box box = bounding_box(pattern.cut.outer).value();
    pattern.placement.shift = -1.0 * box.low;
    pattern.board = box.high - box.low;
    for (Vec2& p : pattern.cut.outer) p = pattern.placement.board(p);
    for (Ring& hole : pattern.cut.holes)
      for (Vec2& p : hole) p = pattern.placement.board(p);
    pattern.board_area = area(pattern.cut);
    add_marks(band);
    const std::string sheet = number(sheet_.thickness) + " mm";
    LabelBlock block;
    block.piece = band.id;
    block.part = pattern.cut;
    block.lines = {
        band.id, band.words, "outer face up; the clamp never on the seam",
        fmt::format("sheet {}, liner {} outside", sheet, shop_length(*end_.fitting, band.outside))};
    pattern.label_blocks.push_back(std::move(block));
    place_labels(pattern);
  }

  void add_marks(GuideBand& band) const {
    Pattern& pattern = band.pattern;
    const auto place = [&](double theta, double v) { return pattern.placement.board(flat_.point(theta, v)); };
    const double side = end_.high ? -1.0 : 1.0;  // from the cut edge inward
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
      const double inner = end_height(*end_.fitting, end_.wall, end_.high, theta, liner.inner_depth());
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

Sheet::Place rolled(const GuideBand& band, Vec2 flat) {
  const Development development(band.wall, band.depth - 0.5 * band.sheet, 1.0, band.begins);
  const Vec2 at = band.pattern.placement.flat(flat);
  return development.place(at, band.begins + at.x / (0.5 * band.outside));
}

std::vector<GuideBand> guide_bands(const std::vector<Fitting>& fittings, const BandSheet& sheet) {
  std::vector<GuideBand> bands;
  for (const Group& group : grouped(ends_of(fittings))) {
    GuideBand band = Maker(group, sheet).band();
    // sizes alone do not tell all shapes apart: branches beside the axis
    std::string id = band.id;
    for (int k = 2;
         std::any_of(bands.begin(), bands.end(), [&](const GuideBand& one) { return one.id == id; }); ++k)
      id = fmt::format("{}-{}", band.id, k);
    band.id = band.pattern.id = id;
    for (LabelBlock& block : band.pattern.label_blocks) block.piece = block.lines.front() = id;
    place_labels(band.pattern);
    bands.push_back(std::move(band));
  }
  return bands;
}

double edge_error(const GuideBand& band, const std::vector<Fitting>& fittings) {
  const BandUse& use = band.uses.front();
  const Fitting& fitting = fittings.at(use.fitting);
  int wall = 0;
  for (const Piece& piece : fitting.pieces)
    if (piece.id == use.piece) wall = piece.wall;
  double worst = 0.0;
  const Ring& ring = band.pattern.cut.outer;
  for (std::size_t i = 0; i < ring.size(); ++i)
    for (const double share : {0.0, 0.5}) {
      const Vec2 flat = (1.0 - share) * ring[i] + share * ring[(i + 1) % ring.size()];
      const Sheet::Place place = rolled(band, flat);
      const double edge = end_height(fitting, wall, use.high, place.theta, band.depth);
      // the straight edge lies far inside, and what leads to it
      const double inward = (use.high ? -1.0 : 1.0) * (place.v - edge);
      if (inward < 5.0) worst = std::max(worst, std::fabs(inward));
    }
  return worst;
}

}  // namespace linerwright
