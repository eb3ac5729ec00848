#include "band_window.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/error.hpp"
#include "sampling.hpp"

namespace linerwright {

namespace {

constexpr double k_same = 0.05;  // mm: holes that one window serves
constexpr int k_around = 360;

// The hole of a branch, seen from the band around its body.
struct BranchHole {
  const Fitting* fitting;
  std::size_t index;  // of the fitting
  const Piece* piece;
  std::size_t hole;  // of the piece's wall

  const Wall& wall() const { return fitting->wall(piece->wall); }
  const Joint& joint() const { return fitting->joint(wall().holes[hole].joint); }
  const LinerSpec& liner() const { return liner_of(*fitting, *piece); }
  double radius() const { return wall().sheet.r1() - liner().outer_depth; }
  Sheet::Place at(double s, double w) const {
    const JointUse& use = wall().holes[hole];
    return place_on(joint(), use.side, s, liner_depths(joint().style, use.side, w, liner().bore_depth()));
  }
  // A ruling of the body on which the branch's axis lies: the hole reaches less than half a turn to either
  // side.
  double middle() const { return at(0.0, liner().outer_depth).theta; }
  // Girth and height on the liner's outer face from the middle of the hole.
  std::vector<Vec2> outline() const {
    const double zero = middle();
    std::vector<Vec2> points;
    Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    for (int i = 0; i < k_around; ++i) {
      const Sheet::Place place = at(k_two_pi * i / k_around, liner().outer_depth);
      const Vec2 p{radius() * std::remainder(place.theta - zero, k_two_pi), place.v};
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
      points.push_back(p);
    }
    for (Vec2& p : points) p = p - 0.5 * (low + high);
    return points;
  }
};

// Whether one's outline is the other's, also turned end for end or with the sheet's other face out.
bool alike(const BranchHole& a, const BranchHole& b) {
  if (std::fabs(a.radius() - b.radius()) > k_same) return false;
  const std::vector<Vec2> one = a.outline();
  const std::vector<Vec2> other = b.outline();
  for (const double x : {1.0, -1.0})
    for (const double y : {1.0, -1.0}) {
      double worst = 0.0;
      for (const Vec2 p : one) {
        double nearest = 1e300;
        for (std::size_t i = 0; i < other.size(); ++i)
          nearest = std::min(
              nearest, distance_to_segment({x * p.x, y * p.y}, other[i], other[(i + 1) % other.size()]));
        worst = std::max(worst, nearest);
      }
      if (worst < k_same) return true;
    }
  return false;
}

std::vector<BranchHole> holes_in(const std::vector<Fitting>& fittings) {
  std::vector<BranchHole> holes;
  for (std::size_t f = 0; f < fittings.size(); ++f)
    for (const Piece& piece : fittings[f].pieces)
      for (const std::size_t hole : holes_of(fittings[f], piece)) {
        const BranchHole one{&fittings[f], f, &piece, hole};
        if (!one.joint().of_opening() && one.wall().sheet.is_cylinder()) holes.push_back(one);
      }
  return holes;
}

// Draws the band of holes that are alike.
class WindowMaker {
 public:
  WindowMaker(const std::vector<BranchHole>& holes, const BandSheet& sheet)
      : holes_(holes),
        of_(holes.front()),
        sheet_(sheet),
        depth_(of_.liner().outer_depth),
        lap_(sheet.lap / (of_.radius() + 0.5 * sheet.thickness)),
        middle_(of_.middle()) {
    for (int i = 0; i < k_around; ++i) {
      const Sheet::Place place = of_.at(k_two_pi * i / k_around, depth_);
      const double turn = std::remainder(place.theta - middle_, k_two_pi);
      low_ = std::min(low_, place.v);
      high_ = std::max(high_, place.v);
      right_ = std::max(right_, turn);
      left_ = std::min(left_, turn);
    }
    low_ -= 0.5 * sheet.width;
    high_ += 0.5 * sheet.width;
    begins_ = lap_middle() - 0.5 * lap_;
  }

  GuideBand band() const {
    require_room();
    const auto [id, words] = name();
    GuideBand band{id,      words,           {}, 2.0 * of_.radius(), {}, {}, of_.wall().sheet, depth_,
                   begins_, sheet_.thickness};
    for (const BranchHole& hole : holes_)
      band.uses.push_back({hole.index, hole.piece->id, End::low, of_.radius() * from_seam(hole), hole.hole});
    Pattern& pattern = band.pattern;
    pattern.id = id;
    const Development flat = development();
    const double end = begins_ + k_two_pi + lap_;
    pattern.cut.outer = {flat.point(begins_, low_), flat.point(end, low_), flat.point(end, high_),
                         flat.point(begins_, high_)};
    pattern.cut.holes.push_back(window(flat));
    add_bolt_holes(pattern, sheet_.bolt, [&](double turn, double share) {
      return flat.point(begins_ + turn + 0.5 * lap_, low_ + share * (high_ - low_));
    });
    lay_band(pattern);
    add_marks(band, flat);
    add_band_label(band, *of_.fitting);
    return band;
  }

