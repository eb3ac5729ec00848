// What a fitting's request asks for, as a check sum: whether what was made of it is still up to date.
#pragma once

#include <string>

#include "linerwright/job/job.hpp"

namespace linerwright {

// Texts run together with their lengths before them, so that no two lists give the same sum.
class SumOfTexts {
 public:
  void add(const std::string& text);
  // Kind, count, units and every value, defaults included.
  void add(const FittingRequest& request);
  std::string sum() const;

 private:
  std::string all_;
};

// A check sum of what a request asks for: tag, kind, count and every value, defaults included.
std::string state_of(const FittingRequest& request);

}  // namespace linerwright
