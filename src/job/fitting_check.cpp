#include "fitting_check.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "names.hpp"
#include "text_file.hpp"
#include "written.hpp"

#include "linerwright/job/choice.hpp"

namespace linerwright {

namespace {

KeySpec tag_key() {
  KeySpec key;
  key.name = "tag";
  key.type = ValueType::text;
  key.help = "the fitting's name on labels and files";
  return key;
}

KeySpec count_key() {
  KeySpec key;
  key.name = "count";
  key.type = ValueType::integer;
  key.default_value = "1";
  key.min = 1;
  key.max = 100000;
  key.range_reason = "cannot be how many of a fitting are made";
  return key;
}

}  // namespace

std::vector<KeySpec> joining_keys() {
  KeySpec joins;
  joins.name = "joins";
  joins.type = ValueType::text;
  joins.optional = true;
  joins.help = "what its start is joined to: a tag, whose end is meant, or tag:port";
  KeySpec turn;
  turn.name = "turn";
  turn.quantity = Quantity::angle;
  turn.optional = true;
  turn.help = "about the axis at which it joins, right-handed about the way on";
  KeySpec lined;
  lined.name = "lined";
  lined.type = ValueType::choice;
  lined.optional = true;
  lined.choices = words_of(k_lined_choices);
  lined.help = "in a run: before it is joined to its neighbours (the usual way) or after";
  return {joins, turn, lined};
}

namespace {

const Entry* find(const std::vector<Entry>& entries, const std::string& key) {
  const auto found =
      std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) { return entry.key == key; });
  return found == entries.end() ? nullptr : &*found;
}

// Why a tag cannot name labels and files, or empty.
std::string tag_fault(const std::string& tag, const std::u32string& characters) {
  constexpr std::size_t k_longest = 100;
  if (without_ends(tag).empty()) return "is empty";
  if (tag.find_first_of("/\\") != std::string::npos) return "holds a slash, and files are named after tags";
  if (tag == "." || tag == "..") return "is a folder's name, and files are named after tags";
  if (without_ends(tag).size() != tag.size()) return "begins or ends with a space";
  if (characters.size() > k_longest) {
    return fmt::format("has {} characters, too many for a label", characters.size());
  }
  return {};
}

// The tag of the section, with its mistakes noted; registers it.
std::optional<std::string> check_tag(const Section& section, FittingRules& rules, const Checker& checker) {
  const KeySpec key = tag_key();
  const Entry* entry = find(section.entries, key.name);
  if (entry == nullptr) {
    checker.problems->push_back({checker.file, section.line, "", shown_key(key.name, checker.file), "",
                                 "1 to 100 characters", "is missing: " + key.help});
    return std::nullopt;
  }
  const std::optional<Value> value = checker.value(key, *entry);
  if (!value) return std::nullopt;
  const std::string tag = std::get<std::string>(value->data);
  const std::u32string characters = *valid_code_points(tag);
  if (const std::string fault = tag_fault(tag, characters); !fault.empty()) {
    checker.note(*entry, "1 to 100 characters, no slash", fault);
    return std::nullopt;
  }
  const auto [first, is_new] =
      rules.tags.emplace(case_folded(characters), std::make_pair(checker.file, entry->line));
  if (is_new) return tag;
  const auto& [file, line] = first->second;
  const std::string where =
      file == checker.file ? fmt::format("line {}", line) : fmt::format("{}:{}", file, line);
  checker.note(*entry, "",
               "repeats the tag of " + where + "; tags must differ in more than upper and lower case");
  return std::nullopt;
}

const KindSchema* check_kind(const Section& section, const JobSchema& schema, const Checker& checker) {
  const std::vector<std::string> known = names_of(schema.kinds);
  const Entry* entry = find(section.entries, "kind");
  if (entry == nullptr) {
    checker.problems->push_back({checker.file, section.line, checker.tag, shown_key("kind", checker.file), "",
                                 joined(known), "is missing: the kind of fitting"});
    return nullptr;
  }
  if (entry->form != Entry::Form::text && entry->form != Entry::Form::loose) {
    checker.note(*entry, joined(known), "takes one of the words allowed, in quotes");
    return nullptr;
  }
  const std::string word = key_form(entry->text);
  for (const KindSchema& kind : schema.kinds) {
    if (key_form(kind.kind) == word) return &kind;
  }
  checker.note(*entry, joined(known), unknown("kind of fitting", entry->text, known));
  return nullptr;
}

// "unknown key, did you mean diameter?", or whose key it is.
std::string unknown_key_text(const std::string& written, const KindSchema& kind, const JobSchema& schema,
                             const std::vector<const KeySpec*>& keys) {
  std::vector<std::string> owners;
  for (const KindSchema& other : schema.kinds) {
    for (const KeySpec& key : other.keys) {
      if (key.name == written) owners.push_back(other.kind);
    }
  }
  if (!owners.empty()) return fmt::format("not a key of kind {}, but of {}", kind.kind, joined(owners));
  std::vector<std::string> known = names_of(keys);
  known.insert(known.end(), {"tag", "kind", "count", "size_is"});
  for (const KeySpec& key : joining_keys()) known.push_back(key.name);
  return unknown("key of kind " + kind.kind, written, known);
}

// How much larger the metal's inside is than the stated size: twice the liner's layers where the size is what
// is left clear, less twice the metal where it is the outside.
double metal_over(const std::string& size_is, const Values& values) {
  if (size_is == "clear")
    return 2.0 * (values.maybe("thickness").value_or(0.0) + values.maybe("second_layer").value_or(0.0));
  return size_is == "outside" ? -2.0 * values.maybe("gauge").value_or(0.0) : 0.0;
}

