// What nobody should write: each is refused in one clear line, or taken for what it plainly is.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::refusal;
using testing::test_schema;

const std::string k_control = "holds a line break, a control character or an invisible mark\n";

std::string elbow(const std::string& tag, const std::string& diameter) {
  return "[[fitting]]\ntag = " + tag + "\nkind = \"elbow\"\nthickness = \"1in\"\ndiameter = " + diameter +
         "\n[job]\nunits = \"in\"\n";
}

struct Row {
  std::string written;
  std::string message;  // what follows file and line; empty: taken
};

TEST(Hostile, Tags) {
  const std::string allowed = " (allowed: 1 to 100 characters, no slash)\n";
  const std::string slash = "holds a slash, and files are named after tags" + allowed;
  const std::string x60(60, 'x');
  std::string marks;  // a letter under 9999 accents
  for (int i = 0; i < 9999; ++i) marks += "\xCC\x81";
  const std::vector<Row> rows = {
      // paths
      {"../../etc/passwd", "tag = ../../etc/passwd: " + slash},
      {"/dev/null", "tag = /dev/null: " + slash},
      {"C:\\\\Windows", "tag = C:\\Windows: " + slash},
      {"\\\\\\\\server\\\\share", "tag = \\\\server\\share: " + slash},
      {"..", "tag = ..: is a folder's name, and files are named after tags" + allowed},
      {"%2e%2e%2f", ""},
      {"~", ""},
      {"$(reboot)", ""},
      {"`reboot`; rm -rf *", ""},
      {"-rf", ""},
      // devices of other systems: file names are made so that they are none
      {"CON", ""},
      {"nul.txt", ""},
      {"COM1", ""},
      {"a:b", ""},
      // markup and formats
      {"<script>alert(1)</script>", "tag = <script>alert(1)</script>: " + slash},
      {"&amp;\\\"'<b>", ""},
      {"=1+2", ""},
      {"{}%s%n", ""},
      {"%%d \\\\U+0041", "tag = %%d \\U+0041: " + slash},
      // control characters
      {"a\\u0007b", "tag = a\\x07b: " + k_control},
      {"a\\u001B[31mb", "tag = a\\x1b[31mb: " + k_control},
      {"a\\u009B31mb", "tag = a\\u009b31mb: " + k_control},
      {"a\\r\\nb", "tag = a\\x0d\\nb: " + k_control},
      {"a\\u0000b", "tag = a\\x00b: " + k_control},
      {"a\\tb", "tag = a\\tb: " + k_control},
      {"a\\u2028b", "tag = a\\u2028b: " + k_control},
      // direction and invisible marks; text that runs from right to left is text
      {"E\\u202E1-fxd.exe", "tag = E\\u202e1-fxd.exe: " + k_control},
      {"E\\u2067b", "tag = E\\u2067b: " + k_control},
      {"E\\u200F1", "tag = E\\u200f1: " + k_control},
      {"E\\u200B1", "tag = E\\u200b1: " + k_control},
      {"E\\uFEFF1", "tag = E\\ufeff1: " + k_control},
      {"E\\u00AD1", "tag = E\\u00ad1: " + k_control},
      {"E\\uFFFF1", "tag = E\\uffff1: " + k_control},
      {"E\\U000E00411", "tag = E\\ue00411: " + k_control},
      {"\\u05D6\\u05D5\\u05D9\\u05EA-1", ""},
      {"\\u0632\\u0627\\u0648\\u06CC\\u0647\\u200C1", ""},
      {"\\U0001F469\\u200D\\U0001F527", ""},
      // length
      {std::string(10000, 'x'), "tag = " + x60 + "...: has 10000 characters, too many for a label" + allowed},
      {"e" + marks, "10000 characters"},
      {"", "tag: is empty" + allowed},
      {" \\u0020", "tag =   : is empty" + allowed},
  };
  for (const Row& row : rows) {
    const Job job = read_job_text(elbow('"' + row.written + '"', "24"), "job.toml", test_schema());
    const std::string told = lines(job.problems);
    if (row.message.empty()) {
      EXPECT_EQ(told, "") << row.written;
      EXPECT_EQ(job.fittings.size(), 1u) << row.written;
    } else if (row.written.size() > 10000) {
      EXPECT_NE(told.find(row.message), std::string::npos) << told;
      EXPECT_LT(told.size(), 300u);
    } else {
      EXPECT_EQ(told, "job.toml:2: " + row.message) << row.written;
    }
    EXPECT_LE(std::count(told.begin(), told.end(), '\n'), 1) << told;
  }
}

