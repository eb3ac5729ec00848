// Pages that open from disk with no network: one for a fitting, one for a job. They hold everything they
// show, scripts included, and allow nothing else to run or to be fetched.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/mesh/mesh.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/units/check_result.hpp"

namespace linerwright {

struct ShopSheet;

// A body of the 3D view.
struct PagePart {
  PartRole role;
  std::optional<int> piece{};  // as Part's in solid.hpp
  const Mesh* mesh;
};

// What a fitting's page shows; references must outlive the call.
struct FittingPage {
  const Fitting& fitting;
  const std::vector<Pattern>& patterns;
  std::vector<PagePart> parts;  // none: no 3D view
  std::optional<double>
      coarser;  // mm: how far the view's facets lie from the surface, where further than the STL's
  std::vector<CheckResult> checks;
  std::vector<std::string> files;    // beside the page
  std::string picture;               // SVG for print; empty: a still of the 3D view stands in
  std::string script{};              // address of shared_script(); empty: the page carries it
  const ShopSheet* sheet = nullptr;  // shop_sheet() of it without a job; none: it is made
};

// The script that pages with a 3D view may share, as a file of this name beside the job's page.
constexpr const char* k_script_file = "pages.js";
std::string shared_script();

// The page as HTML, UTF-8. Facets' corners are rounded to 1/65535 of the fitting's size.
std::string fitting_page(const FittingPage& page);

// A fitting's line on the job page, plain so that a job's fittings need not be kept until the page is made.
struct JobRow {
  std::string tag;
  std::string kind;
  long count = 1;
  std::string folder;              // beside the job page; empty where there is none
  std::vector<std::string> files;  // in the folder
  std::string picture;             // one of them, to be shown small; may be empty
  std::string liner;               // thickness in words
  std::string bare, clear;         // diameters in words, at the ends and at the narrowest place
  double share = 1.0;              // the smallest share of a bare area that stays open
  std::size_t pieces = 0;          // to roll and fit, of one fitting
  std::vector<std::string> warnings;
  std::string failure;  // why it was not made; empty: it was
};
// The line of a fitting that was made; its picture is <folder>.svg where that is among the files.
JobRow job_row(const Fitting& fitting, const std::vector<Pattern>& patterns, std::string folder,
               std::vector<std::string> files);

// Rows of plain text; the first `words` columns are words, the others numbers.
struct PageTable {
  std::string title;
  std::vector<std::string> heads;
  std::size_t words = 1;
  std::vector<std::vector<std::string>> rows;
};

// A piece on a board: what it is called and where it lies, mm.
struct PagePiece {
  std::string name;
  Box box;
};

// A nested board.
struct PageBoard {
  std::string name;   // "board 3 of 8"
  std::string yield;  // "83.1 % used"
  std::string file;   // beside the job page; may be empty
  Drawing drawing;
  std::vector<PagePiece> pieces;
  std::string words{};              // for whoever stands at the table
  std::vector<std::string> more{};  // other files of it, beside the job page
  std::vector<PageTable> order{};   // its pieces in the order they come free
};

// A run of duct that was made.
struct PageRun {
  std::string name;
  std::string words;    // how long it is and of how many fittings
  std::string page;     // beside the job page; empty: none
  std::string picture;  // beside the job page; empty: none
};

struct JobPage {
  std::string name;  // of the job; may be empty
  std::vector<JobRow> rows;
  std::vector<PageTable> totals;
  std::vector<PageBoard> boards;
  std::vector<PageRun> runs{};
  std::string sheets{};  // the file with all sheets, beside the page; empty: none
  std::string date{};    // of the job, as it was written; may be empty
};

// The page as HTML, UTF-8: every fitting with its key figures, warnings and links, then totals and boards.
std::string job_page(const JobPage& page);

}  // namespace linerwright
