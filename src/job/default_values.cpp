#include "default_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "fitting_check.hpp"
#include "names.hpp"

namespace linerwright {

namespace {

const Entry* entry_named(const std::vector<Entry>& entries, const std::string& key) {
  const auto found =
      std::find_if(entries.begin(), entries.end(), [&](const Entry& one) { return one.key == key; });
  return found == entries.end() ? nullptr : &*found;
}

KeySpec up_to_key() {
  KeySpec key;
  key.name = "angle_up_to";
  key.quantity = Quantity::angle;
  key.help = "the largest angle of the fittings that it fills in";
  key.min = 0.0;
  key.optional = true;
  return key;
}

}  // namespace

DefaultsOfKinds::DefaultsOfKinds(const std::vector<Section>& sections, const JobSchema& schema,
                                 const Checker& checker)
    : schema_(schema) {
  const std::vector<std::string> kinds = names_of(schema.kinds);
  const KeySpec up_to = up_to_key();
  for (const Section& section : sections) {
    if (section.name != "default") continue;
    Table table{"", std::nullopt, {}, section.line};
    const Entry* kind = entry_named(section.entries, "kind");
    const auto known = std::find_if(schema.kinds.begin(), schema.kinds.end(), [&](const KindSchema& one) {
      return kind != nullptr && key_form(one.kind) == key_form(kind->text);
    });
    if (known == schema.kinds.end()) {
      checker.problems->push_back({checker.file, kind == nullptr ? section.line : kind->line, "", "kind",
                                   kind == nullptr ? "" : kind->written, joined(kinds),
                                   kind == nullptr ? "is missing: [[default]] fills in fittings of one kind"
                                                   : unknown("kind of fitting", kind->text, kinds)});
      continue;
    }
    table.kind = known->kind;
    for (const Entry& entry : section.entries) {
      if (entry.key == "angle_up_to") {
        if (const auto value = checker.value(up_to, entry)) table.up_to = std::get<double>(value->data);
      } else if (entry.key != "kind") {
        table.entries.push_back(entry);
      }
    }
    std::set<std::string> written;
    const std::vector<const KeySpec*> keys = keys_of(*known, schema);
    const Values right = checker.values(table.entries, keys, written, [&](const std::string& key) {
      return unknown("key of kind " + table.kind, key, names_of(keys));
    });
    // what is wrong is told here, and not again by each fitting
    table.entries.erase(std::remove_if(table.entries.begin(), table.entries.end(),
                                       [&](const Entry& entry) { return !right.has(entry.key); }),
                        table.entries.end());
    tables_.push_back(std::move(table));
  }
}

bool DefaultsOfKinds::fits(const Table& table, const Section& fitting) const {
  const Entry* kind = entry_named(fitting.entries, "kind");
  if (kind == nullptr || key_form(kind->text) != key_form(table.kind)) return false;
  if (!table.up_to) return true;
  constexpr double k_slack = 1e-12;
  const Entry* angle = entry_named(fitting.entries, "angle");
  std::string text = angle == nullptr ? "" : angle->text;
  for (const KeySpec& key : kind_named(table.kind, schema_).keys)
    if (angle == nullptr && key.name == "angle" && key.default_value) text = *key.default_value;
  try {
    return parse_quantity(Quantity::angle, text, Units::metric) <= *table.up_to + k_slack;
  } catch (const std::invalid_argument&) {
    return false;
  }
}

void DefaultsOfKinds::fill_in(Section& fitting, std::optional<Units> units) {
  const Entry* tag = entry_named(fitting.entries, "tag");
  const std::string name = tag == nullptr ? "" : tag->text;
  for (const Table& table : tables_) {
    if (!fits(table, fitting)) continue;
    for (const Entry& entry : table.entries) {
      if (entry_named(fitting.entries, entry.key) != nullptr) continue;
      Entry own = entry;
      if (units && fitting.units && *units != *fitting.units) {
        for (const KeySpec& key : kind_named(table.kind, schema_).keys)
          if (key.name == entry.key && key.type == ValueType::quantity)
            own.bare_unit = unit_name(key.quantity, *units);
      }
      own.line = fitting.line;
      fitting.entries.push_back(std::move(own));
      used_[fmt::format("{} = {} by [[default]] of line {}", entry.key, entry.written, table.line)].push_back(
          name);
    }
  }
}

std::vector<std::string> DefaultsOfKinds::notes() const {
  std::vector<std::string> lines;
  for (const auto& [what, tags] : used_) lines.push_back(what + ": " + told_tags(tags));
  return lines;
}

std::string told_tags(const std::vector<std::string>& tags) {
  constexpr std::size_t k_most = 8;
  std::string out;
  for (std::size_t i = 0; i < std::min(tags.size(), k_most); ++i) out += (i > 0 ? ", " : "") + tags[i];
  return tags.size() > k_most ? out + fmt::format(" and {} more", tags.size() - k_most) : out;
}

}  // namespace linerwright
