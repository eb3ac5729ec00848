#include "notched_division.hpp"

#include <algorithm>
#include <cmath>

#include "branch.hpp"
#include "clearance.hpp"

namespace linerwright {

namespace {

constexpr double k_rounding = 0.01;  // mm by which a blank may be larger than its board
constexpr double k_least_mouth = 1.0;
constexpr double k_least_strip = 10.0;  // mm of board that hold the tabs together

}  // namespace

NotchedDivider::NotchedDivider(const Fitting& fitting, const NotchedBlank& blank, const BoardRoom& room)
    : fitting_(fitting),
      blank_(blank),
      taper_(fitting.piece(blank.taper)),
      sheet_(fitting.wall_of(taper_).sheet),
      room_(room),
      grows_(sheet_.r2() > sheet_.r1()) {
  for (const JointUse& use : fitting.wall_of(taper_).holes)
    taken_.push_back(taken_by(fitting.joint(use.joint)));
  std::sort(taken_.begin(), taken_.end(), [](Taken a, Taken b) { return a.from < b.from; });
  std::size_t kept = 0;
  for (std::size_t i = 1; i < taken_.size(); ++i) {
    if (taken_[i].from <= taken_[kept].to)
      taken_[kept].to = std::max(taken_[kept].to, taken_[i].to);
    else
      taken_[++kept] = taken_[i];
  }
  if (!taken_.empty()) taken_.resize(kept + 1);
  NotchedDivision whole;
  whole.collar = blank.collar.has_value();
  whole.notches = {blank.notches};
  whole.division.seams = {taper_.seam};
  whole.division.edges = {edges(whole, 0)};
  size_ = ring_size(whole, 0).value_or(Vec2{});
}

bool NotchedDivider::fits_whole() const {
  return size_.x <= room_.around + k_rounding && size_.y <= room_.along + k_rounding;
}

NotchedDivider::Taken NotchedDivider::taken_by(const Joint& hole) const {
  constexpr int k_around = 360;
  double low = 1e300;
  double high = -1e300;
  for (const DepthPair& depths : hole_depths(fitting_.liner))
    for (int i = 0; i < k_around; ++i) {
      const double z = sheet_.frame().local_point(point_of(hole, k_two_pi * i / k_around, depths)).z;
      low = std::min(low, z);
      high = std::max(high, z);
    }
  return {(low - k_margin) / sheet_.height(), (high + k_margin) / sheet_.height()};
}

std::optional<double> NotchedDivider::clear_share(double wanted, double low, double high) const {
  std::optional<double> best;
  const auto offer = [&](double share) {
    if (share <= low || share >= high) return;
    if (!best || std::fabs(share - wanted) < std::fabs(*best - wanted)) best = share;
  };
  const auto in = std::find_if(taken_.begin(), taken_.end(),
                               [&](Taken each) { return wanted > each.from && wanted < each.to; });
  if (in == taken_.end()) return wanted;
  offer(in->from);
  offer(in->to);
  return best;
}

// Along a ruling, of the plane at this share of the axis from the first end; of the taper's own ends there.
double NotchedDivider::height(double share, double theta, double w) const {
  if (share <= 0.0) return liner_end(fitting_, taper_.wall, End::low, theta, w);
  if (share >= 1.0) return liner_end(fitting_, taper_.wall, End::high, theta, w);
  return sheet_.v_at_height(theta, share * sheet_.height(), w);
}

NotchedBlank NotchedDivider::ring_blank(const NotchedDivision& division, std::size_t ring) const {
  const std::size_t rings = division.division.rings();
  NotchedBlank made = blank_;
  const double low = ring == 0 ? 0.0 : division.division.cuts[ring - 1];
  const double high = ring + 1 == rings ? 1.0 : division.division.cuts[ring];
  made.large = grows_ ? 1.0 - high : low;
  made.small = grows_ ? 1.0 - low : high;
  made.seam = division.division.seams[ring];
  made.collar = division.collar && large_ring(ring, rings) ? blank_.collar : std::nullopt;
  if (ring < division.notches.size()) made.notches = division.notches[ring];
  return made;
}

// As many as of the whole taper, unless their mouths would be too narrow.
int NotchedDivider::notches_for(const NotchedDivision& division, std::size_t ring) const {
  NotchedBlank blank = ring_blank(division, ring);
  for (blank.notches = blank_.notches; blank.notches >= 2; --blank.notches) {
    double narrowest = k_least_mouth;
    for (const Notch& notch : notches_of(fitting_, blank)) narrowest = std::min(narrowest, notch.mouth);
    if (narrowest >= k_least_mouth) break;
  }
  return blank.notches;
}

// Shares of a turn at which a ring's panels begin: so that each has as many tabs as its neighbours or one
// more or less; half ones, where there are more panels than notches, and so on.
std::vector<double> NotchedDivider::edges(const NotchedDivision& division, std::size_t ring) const {
  const NotchedBlank blank = ring_blank(division, ring);
  const int panels = division.division.panels;
  int units = blank.notches;
  while (units < panels) units *= 2;
  const double line = bend_line(fitting_, blank);
  const std::vector<Notch> notches = notches_of(fitting_, blank);
  std::vector<double> shares;
  for (int p = 0; p < panels; ++p) {
    const int unit = static_cast<int>(static_cast<long>(p) * units / panels);
    double x = line * unit / units;
    // a notch moved onto a kerf takes the seam in it along; a seam in a tab lies on a kerf, too
    const int halves = 2 * blank.notches;
    const bool in_notch = (unit * halves) % units == 0 && (unit * halves / units) % 2 == 1;
    if (in_notch)
      x = notches[static_cast<std::size_t>(unit * halves / units / 2)].centre;
    else if (blank.kerf_pitch > 0.0 && units == blank.notches)
      x = blank.kerf_pitch * std::round(x / blank.kerf_pitch);
    shares.push_back(x / line);
  }
  return shares;
}

// Nothing where too little board would hold the tabs together.
std::optional<Vec2> NotchedDivider::ring_size(const NotchedDivision& division, std::size_t ring) const {
  const NotchedBlank blank = ring_blank(division, ring);
  const double low = grows_ ? 1.0 - blank.small : blank.large;
  const double high = grows_ ? 1.0 - blank.large : blank.small;
  double large = -1e300;
  double small = -1e300;
  double strip = 1e300;
  constexpr int k_steps = 144;
  for (int i = 0; i < k_steps; ++i)
    for (const double w : {0.0, fitting_.liner.thickness}) {
      const double theta = k_two_pi * i / k_steps;
      const double length = sheet_.ruling(theta).length;
      const double bend = (grows_ ? 1.0 - blank.large : blank.large) * length;
      const double above = grows_ ? bend - height(low, theta, w) : height(high, theta, w) - bend;
      const double own = grows_ ? height(high, theta, w) - bend : bend - height(low, theta, w);
      const double below = blank.collar ? blank_reach(fitting_, blank_, true, theta, w) : own;
      large = std::max(large, below);
      strip = std::min(strip, below);
      small = std::max(small, above);
    }
  if (strip + blank.trim < k_least_strip) return std::nullopt;
  const std::vector<double>& begins = division.division.edges[ring];
  double around = 0.0;
  for (std::size_t p = 0; p < begins.size(); ++p)
    around = std::max(around, (p + 1 < begins.size() ? begins[p + 1] : 1.0) - begins[p]);
  return Vec2{around * bend_line(fitting_, blank), large + blank.trim + small};
}

std::optional<NotchedDivision> NotchedDivider::divided(int rings, int panels, bool collar) const {
  NotchedDivision made;
  made.collar = collar;
  made.division.panels = panels;
  made.division.level = true;
  double slant = 1e300;
  for (int i = 0; i < 72; ++i) slant = std::min(slant, sheet_.ruling(k_two_pi * i / 72).length);
  double before = 0.0;
  for (int k = 1; k <= rings; ++k) {
    const double even = static_cast<double>(k) / rings;
    const std::optional<double> cut = k < rings ? clear_share(even, before, 1.0) : even;
    if (!cut) return std::nullopt;
    if (rings > 1 && slant * (*cut - before) < std::max(room_.least, k_shortest_piece) - k_rounding)
      return std::nullopt;
    if (k < rings) made.division.cuts.push_back(*cut);
    before = *cut;
  }
  for (int ring = 0; ring < rings; ++ring) {
    // staggered by half a panel
    const double moved = ring % 2 == 1 ? k_pi / panels : 0.0;
    made.division.seams.push_back(taper_.seam + moved);
    const auto r = static_cast<std::size_t>(ring);
    made.notches.push_back(notches_for(made, r));
    if (made.notches.back() < 2) return std::nullopt;
    made.division.edges.push_back(edges(made, r));
    const std::optional<Vec2> size = ring_size(made, r);
    if (!size || size->x > room_.around + k_rounding || size->y > room_.along + k_rounding)
      return std::nullopt;
    const double line = bend_line(fitting_, ring_blank(made, r));
    for (int p = 0; panels > 1 && p < panels; ++p)
      if (line * made.division.span_of(r, p) / k_two_pi < room_.least) return std::nullopt;
  }
  return made;
}

std::size_t NotchedDivider::collar_pieces() const {
  const Divider divider(fitting_, fitting_.piece(blank_.collar.value()), room_);
  if (divider.fits_whole()) return 1;
  const std::optional<Division> division = divider.find(std::nullopt);
  return division ? division->rings() * static_cast<std::size_t>(division->panels) : 1;
}

// A ruling of an eccentric taper and the one of its collar that begins where it ends part on the way to the
// air face, but for those in the plane of symmetry: no seam runs over both.
bool NotchedDivider::seams_run_on(const NotchedDivision& division) const {
  const Division& made = division.division;
  if (sheet_.offset() == 0.0 || made.panels == 1) return true;
  const std::size_t met = grows_ ? made.rings() - 1 : 0;
  for (int p = 0; p < made.panels; ++p)
    if (std::fabs(std::sin(made.seams[met] + made.begin_of(met, p))) > 1e-9) return false;
  return true;
}

std::optional<NotchedDivision> NotchedDivider::find(std::optional<int> panels) const {
  std::optional<NotchedDivision> best;
  std::size_t fewest = static_cast<std::size_t>(k_most_rings) * k_most_panels + 1;
  int fewest_rings = k_most_rings + 1;
  for (const bool collar : {true, false}) {
    if (collar && !blank_.collar) continue;
    const std::size_t apart = collar || !blank_.collar ? 0 : collar_pieces();
    for (int rings = 1; rings <= k_most_rings; ++rings)
      for (int around = panels.value_or(1); around <= panels.value_or(k_most_panels); ++around) {
        const std::size_t pieces = static_cast<std::size_t>(rings) * static_cast<std::size_t>(around) + apart;
        if (pieces > fewest || (pieces == fewest && rings >= fewest_rings)) break;
        if (collar && around > 2 && sheet_.offset() != 0.0) break;
        std::optional<NotchedDivision> found = divided(rings, around, collar);
        if (!found || (collar && !seams_run_on(*found))) continue;
        fewest = pieces;
        fewest_rings = rings;
        best = std::move(found);
      }
  }
  return best;
}

double NotchedDivider::narrowest_panel(int panels) const {
  NotchedDivision whole;
  whole.collar = blank_.collar.has_value();
  whole.notches = {blank_.notches};
  whole.division.panels = panels;
  whole.division.seams = {taper_.seam};
  whole.division.edges = {edges(whole, 0)};
  double narrowest = k_two_pi;
  for (int p = 0; p < panels; ++p) narrowest = std::min(narrowest, whole.division.span_of(0, p));
  return narrowest / k_two_pi * bend_line(fitting_, blank_);
}

}  // namespace linerwright
