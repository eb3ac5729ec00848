// Offsets (S-pieces): two equal bends, gored or pressed smooth, that turn against each other, with a straight
// way between them.
#include <fmt/format.h>

#include <cmath>

#include "bend.hpp"
#include "gores.hpp"
#include "hold_back.hpp"

namespace linerwright {

namespace {

// Two bends of centreline radius rho and angle A with L between them, bent in one plane, carry the duct
// sideways by H = 2 rho (1 - cos A) + L sin A over X = 2 rho sin A + L cos A. X^2 + (2 rho - H)^2 = L^2 + (2
// rho)^2 gives L from the two, and H / (X + L) = tan(A/2) the angle.
struct Way {
  double offset;   // H
  double length;   // X, without collars
  double angle;    // A
  double between;  // L; negative where the bends run into one another's tangents
};

double centreline_of(const FittingRequest& request) {
  return request.values.maybe("centreline_radius")
      .value_or(request.values.quantity("radius_ratio") * request.values.quantity("diameter"));
}

// The true offset of a rolling offset, from its rise and its roll.
double offset_of(const Values& values, Reasons& reasons) {
  const bool rolls = values.has("rise") || values.has("roll");
  if (values.has("offset") == rolls)
    reasons.add("offset", "offset, or rise and roll", "says how far the duct is carried sideways");
  return rolls ? std::hypot(values.maybe("rise").value_or(0.0), values.maybe("roll").value_or(0.0))
               : values.maybe("offset").value_or(0.0);
}

Way read_way(const FittingRequest& request, Reasons& reasons) {
  const Values& values = request.values;
  const double rho = centreline_of(request);
  Way way{offset_of(values, reasons), 0.0, 0.0, 0.0};
  if (values.has("angle") == values.has("length")) {
    reasons.add("length", "one of length and angle", "the offset and one of the two set the other");
    return way;
  }
  const double h = way.offset;
  if (const auto angle = values.maybe("angle")) {
    way.angle = *angle;
    way.between = (h - 2.0 * rho * (1.0 - std::cos(*angle))) / std::sin(*angle);
    constexpr double k_none = 1e-6;  // mm: a cylinder so short is rounding, and no face for the kernel
    if (std::fabs(way.between) < k_none) way.between = 0.0;
    way.length = 2.0 * rho * std::sin(*angle) + way.between * std::cos(*angle);
    return way;
  }
  way.length = *values.maybe("length");
  const double square = way.length * way.length + h * h - 4.0 * rho * h;
  if (square < 0.0) {
    reasons.add("length", "at least " + reasons.length(std::sqrt(h * (4.0 * rho - h))),
                "two bends of this radius do not fit into it, even with nothing between them");
    return way;
  }
  way.between = std::sqrt(square);
  way.angle = 2.0 * std::atan2(h, way.length + way.between);
  return way;
}

// The largest gores inside two pressed bends of section radius R on the centreline radius rho. The piece
// between the bends is one cylinder, mitred against gores on both sides, so it and all of them lie about the
// metal's own axis: as wide as the heel leaves room on the mitre planes, (rho + R') / cos a = rho + R.
Bend inside_pressed(const Bend& metal) {
  Bend gores = metal;
  gores.radius = (metal.centreline + metal.radius) * std::cos(metal.mitre()) - metal.centreline;
  return gores;
}

// The gap is widest in the throat on the mitre planes: (rho - R') / cos a - (rho - R) = 2 rho (1 / cos a -
// 1).
double gap_behind(const Bend& metal) {
  return 2.0 * metal.centreline * (1.0 / std::cos(metal.mitre()) - 1.0);
}

// The axes turn by A toward +x, then back; ruling 0 lies on one side of the whole fitting: the first bend's
// throat, the second's heel.
GoreRow gores_of(const Bend& bend, double metal_radius, const Way& way) {
  const double a = bend.mitre();
  const double rho = bend.centreline;
  const double reach = rho * std::tan(a);
  const auto along = [](double turn) { return Vec3{std::sin(turn), 0.0, std::cos(turn)}; };
  const auto toward = [](double turn) { return Vec3{std::cos(turn), 0.0, -std::sin(turn)}; };
  const Vec3 first{rho, 0.0, 0.0};
  const Vec3 from = first - rho * toward(bend.angle);
  const Vec3 second = from + way.between * along(bend.angle) - rho * toward(bend.angle);
  GoreRow row{bend.radius, 2.0 * metal_radius, {}, {}, true};
  const auto add = [&](double turn, Vec3 origin, const char* role, double below, double above,
                       bool of_first) {
    row.gores.push_back({frame_along(origin, along(turn), toward(turn)), role, below, above,
                         of_first ? "throat" : "heel", of_first ? "heel" : "throat"});
  };
  const int last = bend.pieces - 1;
  for (int i = 0; i < last; ++i) {
    add(2.0 * a * i, first - rho * toward(2.0 * a * i), i == 0 ? "end piece" : "middle piece",
        i == 0 ? bend.collar : reach, reach, true);
    row.mitres.push_back({first, along(2.0 * a * i + a)});
  }
  const double half = 0.5 * way.between;
  add(bend.angle, from + half * along(bend.angle), "piece between the bends", half + reach, half + reach,
      true);
  row.gores.back().at_zero = "throat of the first bend";
  row.gores.back().at_half_turn = "throat of the second bend";
  for (int i = 1; i <= last; ++i) {
    const double turn = bend.angle - 2.0 * a * i;
    row.mitres.push_back({second, along(turn + a)});
    add(turn, second + rho * toward(turn), i == last ? "end piece" : "middle piece", reach,
        i == last ? bend.collar : reach, false);
  }
  return row;
}

void require_between(Reasons& reasons, const Bend& bend, const Way& way, bool smooth) {
  if (smooth && way.between < 0.0) {
    reasons.add("offset", "a larger offset, a smaller angle or a tighter bend",
                fmt::format("the two pressed bends would overlap by {}", reasons.length(-way.between)));
    return;
  }
  const double length = way.between + 2.0 * bend.centreline * std::tan(bend.mitre());
  if (length < k_shortest_piece)
    reasons.add("offset", "a larger offset, a smaller angle or a tighter bend",
                fmt::format("the piece between the bends would be {} long: it has no length",
                            reasons.length(length)));
}

void add_facts(Fitting& fitting, const Bend& bend, const Way& way) {
  const auto add = [&](const char* key, const char* label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  add("bend_angle", "angle of either bend", Quantity::angle, way.angle);
  add("mitre_angle", "mitre angle", Quantity::angle, bend.mitre());
  add("centreline_radius", "centreline radius", Quantity::length, bend.centreline);
  add("true_offset", "true offset", Quantity::length, way.offset);
  add("overall_length", "length over both bends, without collars", Quantity::length, way.length);
  add("between_bends", "way between the bends", Quantity::length, way.between);
  add("gored_centreline", "length of the gores' centreline, collars included", Quantity::length,
      way.between + 4.0 * (bend.pieces - 1) * bend.centreline * std::tan(bend.mitre()) + 2.0 * bend.collar);
  const Values& values = fitting.request.values;
  if (values.has("rise") || values.has("roll"))
    add("roll_angle", "turn of the plane of the bends from the rise toward the roll", Quantity::angle,
        std::atan2(values.maybe("roll").value_or(0.0), values.maybe("rise").value_or(0.0)));
}

}  // namespace

KindSchema offset_schema() {
  KindSchema schema;
  schema.kind = "offset";
  schema.summary =
      "an S-piece: two equal bends against each other, gored or pressed smooth, to carry a duct sideways";
  KeySpec angle = optional_key(
      length_key("angle", "angle of either bend, instead of length", {}, 1.0 / 180.0 * k_pi, 0.5 * k_pi));
  angle.quantity = Quantity::angle;
  KeySpec offset =
      optional_key(length_key("offset", "how far the duct is carried sideways", "18in", 1.0, 20000.0));
  KeySpec length = optional_key(
      length_key("length", "over both bends along the duct, without collars", "5ft", 10.0, 50000.0));
  schema.keys = {length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
                 offset,
                 optional_key(length_key("rise", "rolling offset: up, instead of offset", {}, 0.0, 20000.0)),
                 optional_key(length_key("roll", "rolling offset: sideways", {}, 0.0, 20000.0)),
                 length,
                 angle,
                 integer_key("pieces", "pieces of either bend, both end pieces counted", "3", 2, 12)};
  for (KeySpec& key : bend_keys()) schema.keys.push_back(std::move(key));
  schema.keys.push_back(with_default(
      length_key("collar", "straight collar at either end, part of the end piece", {}, 0.0, 5000.0), "0mm"));
  schema.keys.push_back(seam_key());
  for (KeySpec& key : form_keys()) schema.keys.push_back(std::move(key));
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_offset(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const Way way = read_way(request, reasons);
  const Bend metal = read_bend(request, way.angle, reasons);
  const bool smooth = chosen(request.values, "form", k_form_choices) == BendForm::smooth;
  require_bore(reasons, fitting, 2.0 * metal.radius, "diameter");
  reasons.throw_if_any();
  require_throat(reasons, fitting, metal);
  require_between(reasons, metal, way, smooth);
  const Bend bend = smooth && reasons.none() ? inside_pressed(metal) : metal;
  require_form(reasons, fitting, smooth ? &bend : nullptr);
  reasons.throw_if_any();

  GoreRow row = gores_of(bend, metal.radius, way);
  row.seam_at_zero = chosen(request.values, "seam", k_seam_choices) == FirstSeam::throat;
  add_gore_row(fitting, row);
  const AirTurn turn{bend.angle, bend.centreline, smooth ? 0 : bend.pieces - 1, bend.pieces - 1};
  fitting.passages.back().turns = {turn, turn};
  require_lengths(reasons, fitting, "offset");
  reasons.throw_if_any();
  hold_back(fitting, reasons);
  reasons.throw_if_any();
  add_facts(fitting, bend, way);
  if (smooth) {
    fitting.pressed = PressedBend{metal.radius, metal.centreline, metal.angle, metal.collar,
                                  metal.collar, Frame{},          way.between};
    add_smooth_facts(fitting, reasons, metal,
                     {bend.radius, gap_behind, metal.radius - bend.radius, "all around"});
  }
  note_fasteners(fitting, 2.0 * metal.radius);
  return fitting;
}

}  // namespace linerwright
