// What the checks say, in the words of a test.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "linerwright/check/check.hpp"

namespace linerwright::support {

// The checks that failed, or all, a line each.
inline std::string listed(const std::vector<CheckResult>& results, bool all = false) {
  std::string text;
  for (const CheckResult& result : results)
    if (all || !result.pass) text += one_line(result) + "\n";
  return text;
}

// Names of the checks that failed.
inline std::vector<std::string> failed(const std::vector<CheckResult>& results) {
  std::vector<std::string> names;
  for (const CheckResult& result : results)
    if (!result.pass) names.push_back(result.name);
  return names;
}

inline bool has(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// The value of the check of that name.
inline double value_of(const std::vector<CheckResult>& results, const std::string& name) {
  for (const CheckResult& result : results)
    if (result.name == name) return result.value;
  ADD_FAILURE() << "no check named " << name << "\n" << listed(results, true);
  return 1e300;
}

// Whether there is a check whose name begins so.
inline bool has_check(const std::vector<CheckResult>& results, const std::string& name) {
  return std::any_of(results.begin(), results.end(), [&](const CheckResult& result) {
    return result.name.compare(0, name.size(), name) == 0;
  });
}

// Whether a check whose name begins so failed.
inline bool fails(const std::vector<CheckResult>& results, const std::string& name) {
  return std::any_of(results.begin(), results.end(), [&](const CheckResult& result) {
    return !result.pass && result.name.compare(0, name.size(), name) == 0;
  });
}

}  // namespace linerwright::support
