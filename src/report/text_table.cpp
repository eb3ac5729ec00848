#include "text_table.hpp"

#include <algorithm>

namespace linerwright {

namespace {

bool starts_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

std::size_t width_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_character));
}

std::string clean(const std::string& text, std::size_t widest) {
  std::string out;
  std::size_t width = 0;
  const bool cut = width_of(text) > widest;
  for (const char c : text) {
    if (starts_character(c) && ++width > widest - (cut ? 1 : 0)) break;
    const auto byte = static_cast<unsigned char>(c);
    out += byte < 0x20 || byte == 0x7f ? '?' : c;
  }
  return cut ? out + "…" : out;
}

}  // namespace

std::string text_table(const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows, std::size_t left,
                       std::size_t widest) {
  std::vector<std::vector<std::string>> all{heads};
  for (const auto& row : rows) {
    all.emplace_back();
    for (const std::string& cell : row) all.back().push_back(clean(cell, widest));
  }
  std::vector<std::size_t> widths(heads.size(), 0);
  for (const auto& row : all)
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], width_of(row[c]));
  std::string text;
  for (const auto& row : all) {
    std::string line;
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::string blanks(widths[c] - width_of(row[c]), ' ');
      line += (c > 0 ? "  " : "") + (c < left ? row[c] + blanks : blanks + row[c]);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

std::string csv_cell(const std::string& text) {
  std::string cell = text;
  if (!cell.empty() && std::string("=+-@\t\r").find(cell.front()) != std::string::npos) cell.insert(0, "'");
  if (cell.find_first_of(",\"\n\r") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

}  // namespace linerwright
