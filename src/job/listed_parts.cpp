#include "listed_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace linerwright {

namespace {

constexpr const char* k_allowed =
    "straight; bend with turn, pieces and radius where they differ; or to and over of a taper";

struct PartKey {
  const char* name;
  bool length;
  const char* of;  // the form that it belongs to
};
constexpr std::array<PartKey, 7> k_keys{{{"straight", true, "straight"},
                                         {"bend", false, "bend"},
                                         {"turn", false, "bend"},
                                         {"pieces", false, "bend"},
                                         {"radius", true, "bend"},
                                         {"to", true, "taper"},
                                         {"over", true, "taper"}}};

// One table while it becomes words.
class Part {
 public:
  Part(Section& section, const Entry& table, std::size_t number, std::optional<Units> units)
      : section_(section), table_(table), number_(number), units_(units) {}

  std::string words() {
    std::string form;
    for (const Entry& entry : table_.inside) {
      const PartKey* key = key_of(entry);
      if (key == nullptr) continue;
      if (form.empty()) form = key->of;
      if (form != key->of)
        wrong(entry, "one part, one table", fmt::format("says a {} beside a {}", key->of, form));
    }
    if (form.empty()) {
      wrong(table_, k_allowed, "says no part");
      return {};
    }
    std::string words = form == "taper" ? "taper" : "";
    for (const PartKey& key : k_keys)
      for (const Entry& entry : table_.inside)
        if (entry.key == key.name && form == key.of)
          words += fmt::format("{}{} {}", words.empty() ? "" : " ", key.name, value_of(key, entry));
    if (form == "taper")
      for (const char* needed : {"to", "over"}) require(needed);
    else
      require(form);
    return words;
  }

 private:
  void wrong(const Entry& entry, const std::string& allowed, const std::string& reason) {
    section_.problems.push_back({section_.file, entry.line, "", entry.key.empty() ? "part" : entry.key,
                                 entry.written, allowed, fmt::format("part {}: {}", number_, reason)});
  }

  void require(const std::string& key) {
    if (std::none_of(table_.inside.begin(), table_.inside.end(),
                     [&](const Entry& entry) { return entry.key == key; }))
      wrong(table_, k_allowed, key + " is missing");
  }

  const PartKey* key_of(const Entry& entry) {
    const auto* found =
        std::find_if(k_keys.begin(), k_keys.end(), [&](const PartKey& key) { return entry.key == key.name; });
    if (found != k_keys.end()) return found;
    wrong(entry, k_allowed, "'" + entry.key + "' says nothing of a part");
    return nullptr;
  }

  std::string value_of(const PartKey& key, const Entry& entry) {
    const bool number = entry.form == Entry::Form::number;
    if (!number && entry.form != Entry::Form::text) {
      wrong(entry, "a number, or a text with its unit", "is neither");
    } else if (entry.text.find_first_of(",;") != std::string::npos) {
      wrong(entry, "one value", "holds a comma");
    } else if (number && key.length && !units_) {
      wrong(entry, "a unit, or units in [job]", "a number without unit");
    }
    const char* unit = !number || !key.length ? "" : units_ == Units::inch ? "in" : "mm";
    return entry.text + unit;
  }

  Section& section_;
  const Entry& table_;
  std::size_t number_;
  std::optional<Units> units_;
};

bool is_table_list(const Entry& entry) {
  return entry.key == "part" && !entry.inside.empty() &&
         std::all_of(entry.inside.begin(), entry.inside.end(),
                     [](const Entry& inside) { return inside.key.empty(); });
}

}  // namespace

void join_listed_parts(Section& section, std::optional<Units> units) {
  const auto listed = std::find_if(section.entries.begin(), section.entries.end(), is_table_list);
  if (listed == section.entries.end()) return;
  Entry parts;
  parts.key = "parts";
  parts.form = Entry::Form::text;
  parts.line = listed->line;
  for (std::size_t i = 0; i < listed->inside.size(); ++i) {
    const std::string words = Part(section, listed->inside[i], i + 1, units).words();
    parts.text += (i == 0 ? "" : ", ") + words;
  }
  parts.written = parts.text;
  const bool twice = std::any_of(section.entries.begin(), section.entries.end(),
                                 [](const Entry& entry) { return entry.key == "parts"; });
  if (twice)
    section.problems.push_back({section.file, listed->line, "", "part", "",
                                "parts, or tables [[fitting.part]]", "says parts twice"});
  const auto at = section.entries.erase(listed);
  if (!twice) section.entries.insert(at, std::move(parts));
}

}  // namespace linerwright