TEST(Hostile, Numbers) {
  const std::string allowed = " (allowed: over 0 in, at most 120 in)\n";
  const std::string none = "no round duct has this diameter" + allowed;
  const std::string range = "the number is too large or too small to be used" + allowed;
  const std::string number = "takes a number, or text with a unit in quotes" + allowed;
  const std::vector<Row> rows = {
      {"1e308", range},  // in inches
      {"1e306", none},
      {"-1e308", range},
      {"\"1e308 m\"", range},
      {"\"1e999\"", range},
      {"\"" + std::string(99, '9') + "\"", none},
      {"5e-324", ""},
      {"2.2250738585072014e-308", ""},
      {"\"1e-999\"", range},
      {"0", none},
      {"-0.0", none},
      {"0.0000", none},
      {"inf", "'inf' is not a number" + allowed},
      {"-inf", "'inf' is not a number" + allowed},
      {"nan", "'nan' is not a number" + allowed},
      {"-nan", "'nan' is not a number" + allowed},
      {"0x18", ""},  // TOML's own spellings of 24
      {"0o30", ""},
      {"0b11000", ""},
      {"2_4", ""},
      {"+24", ""},
      {"\"0x18\"", "hexadecimal numbers are not taken; write a decimal number" + allowed},
      {"\"0x1p4\"", "hexadecimal numbers are not taken; write a decimal number" + allowed},
      {"9223372036854775807", none},
      {"-9223372036854775808", none},
      {"\"24 in in\"", "unknown unit 'in in'; use mm, cm, m, in, ft" + allowed},
      {"\"\xD9\xA2\xD9\xA4\"", "'\xD9\xA2\xD9\xA4' is not a number" + allowed},  // Arabic-Indic digits
      {"\"\xEF\xBC\x92\xEF\xBC\x94\"", "'\xEF\xBC\x92\xEF\xBC\x94' is not a number" + allowed},  // full width
      {"\"24\\u0000\"", "unknown unit '?'; use mm, cm, m, in, ft" + allowed},
      {"\"24\\u202E\"", "unknown unit '?'; use mm, cm, m, in, ft" + allowed},
      {"\"1/0\"", "the fraction '1/0' divides by zero" + allowed},
      {"\"1/1e9\"", "unknown unit 'e'; use mm, cm, m, in, ft" + allowed},
      {"12:00:00", number},
      {"[[[[24]]]]", number},
      {"[]", "takes one value, not a list" + allowed},
      {"{}", number},
      {"{a = {b = {c = 24}}}", number},
      {"true", number},
      {"\"\"\"24\n\"\"\"", "unknown unit '?'; use mm, cm, m, in, ft" + allowed},
      {"\"" + std::string(10000, '1') + "\"",
       "10000 characters are too many for a number; write it as in 24in or 600 mm" + allowed},
  };
  for (const Row& row : rows) {
    const Job job = read_job_text(elbow("\"E\"", row.written), "job.toml", test_schema());
    const std::string told = lines(job.problems);
    if (row.message.empty()) {
      EXPECT_EQ(told, "") << row.written;
      ASSERT_EQ(job.fittings.size(), 1u) << row.written;
      EXPECT_GT(job.fittings[0].values.quantity("diameter"), 0.0) << row.written;
      continue;
    }
    EXPECT_EQ(told.rfind("job.toml:5: E: diameter = ", 0), 0u) << told;
    EXPECT_EQ(told.substr(std::min(told.size(), told.size() - row.message.size())), row.message)
        << row.written;
    EXPECT_EQ(std::count(told.begin(), told.end(), '\n'), 1) << told;
    EXPECT_LT(told.size(), 300u) << told;
  }
}

