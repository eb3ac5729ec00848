// An end cap: a flat disc that closes a ring of duct, or the disc alone.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "common.hpp"
#include "hold_back.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {

namespace {

void require_length(Reasons& reasons, const Fitting& fitting, double length) {
  const double least = fitting.liner.bore_depth() + k_shortest_piece;
  if (length < least)
    reasons.add("length", "at least " + reasons.length(least) + ", or 0 for the disc alone",
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

// A disc alone that is no wider on its air face than what a ring would leave open.
void require_disc(Reasons& reasons, const Fitting& fitting, double diameter, JointStyle seat) {
  if (fitting.request.values.quantity("hold_back_start") > 0.0)
    reasons.add("hold_back_start", "0", "a disc alone has no ring whose lining could be held back");
  if (seat == JointStyle::through) return;
  const double most = 0.5 * (diameter - k_smallest_bore);
  if (fitting.liner.bore_depth() > most)
    reasons.add(
        "thickness", "at most " + reasons.length(most),
        fmt::format("nothing would be left of the disc's air face inside a lining so thick in a {} duct",
                    reasons.length(diameter)));
}

// How the disc ends, told by the ring of duct that it stands in.
Joint rim_of(const Sheet& flat, double radius, JointStyle seat) {
  return {Sheet::cylinder(Frame{}, radius), {flat}, FlatTarget{flat}, seat, {0.0, k_pi}};
}

void end_in_centre(Fitting& fitting, int disc) {
  Wall& wall = fitting.wall(disc);
  fitting.joints.push_back({wall.sheet, {wall.sheet}, CentreTarget{}, JointStyle::mitre, {0.0}});
  wall.high = {static_cast<int>(fitting.joints.size()) - 1, Side::lead};
}

// A disc with no ring: its rim is the seat's in a duct that is lined alike, its metal as wide as the duct.
void add_disc_alone(Fitting& fitting, double radius, JointStyle seat) {
  const Sheet flat = Sheet::disc(Frame{}, radius);
  const int disc = add_wall(fitting, flat);
  fitting.joints = {rim_of(flat, radius, seat), rim_of(flat, radius, JointStyle::through)};
  fitting.joints.front().metal_end = 1;
  fitting.wall(disc).low = {0, Side::follow};
  end_in_centre(fitting, disc);
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
  end_in_centre(fitting, disc);
}

Fitting make_disc_alone(Fitting fitting, Reasons& reasons, double diameter, JointStyle seat) {
  require_disc(reasons, fitting, diameter, seat);
  reasons.throw_if_any();
  add_disc_alone(fitting, 0.5 * diameter, seat);
  fitting.pieces = {{"disc", "disc", 0, 0.0, k_two_pi, "none, it stays flat", {}, {}}};
  fitting.insertion = {0};
  note_fasteners(fitting, diameter);
  return fitting;
}

}  // namespace

KeySpec seat_key() {
  return choice_key(
      "seat",
      "how the disc meets the ring: the disc as wide as the duct and the ring up to it, the disc "
      "inside the ring, or both bevelled",
      k_seat_choices, JointStyle::through);
}

KindSchema cap_schema() {
  KindSchema schema;
  schema.kind = "cap";
  schema.summary = "an end cap: a flat disc that closes a lined ring, or the disc alone";
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      length_key(
          "length",
          "of the ring, from its open end to the inside of the metal's disc; 0: no ring, the disc alone",
          "12in", 0.0, 5000.0),
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
  const JointStyle seat = chosen(request.values, "seat", k_seat_choices);
  if (length == 0.0) return make_disc_alone(std::move(fitting), reasons, diameter, seat);
  require_bore(reasons, fitting, diameter, "diameter");
  require_length(reasons, fitting, length);
  reasons.throw_if_any();

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
