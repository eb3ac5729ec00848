// Jobs for the cutting setup's tests.
#pragma once

#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "support/requests.hpp"

namespace linerwright {

inline std::vector<BoardPart> parts_of(const std::string& kind, support::Flags flags, long count = 1,
                                       bool scatter = false) {
  FittingRequest request = support::request_from(kind, flags);
  request.count = count;
  const Fitting fitting = make_fitting(request);
  return board_parts(fitting, make_patterns(fitting), scatter);
}

inline std::vector<BoardPart> operator+(std::vector<BoardPart> a, std::vector<BoardPart> b) {
  for (BoardPart& part : b) a.push_back(std::move(part));
  return a;
}

// Two straights, an elbow in a blank and two tees.
inline std::vector<BoardPart> mixed() {
  const support::Flags board{{"thickness", "25mm"}};
  return parts_of("straight",
                  support::with(board, {{"tag", "S-1"}, {"diameter", "300mm"}, {"length", "600mm"}}), 2) +
         parts_of("elbow",
                  support::with(board,
                                {{"tag", "E-1"}, {"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}})) +
         parts_of("tee",
                  support::with(board, {{"tag", "T-1"},
                                        {"diameter", "400mm"},
                                        {"length", "900mm"},
                                        {"branch_diameter", "250mm"},
                                        {"branch_length", "400mm"}}),
                  2);
}

inline BoardStock sheet(double width, double length) {
  BoardStock stock;
  stock.name = trimmed(width, 1) + " x " + trimmed(length, 1);
  stock.width = width;
  stock.length = length;
  return stock;
}

inline Knife plain_knife() {
  return board_knife(nullptr);
}

// The first fill, without a search.
inline BoardOptions swift() {
  BoardOptions options;
  options.effort = k_effort_fill;
  return options;
}

inline BoardPlan planned(std::vector<BoardPart> parts, const std::vector<BoardStock>& stock,
                         const BoardOptions& options = swift()) {
  return board_plan(std::move(parts), stock, plain_knife(), options, Units::metric);
}

// All problems, a line each.
inline std::string complaints(const BoardPlan& plan) {
  std::string text;
  for (const Problem& problem : plan.problems) text += one_line(problem) + "\n";
  return text;
}

}  // namespace linerwright
