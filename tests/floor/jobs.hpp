// Jobs for the cutting floor's tests.
#pragma once

#include <string>
#include <vector>

#include "linerwright/floor.hpp"
#include "support/requests.hpp"

namespace linerwright {

inline std::vector<FloorPart> parts_of(const std::string& kind, support::Flags flags, long count = 1,
                                       bool scatter = false) {
  FittingRequest request = support::request_from(kind, flags);
  request.count = count;
  const Fitting fitting = make_fitting(request);
  return floor_parts(fitting, make_patterns(fitting), scatter);
}

inline std::vector<FloorPart> operator+(std::vector<FloorPart> a, std::vector<FloorPart> b) {
  for (FloorPart& part : b) a.push_back(std::move(part));
  return a;
}

inline FloorStock sheet(double width, double length) {
  FloorStock stock;
  stock.name = trimmed(width, 1) + " x " + trimmed(length, 1);
  stock.width = width;
  stock.length = length;
  return stock;
}

inline Knife plain_knife() {
  return floor_knife(nullptr);
}

// The first fill, without a search.
inline FloorOptions swift() {
  FloorOptions options;
  options.effort = k_effort_fill;
  return options;
}

inline FloorPlan planned(std::vector<FloorPart> parts, const std::vector<FloorStock>& stock,
                         const FloorOptions& options = swift()) {
  return plan_floor(std::move(parts), stock, plain_knife(), options, Units::metric);
}

// All problems, a line each.
inline std::string complaints(const FloorPlan& plan) {
  std::string text;
  for (const Problem& problem : plan.problems) text += one_line(problem) + "\n";
  return text;
}

}  // namespace linerwright
