// Decimal marks and thousands marks of a whole sheet.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/units/error.hpp"

namespace linerwright {

// Looks at all numbers of a sheet, then turns each into one with a decimal point and no thousands mark.
class DecimalMarks {
 public:
  // `said`: comma or point, as a person answered; empty: the numbers themselves decide.
  explicit DecimalMarks(std::string said);

  void look(std::string_view cell, int line);

  // Nothing, or why the marks cannot be told: what was seen, and how to answer.
  std::optional<Problem> question(const std::string& file) const;

  // The cell with plain numbers; `fault` says why a number does not follow the sheet's marks.
  std::string plain(std::string_view cell, std::string& fault) const;

  // "decimal commas, because of 1,5 in line 7"; empty where no number has a mark.
  std::string told() const;

 private:
  struct Seen {
    std::string text;
    int line = 0;
  };
  char decimal() const;

  std::string said_;
  std::optional<Seen> comma_;      // a number that can only have a decimal comma
  std::optional<Seen> point_;      // or a decimal point
  std::optional<Seen> undecided_;  // one that can be read both ways
};

}  // namespace linerwright
