// A job of several files, its other tables, sheets with heads of their own, and outlines.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include "asked.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/job/job.hpp"
#include "support/chance.hpp"

namespace linerwright {
namespace {

using support::Asked;
using support::member;
using support::open_question;
using support::text_of;

constexpr const char* k_main =
    "# two lists\n[job]\nunits = \"in\" # of all\n\n[liner]\nthickness = 1\n\n[[schedule]]\nfile = "
    "\"lists/a.csv\"\n\n[[fitting]]\ntag = \"E-1\"\nkind = \"elbow\"\ndiameter = 24\nangle = 90\npieces = "
    "4\n";
constexpr const char* k_list = "tag,kind,diameter,length\nS-1,straight,24,48 # no\nS-2,straight,24,50\n";

std::string files_question(const std::vector<std::pair<std::string, std::string>>& files) {
  JsonWriter json;
  json.begin_object().key("ask").text("open").key("files").begin_array();
  for (const auto& [name, text] : files)
    json.begin_object().key("name").text(name).key("text").text(text).end_object();
  json.end_array().end_object();
  return json.str();
}

std::string change_question(const std::string& changes) {
  return "{\"ask\": \"change\", \"changes\": [" + changes + "]}";
}

TEST_F(Asked, AJobWithTheSchedulesThatItNames) {
  const JsonValue job =
      ask(files_question({{"lists/a.csv", k_list}, {"job.toml", k_main}, {"other.csv", "tag,kind\n"}}));
  ASSERT_EQ(member(job, "rows").items.size(), 3u) << text_of(job, "failed");
  EXPECT_EQ(text_of(job, "name"), "job.toml");
  EXPECT_EQ(text_of(member(job, "rows").items[2], "file"), "lists/a.csv");
  ASSERT_EQ(member(job, "unused").items.size(), 1u);
  EXPECT_TRUE(member(member(job, "rows").items[2], "can").flag);
  ASSERT_EQ(member(job, "problems").items.size(), 1u);  // "48 # no" is no length
  EXPECT_EQ(member(member(job, "problems").items[0], "row").number, 1.0);
  const JsonValue changed =
      ask(change_question("{\"do\": \"set\", \"fitting\": 1, \"key\": \"length\", \"value\": \"48\"}, "
                          "{\"do\": \"copy\", \"fitting\": 2, "
                          "\"tag\": \"S-3\"}, {\"do\": \"remove\", \"fitting\": 0}, {\"do\": \"set_table\", "
                          "\"table\": \"liner\", "
                          "\"index\": 0, \"key\": \"thickness\", \"value\": \"2\"}"));
  EXPECT_EQ(text_of(member(changed, "schedules").items.at(0), "text"),
            "tag,kind,diameter,length\nS-1,straight,24,48\nS-2,straight,24,50\nS-3,straight,24,50\n");
  EXPECT_EQ(text_of(changed, "text").find("[[fitting]]"), std::string::npos);
  EXPECT_NE(text_of(changed, "text").find("thickness = 2\n"), std::string::npos);
  EXPECT_EQ(member(changed, "problems").items.size(), 0u);
}

TEST_F(Asked, WhatIsNotGivenOrIsTooMuchIsTold) {
  const JsonValue alone = ask(files_question({{"job.toml", k_main}}));
  EXPECT_FALSE(member(alone, "whole").flag);
  ASSERT_EQ(member(alone, "problems").items.size(), 1u);
  EXPECT_NE(text_of(member(alone, "problems").items[0], "text").find("lists/a.csv"), std::string::npos);
  for (const auto& files : std::vector<std::vector<std::pair<std::string, std::string>>>{
           {}, {{"a.toml", k_main}, {"b.toml", k_main}}, {{"a.csv", k_list}, {"b.csv", k_list}}})
    EXPECT_EQ(member(ask(files_question(files)), "failed").items.size(), 1u);
}

TEST_F(Asked, TablesComeAndGoAndTheirMistakesStandAtThem) {
  ask(files_question({{"lists/a.csv", "tag,kind,diameter,length\n"}, {"job.toml", k_main}}));
  const JsonValue with_stock = ask(change_question(
      "{\"do\": \"add_table\", \"table\": \"stock\", \"values\": {\"width\": \"48\", \"length\": \"120\"}}, "
      "{\"do\": "
      "\"set_table\", \"table\": \"knife\", \"index\": 0, \"key\": \"overcut\", \"value\": \"2mm\"}"));
  EXPECT_EQ(member(with_stock, "stock").number, 1.0) << text_of(with_stock, "text");
  EXPECT_NE(text_of(with_stock, "text").find("[[stock]]\nwidth = 48\nlength = 120\n"), std::string::npos);
  EXPECT_NE(text_of(with_stock, "text").find("[knife]\novercut = \"2mm\"\n"), std::string::npos);
  const JsonValue wrong = ask(change_question(
      "{\"do\": \"set_table\", \"table\": \"stock\", \"index\": 0, \"key\": \"width\", \"value\": \"-4\"}"));
  ASSERT_EQ(member(wrong, "problems").items.size(), 1u);
  const JsonValue& problem = member(wrong, "problems").items[0];
  EXPECT_EQ(member(problem, "row").number, -1.0);
  EXPECT_EQ(
      text_of(member(wrong, "tables").items.at(static_cast<std::size_t>(member(problem, "table").number)),
              "table"),
      "stock");
  EXPECT_EQ(text_of(problem, "key"), "width");
  const JsonValue gone = ask(change_question(
      "{\"do\": \"remove_table\", \"table\": \"stock\", \"index\": 0}, {\"do\": \"remove_table\", \"table\": "
      "\"knife\", \"index\": 0}"));
  EXPECT_EQ(text_of(gone, "text"), k_main);
}

// Sixty edits of all sorts, and the texts before them opened again in turn, give the bytes of each.
TEST_F(Asked, SixtyEditsAndUndoAllGiveTheOpenedBytes) {
  support::Chance chance(21);
  std::vector<std::pair<std::string, std::string>> files{{"job.toml", k_main}, {"lists/a.csv", k_list}};
  JsonValue job = ask(files_question(files));
  const auto texts = [&] {
    std::vector<std::pair<std::string, std::string>> now{{text_of(job, "name"), text_of(job, "text")}};
    for (const JsonValue& one : member(job, "schedules").items)
      now.emplace_back(text_of(one, "name"), text_of(one, "text"));
    return now;
  };
  std::vector<std::vector<std::pair<std::string, std::string>>> past;
  int changed = 0;
  for (int i = 0; i < 60; ++i) {
    past.push_back(texts());
    const int rows = static_cast<int>(member(job, "rows").items.size());
    const int row = chance.whole(0, rows - 1);
    const int what = chance.whole(0, 5);
    const std::string value = fmt::format("{}", chance.whole(10, 60));
    const std::string change =
        what == 0 ? fmt::format("{{\"do\": \"copy\", \"fitting\": {}, \"tag\": \"C-{}\"}}", row, i)
        : what == 1 && rows > 2 ? fmt::format("{{\"do\": \"remove\", \"fitting\": {}}}", row)
        : what == 2
            ? fmt::format("{{\"do\": \"add\", \"values\": {{\"tag\": \"N-{}\", \"kind\": \"straight\"}}}}", i)
        : what == 3
            ? fmt::format(
                  "{{\"do\": \"set_table\", \"table\": \"liner\", \"index\": 0, \"key\": \"density\", "
                  "\"value\": \"{}\"}}",
                  value)
            : fmt::format("{{\"do\": \"set\", \"fitting\": {}, \"key\": \"diameter\", \"value\": \"{}\"}}",
                          row, value);
    job = ask(change_question(change));
    ASSERT_EQ(job.find("failed"), nullptr) << change;
    changed += texts() != past.back() ? 1 : 0;
  }
  EXPECT_GT(changed, 50);
  while (!past.empty()) {
    job = ask(files_question(past.back()));
    EXPECT_EQ(texts(), past.back());
    past.pop_back();
  }
  EXPECT_EQ(texts(), files);
}

// Every kind has its outline, and every key that is a size shows what it changes where that can be made.
TEST_F(Asked, OutlinesFollowFromTheFittingAlone) {
  const std::string text = sample_job(job_schema(), "");
  const JsonValue job = ask(open_question(text));
  ASSERT_GE(member(job, "rows").items.size(), job_schema().kinds.size());
  for (std::size_t row = 0; row < member(job, "rows").items.size(); ++row) {
    const std::string kind = text_of(member(member(job, "rows").items[row], "cells"), "kind");
    const JsonValue plain = ask(fmt::format("{{\"ask\": \"sketch\", \"fitting\": {}}}", row));
    EXPECT_NE(text_of(plain, "svg").find("class=\"body\""), std::string::npos) << kind;
    int shown = 0;
    for (const KindSchema& schema : job_schema().kinds) {
      if (schema.kind != kind) continue;
      for (const KeySpec& key : schema.keys) {
        const JsonValue with =
            ask(fmt::format("{{\"ask\": \"sketch\", \"fitting\": {}, \"key\": \"{}\"}}", row, key.name));
        ASSERT_EQ(with.find("failed"), nullptr) << kind << " " << key.name;
        if (text_of(with, "svg").find("class=\"would\"") == std::string::npos) continue;
        ++shown;
        std::string label = key.name;
        for (char& c : label) c = c == '_' || c == '.' ? ' ' : c;
        EXPECT_NE(text_of(with, "svg").find(">" + label), std::string::npos) << kind << " " << key.name;
      }
    }
    EXPECT_GE(shown, 1) << kind;
  }
}

TEST_F(Asked, SheetsWithHeadsOfTheirOwnAreReadOrAsked) {
  const auto sheet = [](const std::string& text, const std::string& answers) {
    JsonWriter json;
    json.begin_object()
        .key("ask")
        .text("sheet_in")
        .key("name")
        .text("list.tsv")
        .key("text")
        .text(text)
        .end_object();
    std::string question = json.str();
    question.insert(question.rfind('}'), ", \"answers\": " + answers);
    return question;
  };
  const std::string text = "Mark\tItem\tDia\tLength\nA1\tduct\t24\t48\nA2\tduct\t20\t60\n";
  const JsonValue open = ask(sheet(text, "{}"));
  EXPECT_GE(member(open, "failed").items.size(), 1u);
  const JsonValue read = ask(sheet(text, "{\"units\": \"in\", \"size_is\": \"metal\", \"liner\": \"1in\"}"));
  ASSERT_EQ(member(read, "fittings").items.size(), 2u) << text_of(member(open, "failed").items.at(0), "text");
  EXPECT_EQ(text_of(member(read, "fittings").items[1], "tag"), "A2");
  EXPECT_EQ(text_of(member(read, "fittings").items[1], "kind"), "straight");
  EXPECT_EQ(member(read, "columns").items.size(), 4u);
  const JsonValue job = ask(open_question(text_of(read, "job_text")));
  EXPECT_EQ(member(job, "rows").items.size(), 2u);
  // the same from a workbook's cells, with a column left out
  const JsonValue cells =
      ask("{\"ask\": \"sheet_in\", \"name\": \"list.xlsx\", \"rows\": [[{\"text\": \"Mark\"}, {\"text\": "
          "\"Item\"}, "
          "{\"text\": \"Dia (in)\"}, {\"text\": \"Length (in)\"}], [], [{\"text\": \"A1\"}, {\"text\": "
          "\"duct\"}, "
          "{\"text\": \"24\", \"number\": true}, {\"text\": \"48\", \"number\": true}]], \"answers\": "
          "{\"size_is\": "
          "\"metal\", \"liner\": \"1in\"}}");
  EXPECT_EQ(member(cells, "fittings").items.size(), 1u);
}

}  // namespace
}  // namespace linerwright
