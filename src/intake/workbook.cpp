// Workbooks as ISO/IEC 29500 (Office Open XML) describes them: a zip archive of XML parts. Only values are
// read.
#include <zip.h>
#include <pugixml.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <limits>
#include <map>
#include <memory>

#include "cells.hpp"
#include "linerwright/intake/intake.hpp"
#include "linerwright/units/read_double.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

constexpr zip_uint64_t k_largest_part = 24u << 20;  // unpacked; a sheet of 50 000 rows takes as much
constexpr std::size_t k_most_rows = 50'000;
constexpr std::size_t k_most_columns = 1000;
constexpr std::size_t k_longest_cell = 32'767;  // what a workbook may hold
constexpr std::size_t k_most_text = 64u << 20;  // of all cells together

[[noreturn]] void refuse(const std::string& file, const std::string& reason,
                         const std::string& allowed = {}) {
  throw InputError({Problem{file, 0, "", "", "", allowed, reason}});
}

std::string_view local(const char* name) {
  const char* colon = std::strchr(name, ':');
  return colon == nullptr ? name : colon + 1;
}

// The first child of that name, whatever its prefix.
pugi::xml_node child(const pugi::xml_node& node, std::string_view name) {
  return node.find_child([&](const pugi::xml_node& one) { return local(one.name()) == name; });
}

std::string attribute(const pugi::xml_node& node, std::string_view name) {
  for (const pugi::xml_attribute& one : node.attributes())
    if (local(one.name()) == name) return one.value();
  return {};
}

class Archive {
 public:
  Archive(std::string_view bytes, const std::string& file) : file_(file) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    if (source != nullptr) archive_.reset(zip_open_from_source(source, ZIP_RDONLY, &error));
    if (!archive_) {
      const std::string why = zip_error_strerror(&error);
      if (source != nullptr) zip_source_free(source);
      zip_error_fini(&error);
      refuse(file, "is not a workbook that can be opened: " + why);
    }
    zip_error_fini(&error);
  }

  // The part unpacked; nothing where there is none.
  std::optional<std::string> part(const std::string& name) const {
    zip_stat_t stat;
    zip_stat_init(&stat);
    if (zip_stat(archive_.get(), name.c_str(), ZIP_FL_ENC_GUESS, &stat) != 0) return std::nullopt;
    if ((stat.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && stat.encryption_method != ZIP_EM_NONE)
      refuse(file_, "is locked with a password: save it without one");
    const std::unique_ptr<zip_file_t, int (*)(zip_file_t*)> part(
        zip_fopen(archive_.get(), name.c_str(), ZIP_FL_ENC_GUESS), &zip_fclose);
    if (!part)
      refuse(file_, "has a part that cannot be unpacked: " + std::string(zip_strerror(archive_.get())));
    std::string text;
    std::string block(1u << 16, '\0');
    while (true) {
      const zip_int64_t got = zip_fread(part.get(), block.data(), block.size());
      if (got < 0) refuse(file_, "is damaged: a part does not unpack");
      if (got == 0) break;
      text.append(block, 0, static_cast<std::size_t>(got));
      if (text.size() > k_largest_part)
        refuse(file_,
               fmt::format("unpacks to more than {} MB, far more than a schedule", k_largest_part >> 20));
    }
    return text;
  }

  pugi::xml_document xml(const std::string& name, std::string& text) const {
    std::optional<std::string> found = part(name);
    if (!found) refuse(file_, "holds no " + name + ", so it is not a workbook of cells");
    text = std::move(*found);
    pugi::xml_document document;
    // entities that a document defines are not expanded by this parser
    const pugi::xml_parse_result result =
        document.load_buffer_inplace(text.data(), text.size(), pugi::parse_default | pugi::parse_ws_pcdata);
    if (!result) refuse(file_, fmt::format("its part {} is broken: {}", name, result.description()));
    return document;
  }

  bool has(const std::string& name) const {
    return zip_name_locate(archive_.get(), name.c_str(), ZIP_FL_ENC_GUESS) >= 0;
  }

 private:
  struct Close {
    void operator()(zip_t* archive) const { zip_discard(archive); }
  };
  const std::string& file_;
  std::unique_ptr<zip_t, Close> archive_;
};

