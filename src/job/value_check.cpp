#include "value_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "linerwright/units/utf8.hpp"
#include "names.hpp"
#include "text_file.hpp"
#include "written.hpp"

namespace linerwright {

namespace {

// At least four significant digits, so that a small limit does not print as 0.
std::string shown(const KeySpec& spec, double value, Units units) {
  if (spec.type == ValueType::integer) return fixed(value, 0);
  const double size = std::abs(to_units(spec.quantity, value, units));
  const int decimals = size > 0.0 ? std::clamp(3 - static_cast<int>(std::floor(std::log10(size))), 3, 12) : 0;
  return format_quantity(spec.quantity, value, units, decimals);
}

// The reason why `value` is out of range, or empty. Limits are met when they are met as written: 24 in and 2
// ft are the same limit although their last bits differ, hence the slack of 1e-12 of the limit.
std::string out_of_range(const KeySpec& spec, double value) {
  constexpr double k_slack = 1e-12;
  if (spec.min) {
    const double slack = k_slack * std::abs(*spec.min);
    if (spec.min_open ? value <= *spec.min + slack : value < *spec.min - slack) {
      return spec.range_reason.empty() ? "is too small" : spec.range_reason;
    }
  }
  if (spec.max && value > *spec.max + k_slack * std::abs(*spec.max)) {
    return spec.range_reason.empty() ? "is too large" : spec.range_reason;
  }
  return {};
}

// What a key of this type takes, for a value of another type.
std::string expected(const KeySpec& spec) {
  switch (spec.type) {
    case ValueType::quantity:
      return spec.quantity == Quantity::number ? "takes a number"
             : spec.many ? "takes a number, text with a unit in quotes, or a list of these"
                         : "takes a number, or text with a unit in quotes";
    case ValueType::integer:
      return "takes a whole number, without quotes";
    case ValueType::choice:
      return "takes one of the words allowed, in quotes";
    case ValueType::flag:
      return "takes true or false, without quotes";
    case ValueType::text:
      return spec.many ? "takes a list of texts in quotes: [\"a\", \"b\"]" : "takes text in quotes";
  }
  return {};
}

bool form_fits(const KeySpec& spec, Entry::Form form) {
  if (form == Entry::Form::loose) return true;
  switch (spec.type) {
    case ValueType::quantity:
      return form == Entry::Form::number || form == Entry::Form::text ||
             (spec.many && form == Entry::Form::list);
    case ValueType::integer:
      return form == Entry::Form::number;
    case ValueType::flag:
      return form == Entry::Form::boolean;
    case ValueType::choice:
      return form == Entry::Form::text;
    case ValueType::text:
      return form == Entry::Form::text || (spec.many && form == Entry::Form::list);
  }
  return false;
}

// The value in the library's unit; nothing where the text is a bare number and no unit is stated.
std::optional<double> quantity_of(const KeySpec& spec, const Entry& entry, std::optional<Units> units) {
  if (!entry.bare_unit.empty()) return parse_quantity(spec.quantity, entry.text, entry.bare_unit);
  const double value = parse_quantity(spec.quantity, entry.text, units.value_or(Units::metric));
  if (!units && value != parse_quantity(spec.quantity, entry.text, Units::inch)) return std::nullopt;
  return value;
}

// Why a text cannot be taken, or empty.
std::string text_fault(const std::string& text) {
  const std::optional<std::u32string> characters = valid_code_points(text);
  if (!characters) return "is not UTF-8 text";
  if (std::any_of(characters->begin(), characters->end(), is_control))
    return "holds a line break, a control character or an invisible mark";
  return {};
}

std::optional<bool> truth_of(const Entry& entry) {
  const std::string word = key_form(entry.text);
  if (word == "true" || word == "yes" || word.empty()) return true;
  if (word == "false" || word == "no") return false;
  return std::nullopt;
}

}  // namespace

std::string range_text(const KeySpec& spec, Units units) {
  if (spec.type == ValueType::choice) return joined(spec.choices);
  if (spec.type == ValueType::flag) return "true, false";
  if (spec.type == ValueType::text) return {};
  std::string out;
  if (spec.min) out = (spec.min_open ? "over " : "at least ") + shown(spec, *spec.min, units);
  if (spec.max) out += (out.empty() ? "at most " : ", at most ") + shown(spec, *spec.max, units);
  return out;
}

Value default_of(const KeySpec& spec, Units units) {
  Entry entry;
  entry.key = spec.name;
  entry.written = entry.text = *spec.default_value;
  std::vector<Problem> problems;
  std::optional<Problem> unit_needed;
  const Checker checker{"", "", units, &problems, &unit_needed};
  std::optional<Value> value = checker.value(spec, entry);
  if (!value) throw std::logic_error("the default of " + spec.name + ": " + one_line(problems.front()));
  value->given = false;
  return *value;
}

std::vector<const KeySpec*> pointers(const std::vector<KeySpec>& keys) {
  std::vector<const KeySpec*> out;
  for (const KeySpec& key : keys) out.push_back(&key);
  return out;
}

void Checker::note(const Entry& entry, std::string allowed, std::string reason) const {
  problems->push_back({file, entry.line, tag, shown_key(entry.key, file), entry.written, std::move(allowed),
                       std::move(reason)});
}

std::optional<Value> Checker::several(const KeySpec& spec, const Entry& entry) const {
  const std::vector<std::string> parts = parts_of(entry.text);
  if (parts.size() > spec.most) {
    note(entry, fmt::format("at most {} values", spec.most), "holds too many values");
    return std::nullopt;
  }
  std::vector<double> numbers;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Entry one = entry;
    one.form = Entry::Form::loose;
    one.text = parts[i];
    const std::size_t before = problems->size();
    const std::optional<Value> value = this->value(spec, one);
    for (std::size_t p = before; p < problems->size(); ++p)
      (*problems)[p].reason = fmt::format("value {}: {}", i + 1, (*problems)[p].reason);
    if (value) numbers.push_back(std::get<double>(value->data));
  }
  if (numbers.size() != parts.size()) return std::nullopt;
  Value value{numbers, entry.form == Entry::Form::list ? entry.text : entry.written, true, entry.line, file};
  value.written = readable_again(spec, value, entry.text, entry.bare_unit, shown_units());
  return value;
}

