#include "listed_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace linerwright {

namespace {

struct ListedKey {
  const char* name;
  enum class Takes { number, length, words, yes_or_no } takes;
  const char* of;                // the form that it belongs to
  bool needed = false;           // in its form
  const char* before = nullptr;  // what stands in the text before its value, where that is not its name
};

// What may be listed: its tables, the text that they become, and the keys in the order of that text.
struct Listed {
  const char* table;
  const char* text;
  const char* allowed;
  std::vector<ListedKey> keys;
};

const std::vector<Listed>& all_listed() {
  using Takes = ListedKey::Takes;
  static const std::vector<Listed> all{
      {"part",
       "parts",
       "straight; bend with turn, pieces and radius where they differ; or to and over of a taper",
       {{"straight", Takes::length, "straight", true},
        {"bend", Takes::number, "bend", true},
        {"turn", Takes::number, "bend"},
        {"pieces", Takes::number, "bend"},
        {"radius", Takes::length, "bend"},
        {"to", Takes::length, "taper", true, "taper to"},
        {"over", Takes::length, "taper", true}}},
      {"opening",
       "openings",
       "what, at and around; diameter, or width and length; piece, setback, bevel, splay, metal and pair "
       "where "
       "they are wanted",
       {{"what", Takes::words, "opening", true, ""},
        {"piece", Takes::words, "opening"},
        {"at", Takes::length, "opening", true},
        {"around", Takes::number, "opening", true},
        {"diameter", Takes::length, "opening"},
        {"width", Takes::length, "opening"},
        {"length", Takes::length, "opening"},
        {"setback", Takes::length, "opening"},
        {"bevel", Takes::words, "opening"},
        {"splay", Takes::number, "opening"},
        {"metal", Takes::yes_or_no, "opening"},
        {"pair", Takes::yes_or_no, "opening"}}}};
  return all;
}

// One table while it becomes words.
class Item {
 public:
  Item(Section& section, const Listed& listed, const Entry& table, std::size_t number,
       std::optional<Units> units)
      : section_(section), listed_(listed), table_(table), number_(number), units_(units) {}

  std::string words() {
    std::string form;
    for (const Entry& entry : table_.inside) {
      const ListedKey* key = key_of(entry);
      if (key == nullptr) continue;
      if (form.empty()) form = key->of;
      if (form != key->of)
        wrong(entry, fmt::format("one {0}, one table", listed_.table),
              fmt::format("says a {} beside a {}", key->of, form));
    }
    if (form.empty()) {
      wrong(table_, listed_.allowed, fmt::format("says no {}", listed_.table));
      return {};
    }
    std::string words;
    for (const ListedKey& key : listed_.keys) {
      if (form != key.of) continue;
      bool said = false;
      for (const Entry& entry : table_.inside)
        if (entry.key == key.name) {
          const std::string before = key.before == nullptr ? key.name : key.before;
          words += fmt::format("{}{}{}{}", words.empty() ? "" : " ", before, before.empty() ? "" : " ",
                               value_of(key, entry));
          said = true;
        }
      if (key.needed && !said) wrong(table_, listed_.allowed, fmt::format("{} is missing", key.name));
    }
    return words;
  }

 private:
  void wrong(const Entry& entry, const std::string& allowed, const std::string& reason) {
    section_.problems.push_back({section_.file, entry.line, "", entry.key.empty() ? listed_.table : entry.key,
                                 entry.written, allowed,
                                 fmt::format("{} {}: {}", listed_.table, number_, reason)});
  }

  const ListedKey* key_of(const Entry& entry) {
    const auto found = std::find_if(listed_.keys.begin(), listed_.keys.end(),
                                    [&](const ListedKey& key) { return entry.key == key.name; });
    if (found != listed_.keys.end()) return &*found;
    wrong(entry, listed_.allowed,
          fmt::format("'{}' says nothing of {} {}", entry.key, listed_.table[0] == 'o' ? "an" : "a",
                      listed_.table));
    return nullptr;
  }

  std::string value_of(const ListedKey& key, const Entry& entry) {
    using Takes = ListedKey::Takes;
    if (key.takes == Takes::yes_or_no && entry.form == Entry::Form::boolean)
      return entry.text == "true" ? "yes" : "no";
    const bool number = entry.form == Entry::Form::number;
    const bool length = key.takes == Takes::length;
    if (!number && entry.form != Entry::Form::text) {
      wrong(entry, key.takes == Takes::yes_or_no ? "true or false" : "a number, or a text with its unit",
            "is neither");
    } else if (entry.text.find_first_of(",;") != std::string::npos) {
      wrong(entry, "one value", "holds a comma");
    } else if (number && length && !units_) {
      wrong(entry, "a unit, or units in [job]", "a number without unit");
    }
    const char* unit = !number || !length ? "" : units_ == Units::inch ? "in" : "mm";
    return entry.text + unit;
  }

  Section& section_;
  const Listed& listed_;
  const Entry& table_;
  std::size_t number_;
  std::optional<Units> units_;
};

void join_listed(Section& section, const Listed& listed, std::optional<Units> units) {
  const auto is_table_list = [&](const Entry& entry) {
    return entry.key == listed.table && !entry.inside.empty() &&
           std::all_of(entry.inside.begin(), entry.inside.end(),
                       [](const Entry& inside) { return inside.key.empty(); });
  };
  const auto tables = std::find_if(section.entries.begin(), section.entries.end(), is_table_list);
  if (tables == section.entries.end()) return;
  Entry joined;
  joined.key = listed.text;
  joined.form = Entry::Form::text;
  joined.line = tables->line;
  for (std::size_t i = 0; i < tables->inside.size(); ++i) {
    const std::string words = Item(section, listed, tables->inside[i], i + 1, units).words();
    joined.text += (i == 0 ? "" : ", ") + words;
  }
  joined.written = joined.text;
  const bool twice = std::any_of(section.entries.begin(), section.entries.end(),
                                 [&](const Entry& entry) { return entry.key == listed.text; });
  if (twice)
    section.problems.push_back({section.file, tables->line, "", listed.table, "",
                                fmt::format("{}, or tables [[fitting.{}]]", listed.text, listed.table),
                                fmt::format("says {} twice", listed.text)});
  const auto at = section.entries.erase(tables);
  if (!twice) section.entries.insert(at, std::move(joined));
}

}  // namespace

void join_listed_parts(Section& section, std::optional<Units> units) {
  for (const Listed& listed : all_listed()) join_listed(section, listed, units);
}

}  // namespace linerwright