// Runs of text put together; what is read aloud beside it (phonetics) is left.
std::string text_of(const pugi::xml_node& node) {
  std::string out;
  for (const pugi::xml_node& one : node.children()) {
    if (local(one.name()) == "t") out += one.child_value();
    if (local(one.name()) == "r") out += child(one, "t").child_value();
  }
  return out;
}

std::vector<std::string> shared_texts(const Archive& archive) {
  std::vector<std::string> texts;
  if (!archive.has("xl/sharedStrings.xml")) return texts;
  std::string bytes;
  const pugi::xml_document document = archive.xml("xl/sharedStrings.xml", bytes);
  for (const pugi::xml_node& item : child(document, "sst").children())
    if (local(item.name()) == "si") texts.push_back(text_of(item));
  return texts;
}

std::string part_of_sheet(const Archive& archive, const std::string& wanted, const std::string& file,
                          std::string& name, std::vector<std::string>& others) {
  constexpr std::size_t k_most_told = 8;
  std::string bytes;
  const pugi::xml_document book = archive.xml("xl/workbook.xml", bytes);
  std::string id;
  std::string known;
  for (const pugi::xml_node& sheet : child(child(book, "workbook"), "sheets").children()) {
    const std::string title = attribute(sheet, "name");
    known += (known.empty() ? "" : ", ") + title;
    const bool hidden = attribute(sheet, "state") == "hidden" || attribute(sheet, "state") == "veryHidden";
    if (!id.empty() && wanted.empty() && !hidden && others.size() < k_most_told) others.push_back(title);
    if (!id.empty() || (wanted.empty() ? hidden : title != wanted)) continue;
    name = title;
    for (const pugi::xml_attribute& one : sheet.attributes())
      if (local(one.name()) == "id" && std::strchr(one.name(), ':') != nullptr) id = one.value();
  }
  if (id.empty()) {
    if (wanted.empty()) refuse(file, "holds no sheet that is shown");
    throw InputError({Problem{file, 0, "", "--sheet", wanted, known, "no sheet has this name"}});
  }
  std::string relations_bytes;
  const pugi::xml_document relations = archive.xml("xl/_rels/workbook.xml.rels", relations_bytes);
  for (const pugi::xml_node& one : child(relations, "Relationships").children()) {
    if (attribute(one, "Id") != id) continue;
    const std::string target = attribute(one, "Target");
    return target.substr(0, 1) == "/" ? target.substr(1) : "xl/" + target;
  }
  refuse(file, "does not say where its sheet lies");
}

// "AB12": the column from 0, and the row.
std::pair<std::size_t, long> place_of(const std::string& reference) {
  std::size_t column = 0;
  std::size_t i = 0;
  for (; i < reference.size() && reference[i] >= 'A' && reference[i] <= 'Z' && i < 4; ++i)
    column = column * 26 + static_cast<std::size_t>(reference[i] - 'A' + 1);
  long row = 0;
  for (; i < reference.size() && reference[i] >= '0' && reference[i] <= '9' && row < 10'000'000; ++i)
    row = row * 10 + (reference[i] - '0');
  return {column == 0 ? 0 : column - 1, row};
}

// A number as a person would see it: 15 digits, as workbooks themselves show.
std::string shown_number(const std::string& written) {
  double value = 0.0;
  const auto result = read_double(written.data(), written.data() + written.size(), value);
  if (result.ec != std::errc() || result.ptr != written.data() + written.size()) return written;
  const std::string text = fmt::format("{:.15g}", value);
  return text.find('e') == std::string::npos ? text : trimmed(value, 12);
}

