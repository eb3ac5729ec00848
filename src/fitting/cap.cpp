// An end cap: a flat disc that closes a ring of duct.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common.hpp"
#include "hold_back.hpp"

namespace linerwright {

namespace {

JointStyle seat_of(const std::string& seat) {
  if (seat == "mitre") return JointStyle::mitre;
  return seat == "inside" ? JointStyle::over : JointStyle::through;
}

void require_length(Reasons& reasons, const Fitting& fitting, double length) {
  const double least = fitting.liner.bore_depth() + k_shortest_piece;
  if (length < least)
    reasons.add("length", "at least " + reasons.length(least),
                "the disc's liner would be thicker than the ring is long");
}

// A disc inside the ring lies with its rim on the ring's lining.
void require_rim(Reasons& reasons, const Fitting& fitting, double length) {
  const double most = length - fitting.liner.bore_depth() - k_shortest_piece;
  if (fitting.request.values.quantity("hold_back_start") > most)
    reasons.add("hold_back_start", "at most " + reasons.length(std::max(0.0, most)),
                "the ring would be shorter than the disc inside it is thick: the disc's rim would stand free "
                "in the air");
}

// The ring ends on the disc, whose rulings run to its centre.
void add_walls(Fitting& fitting, double radius, double length, JointStyle seat) {
  const int ring = add_wall(fitting, Sheet::cylinder(Frame{}, radius));
  add_open_end(fitting, ring, End::low, 0.0);
  Frame end;
  end.origin = {0.0, 0.0, length};
  const Sheet flat = Sheet::disc(end, radius);
  const int disc = add_wall(fitting, flat);
  add_joint(fitting, ring, disc, Side::lead, FlatTarget{flat}, {0.0, k_pi});
  fitting.joints.back().style = seat;
  fitting.joints.push_back({flat, {flat}, CentreTarget{}, JointStyle::mitre, {0.0}});
  fitting.wall(disc).high = {static_cast<int>(fitting.joints.size()) - 1, Side::lead};
}

}  // namespace

KeySpec seat_key() {
  return choice_key(
      "seat",
      "how the disc meets the ring: the disc as wide as the duct and the ring up to it, the disc "
      "inside the ring, or both bevelled",
      {"butt", "inside", "mitre"}, "butt");
}

KindSchema cap_schema() {
  KindSchema schema;
  schema.kind = "cap";
  schema.summary = "an end cap: a flat disc that closes a lined ring";
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      length_key("length", "of the ring, from its open end to the inside of the metal's disc", "12in", 10.0,
                 5000.0),
      seat_key(),
  };
  for (KeySpec& key : hold_back_keys({"start"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_cap(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  const double length = request.values.quantity("length");
  require_bore(reasons, fitting, diameter, "diameter");
  require_length(reasons, fitting, length);
  reasons.throw_if_any();

  const JointStyle seat = seat_of(request.values.text("seat"));
  add_walls(fitting, 0.5 * diameter, length, seat);
  require_lengths(reasons, fitting, "length");
  reasons.throw_if_any();
  fitting.pieces.push_back(
      {"ring", "ring", 0, 0.0, k_two_pi, "top", {{0.0, "top"}, {k_pi, "bottom"}}, {"disc"}});
  fitting.pieces.push_back({"disc", "disc", 1, 0.0, k_two_pi, "none, it stays flat", {}, {"ring"}});
  // what the other stands against goes in first
  fitting.insertion = seat == JointStyle::over ? std::vector<int>{0, 1} : std::vector<int>{1, 0};
  require_allowances(reasons, fitting);
  if (seat == JointStyle::over) require_rim(reasons, fitting, length);
  hold_back(fitting, reasons);
  reasons.throw_if_any();

  const double t = fitting.liner.bore_depth();
  const double lined = diameter - 2.0 * t;
  Passage through{"through", {}};
  through.stations.push_back(round_station(0.0, diameter, lined, {0, 0, 0}, {0, 0, 1}, "open end"));
  through.stations.push_back(
      round_station(length - t, diameter, lined, {0, 0, length - t}, {0, 0, 1}, "at the disc"));
  fitting.passages.push_back(std::move(through));
  note_fasteners(fitting, diameter);
  return fitting;
}

}  // namespace linerwright
