// How many cases a test tries: random ones, and of a list that it goes through.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace linerwright::support {

// The environment's LINERWRIGHT_CASES: 20 for a night, 0.1 in .ci/run. Throws std::runtime_error where that
// is no number above 0.
inline double share_of_cases() {
  const char* asked = std::getenv("LINERWRIGHT_CASES");
  if (asked == nullptr || *asked == '\0') return 1.0;
  char* end = nullptr;
  const double factor = std::strtod(asked, &end);
  if (*end != '\0' || !(factor > 0.0) || factor > 1e4)
    throw std::runtime_error("LINERWRIGHT_CASES is a number above 0 and up to 10000");
  return factor;
}

// The usual number times LINERWRIGHT_CASES; at least one.
inline int cases(int usual) {
  return static_cast<int>(std::ceil(usual * share_of_cases()));
}

// Of a list that a test goes through, in its order, what this run takes: all; where LINERWRIGHT_CASES is
// under 1 that share of each kind, evenly spread and at least one of each. Says how many of how many, of
// `what`.
template <class T, class KindOf>
std::vector<T> drawn(const std::string& what, const std::vector<T>& all, KindOf kind_of) {
  std::map<std::string, std::vector<std::size_t>> of_kind;
  for (std::size_t i = 0; i < all.size(); ++i) of_kind[kind_of(all[i])].push_back(i);
  const double share = std::min(1.0, share_of_cases());
  std::vector<std::size_t> taken;
  for (const auto& [kind, places] : of_kind) {
    const auto count = static_cast<std::size_t>(std::ceil(static_cast<double>(places.size()) * share));
    for (std::size_t i = 0; i < count; ++i) taken.push_back(places[i * places.size() / count]);
  }
  std::sort(taken.begin(), taken.end());
  if (taken.size() < all.size())
    std::cout << taken.size() << " of " << all.size() << " " << what << std::endl;
  std::vector<T> out;
  for (const std::size_t i : taken) out.push_back(all[i]);
  return out;
}

// The same of a list without kinds.
template <class T>
std::vector<T> drawn(const std::string& what, const std::vector<T>& all) {
  return drawn(what, all, [](const T&) { return std::string(); });
}

}  // namespace linerwright::support