// Sizes that are not stated as the metal's inside become that.
void convert_sizes(const std::string& size_is, const std::vector<const KeySpec*>& keys, Values& values,
                   const Checker& checker) {
  const double over = metal_over(size_is, values);
  for (const KeySpec* key : keys) {
    const Value* stated = key->duct_size ? values.find(key->name) : nullptr;
    if (stated == nullptr || !stated->given) continue;
    Value value = *stated;
    std::vector<double> numbers = values.list(key->name);
    std::string text;
    for (double& number : numbers) {
      // what is shown is what counts: 24 in and 2 in are 26 in, not the sum of their millimetres
      const std::string sum = format_quantity(Quantity::length, number + over, checker.shown_units(), 9);
      number = parse_quantity(Quantity::length, sum, checker.shown_units());
      text += (text.empty() ? "" : " & ") + sum;
      if ((key->min && number < *key->min) || (key->max && number > *key->max))
        checker.problems->push_back({checker.file, value.line, checker.tag,
                                     shown_key(key->name, checker.file), value.written,
                                     range_text(*key, checker.shown_units()),
                                     fmt::format("stated {}, is {} of the metal", size_is, text)});
    }
    if (std::holds_alternative<double>(value.data))
      value.data = numbers.front();
    else
      value.data = numbers;
    value.written = text;
    value.written = readable_again(*key, value, text, "", checker.shown_units());
    values.set(key->name, std::move(value));
  }
}

bool is_own_key(const std::string& key) {
  return key == "tag" || key == "kind" || key == "count" || key == "size_is";
}

}  // namespace

KeySpec size_is_key() {
  KeySpec key;
  key.name = "size_is";
  key.type = ValueType::choice;
  key.help =
      "which diameter sizes state: the metal's inside, what is left clear inside the liner, or the metal's "
      "outside";
  key.choices = words_of(k_size_choices);
  key.optional = true;
  return key;
}

std::vector<const KeySpec*> keys_of(const KindSchema& kind, const JobSchema& schema) {
  std::vector<const KeySpec*> keys = pointers(kind.keys);
  for (const KeySpec& key : schema.liner_keys) {
    const bool hidden = std::any_of(kind.keys.begin(), kind.keys.end(),
                                    [&](const KeySpec& own) { return own.name == key.name; });
    if (!hidden) keys.push_back(&key);
  }
  return keys;
}

std::optional<FittingRequest> check_fitting(const Section& section, FittingRules& rules, Checker checker) {
  const std::size_t problems_before = checker.problems->size();
  const bool unit_needed_before = checker.unit_needed->has_value();
  const JobSchema& schema = *rules.schema;
  if (const auto tag = check_tag(section, rules, checker)) {
    checker.tag = *tag;
  } else if (const Entry* entry = find(section.entries, "tag")) {
    checker.tag = entry->form == Entry::Form::other ? "" : entry->text;
  }
  for (Problem problem : section.problems) {
    problem.tag = checker.tag;
    checker.problems->push_back(std::move(problem));
  }
  const KindSchema* kind = check_kind(section, schema, checker);
  const KeySpec count = count_key();
  std::optional<Value> number = default_of(count, Units::metric);
  if (const Entry* entry = find(section.entries, count.name)) number = checker.value(count, *entry);
  if (kind == nullptr) return std::nullopt;

  const std::vector<KeySpec> joining = joining_keys();
  std::vector<Entry> entries;
  Values joined_by;
  for (const Entry& entry : section.entries) {
    if (is_own_key(entry.key)) continue;
    const auto key =
        std::find_if(joining.begin(), joining.end(), [&](const KeySpec& k) { return k.name == entry.key; });
    if (key == joining.end()) {
      entries.push_back(entry);
    } else if (const auto value = checker.value(*key, entry)) {
      joined_by.set(entry.key, *value);
    }
  }
  const std::vector<const KeySpec*> keys = keys_of(*kind, schema);
  std::set<std::string> written;
  Values values = checker.values(entries, keys, written, [&](const std::string& key) {
    return unknown_key_text(key, *kind, schema, keys);
  });
  // What [liner] says stands in for what the fitting does not say, what a flag says for whatever is said.
  for (const KeySpec& key : schema.liner_keys) {
    const bool flagged = rules.liner_flags.count(key.name) != 0;
    if ((written.count(key.name) != 0 && !flagged) || std::find(keys.begin(), keys.end(), &key) == keys.end())
      continue;
    if (const Value* value = rules.liner.find(key.name)) {
      Value own = *value;
      own.written = readable_again(key, own, own.written, "", checker.shown_units());
      values.set(key.name, std::move(own));
    }
    if (rules.liner_written.count(key.name) != 0) written.insert(key.name);
  }
  checker.complete(values, keys, written, section.line);
  std::string size_is = rules.size_is;
  if (const Entry* entry = find(section.entries, "size_is")) {
    const KeySpec key = size_is_key();
    if (const auto said = checker.value(key, *entry)) size_is = std::get<std::string>(said->data);
  }
  if (size_is != "metal" && checker.problems->size() == problems_before) {
    convert_sizes(size_is, keys, values, checker);
    rules.converted[size_is].push_back(checker.tag);
  }
  if (checker.problems->size() > problems_before || checker.unit_needed->has_value() != unit_needed_before ||
      !number) {
    return std::nullopt;
  }
  return FittingRequest{checker.tag,
                        kind->kind,
                        std::get<long>(number->data),
                        std::move(values),
                        checker.shown_units(),
                        checker.file,
                        section.line,
                        0,
                        std::move(joined_by)};
}

}  // namespace linerwright
