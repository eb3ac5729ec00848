// Square-to-rounds from flags as a person would write them, millimetres.
#pragma once

#include <string>

#include "common.hpp"
#include "sheet/square_to_round.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

inline const Flags k_square_to_round{{"width", "600"},  {"height", "400"},   {"diameter", "400"},
                                     {"length", "400"}, {"thickness", "25"}, {"pieces", "4"}};

inline Fitting square_to_round(const Flags& flags) {
  return make_fitting(request_from_flags("square_to_round", flags, Units::metric, job_schema()));
}

inline SquareToRound case_of(const Flags& flags) {
  const auto number = [&](const char* key) {
    const auto found = flags.find(key);
    return found == flags.end() ? 0.0 : std::stod(found->second);
  };
  return {0.5 * number("width"),
          0.5 * number("height"),
          0.5 * number("diameter"),
          number("length"),
          {number("shift_right"), number("shift_up")}};
}

}  // namespace linerwright::support
