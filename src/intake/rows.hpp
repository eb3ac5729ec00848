// Rows of a sheet as fittings.
#pragma once

#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "head.hpp"
#include "numbers.hpp"

namespace linerwright {

struct IntakeFitting {
  int line = 0;
  std::string tag;
  std::string kind;
  std::string count;
  std::vector<std::pair<std::string, std::string>> values;  // key -> as the job file takes it
};

struct IntakeRows {
  std::vector<IntakeFitting> fittings;
  std::vector<std::string> left;
  std::map<std::string, std::vector<std::string>> assumed;  // what -> tags
  std::size_t inches = 0;                                   // lengths with that unit
  std::size_t metric = 0;
  bool size_said = false;  // a head or a cell says which diameter it means
};

// Every row below the head; mistakes and questions are appended.
IntakeRows read_rows(const Grid& grid, const IntakeHead& head, const DecimalMarks& marks,
                     const JobSchema& schema, const ReadAnswers& answers, std::optional<Units> units,
                     std::vector<Problem>& problems);

// Whether the numbers of this meaning are measures, so that decimal marks matter.
bool is_measure(const std::string& meaning, const JobSchema& schema);

// The key of that kind, or of its liner; none: not one of its keys.
const KeySpec* intake_key(const JobSchema& schema, const std::string& kind, const std::string& key);

}  // namespace linerwright
