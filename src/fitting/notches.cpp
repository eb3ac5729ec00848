// A taper from a rectangle: V notches from the small end down to the bend line at the large seam.
#include <algorithm>
#include <cmath>
#include <limits>

#include "common.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

namespace {

const Piece& taper_of(const Fitting& fitting, const NotchedBlank& blank) {
  return fitting.piece(blank.taper);
}

const Sheet& sheet_of(const Fitting& fitting, const NotchedBlank& blank) {
  return fitting.wall(taper_of(fitting, blank).wall).sheet;
}

double radius_at(const Sheet& sheet, double share) {
  const double large = std::max(sheet.r1(), sheet.r2());
  return large - share * std::fabs(sheet.r1() - sheet.r2());
}

// On an eccentric taper the developed rulings turn toward each other faster where they stand squarer to the
// ends: each mouth gets its share of the whole closing by the turn of the development over its pitch. 1 on
// average.
std::vector<double> closing_shares(const Sheet& sheet, double seam, int notches) {
  std::vector<double> shares(static_cast<std::size_t>(notches), 1.0);
  if (sheet.offset() == 0.0) return shares;
  const double pitch = k_two_pi / notches;
  double whole = 0.0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const double from = seam + static_cast<double>(i) * pitch;
    shares[i] = integrate(
        [&](double theta) {
          const Sheet::Ruling r = sheet.ruling(theta);
          return std::fabs(dot(r.direction_slope, r.around)) * r.length;
        },
        from, from + pitch, 4);
    whole += shares[i];
  }
  for (double& share : shares) share *= notches / whole;
  return shares;
}

constexpr double k_same_place = 1e-6;  // mm along the bend line

double narrowest_between(const std::vector<Notch>& notches, double line) {
  double narrowest = line;
  double from = 0.0;
  for (const Notch& notch : notches) {
    narrowest = std::min(narrowest, notch.centre - 0.5 * notch.mouth - from);
    from = notch.centre + 0.5 * notch.mouth;
  }
  return std::min(narrowest, line - from);
}

// The notches as wide as they are where the tabs end: a steep taper's air face reaches farther than its duct
// face, whose mouths are counted, and the tabs go on narrowing up to there.
std::vector<Notch> at_tabs_ends(const Fitting& fitting, const NotchedBlank& blank,
                                std::vector<Notch> notches) {
  const double line = bend_line(fitting, blank);
  for (Notch& notch : notches) {
    const double theta = blank.seam + k_two_pi * notch.centre / line;
    const double duct = blank_reach(fitting, blank, false, theta, 0.0);
    for (const double w : fitting.liner.faces())
      notch.mouth = std::max(notch.mouth, notch.mouth * blank_reach(fitting, blank, false, theta, w) / duct);
  }
  return notches;
}

// Moves each notch onto a kerf: the nearest one, or where these leave no tabs between, those that do and take
// the least moving, squared. Where there are none such, the nearest ones stay. `even` are the notches before,
// as wide as at the tabs' ends.
void move_onto_kerfs(std::vector<Notch>& notches, const std::vector<Notch>& even, double pitch, double line) {
  std::vector<Notch> nearest = even;
  for (std::size_t i = 0; i < even.size(); ++i)
    notches[i].centre = nearest[i].centre = pitch * std::round(even[i].centre / pitch);
  if (narrowest_between(nearest, line) >= k_least_tab) return;
  const auto kerfs = static_cast<std::size_t>(line / pitch) + 1;
  // least moving of the notches so far with the last of them on each kerf, and where the one before it is
  // then
  struct Way {
    double moved = std::numeric_limits<double>::infinity();
    std::size_t before = 0;
  };
  std::vector<std::vector<Way>> ways;
  for (std::size_t i = 0; i < even.size(); ++i) {
    ways.emplace_back(kerfs);
    Way least;  // of those kerfs for the notch before from which there is room for a tab
    for (std::size_t k = 0, next = 0; k < kerfs; ++k) {
      const double at = pitch * static_cast<double>(k);
      const double half = 0.5 * even[i].mouth;
      const double begin = at - half - k_least_tab;
      if (i == 0) least.moved = begin >= 0.0 ? 0.0 : least.moved;
      for (; i > 0 && pitch * static_cast<double>(next) + 0.5 * even[i - 1].mouth <= begin; ++next)
        if (ways[i - 1][next].moved < least.moved) least = {ways[i - 1][next].moved, next};
      if (i + 1 == notches.size() && line - at - half < k_least_tab) continue;
      const double moved = at - even[i].centre;
      ways[i][k] = {least.moved + moved * moved, least.before};
    }
  }
  std::size_t at = 0;
  for (std::size_t k = 0; k < kerfs; ++k)
    if (ways.back()[k].moved < ways.back()[at].moved) at = k;
  if (!std::isfinite(ways.back()[at].moved)) return;
  for (std::size_t i = notches.size(); i-- > 0; at = ways[i][at].before)
    notches[i].centre = pitch * static_cast<double>(at);
}

}  // namespace

