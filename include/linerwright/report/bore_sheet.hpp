// The bore report as a document that can be handed over: what stands in it, in the order in which it stands.
// The HTML page and the PDF show the same.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/job/job.hpp"
#include "linerwright/report/bore.hpp"

namespace linerwright {

struct SheetHead {
  std::string job;      // its name; may be empty
  std::string date;     // as [job] date has it, never a clock's; may be empty
  std::string version;  // of the program
  std::string state;    // check sum of all that the report was made from; may be empty
};
// What the documents of a job say of it: its name, the date it states, the program's version.
SheetHead sheet_head(const Job& job, const std::string& version);

// Rows of plain text; the first `words` columns are words, the others numbers.
struct SheetTable {
  std::string title;
  std::vector<std::string> heads;
  std::size_t words = 1;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> notes;  // below it
};

// Two bars, one below the other: bare and lined, in one unit.
struct SheetBar {
  std::string name;
  double bare = 0.0, lined = 0.0;
  std::string bare_text, lined_text;
};
struct SheetBars {
  std::string title;
  std::vector<SheetBar> bars;
};

struct BoreSheet {
  SheetHead head;
  Units units = Units::metric;
  std::vector<std::pair<std::string, std::string>> figures;  // what it comes to: name and value
  std::vector<std::string> warnings;
  std::vector<SheetBars> bars;
  std::vector<SheetTable> tables;
  std::vector<std::string> basis;  // the assumptions
  std::vector<std::string> cautions;
};

// `not_made`: fittings that are not in it, with the reason, a line each.
BoreSheet bore_sheet(const BoreReport& report, const SheetHead& head,
                     const std::vector<std::string>& not_made = {});

}  // namespace linerwright