 private:
  const std::vector<BranchHole>& holes_;
  const BranchHole& of_;
  BandSheet sheet_;
  double depth_, lap_, middle_;
  double low_ = 1e300, high_ = -1e300;  // of the band
  double left_ = 0.0, right_ = 0.0;     // how far around the hole reaches
  double begins_ = 0.0;

  Development development() const {
    return {of_.wall().sheet, depth_ - 0.5 * sheet_.thickness, 1.0, begins_};
  }

  // From the lap's middle to a piece's nearest seam, whichever way around the band lies on its hole.
  double from_seam(const BranchHole& hole) const {
    const double lap = begins_ + 0.5 * lap_ - middle_;
    const double middle = hole.middle();
    double least = k_pi;
    for (const double seam : {hole.piece->seam, hole.piece->seam + hole.piece->span})
      for (const double side : {1.0, -1.0})
        least = std::min(least, std::fabs(std::remainder(middle + side * lap - seam, k_two_pi)));
    return least;
  }

  // On the far side of the hole, as far from its edge and from the seam as can be.
  double lap_middle() const {
    double best = middle_ + k_pi;
    double clearest = -1.0;
    for (const double turn : {180.0, 150.0, 210.0, 135.0, 225.0, 120.0, 240.0}) {
      const double away = turn / 180.0 * k_pi;
      double least = std::min(away - right_, k_two_pi + left_ - away) - 0.5 * lap_;
      const double seam = of_.piece->seam - middle_;
      least = std::min(least, std::fabs(std::remainder(away - seam, k_two_pi)) - 0.5 * lap_);
      if (least <= clearest + 1e-9) continue;
      clearest = least;
      best = middle_ + away;
    }
    return best;
  }

  void require_room() const {
    const double free = k_two_pi + left_ - right_;  // of the girth beside the hole
    if (2.0 * lap_ <= free) return;
    throw InputError({Problem{{},
                              0,
                              name().first,
                              "lap of a band",
                              trimmed(sheet_.lap, 2) + " mm",
                              fmt::format("at most {} mm", trimmed(0.5 * free * of_.radius(), 2)),
                              "beside its window there is no room for the clamp"}});
  }

  std::pair<std::string, std::string> name() const {
    const bool inches = of_.fitting->units == Units::inch;
    const auto size = [&](double mm) { return trimmed(inches ? mm / 25.4 : mm, 2); };
    const Sheet& branch = of_.joint().lead;
    const double body = 2.0 * of_.wall().sheet.r1();
    const double wide = 2.0 * branch.r1();
    const double angle = std::acos(std::fabs(dot(of_.wall().sheet.frame().z, branch.frame().z)));
    const std::string turned = trimmed(angle * 180.0 / k_pi, 2);
    const auto shown = [&](double mm) { return shop_length(*of_.fitting, mm); };
    return {fmt::format("hole-{}-in-{}-{}", size(wide), size(body), turned),
            fmt::format("hole for {} in {} at {} degrees", shown(wide), shown(body), turned)};
  }

  // Counted on from where the band begins; the hole's middle lies about half a turn on.
  Vec2 flat_place(const Development& flat, Sheet::Place place) const {
    const double turn = std::remainder(place.theta - middle_, k_two_pi);
    double from = std::fmod(middle_ - begins_, k_two_pi);
    if (from < 0.0) from += k_two_pi;
    return flat.point(begins_ + from + turn, place.v);
  }

  Ring window(const Development& flat) const {
    const auto at = [&](double s) {
      const Vec2 p = flat_place(flat, of_.at(s, depth_));
      return FacePair{p, p};
    };
    Ring ring;
    for (const Arc& arc : arcs_of(of_.joint())) {
      const std::vector<double> run = spend_points(at, arc.from, arc.to, {});
      for (std::size_t i = 0; i + 1 < run.size(); ++i) ring.push_back(at(run[i]).duct);
    }
    if (signed_area(ring) > 0.0) std::reverse(ring.begin(), ring.end());
    return ring;
  }