GridCell cell_of(const pugi::xml_node& cell, const std::vector<std::string>& shared,
                 const std::string& file) {
  const std::string type = attribute(cell, "t");
  const std::string value = child(cell, "v").child_value();
  GridCell out;
  if (type == "s") {
    std::size_t index = 0;
    for (const char c : value)
      index = c >= '0' && c <= '9' && index < shared.size() ? index * 10 + static_cast<std::size_t>(c - '0')
                                                            : shared.size();
    if (value.empty() || index >= shared.size())
      refuse(file, "is damaged: cell " + attribute(cell, "r") + " names a text that it does not hold");
    out.text = shared[index];
  } else if (type == "inlineStr") {
    out.text = text_of(child(cell, "is"));
  } else if (type.empty() || type == "n") {
    out.text = shown_number(value);
    out.number = !value.empty();
    if (value.empty() && child(cell, "f")) out.text = "(formula without a value)";
  } else if (type == "b") {
    out.text = value == "1" ? "yes" : "no";
  } else {
    out.text = value;  // a formula's text, an error such as #REF!, a date
  }
  if (out.text.size() > k_longest_cell) refuse(file, "holds a cell of more than 32 767 characters");
  std::string clean;
  for (std::string_view rest = out.text; !rest.empty();) {
    const CodePoint next = first_code_point(rest);
    if (next.bytes == 0 || next.code == 0) refuse(file, "is damaged: a cell is not UTF-8 text");
    clean += rest.substr(0, next.bytes);
    rest.remove_prefix(next.bytes);
  }
  const std::size_t first = clean.find_first_not_of(" \t\r\n");
  out.text =
      first == std::string::npos ? "" : clean.substr(first, clean.find_last_not_of(" \t\r\n") - first + 1);
  return out;
}

// Cells merged downwards all say what the first of them says.
void fill_merged(const pugi::xml_node& sheet, std::vector<GridRow>& rows) {
  std::map<int, GridRow*> by_line;
  for (GridRow& row : rows) by_line[row.line] = &row;
  std::size_t filled = 0;
  for (const pugi::xml_node& merge : child(sheet, "mergeCells").children()) {
    const std::string reference = attribute(merge, "ref");
    const std::size_t colon = reference.find(':');
    if (colon == std::string::npos) continue;
    const auto [column, from] = place_of(reference.substr(0, colon));
    const auto [last_column, to] = place_of(reference.substr(colon + 1));
    const auto first = by_line.find(static_cast<int>(from));
    if (first == by_line.end() || column >= first->second->cells.size() || last_column != column) continue;
    const GridCell cell = first->second->cells[column];
    for (auto row = by_line.upper_bound(static_cast<int>(from)); row != by_line.end() && row->first <= to;
         ++row) {
      if (++filled > k_most_rows) return;
      if (row->second->cells.size() <= column) row->second->cells.resize(column + 1);
      row->second->cells[column] = cell;
    }
  }
}

}  // namespace

bool is_workbook(std::string_view bytes) {
  return bytes.substr(0, 4) == "PK\x03\x04";
}

Grid grid_of_workbook(std::string_view bytes, const std::string& file, const std::string& sheet) {
  const Archive archive(bytes, file);
  std::string name;
  std::vector<std::string> others;
  const std::string part = part_of_sheet(archive, sheet, file, name, others);
  const std::vector<std::string> shared = shared_texts(archive);
  std::string text;
  const pugi::xml_document document = archive.xml(part, text);
  const pugi::xml_node root = child(document, "worksheet");
  Grid grid{file, "sheet " + shown_text(name), {}, std::move(others)};
  int line = 0;
  std::size_t total = 0;
  for (const pugi::xml_node& node : child(root, "sheetData").children()) {
    if (local(node.name()) != "row") continue;
    const long stated = place_of(attribute(node, "r")).second;
    line = stated > line && stated < 2'000'000 ? static_cast<int>(stated) : line + 1;
    GridRow row{line, {}};
    for (const pugi::xml_node& one : node.children()) {
      if (local(one.name()) != "c") continue;
      const std::string reference = attribute(one, "r");
      const std::size_t column = reference.empty() ? row.cells.size() : place_of(reference).first;
      GridCell cell = cell_of(one, shared, file);
      if (cell.text.empty()) continue;
      if (column >= k_most_columns) refuse(file, fmt::format("holds more than {} columns", k_most_columns));
      total += cell.text.size();
      if (total > k_most_text) refuse(file, "holds far more text than a schedule");
      if (row.cells.size() <= column) row.cells.resize(column + 1);
      row.cells[column] = std::move(cell);
    }
    if (row.cells.empty()) continue;
    if (grid.rows.size() == k_most_rows)
      refuse(file, fmt::format("holds more than {} rows: split the schedule", k_most_rows));
    grid.rows.push_back(std::move(row));
  }
  fill_merged(root, grid.rows);
  return grid;
}

}  // namespace linerwright
