// Whole sheets as people keep them.
#include <gtest/gtest.h>

#include "intake/reading.hpp"

namespace linerwright::testing {
namespace {

// A European sheet: byte order mark, titles, semicolons, decimal commas, a unit in one head, a row of sums.
const std::string k_european =
    "\xEF\xBB\xBFL\xC3\xBC"
    "ftung Halle 3;;;;;;;;\r\n"
    "All dimensions in mm;;;;;;;;\r\n"
    ";;;;;;;;\r\n"
    "Tag;Type;Dia (mm);Qty;Length;To Dia;Branch Dia;Angle;Remarks\r\n"
    "S-1;Duct;600;2;1.200,5;;;;first floor\r\n"
    "R-1;Conc. reducer;600;1;500;450;;;\r\n"
    "T-1;Tee;600;1;1200;-;300;90;\"check; on site\"\r\n"
    ";;;4;;;;;\r\n";

// An American one: inch and foot marks, both sizes in one cell, quantities with their unit, title and blank
// rows.
const std::string k_american =
    "ROUND FITTINGS,,,,,,\n"
    ",,,,,,\n"
    "Mark,Fitting Type,Size,Qty,Length,Branch Length,Liner Thk.\n"
    "P-1,Spiral pipe,\"24\"\"\",1 EA,\"5'-0\"\"\",,\"1\"\"\"\n"
    "LEVEL 2,,,,,,\n"
    "R-1,Ecc. Reducer,\"24\"\" x 20\"\"\",2 EA,\"1'-6 1/2\"\"\",,\"1\"\"\"\n"
    "L-1,45 deg lateral,\"24\"\"/12\"\"\",1 EA,\"5'-0\"\"\",\"2'-6\"\"\",\"1\"\"\"\n"
    "Mark,Fitting Type,Size,Qty,Length,Branch Length,Liner Thk.\n"
    "E-1,5 pc 90 ell,\"\xC3\x98"
    "24\"\"\",3,,,\"1\"\"\"\n"
    "Total,,,7,,,\n";

TEST(Sheet, European) {
  ReadAnswers answers;
  answers.size_is = "metal";
  answers.liner = "25mm";
  answers.defaults = "[[default]]\nkind = \"tee\"\nbranch_length = \"600mm\"\n";
  const ReadSheet sheet = read_text(k_european, answers);
  EXPECT_EQ(sheet.rows, 3u);
  EXPECT_EQ(sheet.fittings, 4);
  EXPECT_NE(sheet.told.find("semicolons"), std::string::npos) << sheet.told;
  EXPECT_NE(sheet.told.find("decimal comma, because of 1.200,5 in line 5"), std::string::npos) << sheet.told;
  ASSERT_EQ(sheet.left.size(), 1u);
  EXPECT_NE(sheet.left[0].find("a row of sums"), std::string::npos) << sheet.left[0];
  const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
  EXPECT_EQ(job.units, Units::metric);
  const FittingRequest& straight = fitting_tagged(job, "S-1");
  EXPECT_EQ(straight.kind, "straight");
  EXPECT_EQ(straight.count, 2);
  EXPECT_DOUBLE_EQ(straight.values.quantity("diameter"), 600.0);
  EXPECT_DOUBLE_EQ(straight.values.quantity("length"), 1200.5);
  EXPECT_EQ(straight.values.text("note"), "first floor");
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "R-1").values.quantity("to_diameter"), 450.0);
  const FittingRequest& tee = fitting_tagged(job, "T-1");
  EXPECT_EQ(tee.values.list("branch_diameter"), std::vector<double>{300.0});
  EXPECT_EQ(tee.values.list("branch_length"), std::vector<double>{600.0});
  EXPECT_EQ(tee.values.text("note"), "check; on site");
  ASSERT_EQ(job.notes.size(), 1u);
  EXPECT_NE(job.notes[0].find("branch_length = 600mm"), std::string::npos) << job.notes[0];
}

