// Square-to-rounds from flags as a person would write them, millimetres.
#pragma once

#include <string>
#include <vector>

#include "common.hpp"

#include "sheet/square_to_round.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

inline const Flags k_square_to_round{{"width", "600"},  {"height", "400"},   {"diameter", "400"},
                                     {"length", "400"}, {"thickness", "25"}, {"pieces", "4"}};

// Short ones, whose air face comes down to the rectangular end in arcs, and whose metal folds over itself at
// the corners: between mitres with both flats; with one; with none; metal alone, to one side of a corner's
// middle.
inline const std::vector<Flags> k_short_square_to_rounds{
    {{"width", "936.496"},
     {"height", "887.99"},
     {"diameter", "909.1"},
     {"length", "102.435"},
     {"thickness", "20"}},
    {{"width", "900"},
     {"height", "700"},
     {"diameter", "600"},
     {"length", "120"},
     {"shift_right", "120"},
     {"shift_up", "-40"},
     {"thickness", "10"}},
    {{"width", "1600"},
     {"height", "1500"},
     {"diameter", "600"},
     {"length", "150"},
     {"thickness", "20"},
     {"pieces", "4"}},
    {{"width", "900"},
     {"height", "900"},
     {"diameter", "900"},
     {"length", "170"},
     {"thickness", "20"},
     {"pieces", "1"}},
    {{"width", "900"}, {"height", "800"}, {"diameter", "800"}, {"length", "230"}, {"thickness", "20"}}};

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
