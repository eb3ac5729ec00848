// The files of a job as texts that are changed where people changed them: the job file, or one schedule, and
// the schedules that the job names.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "linerwright/engine/fitting_files.hpp"
#include "linerwright/job/job_text.hpp"
#include "linerwright/job/schedule_text.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

class Document {
 public:
  // The first file of `files` that is a job file, or the only schedule, with what it names; of the rest the
  // names are kept. Throws InputError where none or several could be meant, or one is no such text.
  explicit Document(const std::vector<TextFile>& files);

  // The job file, or the schedule.
  const std::string& name() const { return files_.front().name; }
  bool is_schedule() const { return std::holds_alternative<ScheduleText>(files_.front().content); }
  // All texts, the main one first.
  std::vector<TextFile> texts() const;
  const std::string& text_of(const std::string& name) const;  // throws InputError where there is none
  const std::vector<std::string>& unused() const { return unused_; }

  // A fitting of any of the files.
  struct Row {
    std::size_t file, at;
  };
  const std::vector<Row>& rows() const { return rows_; }
  const Section& section(std::size_t row) const;
  const std::string& file_of(std::size_t row) const { return files_[rows_[row].file].name; }
  // The tables beside the fittings; none of a schedule.
  const std::vector<Section>& tables() const;

  // As a question's change says it. Throws InputError; the document is then of no use any more.
  void apply(const JsonValue& change);

 private:
  // What is no schedule stays a text: its mistakes are told by whoever reads the job.
  struct File {
    std::string name;
    std::variant<JobText, ScheduleText, std::string> content;
    const std::string& text() const;
  };
  void find_rows();
  void change_table(const JsonValue& change, const std::string& what);
  std::vector<File> files_;
  std::vector<Row> rows_;
  std::vector<std::string> unused_;
};

// A schedule as a job's text: the same fittings with what their rows say.
TextFile as_job_file(const TextFile& schedule);

}  // namespace linerwright
