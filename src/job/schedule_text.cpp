#include "linerwright/job/schedule_text.hpp"

#include <algorithm>

#include "linerwright/job/csv.hpp"
#include "schedule.hpp"
#include "text_file.hpp"

namespace linerwright {

ScheduleText::ScheduleText(std::string text, std::string file, const JobSchema& schema)
    : text_(std::move(text)), file_(std::move(file)), schema_(&schema) {
  read();
}

void ScheduleText::read() {
  const std::string_view content = checked_utf8(text_, file_);
  const std::size_t mark = text_.size() - content.size();  // a byte order mark
  Schedule schedule = read_schedule(content, file_, *schema_);
  if (!schedule.problems.empty()) throw InputError(schedule.problems);
  const CsvTable table = parse_csv(content);
  separator_ = table.separator;
  columns_.clear();
  for (const std::string& head : table.rows.front().cells) columns_.push_back(column_key(head));
  lines_.clear();
  for (const CsvRow& row : table.rows) {
    Line line{row.begin + mark, row.end + mark, row.spans};
    for (auto& [begin, end] : line.cells) {
      begin += mark;
      end += mark;
    }
    lines_.push_back(std::move(line));
  }
  rows_ = std::move(schedule.rows);
}

void ScheduleText::replace(std::size_t begin, std::size_t end, const std::string& by) {
  replace_part(text_, begin, end, by, [this] { read(); });
}

std::string ScheduleText::line_break() const {
  const std::size_t at = text_.find_first_of("\r\n");
  if (at == std::string::npos) return "\n";
  return text_.compare(at, 2, "\r\n") == 0 ? "\r\n" : text_.substr(at, 1);
}

std::string ScheduleText::cell_text(const std::string& written, bool first) const {
  const bool edges = !written.empty() && (written.front() == ' ' || written.back() == ' ');
  const bool quotes = written.find(separator_) != std::string::npos ||
                      written.find_first_of("\r\n") != std::string::npos || edges ||
                      (!written.empty() && (written.front() == '"' || (first && written.front() == '#')));
  if (!quotes) return written;
  std::string cell = "\"";
  for (const char c : written) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
  return cell + '"';
}

std::size_t ScheduleText::column_of(const std::string& key) {
  const auto found = std::find(columns_.begin(), columns_.end(), key);
  if (found != columns_.end()) return static_cast<std::size_t>(found - columns_.begin());
  const std::size_t column = columns_.size();
  const std::size_t end = lines_.front().cells.back().second;
  replace(end, end, separator_ + cell_text(key, false));
  return column;
}

void ScheduleText::set(std::size_t row, const std::string& key, const std::string& written) {
  if (row >= rows_.size()) throw std::out_of_range("a row that is not there");
  const bool there = std::find(columns_.begin(), columns_.end(), key) != columns_.end();
  if (written.empty() && !there) return;
  const std::size_t column = column_of(key);
  const Line& line = lines_[row + 1];
  const std::string cell = cell_text(written, column == 0);
  if (column < line.cells.size()) return replace(line.cells[column].first, line.cells[column].second, cell);
  if (written.empty()) return;
  const std::size_t end = line.cells.back().second;
  replace(end, end, std::string(column + 1 - line.cells.size(), separator_) + cell);
}

void ScheduleText::end_last_line() {
  if (text_.empty() || text_.back() == '\n' || text_.back() == '\r') return;
  const std::string eol = line_break();
  replace(text_.size(), text_.size(), eol);
}

void ScheduleText::add(const std::vector<std::pair<std::string, std::string>>& values) {
  std::vector<std::string> cells;
  for (const auto& [key, written] : values) {
    const std::size_t column = column_of(key);
    cells.resize(std::max(cells.size(), column + 1));
    cells[column] = written;
  }
  cells.resize(columns_.size());
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i)
    line += (i == 0 ? std::string() : std::string(1, separator_)) + cell_text(cells[i], i == 0);
  end_last_line();
  replace(text_.size(), text_.size(), line + line_break());
}

void ScheduleText::copy(std::size_t row, const std::string& tag) {
  if (row >= rows_.size()) throw std::out_of_range("a row that is not there");
  if (row + 1 == rows_.size()) end_last_line();
  const Line line = lines_[row + 1];
  const std::string copied = text_.substr(line.begin, line.end - line.begin);
  replace(line.end, line.end, copied);
  set(row + 1, "tag", tag);
}

void ScheduleText::remove(std::size_t row) {
  if (row >= rows_.size()) throw std::out_of_range("a row that is not there");
  replace(lines_[row + 1].begin, lines_[row + 1].end, {});
}

}  // namespace linerwright
