// [[default]]: what a job's fittings of one kind take where they do not say it themselves.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "value_check.hpp"

namespace linerwright {

class DefaultsOfKinds {
 public:
  // The [[default]] tables among `sections`; their mistakes are noted.
  DefaultsOfKinds(const std::vector<Section>& sections, const JobSchema& schema, const Checker& checker);

  // Adds what the fitting does not say; bare numbers take the job's units. The first table that fits decides.
  void fill_in(Section& fitting, std::optional<Units> units);

  // "pieces = 3 by [[default]] of line 7: E-1, E-2", a line for each key that was used.
  std::vector<std::string> notes() const;

 private:
  struct Table {
    std::string kind;
    std::optional<double> up_to;
    std::vector<Entry> entries;
    int line = 0;
  };
  bool fits(const Table& table, const Section& fitting) const;

  const JobSchema& schema_;
  std::vector<Table> tables_;
  std::map<std::string, std::vector<std::string>> used_;  // what -> tags
};

// "E-1, E-2 and 12 more".
std::string told_tags(const std::vector<std::string>& tags);

}  // namespace linerwright