TEST(Sheet, American) {
  ReadAnswers answers;
  answers.size_is = "metal";
  const ReadSheet sheet = read_text(k_american, answers);
  EXPECT_EQ(sheet.fittings, 7);
  EXPECT_EQ(sheet.left.size(), 3u) << "a heading, the heads again, sums";
  const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
  EXPECT_EQ(job.units, Units::inch);
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "P-1").values.quantity("length"), 60.0 * 25.4);
  const FittingRequest& reducer = fitting_tagged(job, "R-1");
  EXPECT_EQ(reducer.count, 2);
  EXPECT_DOUBLE_EQ(reducer.values.quantity("length"), 18.5 * 25.4);
  EXPECT_DOUBLE_EQ(reducer.values.quantity("to_diameter"), 20.0 * 25.4);
  EXPECT_TRUE(reducer.values.flag("flat"));
  const FittingRequest& lateral = fitting_tagged(job, "L-1");
  EXPECT_DOUBLE_EQ(lateral.values.list("branch_diameter")[0], 12.0 * 25.4);
  EXPECT_NEAR(lateral.values.list("angle")[0], 45.0 * 3.14159265358979323846 / 180.0, 1e-15);
  EXPECT_EQ(fitting_tagged(job, "E-1").values.integer("pieces"), 5);
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "E-1").values.quantity("thickness"), 25.4);
  ASSERT_EQ(sheet.assumed.size(), 1u);
  EXPECT_NE(sheet.assumed[0].find("flat on one side: R-1"), std::string::npos) << sheet.assumed[0];
}

// The same sheet with other separators and in other encodings is the same job.
std::string with_tabs(const std::string& text) {
  std::string out = text.substr(3);  // without the mark
  for (char& c : out) c = c == ';' ? '\t' : c;
  return out;
}

std::string utf16(const std::string& ascii, bool little) {
  std::string out = little ? "\xFF\xFE" : "\xFE\xFF";
  for (const char c : ascii) {
    if (!little) out += '\0';
    out += c;
    if (little) out += '\0';
  }
  return out;
}

TEST(Sheet, SeparatorsAndEncodingsChangeNothing) {
  const std::string plain = "Tag;Type;Dia (mm);Length (mm)\nS-1;Duct;600;1200\nS-2;Duct;500;900\n";
  ReadAnswers answers = usual();
  const auto jobs = [&](const std::string& text) {
    std::string out;
    for (const FittingRequest& f : job_read(text, answers).fittings)
      out += f.tag + " " + trimmed(f.values.quantity("diameter"), 6) + " " +
             trimmed(f.values.quantity("length"), 6) + "\n";
    return out;
  };
  const std::string wanted = "S-1 600 1200\nS-2 500 900\n";
  EXPECT_EQ(jobs(plain), wanted);
  EXPECT_EQ(jobs(utf16(plain, true)), wanted);
  EXPECT_EQ(jobs(utf16(plain, false)), wanted);
  EXPECT_EQ(jobs(utf16(plain, true).substr(2)), wanted) << "without a mark";
  EXPECT_EQ(jobs("sep=;\n" + plain), wanted);
  for (const char separator : {',', '\t', '|'}) {
    std::string other = plain;
    for (char& c : other) c = c == ';' ? separator : c;
    EXPECT_EQ(jobs(other), wanted) << separator;
  }
  std::string crlf;
  for (const char c : plain) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_EQ(jobs(crlf), wanted);
  answers.encoding = "windows-1252";
  EXPECT_EQ(jobs("Tag;Type;\xD8 (mm);Length (mm)\nS-1;Duct;600;1200\nS-2;Duct;500;900\n"), wanted);
  EXPECT_EQ(with_tabs(k_european).find(';'), std::string::npos);
}

