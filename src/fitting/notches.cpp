// A taper from a rectangle: V notches from the small end down to the bend line at the large seam.
#include <algorithm>
#include <cmath>

#include "linerwright/fitting.hpp"

namespace linerwright {

namespace {

const Piece& taper_of(const Fitting& fitting, const NotchedBlank& blank) {
  return fitting.pieces[static_cast<std::size_t>(blank.taper)];
}

const Sheet& sheet_of(const Fitting& fitting, const NotchedBlank& blank) {
  return fitting.walls[static_cast<std::size_t>(taper_of(fitting, blank).wall)].sheet;
}

// On an eccentric taper the developed rulings turn toward each other faster where they stand squarer to the
// ends: each mouth gets its share of the whole closing by the turn of the development over its pitch. 1 on
// average.
double closing_share(const Sheet& sheet, double seam, int notches, int i) {
  if (sheet.offset() == 0.0) return 1.0;
  const auto closing = [&](double from, double to) {
    return integrate(
        [&](double theta) {
          const Sheet::Ruling r = sheet.ruling(theta);
          return std::fabs(dot(r.direction_slope, r.around)) * r.length;
        },
        from, to, 4);
  };
  const double pitch = k_two_pi / notches;
  double whole = 0.0;
  for (int k = 0; k < notches; ++k) whole += closing(seam + k * pitch, seam + (k + 1) * pitch);
  return closing(seam + i * pitch, seam + (i + 1) * pitch) / (whole / notches);
}

}  // namespace

double bend_line(const Fitting& fitting, const NotchedBlank& blank) {
  const Sheet& sheet = sheet_of(fitting, blank);
  return k_two_pi * (std::max(sheet.r1(), sheet.r2()) - fitting.liner.reference_depth()) -
         fitting.liner.fit_allowance;
}

std::vector<Notch> notches_of(const Fitting& fitting, const NotchedBlank& blank) {
  const Sheet& sheet = sheet_of(fitting, blank);
  const double pitch = bend_line(fitting, blank) / blank.notches;
  const double mean_mouth = k_two_pi * std::fabs(sheet.r1() - sheet.r2()) / blank.notches;
  std::vector<Notch> notches;
  for (int i = 0; i < blank.notches; ++i) {
    double centre = (i + 0.5) * pitch;
    if (blank.kerf_pitch > 0.0) centre = blank.kerf_pitch * std::round(centre / blank.kerf_pitch);
    notches.push_back(
        {centre, mean_mouth * closing_share(sheet, taper_of(fitting, blank).seam, blank.notches, i)});
  }
  return notches;
}

double blank_reach(const Fitting& fitting, const NotchedBlank& blank, bool large, double theta, double w) {
  const Piece& taper = taper_of(fitting, blank);
  const Sheet& sheet = sheet_of(fitting, blank);
  const bool large_is_high = sheet.r2() > sheet.r1();
  if (large && blank.collar >= 0) {
    const Piece& collar = fitting.pieces[static_cast<std::size_t>(blank.collar)];
    return std::fabs(end_height(fitting, collar.wall, large_is_high, theta, w));
  }
  const bool high = large == large_is_high;
  const double v = end_height(fitting, taper.wall, high, theta, w);
  const double from_bend = large_is_high ? sheet.ruling(theta).length - v : v;
  return large ? -from_bend : from_bend;
}

}  // namespace linerwright
