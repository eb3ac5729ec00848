// A straight length: one cylinder between two open ends.
#include <fmt/format.h>

#include <numeric>

#include "common.hpp"
#include "divide.hpp"

namespace linerwright {

KindSchema straight_schema() {
  KindSchema schema;
  schema.kind = "straight";
  schema.summary = "a straight length of round duct, lined with one rolled piece";
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      length_key("length", "length of the duct", "4ft", 10.0, 30000.0),
  };
  KeySpec lengths = optional_key(length_key(
      "duct_lengths",
      "lengths of metal duct inside one lining, from its start on; what they leave of the length is one more",
      {}, 10.0, 30000.0));
  lengths.many = true;
  lengths.most = 500;
  schema.keys.push_back(lengths);
  return schema;
}

namespace {

void require_lengths(Reasons& reasons, const FittingRequest& request) {
  if (!request.values.has("duct_lengths")) return;
  const std::vector<double> lengths = request.values.list("duct_lengths");
  const double sum = std::accumulate(lengths.begin(), lengths.end(), 0.0);
  const double length = request.values.quantity("length");
  if (sum > length + k_same_length)
    reasons.add("duct_lengths", "together at most " + reasons.length(length),
                fmt::format("the lengths of duct add up to {}, and the lining is {} long",
                            reasons.length(sum), reasons.length(length)));
}

}  // namespace

Fitting make_straight(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  const double length = request.values.quantity("length");
  require_bore(reasons, fitting, diameter, "diameter");
  require_lengths(reasons, request);
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
  const std::vector<double> joints = duct_joints(request);
  for (std::size_t i = 0; i < joints.size(); ++i)
    fitting.facts.push_back({fmt::format("duct_joint_{}", i + 1),
                             fmt::format("joint {} of the duct, from its start", i + 1), Quantity::length,
                             joints[i]});
  note_fasteners(fitting, diameter);
  fitting.steps = {"Roll the piece with the duct face out and tape the seam on the air face.",
                   "Slide it in until it is flush, seam at the top where the duct hangs."};
  if (!joints.empty())
    fitting.steps.insert(fitting.steps.begin(),
                         "Join the lengths of duct first: one lining goes through all of them.");
  return fitting;
}

}  // namespace linerwright
