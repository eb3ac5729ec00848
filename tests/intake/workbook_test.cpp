// Workbooks made here part by part, as ISO/IEC 29500-1 describes them (element and attribute names from
// memory).
#include <zip.h>

#include <gtest/gtest.h>

#include <map>

#include "intake/reading.hpp"

namespace linerwright::testing {
namespace {

using Parts = std::map<std::string, std::string>;

std::string zipped(const Parts& parts) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* out = zip_source_buffer_create(nullptr, 0, 0, &error);
  zip_source_keep(out);
  zip_t* archive = zip_open_from_source(out, ZIP_TRUNCATE, &error);
  for (const auto& [name, text] : parts) {
    zip_source_t* part = zip_source_buffer(archive, text.data(), text.size(), 0);
    zip_file_add(archive, name.c_str(), part, ZIP_FL_ENC_UTF_8);
  }
  EXPECT_EQ(zip_close(archive), 0);
  zip_source_open(out);
  zip_stat_t stat;
  zip_source_stat(out, &stat);
  std::string bytes(stat.size, '\0');
  EXPECT_EQ(zip_source_read(out, bytes.data(), bytes.size()), static_cast<zip_int64_t>(bytes.size()));
  zip_source_close(out);
  zip_source_free(out);
  return bytes;
}

Parts workbook(const std::string& sheet, const std::string& shared = "") {
  Parts parts;
  parts["xl/workbook.xml"] =
      "<workbook xmlns:r=\"r\"><sheets><sheet name=\"Cover\" state=\"hidden\" r:id=\"rId9\"/>"
      "<sheet name=\"Round\" sheetId=\"1\" r:id=\"rId1\"/><sheet name=\"Other\" "
      "r:id=\"rId2\"/></sheets></workbook>";
  parts["xl/_rels/workbook.xml.rels"] =
      "<Relationships><Relationship Id=\"rId1\" Target=\"worksheets/sheet1.xml\"/>"
      "<Relationship Id=\"rId2\" Target=\"/xl/worksheets/sheet2.xml\"/></Relationships>";
  parts["xl/worksheets/sheet1.xml"] = sheet;
  parts["xl/worksheets/sheet2.xml"] = "<worksheet><sheetData/></worksheet>";
  if (!shared.empty()) parts["xl/sharedStrings.xml"] = shared;
  return parts;
}

const std::string k_shared =
    "<sst><si><t>Tag</t></si><si><t>Type</t></si><si><t>Dia (mm)</t></si><si><r><t>Length "
    "</t></r><r><t>(mm)</t></r></si>"
    "<si><t>S-1</t></si><si><t>Duct</t></si></sst>";

const std::string k_sheet =
    "<worksheet><sheetData>"
    "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>Schedule of the north wing</t></is></c></row>"
    "<row r=\"3\"><c r=\"A3\" t=\"s\"><v>0</v></c><c r=\"B3\" t=\"s\"><v>1</v></c><c r=\"C3\" "
    "t=\"s\"><v>2</v></c><c r=\"D3\" t=\"s\"><v>3</v></c></row>"
    "<row r=\"4\"><c r=\"A4\" t=\"s\"><v>4</v></c><c r=\"B4\" t=\"s\"><v>5</v></c><c "
    "r=\"C4\"><v>600</v></c><c r=\"D4\"><f>1200.125</f><v>1200.125</v></c></row>"
    "<row r=\"5\"><c r=\"A5\" t=\"str\"><v>S-2</v></c><c r=\"C5\"><v>5E2</v></c><c "
    "r=\"D5\"><v>900</v></c></row>"
    "</sheetData><mergeCells><mergeCell ref=\"B4:B5\"/><mergeCell ref=\"A1:D1\"/></mergeCells></worksheet>";

std::string refused(const std::string& bytes, const std::string& sheet = "") {
  try {
    grid_of_workbook(bytes, "plan.xlsx", sheet);
    return "no error";
  } catch (const InputError& error) {
    EXPECT_EQ(error.problems().size(), 1u);
    return one_line(error.problems().front());
  }
}

TEST(Workbook, CellsNumbersAndMergedRows) {
  const std::string bytes = zipped(workbook(k_sheet, k_shared));
  ASSERT_TRUE(is_workbook(bytes));
  ReadAnswers answers = usual();
  answers.units.reset();
  const ReadSheet sheet = read_grid(grid_of_workbook(bytes, "plan.xlsx", ""), job_schema(), answers);
  EXPECT_NE(sheet.told.find("sheet Round"), std::string::npos);
  const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
  ASSERT_EQ(job.fittings.size(), 2u);
  // a number of the workbook has no question of decimal marks
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "S-1").values.quantity("length"), 1200.125);
  EXPECT_EQ(fitting_tagged(job, "S-2").kind, "straight");
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "S-2").values.quantity("diameter"), 500.0);
}

