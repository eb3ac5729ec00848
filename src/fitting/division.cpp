#include "division.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace linerwright {

namespace {

// How rings lie against another layer's joints: even ones whose cuts move off the nearer way, down or up; or
// the first and the last of half the others' length.
constexpr int k_down = 1;
constexpr int k_up = 2;
constexpr int k_halved = 3;
constexpr int k_spreads = 4;
constexpr double k_rounding = 0.01;  // mm by which a piece may be larger than its board
constexpr double k_unlimited = std::numeric_limits<double>::infinity();

}  // namespace

Divider::Divider(const Fitting& fitting, const Piece& piece, const BoardRoom& room)
    : fitting_(fitting),
      piece_(piece),
      wall_(fitting.wall_of(piece)),
      room_(room),
      flat_(wall_.sheet, fitting.liner.reference_depth(), fit_scale(fitting, piece.wall), piece.seam),
      low_most_(-k_unlimited),
      high_least_(k_unlimited),
      low_least_(k_unlimited),
      high_most_(-k_unlimited) {
  for (const JointUse& use : wall_.holes) holes_.push_back(extent_of(use));
  constexpr int k_steps = 72;
  for (int i = 0; i < k_steps; ++i)
    for (const double w : fitting.liner.faces()) {
      const double theta = k_two_pi * i / k_steps;
      low_most_ = std::max(low_most_, end(End::low, theta, w));
      high_least_ = std::min(high_least_, end(End::high, theta, w));
      low_least_ = std::min(low_least_, end(End::low, theta, w));
      high_most_ = std::max(high_most_, end(End::high, theta, w));
      low_mean_ += end(End::low, theta, w) / (2.0 * k_steps);
      high_mean_ += end(End::high, theta, w) / (2.0 * k_steps);
    }
  // the metal's wall is cut at the same places, and a mitre may reach further along its outside
  const double past = k_shortest_piece - std::max(room_.least, k_shortest_piece);
  for (int i = 0; i < k_steps; ++i) {
    const double theta = k_two_pi * i / k_steps;
    low_most_ =
        std::max(low_most_, shell_end(fitting, piece.wall, End::low, theta, -fitting.liner.gauge) + past);
    high_least_ =
        std::min(high_least_, shell_end(fitting, piece.wall, End::high, theta, -fitting.liner.gauge) - past);
  }
}

double Divider::end(End end, double theta, double w) const {
  return liner_end(fitting_, piece_.wall, end, theta, w);
}

std::vector<std::size_t> Divider::holes_in(const Division& division, std::size_t ring) const {
  const double low = ring == 0 ? -k_unlimited : division.cuts[ring - 1];
  const double high = ring + 1 == division.rings() ? k_unlimited : division.cuts[ring];
  std::vector<std::size_t> found;
  for (std::size_t h = 0; h < holes_.size(); ++h)
    if (division.level ? level_between(holes_[h], low, high) : holes_[h].low > low && holes_[h].high < high)
      found.push_back(h);
  return found;
}

std::optional<Division> Divider::find(std::optional<int> panels) const {
  std::optional<Division> best;
  std::size_t fewest = std::numeric_limits<std::size_t>::max();
  const int least = panels.value_or(1);
  const int most = panels.value_or(k_most_panels);
  // no fewer boards than hold the piece's area at its smaller end
  const double radius = std::min(wall_.sheet.r1(), wall_.sheet.r2()) - fitting_.liner.inner_depth();
  const double area = k_two_pi * radius * std::max(0.0, high_least_ - low_most_);
  const int spreads = room_.other_joints.empty() || room_.full_rings ? 1 : k_spreads;
  for (int rings = 1; rings <= k_most_rings; ++rings)
    for (int around = least; around <= most; ++around) {
      const auto pieces = static_cast<std::size_t>(rings) * static_cast<std::size_t>(around);
      if (pieces >= fewest) break;
      if (static_cast<double>(pieces) * room_.along * room_.around < area) continue;
      for (int spread = 0; spread < spreads && pieces < fewest; ++spread) {
        Division division;
        division.panels = around;
        const bool placed =
            room_.full_rings ? place_full_rings(rings, &division) : place_cuts(rings, spread, &division);
        if (!placed || !may_fit_along(division) || !place_seams(&division) || !fits(division)) continue;
        fewest = pieces;
        best = std::move(division);
      }
    }
  // a hole may leave no room for the seams of equal panels
  for (int rings = 1; !best && !panels && !holes_.empty() && rings <= k_most_rings; ++rings) {
    Division division;
    if (place_cuts(rings, 0, &division) && may_fit_along(division) && place_uneven(&division) &&
        fits(division))
      best = std::move(division);
  }
  // or for the cuts between even rings; and rings that end on a mitre or saddle reach further than others
  if (!best && !room_.full_rings) best = find_uneven(panels);
  return best;
}

