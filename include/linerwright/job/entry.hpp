// What was written, whatever it was written in: the common ground of job files, schedules and flags.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/units/error.hpp"
#include "linerwright/units/units.hpp"

namespace linerwright {

// One key with its value, not yet checked.
struct Entry {
  enum class Form {
    text,     // in quotes
    number,   // a bare number
    boolean,  // true or false
    loose,    // a cell or a flag: the key decides what it is
    list,     // [a, b] of numbers and texts
    other     // a date, a table, a list of something else
  };
  std::string key;
  std::string written;  // as the person wrote it, for messages; text without its quotes
  std::string text;     // to be read: as `written`, numbers as plain decimals, lists joined by &
  Form form = Form::loose;
  std::string bare_unit{};  // from the column head; empty: the job's unit
  int line = 0;
  std::size_t begin = 0, end = 0;    // bytes of the value in the text; both 0 where they are not known
  std::vector<std::string> items{};  // of a list, each as `text`
  std::vector<Entry> inside{};       // of a table: start = {at = ...}, or start.at = ...
};

// One table of a job file or one row of a schedule.
struct Section {
  std::string name;  // "job", "liner", "fitting"; empty: keys that stand outside any table
  std::string file;
  int line = 0;
  bool listed = false;  // [[name]] rather than [name]
  std::vector<Entry> entries;
  std::optional<Units> units{};     // a schedule's own
  std::vector<Problem> problems{};  // found while the text was taken apart
};

}  // namespace linerwright
