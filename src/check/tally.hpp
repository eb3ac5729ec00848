// Counts what of many figures is wrong, and keeps the first to tell.
#pragma once

#include <cmath>
#include <string>

#include <fmt/format.h>

#include "linerwright/units/read_json.hpp"
#include "proof.hpp"

namespace linerwright {

class Tally {
 public:
  explicit Tally(std::string name) : name_(std::move(name)) {}

  void wrong(const std::string& what) {
    ++wrong_;
    if (first_.empty()) first_ = what;
  }
  void require(bool holds, const std::string& otherwise) {
    ++read_;
    if (!holds) wrong(otherwise);
  }
  // A figure as a file has it: within `tolerance`, and a billionth of itself that another machine may differ
  // by.
  void number(const std::string& where, const JsonValue* found, double expected, double tolerance) {
    if (found == nullptr || !found->is_number()) return require(false, where + " is no number");
    require(std::fabs(found->number - expected) <= tolerance + 1e-9 * std::fabs(expected),
            fmt::format("{} is {}, not {}", where, trimmed(found->number, 9), trimmed(expected, 9)));
  }
  void text(const std::string& where, const JsonValue* found, const std::string& expected) {
    if (found == nullptr || !found->is_text()) return require(false, where + " is no text");
    require(found->text == expected, fmt::format("{} is '{}', not '{}'", where, found->text, expected));
  }
  void texts(const std::string& where, const JsonValue* found, const std::vector<std::string>& expected) {
    if (found == nullptr || !found->is_array()) return require(false, where + " is no list");
    require(found->items.size() == expected.size(),
            fmt::format("{} has {} entries, not {}", where, found->items.size(), expected.size()));
    for (std::size_t i = 0; i < std::min(found->items.size(), expected.size()); ++i)
      text(fmt::format("{}[{}]", where, i), &found->items[i], expected[i]);
  }

  CheckResult result(const std::string& what) const {
    return within(name_, static_cast<double>(wrong_), 0.0, "wrong",
                  wrong_ == 0 ? fmt::format("{} {}", read_, what) : first_);
  }

 private:
  std::string name_;
  std::size_t read_ = 0;
  std::size_t wrong_ = 0;
  std::string first_;
};

}  // namespace linerwright