// Moves a cut off another layer's joints: to the nearer side of one, or always down or up.
bool Divider::clears_other_joints(double& cut, int spread) const {
  const double away = room_.least;
  for (const double joint : room_.other_joints) {
    if (std::fabs(cut - joint) >= away) continue;
    const bool down = spread == k_down || (spread != k_up && cut < joint);
    cut = down ? joint - away : joint + away;
  }
  return is_clear_of_joints(cut);
}

bool Divider::is_clear_of_joints(double cut) const {
  return std::all_of(room_.other_joints.begin(), room_.other_joints.end(),
                     [&](double joint) { return std::fabs(cut - joint) >= room_.least - 1e-9; });
}

// Even rings, as far as a saddle or mitre at an end leaves their shortest rulings long enough; a cut that
// would meet a hole goes to the nearer side of it.
bool Divider::place_cuts(int rings, int spread, Division* division) const {
  const double shortest = std::max(room_.least, k_shortest_piece);
  for (int k = 1; k < rings; ++k) {
    const double share = spread == k_halved && rings > 1 ? (k - 0.5) / (rings - 1.0) : 1.0 * k / rings;
    double cut = low_mean_ + (high_mean_ - low_mean_) * share + room_.off_middle;
    const double before = division->cuts.empty() ? low_most_ : division->cuts.back();
    cut = std::min(std::max(cut, before + shortest), high_least_ - shortest * (rings - k));
    for (const HoleExtent& hole : holes_) {
      const double below = hole.low - k_cut_clear;
      const double above = hole.high + k_cut_clear;
      if (cut > below && cut < above) cut = cut - below < above - cut ? below : above;
    }
    if (!clears_other_joints(cut, spread) || !cut_is_clear(cut)) return false;
    if (cut - before < shortest - 1e-9 || high_least_ - cut < shortest - 1e-9) return false;
    division->cuts.push_back(cut);
  }
  return true;
}

// Every cut as far on as the board and what comes after allow. From behind, stretches of the wall are found
// from which so many rings reach its end: those from which one ring reaches such a stretch, without what lies
// too near a joint.
bool Divider::place_full_rings(int rings, Division* division) const {
  const LinerSpec& liner = fitting_.liner;
  const double shortest = std::max(room_.least, k_shortest_piece);
  const auto longest = [&](int ring) {
    const double first = ring == 0 ? liner.end_allowance : liner.butt_allowance;
    const double last = ring + 1 == rings ? liner.end_allowance : liner.butt_allowance;
    return room_.along - first - last;
  };
  // without a cut it is as high as it is
  if (rings == 1) return true;
  std::vector<std::vector<Stretch>> from{{{high_least_, high_least_}}};  // from.back(): before the last rings
  for (int ring = rings - 1; ring > 0; --ring) {
    std::vector<Stretch> before;
    for (const Stretch& stretch : from.back())
      if (longest(ring) >= shortest) before.push_back({stretch.low - longest(ring), stretch.high - shortest});
    from.push_back(where_cuts_may_lie(before));
  }
  double at = low_most_;
  for (int ring = 0; ring < rings; ++ring) {
    double next = -k_unlimited;
    for (const Stretch& stretch : from[static_cast<std::size_t>(rings - 1 - ring)]) {
      const double most = std::min(stretch.high, at + longest(ring));
      if (most >= std::max(stretch.low, at + shortest) - 1e-9) next = std::max(next, most);
    }
    if (next == -k_unlimited) return false;
    if (ring + 1 < rings) division->cuts.push_back(next);
    at = next;
  }
  return true;
}

// What is left of stretches when those nearer than `least` to a joint, and those at a hole or beside one, are
// taken out.
std::vector<Divider::Stretch> Divider::where_cuts_may_lie(std::vector<Stretch> stretches) const {
  std::sort(stretches.begin(), stretches.end(),
            [](const Stretch& a, const Stretch& b) { return a.low < b.low; });
  std::vector<Stretch> joined;
  for (const Stretch& stretch : stretches)
    if (!joined.empty() && stretch.low <= joined.back().high)
      joined.back().high = std::max(joined.back().high, stretch.high);
    else
      joined.push_back(stretch);
  stretches = std::move(joined);
  const auto take_out = [&](double low, double high) {
    std::vector<Stretch> left;
    for (const Stretch& stretch : stretches) {
      const Stretch below{stretch.low, std::min(stretch.high, low)};
      const Stretch above{std::max(stretch.low, high), stretch.high};
      for (const Stretch& each : {below, above})
        if (each.low <= each.high) left.push_back(each);
    }
    stretches = std::move(left);
  };
  for (const double joint : room_.other_joints) take_out(joint - room_.least, joint + room_.least);
  for (const HoleExtent& hole : holes_) take_out(hole.low - k_cut_clear, hole.high + k_cut_clear);
  return stretches;
}