  void add_marks(GuideBand& band, const Development& flat) const {
    Pattern& pattern = band.pattern;
    const auto mark = [&](Vec2 from, Vec2 to, const std::string& words) {
      pattern.marks.push_back({pattern.placement.board(from), pattern.placement.board(to)});
      pattern.mark_names.push_back(words);
    };
    const double inner = of_.liner().inner_depth();
    // on the liner's outer face, from the hole's middle: a place, and the way out square to the edge
    const auto on_liner = [&](double s, double w) {
      const Sheet::Place place = of_.at(s, w);
      return Vec2{of_.radius() * std::remainder(place.theta - middle_, k_two_pi),
                  place.v - 0.5 * (low_ + high_)};
    };
    const auto outward = [&](double s) {
      constexpr double h = 1e-4;
      const Vec2 along = on_liner(s + h, depth_) - on_liner(s - h, depth_);
      const Vec2 square = (1.0 / norm(along)) * Vec2{along.y, -along.x};
      return dot(square, on_liner(s, depth_)) < 0.0 ? -1.0 * square : square;
    };
    constexpr double k_tick = 5.0;
    constexpr double k_long_tick = 14.0;
    const int n = of_.liner().stations;
    for (int i = 0; i < n; ++i) {
      const double s = k_two_pi * i / n;
      const Vec2 edge = flat_place(flat, of_.at(s, depth_));
      const Vec2 out = outward(s);
      mark(edge, edge + k_tick * out, {});
      const Vec2 deeper = on_liner(s, inner) - on_liner(s, depth_);
      const double around = std::remainder(of_.at(s, depth_).theta - begins_, k_two_pi);
      band.stations.push_back({around < 0.0 ? around + k_two_pi : around, pattern.placement.board(edge),
                               std::atan2(-dot(deeper, out), of_.liner().thickness)});
    }
    for (const HoleMark& each : of_.piece->hole_marks) {
      if (each.hole != of_.hole) continue;
      const Vec2 edge = flat_place(flat, of_.at(each.s, depth_));
      mark(edge, edge + k_long_tick * outward(each.s), each.name);
    }
    // the other end comes to lie here
    mark(flat.point(begins_ + lap_, low_), flat.point(begins_ + lap_, high_), "lap");
  }
};

}  // namespace

std::vector<GuideBand> window_bands(const std::vector<Fitting>& fittings, const BandSheet& sheet) {
  std::vector<std::vector<BranchHole>> groups;
  for (const BranchHole& hole : holes_in(fittings)) {
    const auto group = std::find_if(groups.begin(), groups.end(), [&](const std::vector<BranchHole>& one) {
      return alike(one.front(), hole);
    });
    if (group == groups.end())
      groups.push_back({hole});
    else
      group->push_back(hole);
  }
  std::vector<GuideBand> bands;
  for (const std::vector<BranchHole>& group : groups) bands.push_back(WindowMaker(group, sheet).band());
  return bands;
}

double window_error(const GuideBand& band, const std::vector<Fitting>& fittings) {
  const BandUse& use = band.uses.front();
  const Fitting& fitting = fittings.at(use.fitting);
  const auto piece = std::find_if(fitting.pieces.begin(), fitting.pieces.end(),
                                  [&](const Piece& one) { return one.id == use.piece; });
  if (piece == fitting.pieces.end() || band.pattern.cut.holes.empty()) return 1e300;
  const BranchHole hole{&fitting, use.fitting, &*piece, use.hole.value()};
  const double middle = hole.middle();
  const auto on_liner = [&](Sheet::Place place) {
    return Vec2{hole.radius() * std::remainder(place.theta - middle, k_two_pi), place.v};
  };
  constexpr int k_fine = 7200;
  std::vector<Vec2> edge;
  for (int i = 0; i <= k_fine; ++i) edge.push_back(on_liner(hole.at(k_two_pi * i / k_fine, band.depth)));
  const auto away = [](Vec2 p, const std::vector<Vec2>& line) {
    double nearest = 1e300;
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      nearest = std::min(nearest, distance_to_segment(p, line[i], line[i + 1]));
    return nearest;
  };
  std::vector<Vec2> window;
  for (const Vec2 p : band.pattern.cut.holes.front()) window.push_back(on_liner(rolled(band, p)));
  window.push_back(window.front());
  double worst = 0.0;
  for (std::size_t i = 0; i + 1 < window.size(); ++i)
    for (const double share : {0.0, 0.5})
      worst = std::max(worst, away(window[i] + share * (window[i + 1] - window[i]), edge));
  constexpr std::size_t k_every = 20;
  for (std::size_t i = 0; i < edge.size(); i += k_every) worst = std::max(worst, away(edge[i], window));
  return worst;
}

}  // namespace linerwright