std::optional<Value> Checker::texts(const KeySpec& spec, const Entry& entry) const {
  if (entry.items.size() > spec.most) {
    note(entry, fmt::format("at most {} texts", spec.most), "holds too many texts");
    return std::nullopt;
  }
  Value value{entry.items, entry.text, true, entry.line, file};
  for (const std::string& item : entry.items) {
    if (const std::string fault = text_fault(item); !fault.empty()) {
      note(entry, "", fault);
      return std::nullopt;
    }
  }
  return value;
}

std::optional<Value> Checker::value(const KeySpec& spec, const Entry& entry) const {
  // a list is kept as a flag or a cell would hold it
  Value value{{}, entry.form == Entry::Form::list ? entry.text : entry.written, true, entry.line, file};
  const std::string allowed = range_text(spec, shown_units());
  const auto wrong = [&](std::string reason) {
    note(entry, allowed, std::move(reason));
    return std::nullopt;
  };
  if (!form_fits(spec, entry.form))
    return wrong(entry.form == Entry::Form::list ? "takes one value, not a list" : expected(spec));
  if (spec.type == ValueType::text && entry.form == Entry::Form::list) return texts(spec, entry);
  const bool has_several = entry.text.find('&') != std::string::npos;
  if (spec.many && has_several) return several(spec, entry);
  if (spec.type == ValueType::quantity || spec.type == ValueType::integer) {
    if (has_several) return wrong("takes one value, not several");
    std::optional<double> number;
    try {
      number = spec.type == ValueType::integer ? parse_quantity(Quantity::number, entry.text, Units::metric)
                                               : quantity_of(spec, entry, units);
    } catch (const std::invalid_argument& error) {
      return wrong(error.what());
    }
    if (!number) {
      if (!*unit_needed) {
        *unit_needed = Problem{file, entry.line, tag, shown_key(entry.key, file), entry.written, "", ""};
      }
      return std::nullopt;
    }
    if (spec.type == ValueType::integer && (*number != std::floor(*number) || std::abs(*number) > 1e15)) {
      return wrong("must be a whole number");
    }
    if (const std::string reason = out_of_range(spec, *number); !reason.empty()) return wrong(reason);
    if (spec.type == ValueType::integer) {
      value.data = static_cast<long>(*number);
    } else {
      value.data = *number;
    }
    value.written = readable_again(spec, value, entry.text, entry.bare_unit, shown_units());
  } else if (spec.type == ValueType::flag) {
    const std::optional<bool> truth = truth_of(entry);
    if (!truth) return wrong("takes yes or no, true or false");
    value.data = *truth;
  } else if (spec.type == ValueType::choice) {
    const std::string word = key_form(entry.text);
    const auto choice =
        std::find_if(spec.choices.begin(), spec.choices.end(),
                     [&](const std::string& candidate) { return key_form(candidate) == word; });
    if (choice == spec.choices.end()) return wrong(unknown("choice", entry.text, spec.choices));
    value.data = *choice;
  } else {
    if (const std::string fault = text_fault(entry.text); !fault.empty()) return wrong(fault);
    value.data = entry.text;
  }
  return value;
}

std::vector<Entry> Checker::opened(const std::vector<Entry>& entries,
                                   const std::vector<const KeySpec*>& keys) {
  std::vector<Entry> out;
  for (const Entry& entry : entries) {
    const bool table = std::any_of(keys.begin(), keys.end(), [&](const KeySpec* key) {
      return key->name.compare(0, entry.key.size() + 1, entry.key + ".") == 0;
    });
    if (!table || entry.inside.empty()) {
      out.push_back(entry);
      continue;
    }
    for (Entry inner : entry.inside) {
      inner.key = entry.key + "." + inner.key;
      out.push_back(std::move(inner));
    }
  }
  return out;
}

Values Checker::values(const std::vector<Entry>& entries, const std::vector<const KeySpec*>& keys,
                       std::set<std::string>& written,
                       const std::function<std::string(const std::string&)>& unknown_key) const {
  Values out;
  for (const Entry& entry : opened(entries, keys)) {
    const auto key = std::find_if(keys.begin(), keys.end(),
                                  [&](const KeySpec* candidate) { return candidate->name == entry.key; });
    if (key == keys.end()) {
      note(entry, "", unknown_key(entry.key));
      // A misspelt key is one mistake: the key it was meant for does not count as missing.
      if (const std::string nearest = nearest_name(entry.key, names_of(keys)); !nearest.empty())
        written.insert(nearest);
      continue;
    }
    written.insert(entry.key);
    if (const auto value = this->value(**key, entry)) out.set(entry.key, *value);
  }
  return out;
}

void Checker::complete(Values& values, const std::vector<const KeySpec*>& keys,
                       const std::set<std::string>& written, int line) const {
  for (const KeySpec* key : keys) {
    if (values.has(key->name) || written.count(key->name) != 0) continue;
    if (key->default_value) {
      values.set(key->name, default_of(*key, shown_units()));
    } else if (!key->optional) {
      problems->push_back({file, line, tag, shown_key(key->name, file), "", range_text(*key, shown_units()),
                           "is missing: " + key->help});
    }
  }
}

}  // namespace linerwright