// Whether a cut leaves board beside every hole.
bool Divider::cut_is_clear(double cut) const {
  return std::none_of(holes_.begin(), holes_.end(), [&](const HoleExtent& hole) {
    return cut > hole.low - 0.999 * k_cut_clear && cut < hole.high + 0.999 * k_cut_clear;
  });
}

// Room on the body's duct face, mm, between the nearest hole of a ring and a seam if its first panel begins
// at `start`.
double Divider::clearance(const Division& division, std::size_t ring, double start) const {
  double least = k_unlimited;
  for (const std::size_t h : holes_in(division, ring))
    for (int p = 0; p < division.panels_in(ring); ++p)
      least = std::min(
          least, std::fabs(std::remainder(start + division.begin_of(ring, p) - holes_[h].middle, k_two_pi)) -
                     holes_[h].half_width);
  return least * wall_.sheet.r1();
}

// Where a ring's seams may lie: where they usually do, and steps from there on, as far as holes leave room.
std::vector<Divider::Start> Divider::starts_of(const Division& division, std::size_t ring) const {
  constexpr int k_tries = 72;
  const double span = division.span(ring);
  const double usual = piece_.seam + (ring % 2 == 1 ? 0.5 * span : 0.0);
  const double most = k_two_pi * wall_.sheet.r1();
  std::vector<Start> starts;
  for (int i = 0; i < k_tries; ++i) {
    const double start = usual + span * i / k_tries;
    const double room = clearance(division, ring, start);
    if (room >= k_cut_clear) starts.push_back({start, i == 0 ? 2.0 * most : std::min(room, most), i == 0});
  }
  return starts;
}

// Least way around between the seams of a ring and of the one before it, mm.
double Divider::stagger(const Division& division, std::size_t ring, double before, double start) const {
  double least = k_two_pi;
  const int panels = division.panels_in(ring);
  for (int p = 0; p < panels; ++p)
    least = std::min(
        least, std::fabs(std::remainder(start + division.span(ring) * p - before, division.span(ring - 1))));
  return least * std::min(wall_.sheet.r1(), wall_.sheet.r2());
}

// Each ring's seams lie where they usually do, staggered by half a panel, or, where a hole is in the way, at
// one of the places that clear it: of all choices the one whose least stagger between neighbours is largest,
// up to `k_enough` of a panel, and of those the one that moves fewest seams and clears the holes most.
bool Divider::place_seams(Division* division) const {
  constexpr double k_enough = 0.25;
  const double radius = std::min(wall_.sheet.r1(), wall_.sheet.r2());
  const double enough = k_enough * k_two_pi / division->most_panels() * radius;
  std::vector<std::vector<Start>> starts;
  for (std::size_t ring = 0; ring < division->rings(); ++ring) {
    starts.push_back(starts_of(*division, ring));
    if (starts.back().empty()) return false;
  }
  if (division->around.empty() &&
      std::all_of(starts.begin(), starts.end(), [](const auto& ring) { return ring.front().usual; })) {
    for (const std::vector<Start>& ring : starts) division->seams.push_back(ring.front().at);
    return true;
  }
  // best least stagger of the rings so far that ends with each start, and then the most room at that stagger
  const auto ways = [&](const auto& score) {
    std::vector<std::vector<Way>> table;
    for (std::size_t ring = 0; ring < starts.size(); ++ring) {
      table.emplace_back();
      for (const Start& start : starts[ring]) {
        Way best{ring == 0 ? score(k_unlimited, start, k_unlimited) : -k_unlimited, 0};
        for (std::size_t before = 0; ring > 0 && before < starts[ring - 1].size(); ++before) {
          const double apart = stagger(*division, ring, starts[ring - 1][before].at, start.at);
          const double value = score(table[ring - 1][before].score, start, apart);
          if (value > best.score) best = {value, before};
        }
        table.back().push_back(best);
      }
    }
    return table;
  };
  const auto best_of = [](const std::vector<Way>& last) {
    return static_cast<std::size_t>(
        std::max_element(last.begin(), last.end(),
                         [](const Way& a, const Way& b) { return a.score < b.score; }) -
        last.begin());
  };
  const auto least = ways(
      [&](double before, const Start&, double apart) { return std::min(before, std::min(apart, enough)); });
  const double reached = std::min(least.back()[best_of(least.back())].score, enough);
  if (reached < std::min(k_cut_clear, enough)) return false;
  const auto table = ways([&](double before, const Start& start, double apart) {
    if (apart < reached - 1e-9) return -k_unlimited;
    return (before == k_unlimited ? 0.0 : before) + start.room;
  });
  division->seams.assign(starts.size(), 0.0);
  std::size_t at = best_of(table.back());
  for (std::size_t ring = starts.size(); ring-- > 0;) {
    division->seams[ring] = starts[ring][at].at;
    at = table[ring][at].before;
  }
  return true;
}

