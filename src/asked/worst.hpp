// The worst of many comparisons, as one line of the proof.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "linerwright/asked/asked.hpp"

namespace linerwright::asked {

class Worst {
 public:
  // `against` says in words what the figure is held to, and its source.
  Worst(std::string name, double limit, std::string unit, std::string against)
      : name_(std::move(name)), limit_(limit), unit_(std::move(unit)), against_(std::move(against)) {}

  // One comparison; not a number counts as wrong.
  void off(double value, const std::string& where) {
    ++tried_;
    const double size = std::isnan(value) ? 1e300 : std::abs(value);
    if (size <= value_ && tried_ > 1) return;
    value_ = size;
    where_ = where;
  }
  // Something that is plainly not as asked.
  void wrong(const std::string& what) {
    ++tried_;
    ++wrongs_;
    if (what_.size() < 200) what_ += (what_.empty() ? "" : "; ") + what;
  }
  void expect(bool true_, const std::string& what) {
    if (true_)
      ++tried_;
    else
      wrong(what);
  }
  bool any() const { return tried_ > 0; }

  // Nothing to compare is a line only where `always`: then it fails.
  void into(std::vector<Finding>& findings, bool always = false) const {
    if (tried_ == 0 && !always) return;
    Finding finding{name_, wrongs_ > 0 ? wrongs_ : value_, wrongs_ > 0 ? 0.0 : limit_,
                    false, wrongs_ > 0 ? "wrong" : unit_,  against_};
    finding.pass = tried_ > 0 && wrongs_ == 0 && value_ <= limit_;
    if (!what_.empty())
      finding.detail = what_;
    else if (tried_ == 0)
      finding.detail = "nothing to hold against " + against_;
    else if (!finding.pass)
      finding.detail = where_ + "; against " + against_;
    findings.push_back(finding);
  }

 private:
  std::string name_;
  double limit_;
  std::string unit_;
  std::string against_;
  double value_ = 0.0;
  double wrongs_ = 0.0;
  int tried_ = 0;
  std::string where_;
  std::string what_;
};

}  // namespace linerwright::asked