TEST(Workbook, NamesOfPrefixesDoNotMatter) {
  Parts parts = workbook(
      "<x:worksheet xmlns:x=\"m\"><x:sheetData><x:row><x:c "
      "t=\"inlineStr\"><x:is><x:t>Tag</x:t></x:is></x:c></x:row></x:sheetData></x:worksheet>");
  const Grid grid = grid_of_workbook(zipped(parts), "plan.xlsx", "");
  ASSERT_EQ(grid.rows.size(), 1u);
  EXPECT_EQ(grid.rows[0].cells[0].text, "Tag");
}

TEST(Workbook, SheetsAreChosenByName) {
  const std::string bytes = zipped(workbook(k_sheet, k_shared));
  EXPECT_EQ(grid_of_workbook(bytes, "plan.xlsx", "Other").rows.size(), 0u);
  EXPECT_NE(refused(bytes, "Roof").find("Cover, Round, Other"), std::string::npos);
}

TEST(Workbook, TablesShowNoControlCharacters) {
  Parts parts = workbook(
      "<worksheet><sheetData><row><c t=\"inlineStr\"><is><t>Tag</t></is></c><c "
      "t=\"inlineStr\"><is><t>Type</t></is></c>"
      "<c t=\"inlineStr\"><is><t>ID (mm)</t></is></c><c t=\"inlineStr\"><is><t>Length (mm)</t></is></c><c "
      "t=\"inlineStr\"><is><t>M\x1b[31m</t></is></c></row>"
      "<row><c t=\"inlineStr\"><is><t>S-1</t></is></c><c "
      "t=\"inlineStr\"><is><t>Duct</t></is></c><c><v>600</v></c><c><v>900</v></c></row></sheetData></"
      "worksheet>");
  parts["xl/workbook.xml"] =
      "<workbook xmlns:r=\"r\"><sheets><sheet name=\"R\x1b\xff\" r:id=\"rId1\"/></sheets></workbook>";
  const std::string table =
      understood_table(read_grid(grid_of_workbook(zipped(parts), "plan.xlsx", ""), job_schema(), usual()));
  EXPECT_EQ(table.find('\x1b'), std::string::npos) << table;
  EXPECT_NE(table.find("sheet R??"), std::string::npos) << table;
}

TEST(Workbook, HostileFilesAreOneLine) {
  const std::string bytes = zipped(workbook(k_sheet, k_shared));
  EXPECT_NE(refused("PK\x03\x04 nothing").find("is not a workbook that can be opened"), std::string::npos);
  for (std::size_t size = 5; size < bytes.size(); size += 97)
    EXPECT_NE(refused(bytes.substr(0, size)), "no error") << size;
  EXPECT_NE(refused(zipped({{"readme.txt", "x"}})).find("holds no xl/workbook.xml"), std::string::npos);
  EXPECT_NE(refused(zipped(workbook("<worksheet><sheetData>", k_shared))).find("is broken"),
            std::string::npos);
  EXPECT_NE(refused(zipped(workbook(k_sheet))).find("names a text that it does not hold"), std::string::npos);
  // a part that unpacks to a thousand times its size
  const std::string bomb =
      zipped(workbook("<worksheet><sheetData>" + std::string(60u << 20, ' ') + "</sheetData></worksheet>"));
  EXPECT_LT(bomb.size(), 1u << 20);
  EXPECT_NE(refused(bomb).find("unpacks to more than"), std::string::npos);
  // entities that name each other are left as they stand
  const std::string laughs =
      "<!DOCTYPE x [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;\">]><worksheet><sheetData><row><c "
      "t=\"inlineStr\"><is><t>&b;</t></is></c></row></sheetData></worksheet>";
  EXPECT_EQ(grid_of_workbook(zipped(workbook(laughs)), "plan.xlsx", "").rows[0].cells[0].text, "&b;");
}

TEST(Workbook, BytesTurnedAtRandomNeverCrash) {
  const std::string bytes = zipped(workbook(k_sheet, k_shared));
  unsigned state = 12345;
  std::size_t broken = 0;
  for (int i = 0; i < 400; ++i) {
    std::string other = bytes;
    for (int k = 0; k < 3; ++k) {
      state = state * 1664525u + 1013904223u;
      other[(state >> 8) % other.size()] = static_cast<char>(state >> 24);
    }
    broken += is_workbook(other) && refused(other) != "no error" ? 1u : 0u;
  }
  EXPECT_GT(broken, 100u);
}

TEST(Workbook, ACoverWithoutHeadsNamesTheOtherSheets) {
  const std::string cover =
      "<worksheet><sheetData><row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>Nothing here</t></is></c></row>"
      "</sheetData></worksheet>";
  const Grid grid = grid_of_workbook(zipped(workbook(cover)), "plan.xlsx", "");
  try {
    read_grid(grid, job_schema(), usual());
    FAIL() << "read a cover";
  } catch (const InputError& error) {
    EXPECT_EQ(
        one_line(error.problems().front()),
        "plan.xlsx: sheet Round, the first that is shown: no row holds heads of columns that are English "
        "words of the trade (allowed: --sheet \"Other\", or a row such as Tag, Type, Dia (mm), Length, Qty)");
  }
}

}  // namespace
}  // namespace linerwright::testing
