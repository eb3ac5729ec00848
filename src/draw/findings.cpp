#include "findings.hpp"

#include <fmt/format.h>

#include "linerwright/units/units.hpp"

namespace linerwright {

void Findings::add(const std::string& code, int line, std::string message) {
  std::vector<Finding>& found = by_code_[code];
  if (found.size() < k_findings_per_code) found.push_back({code, line, std::move(message)});
}

std::vector<Finding> Findings::sorted() const {
  std::vector<Finding> all;
  for (const auto& [code, found] : by_code_) all.insert(all.end(), found.begin(), found.end());
  return all;
}

std::string place(Vec2 p) {
  return fmt::format("({}, {}) mm", trimmed(p.x, 4), trimmed(p.y, 4));
}

}  // namespace linerwright
