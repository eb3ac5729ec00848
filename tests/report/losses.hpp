// What tests of losses and flows share.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "fittings.hpp"
#include "linerwright/airway/loss.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

constexpr double k_degree = k_pi / 180.0;

inline BoreReport report_of(const std::vector<Fitting>& fittings, const Values* air = nullptr) {
  return bore_report(fittings, air, {});
}

// p_v in standard air of a flow in a bore of `d` mm.
inline double dynamic(double flow, double d) {
  const double v = flow / (0.25 * k_pi * d * d * 1e-6);
  return 0.5 * 1.204 * v * v;
}

inline double part(const BoreLoss& loss, const std::string& begins) {
  for (const LossPart& each : loss.parts)
    if (each.what.rfind(begins, 0) == 0) return each.pressure;
  ADD_FAILURE() << "no " << begins;
  return 0.0;
}

// A body with two branches.
inline Fitting tee(Flags more) {
  return fitting_from("tee", with({{"diameter", "500"},
                                   {"length", "1500"},
                                   {"branch_diameter", "250 & 200"},
                                   {"branch_length", "500"},
                                   {"position", "500 & 1000"},
                                   {"around", "0 & 180"},
                                   {"thickness", "25"}},
                                  more));
}

}  // namespace linerwright
