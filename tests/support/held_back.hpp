// Fittings whose lining stops short of their ends, for every suite that looks at such bodies.
#pragma once

#include "support/requests.hpp"

namespace linerwright::support {

inline Flags held_back_wye() {
  return {{"diameter", "500"},       {"inlet_length", "400"},   {"leg_diameter", "400&300"},
          {"leg_length", "600"},     {"angle", "35"},           {"thickness", "25"},
          {"hold_back_start", "30"}, {"hold_back_leg", "20&40"}};
}

inline Flags held_back_tee() {
  return {{"diameter", "500"},      {"length", "1200"},          {"branch_diameter", "300&200"},
          {"branch_length", "600"}, {"angle", "60&90"},          {"position", "400&900"},
          {"around", "0&120"},      {"thickness", "25"},         {"hold_back_start", "30"},
          {"hold_back_end", "40"},  {"hold_back_branch", "20&0"}};
}

// A conical branch.
inline Flags held_back_tap() {
  return {{"diameter", "500"}, {"branch_diameter", "200"}, {"branch_base", "260"}, {"branch_length", "600"},
          {"angle", "60"},     {"thickness", "25"},        {"hold_back_end", "25"}};
}

// Flat on one side.
inline Flags held_back_reducer() {
  return {{"diameter", "400"}, {"to_diameter", "250"},    {"length", "300"},      {"flat", "yes"},
          {"thickness", "25"}, {"hold_back_start", "30"}, {"hold_back_end", "40"}};
}

}  // namespace linerwright::support
