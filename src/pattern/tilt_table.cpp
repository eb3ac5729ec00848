#include "linerwright/pattern/tilt_table.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

double degrees(double radians) {
  return radians * 180.0 / k_pi;
}

std::string length(const Fitting& fitting, double value) {
  return fixed(to_units(Quantity::length, value, fitting.units), fitting.units == Units::inch ? 5 : 4);
}

// Where the blade's lower end lies when the head shows more than its zero.
const char* lower_side(TiltSign sign, Face face_up) {
  if (sign == TiltSign::air_right) return face_up == Face::duct ? "right" : "left";
  return sign == TiltSign::lower_right ? "right" : "left";
}

std::string head_lines(const Fitting& fitting, const LinerSpec& liner, const KnifeHead& head) {
  const auto unit = unit_name(Quantity::length, fitting.units);
  const bool air_up = liner.face_up == Face::air;
  std::string text = fmt::format(
      "# face_up = {}\n# board_{} = {}\n# tilt_sign = {}\n# tilt_zero_deg = {}\n# pivot_height_{} = {}\n"
      "# tilt_limit_deg = {}\n",
      air_up ? "air" : "duct", unit, length(fitting, liner.thickness),
      word_for(k_tilt_sign_choices, head.sign), fixed(degrees(head.zero), 4), unit,
      length(fitting, head.pivot_height), fixed(degrees(head.limit), 4));
  text += fmt::format(
      "# x and y: the blade where it enters the {} face, which is up. heading: degrees from +x toward +y.\n"
      "# tilt above {}: the blade's lower end lies to the {} of the heading with the duct face up; to the {} "
      "with the "
      "air face up.\n"
      "# Between rows x, y, heading and tilt change evenly; at two rows with the same x and y the blade "
      "turns on the "
      "spot.\n"
      "# left: how far the lower end stays from the lower face's contour where no straight blade can follow "
      "it: cut by "
      "hand there. 0: within a tenth of a millimetre.\n",
      air_up ? "air" : "duct", trimmed(degrees(head.zero), 4), lower_side(head.sign, Face::duct),
      lower_side(head.sign, Face::air));
  if (head.pivot_height > 0.0)
    text += "# pivot_x and pivot_y: the head's pivot, on the blade's line above the board.\n";
  return text;
}

// The head's pivot above a row's place, on the blade's line.
Vec2 pivot_of(const KnifeHead& head, Face face_up, const TiltRow& row) {
  const double to_right = std::tan(face_up == Face::air ? -row.tilt : row.tilt);
  return row.at - head.pivot_height * to_right * Vec2{std::sin(row.heading), -std::cos(row.heading)};
}

}  // namespace

KnifeHead knife_head(const Fitting& fitting) {
  const Values& values = fitting.request.values;
  KnifeHead head;
  if (values.has("tilt_sign")) head.sign = chosen(values, "tilt_sign", k_tilt_sign_choices);
  head.zero = values.maybe("tilt_zero").value_or(head.zero);
  head.pivot_height = values.maybe("pivot_height").value_or(head.pivot_height);
  head.limit = values.maybe("tilt_limit").value_or(head.limit);
  return head;
}

double head_reading(const KnifeHead& head, Face face_up, double tilt) {
  const double to_right = face_up == Face::air ? -tilt : tilt;
  return head.zero + (head.sign == TiltSign::air_right     ? tilt
                      : head.sign == TiltSign::lower_right ? to_right
                                                           : -to_right);
}

double tilt_of_reading(const KnifeHead& head, Face face_up, double reading) {
  KnifeHead upright = head;
  upright.zero = 0.0;
  return head_reading(upright, face_up, reading - head.zero);
}

std::string tilt_file(const std::string& stem, int layer) {
  return layer == 0 ? stem + "-tilt.csv" : fmt::format("{}-tilt-layer{}.csv", stem, layer + 1);
}

std::string tilt_csv(const Fitting& fitting, const std::vector<Pattern>& patterns, int layer) {
  const auto unit = unit_name(Quantity::length, fitting.units);
  const KnifeHead head = knife_head(fitting);
  const Face face_up = layer_of(fitting, layer).face_up;
  const bool pivots = head.pivot_height > 0.0;
  std::string text = head_lines(fitting, layer_of(fitting, layer), head);
  text += fmt::format("piece,contour,x_{0},y_{0},heading_deg,tilt_deg,left_{0}", unit);
  text += pivots ? fmt::format(",pivot_x_{0},pivot_y_{0}\n", unit) : "\n";
  for (const Pattern& pattern : patterns)
    for (const TiltRow& row : pattern.layer == layer ? pattern.tilts : std::vector<TiltRow>{}) {
      text +=
          fmt::format("{},{},{},{},{},{},{}", pattern.id, row.contour, length(fitting, row.at.x),
                      length(fitting, row.at.y), fixed(degrees(row.heading), 4),
                      fixed(degrees(head_reading(head, face_up, row.tilt)), 4), length(fitting, row.left));
      const Vec2 pivot = pivot_of(head, face_up, row);
      text += pivots ? fmt::format(",{},{}\n", length(fitting, pivot.x), length(fitting, pivot.y)) : "\n";
    }
  return text;
}

std::vector<std::string> tilt_warnings(const Fitting& fitting, const std::vector<Pattern>& patterns) {
  const KnifeHead head = knife_head(fitting);
  const auto shown = [&](double value) { return format_quantity(Quantity::length, value, fitting.units); };
  const auto place = [&](const TiltRow& row) {
    return fmt::format("at x {}, y {}", shown(row.at.x), shown(row.at.y));
  };
  std::string leans;
  std::string left;
  const auto add = [](std::string& list, const std::string& entry) {
    list += (list.empty() ? "" : "; ") + entry;
  };
  for (const Pattern& pattern : patterns) {
    if (pattern.max_tilt > head.limit + 1e-9) {
      const auto row = std::max_element(
          pattern.tilts.begin(), pattern.tilts.end(),
          [](const TiltRow& a, const TiltRow& b) { return std::fabs(a.tilt) < std::fabs(b.tilt); });
      add(leans, fmt::format("{} degrees on {} ({})", trimmed(degrees(std::fabs(row->tilt)), 1), pattern.id,
                             place(*row)));
    }
    if (pattern.not_cut > 0.0) {
      const auto row = std::max_element(pattern.tilts.begin(), pattern.tilts.end(),
                                        [](const TiltRow& a, const TiltRow& b) { return a.left < b.left; });
      add(left, fmt::format("up to {} of {} ({})", shown(pattern.not_cut), pattern.id, place(*row)));
    }
  }
  // where the lean is over 45 degrees, what a square cut leaves is more than the board is thick
  std::string square;
  for (const Pattern& pattern : patterns) {
    if (pattern.is_blank) continue;
    const double thick = liner_of(fitting, pattern).thickness * (1.0 + 1e-9);
    const auto note = [&](double mm, const char* what) {
      if (mm > thick) add(square, fmt::format("{} of {} on {}", what, shop_length(fitting, mm), pattern.id));
    };
    note(pattern.gap_square, "a gap");
    note(pattern.overlap_square, "an overlap");
  }
  std::vector<std::string> warnings;
  if (!square.empty())
    warnings.push_back("cut square to the board, edges leave more than the board is thick: " + square);
  if (!leans.empty())
    warnings.push_back(fmt::format("a tilting head leans over tilt_limit of {} degrees: {}",
                                   trimmed(degrees(head.limit), 1), leans));
  if (!left.empty())
    warnings.push_back("no straight blade follows both faces; of the lower one is left to cut by hand " +
                       left);
  return warnings;
}

}  // namespace linerwright
