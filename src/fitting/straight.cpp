// A straight length: one cylinder between two open ends.
#include "common.hpp"

namespace linerwright {

KindSchema straight_schema() {
  KindSchema schema;
  schema.kind = "straight";
  schema.summary = "a straight length of round duct, lined with one rolled piece";
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      length_key("length", "length of the duct", "4ft", 10.0, 30000.0),
  };
  return schema;
}

Fitting make_straight(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  const double length = request.values.quantity("length");
  require_bore(reasons, fitting, diameter, "diameter");
  reasons.throw_if_any();

  const int wall = add_wall(fitting, Sheet::cylinder(Frame{}, 0.5 * diameter));
  add_open_end(fitting, wall, false, 0.0);
  add_open_end(fitting, wall, true, length);
  fitting.pieces.push_back(
      {"1", "straight length", wall, 0.0, k_two_pi, "anywhere", {{k_pi, "opposite the seam"}}, {}});
  fitting.insertion = {0};

  const double bore = diameter - 2.0 * fitting.liner.bore_depth();
  fitting.passages.push_back(
      {"through",
       {round_station(0.0, diameter, bore, {}, {0, 0, 1}, "one end"),
        round_station(length, diameter, bore, {0, 0, length}, {0, 0, 1}, "other end")}});
  fitting.straight_run = true;
  note_fasteners(fitting, diameter);
  fitting.steps = {"Roll the piece with the duct face out and tape the seam on the air face.",
                   "Slide it in until it is flush, seam at the top where the duct hangs."};
  return fitting;
}

}  // namespace linerwright