std::vector<double> Divider::heights(const Division& division) const {
  std::vector<double> heights;
  for (const double cut : division.cuts) heights.push_back(cut - low_mean_);
  heights.push_back(mean_length());
  return heights;
}

bool Divider::has_square_ends() const {
  constexpr double k_square = 1e-9;  // mm
  return wall_.sheet.is_cylinder() && std::fabs(low_most_ - low_mean_) < k_square &&
         std::fabs(high_least_ - high_mean_) < k_square;
}

std::vector<StretchOfHole> Divider::hole_stretches() const {
  std::vector<StretchOfHole> stretches;
  for (const HoleExtent& hole : holes_) {
    const double share = (hole.half_width + k_cut_clear / wall_.sheet.r1()) / k_pi;
    stretches.push_back({hole.low - k_cut_clear - low_mean_, hole.high + k_cut_clear - low_mean_,
                         std::min(1.0, share) * size().x});
  }
  return stretches;
}

double Divider::seam_room(double seam) const {
  return clearance(whole(), 0, seam);
}

double Divider::narrowest_panel(int panels) const {
  Division division{{}, panels, {piece_.seam}};
  double narrowest = k_unlimited;
  for (int p = 0; p < panels; ++p) narrowest = std::min(narrowest, size_of(division, 0, p).x);
  return narrowest;
}

// What a ring of so many is left over at an end.
double Divider::extra_board(std::size_t rings, std::size_t ring, End end) const {
  const bool outer = end == End::high ? ring + 1 == rings : ring == 0;
  const bool open = outer && fitting_.joint(wall_.use(end).joint).open();
  return open ? fitting_.liner.end_allowance : fitting_.liner.butt_allowance;
}

// Around and along, on the board, of one panel laid down as a pattern is, its middle ruling upright.
Vec2 Divider::size_of(const Division& division, std::size_t ring, int panel) const {
  const LinerSpec& liner = fitting_.liner;
  const double start = division.seams[ring] + division.begin_of(ring, panel);
  const double span = division.span_of(ring, panel);
  const double lean = flat_.lean(start + 0.5 * span);
  const auto extra = [&](End end) { return extra_board(division.rings(), ring, end); };
  Vec2 least{k_unlimited, k_unlimited};
  Vec2 most{-k_unlimited, -k_unlimited};
  const int steps = std::max(8, 144 / division.panels_in(ring));
  for (int i = 0; i <= steps; ++i)
    for (const double w : liner.faces()) {
      const double theta = start + span * i / steps;
      const double low = ring == 0 ? end(End::low, theta, w) : division.cuts[ring - 1];
      const double high = ring + 1 == division.rings() ? end(End::high, theta, w) : division.cuts[ring];
      for (const double v : {low - extra(End::low), high + extra(End::high)}) {
        const Vec2 p = flat_.point(theta, v);
        const Vec2 upright{std::cos(lean) * p.x - std::sin(lean) * p.y,
                           std::sin(lean) * p.x + std::cos(lean) * p.y};
        least = {std::min(least.x, upright.x), std::min(least.y, upright.y)};
        most = {std::max(most.x, upright.x), std::max(most.y, upright.y)};
      }
    }
  return most - least;
}

// A ring that ends on one cut at least is as high as its highest ruling, wherever its seams lie.
bool Divider::may_fit_along(const Division& division) const {
  const std::size_t rings = division.rings();
  if (!wall_.sheet.is_cylinder() || rings == 1) return true;
  for (std::size_t ring = 0; ring < rings; ++ring) {
    const double low = ring == 0 ? low_least_ : division.cuts[ring - 1];
    const double high = ring + 1 == rings ? high_most_ : division.cuts[ring];
    if (high - low + extra_board(rings, ring, End::low) + extra_board(rings, ring, End::high) >
        room_.along + k_rounding)
      return false;
  }
  return true;
}

bool Divider::fits(const Division& division) const {
  for (std::size_t ring = 0; ring < division.rings(); ++ring)
    for (int p = 0; p < division.panels_in(ring); ++p) {
      const Vec2 size = size_of(division, ring, p);
      if (size.x > room_.around + k_rounding || size.y > room_.along + k_rounding) return false;
      if (division.panels_in(ring) > 1 && size.x < room_.least) return false;
    }
  return true;
}

}  // namespace linerwright
