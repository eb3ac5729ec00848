#include "linerwright/job/toml_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>

#include "text_file.hpp"

// The one file that sees the TOML library. Its assertions guard against malformed input ("[[" before a line
// end), so they stay on in every build and throw; hence NDEBUG goes before the include.
#undef NDEBUG
namespace linerwright {
struct TomlAssertion {};
[[noreturn]] static void refuse_assertion() {
  throw TomlAssertion();
}
}  // namespace linerwright
#define TOML_ASSERT(condition) static_cast<void>((condition) || (::linerwright::refuse_assertion(), true))
#define TOML_ENABLE_FORMATTERS 0
#define TOML_MAX_NESTED_VALUES 16
#include <toml++/toml.h>

namespace linerwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& reason) {
  throw InputError({Problem{file, line, "", "", "", "", reason}});
}

int line_of(const toml::source_region& source) {
  return static_cast<int>(source.begin.line);
}

// The lines of the file, to show values as they were written.
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text) {
    for (std::size_t start = 0; start <= text.size();) {
      const std::size_t end = std::min(text.find('\n', start), text.size());
      starts_.push_back(start);
      lines_.push_back(text.substr(start, end - start));
      plain_.push_back(std::all_of(lines_.back().begin(), lines_.back().end(),
                                   [](char c) { return static_cast<unsigned char>(c) < 0x80; }));
      start = end + 1;
    }
  }

  std::string_view line(std::size_t number) const {
    return number >= 1 && number <= lines_.size() ? lines_[number - 1] : std::string_view();
  }

  // The text of a region; a region of several lines ends with its first.
  std::string slice(const toml::source_region& region) const {
    const std::string_view text = line(region.begin.line);
    const auto place = [&](std::size_t column) {
      const bool plain =
          region.begin.line >= 1 && region.begin.line <= plain_.size() && plain_[region.begin.line - 1];
      return plain && column > 0 ? std::min<std::size_t>(column - 1, text.size()) : byte_at(text, column);
    };
    const std::size_t first = place(region.begin.column);
    const std::size_t last = region.end.line == region.begin.line ? place(region.end.column) : text.size();
    std::string out(text.substr(first, last > first ? last - first : 0));
    while (!out.empty() && (out.back() == ' ' || out.back() == '\t' || out.back() == '\r')) out.pop_back();
    return out;
  }

  // The bytes from the beginning of a region to its end, blanks after it left out.
  std::pair<std::size_t, std::size_t> bytes(const toml::source_region& region, std::string_view text) const {
    const auto place = [&](const toml::source_position& at) {
      const std::string_view row = line(at.line);
      return row.data() == nullptr ? text.size() : starts_[at.line - 1] + byte_at(row, at.column);
    };
    const std::size_t begin = place(region.begin);
    std::size_t end = std::max(begin, place(region.end));
    while (end > begin &&
           (text[end - 1] == ' ' || text[end - 1] == '\t' || text[end - 1] == '\r' || text[end - 1] == '\n'))
      --end;
    return {begin, end};
  }

  std::size_t size() const { return lines_.size(); }
  std::string_view all() const { return text_; }

 private:
  // Columns count code points from 1.
  static std::size_t byte_at(std::string_view text, std::size_t column) {
    std::size_t at = 0;
    for (std::size_t i = 1; i < column && at < text.size(); ++i) {
      ++at;
      while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) ++at;
    }
    return at;
  }

  std::string_view text_;
  std::vector<std::string_view> lines_;
  std::vector<std::size_t> starts_;  // of the lines, in bytes
  std::vector<bool> plain_;          // ASCII: columns are bytes
};

void refuse_long_lines(const Lines& lines, const std::string& file) {
  for (std::size_t number = 1; number <= lines.size(); ++number)
    if (lines.line(number).size() > k_longest_line)
      refuse(file, static_cast<int>(number), fmt::format("is longer than {} characters", k_longest_line));
}

// Dotted keys nest one table per dot, and the library takes tables apart by recursion.
void refuse_deep_nesting(const Lines& lines, const std::string& file) {
  constexpr std::ptrdiff_t k_most_dots = 200;
  for (std::size_t number = 1; number <= lines.size(); ++number) {
    const std::string_view line = lines.line(number);
    if (std::count(line.begin(), line.end(), '.') > k_most_dots && line.substr(0, 1) != "#") {
      refuse(file, static_cast<int>(number), "holds over 200 dots: nested too deeply for a job file");
    }
  }
}

// The first line with a table head that is not closed, for errors that carry no position.
int unclosed_head(const Lines& lines) {
  for (std::size_t number = 1; number <= lines.size(); ++number) {
    const std::string_view line = lines.line(number);
    const std::size_t first = line.find_first_not_of(" \t");
    if (first != std::string_view::npos && line[first] == '[' && line.find(']') == std::string_view::npos) {
      return static_cast<int>(number);
    }
  }
  return 0;
}

// A scalar's text as a cell would hold it; nothing for anything else.
std::optional<std::string> scalar_text(const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  if (const auto* integer = node.as_integer()) return fmt::format("{}", integer->get());
  if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
  return std::nullopt;
}