// Keys, table heads and whole files; the message stands for the file.
TEST(Hostile, Files) {
  const std::string long_name(10000, 'k');
  std::string braces;
  for (int i = 0; i < 100; ++i) braces += "{a = ";
  std::string tables;
  for (int i = 0; i < 20000; ++i) tables += "[t" + std::to_string(i) + ".u]\n";
  const std::vector<Row> rows = {
      {"[" + long_name + "]\n", ": unknown table"},
      {"fitting = [1, 2]\n", "is a table: write [[fitting]]"},
      {"fitting = \"x\"\n", "is a table: write [[fitting]]"},
      {"[[job]]\n", "is one table: write [job] once"},
      {"[job.job.job]\nx = 1\n", "job"},
      {"a = " + braces + "\n", "not valid TOML"},
      {"a = 24:00:00\n", "not valid TOML"},
      {"\"\" = 1\n", "stands outside any table"},
      {"\"a\\nb\" = 1\n", "a\\nb = 1: stands outside any table"},
      {"[\"\\u202E\"]\n", "[\\u202e]"},
  };
  for (const Row& row : rows) {
    const std::string told = refusal(row.written);
    EXPECT_EQ(told.rfind("job.toml", 0), 0u) << told;
    EXPECT_NE(told.find(row.message), std::string::npos) << row.written.substr(0, 80) << "\n" << told;
    EXPECT_EQ(std::count(told.begin(), told.end(), '\n'), 1) << told;
    EXPECT_LT(told.size(), 600u) << told;
  }
  EXPECT_EQ(
      refusal("[[fitting.fitting]]\nkind = \"elbow\"\n"),
      "no error\njob.toml:1: tag: is missing: the fitting's name on labels and files (allowed: 1 to 100 "
      "characters)\njob.toml:1: kind: is missing: the kind of fitting (allowed: elbow, reducer, straight)\n");
  EXPECT_EQ(refusal("[fitting.tag]\na = 1\n[fitting.kind]\n"),
            "no error\njob.toml:1: tag = [fitting.tag]: takes text in quotes\n"
            "job.toml:3: kind = [fitting.kind]: takes one of the words allowed, in quotes (allowed: elbow, "
            "reducer, "
            "straight)\n");
  const std::string told = refusal(tables);
  EXPECT_EQ(std::count(told.begin(), told.end(), '\n'), 20000);
}

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  for (std::size_t i = 0; i < times; ++i) all += text;
  return all;
}

// One line each, instead of memory and time without end.
TEST(Hostile, FilesOfMoreThanAnyJobHolds) {
  EXPECT_EQ(refusal(repeated("[[fitting]]\n", 50'001)),
            "job.toml:50001: holds more than 50000 tables [[fitting]]: split the job\n");
  std::string keys = "[job]\n";
  for (int i = 0; i < 50'001; ++i) keys += "k" + std::to_string(i) + "=1\n";
  EXPECT_EQ(refusal(keys), "job.toml:1: [job] holds more than 50000 keys\n");
  EXPECT_EQ(refusal("[job]\nname = \"" + std::string(65'536, 'x') + "\"\n"),
            "job.toml:2: is longer than 65536 characters\n");
  EXPECT_EQ(refusal("fitting = [" + repeated("{tag=\"a\"},", 10'000) + "]\n"),
            "job.toml:1: is longer than 65536 characters\n");
  EXPECT_EQ(refusal("[job]\na" + repeated(".b", 201) + " = 1\n"),
            "job.toml:2: holds over 200 dots: nested too deeply for a job file\n");
  EXPECT_NE(refusal("[job]\na = " + repeated("[", 1000) + "\n").find("job.toml:2: not valid TOML"),
            std::string::npos);
  const auto refused_rows = [](const std::string& text) {
    try {
      read_job_text(text, "plan.csv", test_schema());
    } catch (const InputError& error) {
      return lines(error.problems());
    }
    return std::string("taken");
  };
  EXPECT_EQ(refused_rows("tag,kind\n" + repeated("a,b\n", 50'001)),
            "plan.csv:50002: holds more than 50000 rows: split the schedule\n");
  EXPECT_EQ(refused_rows(repeated("#\n", 50'002)),
            "plan.csv:50002: holds more than 50000 rows: split the schedule\n");
  EXPECT_EQ(refused_rows("tag,kind\n" + repeated("a,", 1000) + "\n"),
            "plan.csv:2: holds more than 1000 cells in a row\n");
  EXPECT_EQ(refused_rows("tag,kind\n\"" + std::string(1'000'000, 'x')),
            "plan.csv:2: a quote is opened here and never closed\n");
}

TEST(Hostile, FilesThatAreNone) {
  for (const auto& [file, message] : std::vector<std::pair<std::string, std::string>>{
           {"/dev/zero", "/dev/zero: is a device, not a job file\n"},
           {"/dev/null", "/dev/null: is a device, not a job file\n"},
           {"", "there is no such file\n"},
           {std::string(10000, 'x'), "x: cannot be read: File name too long\n"},
       }) {
    try {
      read_job(file, test_schema());
      ADD_FAILURE() << file << " was read";
    } catch (const InputError& error) {
      const std::string told = lines(error.problems());
      EXPECT_EQ(told.substr(told.size() - std::min(told.size(), message.size())), message) << file;
    }
  }
}

}  // namespace
}  // namespace linerwright
