// The audit's notebook.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

constexpr double k_no_length = 1e-5;  // mm: shorter than any step of the file's decimals

// Keeps what was found, the first k_findings_per_code of each code.
class Findings {
 public:
  void add(const std::string& code, int line, std::string message);
  // By code, then in the order they were found.
  std::vector<Finding> sorted() const;

 private:
  std::map<std::string, std::vector<Finding>> by_code_;
};

// "(12.5, 30) mm"
std::string place(Vec2 p);

}  // namespace linerwright
