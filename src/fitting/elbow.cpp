// Elbows: cylinders on the tangents of the centreline, mitred where neighbours meet.
#include <fmt/format.h>

#include <algorithm>

#include "bend.hpp"
#include "gores.hpp"
#include "hold_back.hpp"

namespace linerwright {

namespace {

// The largest gores inside a pressed bend of section radius R on the centreline radius rho. In a plane
// through the bend's centre at the angle psi from a gore's middle, the gore's section is ((rho' + R' c) / cos
// psi, R' s) with c, s the cosine and sine around. Its squared distance from the section's centre, ((rho' +
// R' c)/cos psi - rho)^2
// + R'^2 s^2, is convex in c, so it is largest at heel (c = 1) or throat (c = -1): at the heel on the mitre
// plane (psi = a), at the throat in the middle (psi = 0). Both on the wall:
//   (rho' + R') / cos a = rho + R,   rho' - R' = rho - R.
Bend inside_pressed(const Bend& metal) {
  Bend gores = metal;
  const double heel = (metal.centreline + metal.radius) * std::cos(metal.mitre());
  const double throat = metal.centreline - metal.radius;
  gores.radius = 0.5 * (heel - throat);
  gores.centreline = 0.5 * (heel + throat);
  return gores;
}

// The gap is widest at the heel in the middle of a gore: (rho + R)(1 - cos a).
double gap_behind(const Bend& metal) {
  return (metal.centreline + metal.radius) * (1.0 - std::cos(metal.mitre()));
}

GoreRow gores_of(const Bend& bend, const Bend& metal, bool seam_in_throat) {
  const double a = bend.mitre();
  const Vec3 centre{metal.centreline, 0.0, 0.0};
  const int n = bend.pieces;
  const double reach = bend.centreline * std::tan(a);
  GoreRow row{bend.radius, 2.0 * metal.radius, {}, {}, seam_in_throat};
  for (int i = 0; i < n; ++i) {
    const double turn = 2.0 * a * i;
    const Vec3 along{std::sin(turn), 0.0, std::cos(turn)};
    const Vec3 inward{std::cos(turn), 0.0, -std::sin(turn)};
    const bool ends = i == 0 || i == n - 1;
    row.gores.push_back({frame_along(centre - bend.centreline * inward, along, inward),
                         ends ? "end piece" : "middle piece", i == 0 ? bend.collar : reach,
                         i == n - 1 ? bend.collar : reach, "throat", "heel"});
    if (i == 0) continue;
    const double at = turn - a;
    row.mitres.push_back(PlaneTarget{centre, {std::sin(at), 0.0, std::cos(at)}});
  }
  return row;
}

}  // namespace

KindSchema elbow_schema() {
  KindSchema schema;
  schema.kind = "elbow";
  schema.summary = "a bend, of mitred gores or pressed smooth, lined with gores";
  KeySpec angle = length_key("angle", "angle of the bend", "90", 1.0 / 180.0 * k_pi, k_pi);
  angle.quantity = Quantity::angle;
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      angle,
      integer_key("pieces", "pieces of the bend, both end pieces counted", "5", 2, 12),
      with_default(
          length_key("collar", "straight collar at either end, part of the end piece", {}, 0.0, 5000.0),
          "0mm"),
      form_keys()[0],
      seam_key(),
      form_keys()[1],
  };
  const std::vector<KeySpec> radius = bend_keys();
  schema.keys.insert(schema.keys.begin() + 3, radius.begin(), radius.end());
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_elbow(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const Bend metal = read_bend(request, request.values.quantity("angle"), reasons);
  const bool smooth = chosen(request.values, "form", k_form_choices) == BendForm::smooth;
  require_bore(reasons, fitting, 2.0 * metal.radius, "diameter");
  require_throat(reasons, fitting, metal);
  const Bend gores = smooth && reasons.none() ? inside_pressed(metal) : metal;
  require_form(reasons, fitting, smooth ? &gores : nullptr);
  reasons.throw_if_any();

  const FirstSeam seam = chosen(request.values, "seam", k_seam_choices);
  add_gore_row(fitting, gores_of(gores, metal, seam == FirstSeam::throat));
  hold_back(fitting, reasons);
  reasons.throw_if_any();
  fitting.passages.back().turns = {
      {metal.angle, metal.centreline, smooth ? 0 : metal.pieces - 1, metal.pieces - 1}};
  fitting.facts.push_back({"mitre_angle", "mitre angle", Quantity::angle, metal.mitre()});
  fitting.facts.push_back({"centreline_radius", "centreline radius", Quantity::length, metal.centreline});
  for (int k = 1; k < metal.pieces; ++k)
    fitting.facts.push_back({fmt::format("rise_{}", k), fmt::format("rise of mitre line {}", k),
                             Quantity::angle, metal.mitre() * (2 * k - 1)});
  if (smooth) {
    fitting.pressed =
        PressedBend{metal.radius, metal.centreline, metal.angle, metal.collar, metal.collar, Frame{}};
    // At either end the gores' bore is one circle, the bore of a lined neighbour another; their heels lie
    // apart by (rho + R) - (rho' + R') = (rho + R)(1 - cos a).
    add_smooth_facts(fitting, reasons, metal,
                     {gores.radius, gap_behind, gap_behind(metal), "at the heel of"});
  }
  note_fasteners(fitting, 2.0 * metal.radius);
  return fitting;
}

}  // namespace linerwright
