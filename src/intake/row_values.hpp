// One row while its cells become keys and values.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rows.hpp"

namespace linerwright {

struct RowContext {
  const std::string& file;
  const JobSchema& schema;
  const ReadAnswers& answers;
  const DecimalMarks& marks;
  std::optional<Units> units;
  IntakeRows& rows;
  std::vector<Problem>& problems;
  std::vector<std::string> kinds;
  bool counted = false;  // a column says how many
  std::map<std::string, Problem>
      questions;  // asked once for the sheet, at the first row that needs the answer
};

class RowFitting {
 public:
  RowFitting(RowContext& context, int line) : context_(context) { fitting_.line = line; }

  void add(const IntakeColumn& column, const GridCell& cell);

  // The fitting and its count, or nothing where the row holds mistakes or wants none.
  std::optional<std::pair<IntakeFitting, long>> finished();

 private:
  struct Measure {
    std::string text;
    std::string unit;  // of the head
    std::string head;
    std::string size_is;
  };

  void fail(const std::string& key, const std::string& value, const std::string& allowed,
            const std::string& reason);
  void ask(const std::string& what, const std::string& value, const std::string& answer,
           const std::string& reason);
  void assume(const std::string& what) { context_.rows.assumed[what].push_back(fitting_.tag); }
  bool settle_kind();
  void settle_sizes();
  void place_sizes(const std::string& meaning, const Measure& measure, std::vector<std::string> sizes);
  std::string second_size() const;
  std::string own_key(const std::string& key) const;
  std::string keys_beside(const std::string& key) const;
  void settle_bend();
  void settle_gores(const std::string& gores);
  void set(const std::string& key, const std::string& value);
  void set_length(const std::string& key, const Measure& measure, const std::string& text);
  void set_measure(const std::string& head, const Measure& measure);
  std::optional<double> millimetres(const std::string& key) const;
  bool is_size(const std::string& key) const;

  RowContext& context_;
  IntakeFitting fitting_;
  std::map<std::string, Measure> cells_;  // meaning -> its cell
  std::string note_;
  std::string size_is_;
  bool failed_ = false;
};

}  // namespace linerwright
