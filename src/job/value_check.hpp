// Entries held against the keys of a schema: every mistake is noted, what is right becomes values.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "linerwright/job/entry.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

// The allowed range or choices, in the job's unit: "over 0 in, at most 60 in". Empty: anything.
std::string range_text(const KeySpec& spec, Units units);

// A default as a checked value. Throws std::logic_error where the schema's default breaks its own rule.
Value default_of(const KeySpec& spec, Units units);

std::vector<const KeySpec*> pointers(const std::vector<KeySpec>& keys);

// Checks the entries of one table, row or command line.
struct Checker {
  std::string file;                     // empty: the command line
  std::string tag;                      // of the fitting, once known
  std::optional<Units> units;           // of bare numbers; none: a bare length is a mistake
  std::vector<Problem>* problems;       // every mistake is appended
  std::optional<Problem>* unit_needed;  // the first bare number that lacks a unit, its reason left open

  Units shown_units() const { return units.value_or(Units::metric); }

  void note(const Entry& entry, std::string allowed, std::string reason) const;

  // Nothing, and a problem noted, where the entry is wrong.
  std::optional<Value> value(const KeySpec& spec, const Entry& entry) const;

  // The same for a key that may hold several values, written "12in & 8in".
  std::optional<Value> several(const KeySpec& spec, const Entry& entry) const;

  // The same for a list of texts.
  std::optional<Value> texts(const KeySpec& spec, const Entry& entry) const;

  // Entries with inline tables that the keys know taken apart: start = {at = ...} is start.at.
  static std::vector<Entry> opened(const std::vector<Entry>& entries,
                                   const std::vector<const KeySpec*>& keys);

  // The values of all entries that are right; unknown keys are noted. `written` receives every key met, right
  // or wrong. `unknown_key` words the message about a key that is not in `keys`.
  Values values(const std::vector<Entry>& entries, const std::vector<const KeySpec*>& keys,
                std::set<std::string>& written,
                const std::function<std::string(const std::string&)>& unknown_key) const;

  // Fills in defaults for keys not in `written` and notes, at `line`, each required key that is missing.
  void complete(Values& values, const std::vector<const KeySpec*>& keys, const std::set<std::string>& written,
                int line) const;
};

}  // namespace linerwright