std::optional<std::vector<std::string>> list_items(const toml::array& array) {
  std::vector<std::string> items;
  for (const toml::node& element : array) {
    std::optional<std::string> text = scalar_text(element);
    if (!text) return std::nullopt;
    items.push_back(std::move(*text));
  }
  return items;
}

// The list's values joined by &, as a cell or a flag would hold them.
std::string joined_values(const std::vector<std::string>& items) {
  std::string all;
  for (const std::string& item : items) all += (all.empty() ? "" : " & ") + item;
  return all;
}

Entry entry_of(const toml::key& key, const toml::node& node, const Lines& lines) {
  Entry entry;
  entry.key = std::string(key.str());
  entry.line = line_of(key.source());
  entry.written = lines.slice(node.source());
  std::tie(entry.begin, entry.end) = lines.bytes(node.source(), lines.all());
  entry.form = Entry::Form::other;
  if (const auto* text = node.as_string()) {
    entry.form = Entry::Form::text;
    entry.written = entry.text = text->get();
  } else if (node.is_integer() || node.is_floating_point()) {
    entry.form = Entry::Form::number;
    entry.text = *scalar_text(node);
  } else if (const auto* array = node.as_array()) {
    if (std::optional<std::vector<std::string>> items = list_items(*array)) {
      entry.form = Entry::Form::list;
      entry.text = joined_values(*items);
      entry.items = std::move(*items);
    } else if (array->is_array_of_tables()) {
      for (const toml::node& element : *array) {
        Entry table;
        table.line = line_of(element.source());
        table.form = Entry::Form::other;
        for (const auto& [name, value] : *element.as_table())
          table.inside.push_back(entry_of(name, value, lines));
        entry.inside.push_back(std::move(table));
      }
    }
  } else if (const auto* table = node.as_table(); table != nullptr) {
    for (const auto& [name, value] : *table) entry.inside.push_back(entry_of(name, value, lines));
  } else if (const auto* truth = node.as_boolean()) {
    entry.form = Entry::Form::boolean;
    entry.text = truth->get() ? "true" : "false";
  }
  return entry;
}

void refuse_many_keys(const toml::table& table, const std::string& name, int line, const std::string& file) {
  if (table.size() > k_most_fittings)
    refuse(file, line, fmt::format("{} holds more than {} keys", name, k_most_fittings));
}

Section section_of(const toml::key& name, const toml::table& table, bool listed, const std::string& file,
                   const Lines& lines) {
  Section section{std::string(name.str()), file, line_of(table.source()), listed, {}};
  if (section.line == 0) section.line = line_of(name.source());
  refuse_many_keys(table, "[" + section.name + "]", section.line, file);
  for (const auto& [key, node] : table) section.entries.push_back(entry_of(key, node, lines));
  std::stable_sort(section.entries.begin(), section.entries.end(),
                   [](const Entry& a, const Entry& b) { return a.line < b.line; });
  return section;
}

// The library's reason; a text without its closing quote runs into the line's end, which it calls a control
// character.
std::string reason_of(const toml::parse_error& error) {
  constexpr std::string_view k_prefix = "Error while parsing ";
  std::string reason(error.description());
  if (reason.find("unescaped control character") != std::string::npos) {
    return "a text holds a control character, or its closing quote is missing";
  }
  if (reason.compare(0, k_prefix.size(), k_prefix) == 0) reason.replace(0, k_prefix.size(), "in ");
  return reason;
}

toml::table parsed(std::string_view text, const std::string& file, const Lines& lines) {
  try {
    return toml::parse(text);
  } catch (const toml::parse_error& error) {
    refuse(file, line_of(error.source()),
           fmt::format("not valid TOML at column {}: {}", error.source().begin.column, reason_of(error)));
  } catch (const TomlAssertion&) {
    refuse(file, unclosed_head(lines),
           "not valid TOML: a table's name is not closed, write [name] or [[name]]");
  }
}

}  // namespace

std::vector<Section> read_toml(std::string_view text, const std::string& file) {
  const Lines lines(text);
  refuse_long_lines(lines, file);
  refuse_deep_nesting(lines, file);
  const toml::table root = parsed(text, file, lines);
  refuse_many_keys(root, "the file", 0, file);
  std::vector<Section> sections;
  Section outside;
  outside.file = file;
  for (const auto& [key, node] : root) {
    const toml::array* array = node.as_array();
    if (const toml::table* table = node.as_table()) {
      sections.push_back(section_of(key, *table, false, file, lines));
    } else if (array != nullptr && array->is_array_of_tables()) {
      if (array->size() > k_most_fittings)
        refuse(file, line_of((*array)[k_most_fittings].source()),
               fmt::format("holds more than {} tables [[{}]]: split the job", k_most_fittings,
                           std::string(key.str())));
      for (const toml::node& element : *array) {
        sections.push_back(section_of(key, *element.as_table(), true, file, lines));
      }
    } else {
      outside.entries.push_back(entry_of(key, node, lines));
    }
  }
  sections.push_back(outside);
  std::stable_sort(sections.begin(), sections.end(),
                   [](const Section& a, const Section& b) { return a.line < b.line; });
  return sections;
}

}  // namespace linerwright