const NotchedBlank* notched_with(const Fitting& fitting, int piece) {
  const auto found =
      std::find_if(fitting.notched.begin(), fitting.notched.end(),
                   [&](const NotchedBlank& blank) { return blank.taper == piece || blank.collar == piece; });
  return found == fitting.notched.end() ? nullptr : &*found;
}

double bend_radius(const Fitting& fitting, const NotchedBlank& blank) {
  return radius_at(sheet_of(fitting, blank), blank.large);
}

double small_radius(const Fitting& fitting, const NotchedBlank& blank) {
  return radius_at(sheet_of(fitting, blank), blank.small);
}

double bend_line(const Fitting& fitting, const NotchedBlank& blank) {
  return k_two_pi * (bend_radius(fitting, blank) - fitting.liner.reference_depth()) -
         fitting.liner.fit_allowance;
}

std::vector<Notch> notches_of(const Fitting& fitting, const NotchedBlank& blank) {
  const double pitch = bend_line(fitting, blank) / blank.notches;
  const double mean_mouth =
      k_two_pi * (bend_radius(fitting, blank) - small_radius(fitting, blank)) / blank.notches;
  std::vector<Notch> notches;
  for (const double share : closing_shares(sheet_of(fitting, blank), blank.seam, blank.notches)) {
    const double centre = (static_cast<double>(notches.size()) + 0.5) * pitch;
    notches.push_back({centre, mean_mouth * share});
  }
  if (blank.kerf_pitch > 0.0)
    move_onto_kerfs(notches, at_tabs_ends(fitting, blank, notches), blank.kerf_pitch,
                    bend_line(fitting, blank));
  return notches;
}

double narrowest_tab(const Fitting& fitting, const NotchedBlank& blank) {
  return narrowest_between(at_tabs_ends(fitting, blank, notches_of(fitting, blank)),
                           bend_line(fitting, blank));
}

NotchedLayout layout_of(const Fitting& fitting, const NotchedBlank& blank) {
  const Piece& taper = taper_of(fitting, blank);
  const double whole = bend_line(fitting, blank);
  const std::vector<Notch> all = notches_of(fitting, blank);
  if (taper.full_turn()) return {whole, 0.0, all, 0.0, 0.0};
  double turn = std::fmod(taper.seam - blank.seam, k_two_pi);
  if (turn < -1e-9) turn += k_two_pi;
  NotchedLayout layout{whole * taper.span / k_two_pi, whole * std::max(0.0, turn) / k_two_pi, {}, 0.0, 0.0};
  const double last = layout.at + layout.width;
  for (const Notch& notch : all) {
    if (std::fabs(notch.centre - layout.at) <= k_same_place)
      layout.first_shift = 0.5 * notch.mouth;
    else if (std::fabs(notch.centre - last) <= k_same_place)
      layout.last_shift = -0.5 * notch.mouth;
    else if (notch.centre > layout.at && notch.centre < last)
      layout.notches.push_back({notch.centre - layout.at, notch.mouth});
  }
  return layout;
}

double small_place(const NotchedLayout& layout, double x, bool after) {
  double from = 0.0;
  double left = layout.first_shift;
  for (const Notch& notch : layout.notches) {
    const bool before = after ? x < notch.centre - k_same_place : x <= notch.centre + k_same_place;
    if (before) {
      const double right = notch.centre - 0.5 * notch.mouth;
      return left + (x - from) / (notch.centre - from) * (right - left);
    }
    from = notch.centre;
    left = notch.centre + 0.5 * notch.mouth;
  }
  return left + (x - from) / (layout.width - from) * (layout.width + layout.last_shift - left);
}

double blank_reach(const Fitting& fitting, const NotchedBlank& blank, bool large, double theta, double w) {
  const Piece& taper = taper_of(fitting, blank);
  const Sheet& sheet = sheet_of(fitting, blank);
  const End wide = sheet.r2() > sheet.r1() ? End::high : End::low;
  if (large && blank.collar) {
    const Piece& collar = fitting.piece(*blank.collar);
    return std::fabs(liner_end(fitting, collar.wall, wide, theta, w));
  }
  const double v = liner_end(fitting, taper.wall, large ? wide : opposite(wide), theta, w);
  const double length = sheet.ruling(theta).length;
  const double from_bend = wide == End::high ? (1.0 - blank.large) * length - v : v - blank.large * length;
  return large ? -from_bend : from_bend;
}

}  // namespace linerwright