TEST(Sheet, ARowOfUnitsUnderTheHeads) {
  ReadAnswers answers = usual();
  answers.units.reset();
  const Job job = job_read("Tag,Type,Dia,Length,Qty\n,,cm,m,no\nS-1,Duct,60,\"1.2\",2\n", answers);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("diameter"), 600.0);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("length"), 1200.0);
}

TEST(Sheet, ThroatRadiiBecomeTheCentrelines) {
  ReadAnswers answers = usual();
  const Job job = job_read("Tag,Type,Dia,Angle,Pieces,Throat Radius\nE-1,Bend,600,90,5,300\n", answers);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("centreline_radius"), 600.0);
}

TEST(Sheet, DescriptionsThatNameKindsAndPiecesBesideQuantities) {
  ReadAnswers answers = usual();
  const ReadSheet sheet = read_text(
      "Item,Mark,Description,\"Size, I.D.\",Qty.,Deg.,No. of Pcs,Wt. (lb)\n1,E-1,Gored Ell,600,2 "
      "EA,90,5,80\n2,E-2,Gored Ell,600,1 EA,45,3,60\n3,E-3,Ell,500,1,30,3,40\n",
      answers);
  EXPECT_EQ(sheet.fittings, 4);
  const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
  EXPECT_EQ(fitting_tagged(job, "E-1").values.integer("pieces"), 5);
  EXPECT_EQ(fitting_tagged(job, "E-1").count, 2);
}

TEST(Sheet, ASavedMapReadsTheSameAgain) {
  const std::string text = "Tag,Type,Bore,Length,Shade\nS-1,Duct,600,1200,7\n";
  ReadAnswers answers = usual();
  answers.columns = {{"Bore", "diameter"}, {"Shade", ""}};
  const ReadSheet first = read_text(text, answers);
  const std::string map = answers_text(answers, first.columns);
  const ReadAnswers again = read_answers(map, "map.toml");
  EXPECT_EQ(read_text(text, again).job_text, first.job_text);
  EXPECT_EQ(answers_text(again, first.columns), map);
}

TEST(Sheet, BlankCellsRepeatWhereTold) {
  ReadAnswers answers = usual();
  answers.fill_down = {"kind"};
  const Job job = job_read("Tag,Type,Dia,Length\nS-1,Duct,600,1200\nS-2,,500,900\n", answers);
  ASSERT_EQ(job.fittings.size(), 2u);
  EXPECT_EQ(job.fittings[1].kind, "straight");
}

TEST(Sheet, SizesAreWhatTheyAreStatedToBe) {
  ReadAnswers answers = usual();
  answers.size_is = "clear";
  EXPECT_DOUBLE_EQ(
      job_read("Tag,Type,Dia,Length\nS-1,Duct,600,1200\n", answers).fittings[0].values.quantity("diameter"),
      650.0);
  answers.size_is.clear();
  EXPECT_NEAR(
      job_read("Tag,Type,OD,Length\nS-1,Duct,600,1200\n", answers).fittings[0].values.quantity("diameter"),
      598.4, 1e-9);
  EXPECT_DOUBLE_EQ(
      job_read("Tag,Type,ID,Length\nS-1,Duct,600,1200\n", answers).fittings[0].values.quantity("diameter"),
      600.0);
  EXPECT_DOUBLE_EQ(job_read("Tag,Type,Dia,Length\nS-1,Duct,600 clear,1200\n", answers)
                       .fittings[0]
                       .values.quantity("diameter"),
                   650.0);
}

TEST(Sheet, TheTableSaysWhatWasUnderstood) {
  const std::string table =
      understood_table(read_text("Tag,Type,Dia,Length,Weight,Remarks\nS-1,Duct,600,1200,12,cold\n", usual()));
  for (const char* words : {"diameter", "left", "note", "nothing to do with the work", "1 rows, 1 fittings"})
    EXPECT_NE(table.find(words), std::string::npos) << words << "\n" << table;
}

}  // namespace
}  // namespace linerwright::testing
