// What a check found, as data.
#pragma once

#include <string>

namespace linerwright {

// One check: it passes when the value is within the limit.
struct CheckResult {
  std::string name;  // "re-roll 3", "fill"
  double value = 0.0;
  double limit = 0.0;
  bool pass = false;
  std::string unit;    // "mm", "" for a share or a count
  std::string detail;  // in words, where there is more to say
  bool note = false;   // worth telling, but nothing is wrong: it passes
};

// Passes where the value is within the limit.
CheckResult within(std::string name, double value, double limit, std::string unit, std::string detail = {});
// Something to tell that is no fault.
CheckResult noted(std::string name, std::string what);
// A check that could not be done: it fails.
CheckResult undone(std::string name, std::string why);

// "pass  re-roll 3            0.00021 mm  (limit 0.1 mm)"
std::string one_line(const CheckResult& result);

}  // namespace linerwright
