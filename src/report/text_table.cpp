#include "text_table.hpp"

#include <algorithm>
#include <iterator>
#include <numeric>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

constexpr std::string_view k_ellipsis = "\xE2\x80\xA6";
constexpr std::size_t k_longest_words = 28;  // columns a cell of words may take at most
constexpr std::size_t k_least_words = 8;     // and what it keeps when the table is too wide
constexpr std::size_t k_gap = 2;

// What text begins with: a code point, or a byte that is no UTF-8 and takes the place of one.
struct Character {
  std::string_view bytes;
  char32_t code = 0;
};

Character first_character(std::string_view text) {
  const CodePoint next = first_code_point(text);
  return {text.substr(0, std::max<std::size_t>(next.bytes, 1)), next.bytes == 0 ? U'\0' : next.code};
}

struct Range {
  char32_t from, to;
};

template <std::size_t N>
bool within(char32_t code, const Range (&ranges)[N]) {
  return std::any_of(std::begin(ranges), std::end(ranges),
                     [&](const Range& range) { return code >= range.from && code <= range.to; });
}

// Blocks of the Unicode standard, roughly: scripts set in full-width cells, and emoji.
constexpr Range k_wide[] = {{0x1100, 0x115F}, {0x2E80, 0xA4CF}, {0xAC00, 0xD7A3},  {0xF900, 0xFAFF},
                            {0xFE30, 0xFE6F}, {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6},  {0x1F000, 0x1FAFF},
                            {0x2600, 0x27BF}, {0x231A, 0x231B}, {0x20000, 0x3FFFD}};
constexpr Range k_combining[] = {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x064B, 0x065F},
                                 {0x200C, 0x200D}, {0x20D0, 0x20F0}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};

std::size_t width_of(const Character& character) {
  if (within(character.code, k_combining)) return 0;
  return within(character.code, k_wide) ? 2 : 1;
}

std::string printable(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const Character character = first_character(text);
    out += is_control(character.code) ? std::string_view("?") : character.bytes;
    text.remove_prefix(character.bytes.size());
  }
  return out;
}

// The longest beginning of at most `width` columns.
std::string_view beginning(std::string_view text, std::size_t width) {
  std::size_t bytes = 0;
  while (bytes < text.size()) {
    const Character character = first_character(text.substr(bytes));
    const std::size_t wide = width_of(character);
    if (wide > width) break;
    width -= wide;
    bytes += character.bytes.size();
  }
  return text.substr(0, bytes);
}

// The longest end of at most `width` columns.
std::string_view ending(std::string_view text, std::size_t width) {
  while (shown_width(text) > width) text.remove_prefix(first_character(text).bytes.size());
  return text;
}

std::size_t widest_in(const std::vector<std::vector<std::string>>& rows, std::size_t column) {
  std::size_t widest = 0;
  for (const auto& row : rows) widest = std::max(widest, shown_width(row[column]));
  return widest;
}

}  // namespace

std::size_t shown_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Character character = first_character(text);
    width += width_of(character);
    text.remove_prefix(character.bytes.size());
  }
  return width;
}

std::string shortened(std::string_view text, std::size_t widest) {
  std::string clean = printable(text);
  if (shown_width(clean) <= widest) return clean;
  const std::size_t rest = widest - 1;
  return std::string(beginning(clean, rest - rest / 2)) + std::string(k_ellipsis) +
         std::string(ending(clean, rest / 2));
}

bool fits(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows) {
  std::size_t total = 0;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const std::size_t cells = rows.empty() ? 0 : widest_in(rows, c);
    if (cells > 0) total += std::max(cells, shown_width(columns[c].head)) + k_gap;
  }
  return total <= k_text_width + k_gap;
}

std::string text_table(std::vector<Column> columns, std::vector<std::vector<std::string>> rows) {
  for (std::size_t c = columns.size(); c-- > 0;) {
    if (std::any_of(rows.begin(), rows.end(), [&](const auto& row) { return !row[c].empty(); })) continue;
    columns.erase(columns.begin() + static_cast<std::ptrdiff_t>(c));
    for (auto& row : rows) row.erase(row.begin() + static_cast<std::ptrdiff_t>(c));
  }
  if (columns.empty()) return {};
  for (std::size_t c = 0; c < columns.size(); ++c)
    for (auto& row : rows) row[c] = shortened(row[c], columns[c].words ? k_longest_words : k_text_width);
  rows.insert(rows.begin(), std::vector<std::string>());
  for (const Column& column : columns) rows.front().push_back(column.head);

  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < columns.size(); ++c) widths.push_back(widest_in(rows, c));
  const auto total = [&] {
    return std::accumulate(widths.begin(), widths.end(), k_gap * (columns.size() - 1));
  };
  while (total() > k_text_width) {  // the widest words give way
    std::size_t widest = columns.size();
    for (std::size_t c = 0; c < columns.size(); ++c)
      if (columns[c].words && widths[c] > k_least_words &&
          (widest == columns.size() || widths[c] > widths[widest]))
        widest = c;
    if (widest == columns.size()) break;
    --widths[widest];
  }

  std::string text;
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::string cell = shortened(row[c], widths[c]);
      const std::string blanks(widths[c] - shown_width(cell), ' ');
      if (c > 0) line += std::string(k_gap, ' ');
      line += columns[c].words ? cell + blanks : blanks + cell;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

std::string wrapped(const std::string& first, std::string_view text) {
  const std::string clean = printable(text);
  std::string out;
  std::string line = first;
  const std::string indent(shown_width(first), ' ');
  bool empty = true;  // no word on this line yet
  for (std::size_t at = 0; at < clean.size();) {
    std::size_t end = clean.find(' ', at);
    if (end == std::string::npos) end = clean.size();
    std::string_view word = std::string_view(clean).substr(at, end - at);
    at = end + 1;
    while (!word.empty()) {
      if (!empty && shown_width(line) + 1 + shown_width(word) > k_text_width) {
        out += line + '\n';
        line = indent;
        empty = true;
      }
      if (!empty) line += ' ';
      std::string_view part = beginning(word, k_text_width - shown_width(line));
      if (part.empty()) part = first_character(word).bytes;  // no room even for one
      line += part;
      word.remove_prefix(part.size());
      empty = false;
    }
  }
  return out + line + '\n';
}

std::string csv_cell(const std::string& text) {
  std::string cell = text;
  // with their full-width forms, which some spreadsheets take for the same
  for (const std::string_view sign :
       {"=", "+", "-", "@", "\t", "\r", "\n", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"})
    if (cell.compare(0, sign.size(), sign) == 0) {
      cell.insert(0, "'");
      break;
    }
  if (cell.find_first_of(",\"\n\r") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

}  // namespace linerwright
