// A schedule's text, changed where its cells stand: what is not changed keeps every byte.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/job/entry.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

class ScheduleText {
 public:
  // `file` stands in messages. Throws InputError where the text is no schedule.
  ScheduleText(std::string text, std::string file, const JobSchema& schema);

  const std::string& text() const { return text_; }
  // The rows in the order of the text.
  const std::vector<Section>& rows() const { return rows_; }

  // A cell given a value as a person writes it; empty leaves it blank. A key without a column gets one behind
  // the others. Throws std::out_of_range for a row that is not there.
  void set(std::size_t row, const std::string& key, const std::string& written);
  // A new row behind all others.
  void add(const std::vector<std::pair<std::string, std::string>>& values);
  // The row once more, right behind it, with another tag.
  void copy(std::size_t row, const std::string& tag);
  void remove(std::size_t row);

 private:
  struct Line {
    std::size_t begin = 0, end = 0;                          // its line break included
    std::vector<std::pair<std::size_t, std::size_t>> cells;  // as they stand, quotes included
  };
  void read();
  // The place of a key's column; `made` where it is put behind the others.
  std::size_t column_of(const std::string& key);
  void replace(std::size_t begin, std::size_t end, const std::string& by);
  std::string cell_text(const std::string& written, bool first) const;
  std::string line_break() const;
  // Ends the last line where it is open.
  void end_last_line();

  std::string text_;
  std::string file_;
  const JobSchema* schema_;
  char separator_ = ',';
  std::vector<std::string> columns_;  // keys
  std::vector<Line> lines_;           // the head, then the rows
  std::vector<Section> rows_;
};

}  // namespace linerwright
