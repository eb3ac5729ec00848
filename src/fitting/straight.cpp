// A straight length: one cylinder between two open ends.
#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "common.hpp"
#include "divider.hpp"
#include "hold_back.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {

KindSchema straight_schema() {
  KindSchema schema;
  schema.kind = "straight";
  schema.summary = "a straight length of round duct, lined with one rolled piece";
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      optional_key(
          length_key("length", "length of the duct; duct_lengths say it, too", "4ft", 10.0, 30000.0)),
  };
  KeySpec lengths = optional_key(
      length_key("duct_lengths",
                 "lengths of metal duct inside one lining, from its start on; together they are its length",
                 {}, 10.0, 30000.0));
  lengths.many = true;
  lengths.most = 500;
  schema.keys.push_back(lengths);
  schema.keys.push_back(quantity_key("seam_at", Quantity::angle,
                                     "where the seam lies, counted around from the top", "0", -k_two_pi,
                                     k_two_pi));
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

namespace {

constexpr double k_longest = 30000.0;  // mm, of one lining

std::vector<double> lengths_of(const FittingRequest& request) {
  return request.values.has("duct_lengths") ? request.values.list("duct_lengths") : std::vector<double>{};
}

// What the lengths of duct add up to, or the length that is said.
double length_of(const FittingRequest& request) {
  const std::vector<double> lengths = lengths_of(request);
  if (lengths.empty()) return request.values.maybe("length").value_or(0.0);
  return std::accumulate(lengths.begin(), lengths.end(), 0.0);
}

std::string seam_words(double seam) {
  return seam == 0.0 ? "top" : fmt::format("{} degrees on from the top", degrees_in_words(seam));
}

void require_length(Reasons& reasons, const FittingRequest& request) {
  const std::optional<double> said = request.values.maybe("length");
  if (!request.values.has("duct_lengths")) {
    if (!said) reasons.add("length", "length, or duct_lengths", "is missing: length of the duct");
    return;
  }
  const double sum = length_of(request);
  if (said && std::fabs(sum - *said) > k_same_length)
    reasons.add("duct_lengths", "one of the two, or the same length",
                fmt::format("the lengths of duct add up to {}, and length says {}", reasons.length(sum),
                            reasons.length(*said)));
  if (sum > k_longest)
    reasons.add("duct_lengths", fmt::format("together at most {}", reasons.length(k_longest)),
                fmt::format("the lengths of duct add up to {}", reasons.length(sum)));
}

}  // namespace

std::vector<double> duct_joints(const FittingRequest& request) {
  std::vector<double> joints;
  double at = 0.0;
  for (const double length : lengths_of(request)) joints.push_back(at += length);
  if (!joints.empty()) joints.pop_back();
  return joints;
}

Fitting make_straight(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  const double length = length_of(request);
  require_bore(reasons, fitting, diameter, "diameter");
  require_length(reasons, request);
  reasons.throw_if_any();

  const double seam = std::remainder(request.values.quantity("seam_at"), k_two_pi);
  const int wall = add_wall(fitting, Sheet::cylinder(Frame{}, 0.5 * diameter), seam);
  add_open_end(fitting, wall, End::low, 0.0);
  add_open_end(fitting, wall, End::high, length);
  fitting.pieces.push_back(
      {"1", "straight length", wall, seam, k_two_pi, seam_words(seam), {{0.0, "top"}, {k_pi, "bottom"}}, {}});
  fitting.insertion = {0};

  hold_back(fitting, reasons);
  reasons.throw_if_any();
  const double lined = diameter - 2.0 * fitting.liner.bore_depth();
  Passage through{"through", {}};
  for (const double z : {0.0, length})
    through.stations.push_back(
        round_station(z, diameter, lined, {0, 0, z}, {0, 0, 1}, z == 0.0 ? "one end" : "other end"));
  fitting.passages.push_back(std::move(through));
  fitting.straight_run = true;
  const std::vector<double> joints = duct_joints(request);
  if (!request.values.has("length"))
    fitting.facts.push_back({"length", "length of all ducts together", Quantity::length, length});
  for (std::size_t i = 0; i < joints.size(); ++i)
    fitting.facts.push_back({fmt::format("duct_joint_{}", i + 1),
                             fmt::format("joint {} of the duct, from its start", i + 1), Quantity::length,
                             joints[i]});
  note_fasteners(fitting, diameter);
  return fitting;
}

}  // namespace linerwright
