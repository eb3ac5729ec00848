// The engine's questions and answers.
#include "linerwright/engine/engine.hpp"

#include <gtest/gtest.h>

#include <map>

#include <fmt/format.h>

#include "asked.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/engine/fitting_files.hpp"
#include "linerwright/job/request_state.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/report/board_folder.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "random_jobs.hpp"
#include "support/cases.hpp"
#include "support/unpacked.hpp"

namespace linerwright {
namespace {

using support::Asked;
using support::member;
using support::open_question;
using support::text_of;

constexpr const char* k_job =
    "[job]\nunits = \"in\"\n\n"
    "[[fitting]]\ntag = \"E-1\"\nkind = \"elbow\"\ndiameter = 24\nangle = 90 # a quarter\npieces = "
    "4\nthickness = 1\n\n"
    "[[fitting]]\ntag = \"T-1\"\nkind = \"tee\"\ndiameter = 24\nlength = 48\nbranch_diameter = "
    "16\nbranch_length = 30\nthickness = 1\n";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  return text.replace(text.find(what), what.size(), by);
}

TEST_F(Asked, TheSchemaNamesEveryKindAndKey) {
  const JsonValue schema = ask("{\"ask\": \"schema\"}");
  ASSERT_EQ(member(schema, "kinds").items.size(), job_schema().kinds.size());
  for (std::size_t i = 0; i < job_schema().kinds.size(); ++i) {
    const JsonValue& kind = member(schema, "kinds").items[i];
    EXPECT_EQ(text_of(kind, "kind"), job_schema().kinds[i].kind);
    ASSERT_EQ(member(kind, "keys").items.size(), job_schema().kinds[i].keys.size());
    for (const JsonValue& key : member(kind, "keys").items) EXPECT_FALSE(text_of(key, "help").empty());
  }
}

TEST_F(Asked, AJobComesAsRowsAndChangesInItsText) {
  const JsonValue job = ask(open_question(k_job));
  ASSERT_EQ(member(job, "rows").items.size(), 2u);
  EXPECT_EQ(text_of(member(member(job, "rows").items[0], "cells"), "angle"), "90");
  EXPECT_TRUE(member(member(job, "rows").items[1], "can").flag);
  EXPECT_EQ(text_of(job, "units"), "in");
  const JsonValue changed =
      ask("{\"ask\": \"change\", \"changes\": [{\"do\": \"set\", \"fitting\": 0, \"key\": \"angle\", "
          "\"value\": \"45\"}, {\"do\": "
          "\"copy\", \"fitting\": 0, \"tag\": \"E-2\"}, {\"do\": \"add\", \"values\": {\"tag\": \"S-1\", "
          "\"kind\": \"straight\", "
          "\"diameter\": \"24\", \"length\": \"4ft\", \"thickness\": \"1\", \"count\": \"2\"}}, {\"do\": "
          "\"remove\", \"fitting\": "
          "2}]}");
  EXPECT_EQ(text_of(changed, "text"),
            "[job]\nunits = \"in\"\n\n"
            "[[fitting]]\ntag = \"E-1\"\nkind = \"elbow\"\ndiameter = 24\nangle = 45 # a quarter\npieces = "
            "4\nthickness = 1\n\n"
            "[[fitting]]\ntag = \"E-2\"\nkind = \"elbow\"\ndiameter = 24\nangle = 45 # a quarter\npieces = "
            "4\nthickness = 1\n\n"
            "[[fitting]]\ntag = \"S-1\"\nkind = \"straight\"\ndiameter = 24\nlength = \"4ft\"\nthickness = "
            "1\ncount = 2\n");
  EXPECT_TRUE(member(member(changed, "rows").items[2], "can").flag);
}

TEST_F(Asked, ChangesAreMadeTogetherOrNotAtAll) {
  ask(open_question(k_job));
  const JsonValue refused =
      ask("{\"ask\": \"change\", \"changes\": [{\"do\": \"set\", \"fitting\": 0, \"key\": \"angle\", "
          "\"value\": \"45\"}, {\"do\": "
          "\"remove\", \"fitting\": 7}]}");
  EXPECT_EQ(member(refused, "failed").items.size(), 1u);
  EXPECT_EQ(text_of(ask("{\"ask\": \"change\", \"changes\": []}"), "text"), k_job);
}

TEST_F(Asked, MistakesStandAtTheirRowAndKey) {
  std::string text = k_job;
  text.replace(text.find("24"), 2, "\"24 inn\"");
  const JsonValue job = ask(open_question(text));
  ASSERT_EQ(member(job, "problems").items.size(), 1u);
  const JsonValue& problem = member(job, "problems").items[0];
  EXPECT_EQ(member(problem, "row").number, 0.0);
  EXPECT_EQ(text_of(problem, "key"), "diameter");
  EXPECT_FALSE(member(member(job, "rows").items[0], "can").flag);
  EXPECT_TRUE(member(member(job, "rows").items[1], "can").flag);
  const JsonValue fitting = ask("{\"ask\": \"fitting\", \"fitting\": 0}");
  EXPECT_EQ(member(fitting, "problems").items.size(), 1u);
  EXPECT_EQ(fitting.find("live"), nullptr);
}

// A fitting that cannot be is refused in the words that make_fitting has for it.
TEST_F(Asked, HopelessFittingsAreRefusedInTheSameWords) {
  std::string text = k_job;
  text.replace(text.find("branch_diameter = 16"), 20, "branch_diameter = 30");
  ask(open_question(text));
  const JsonValue fitting = ask("{\"ask\": \"fitting\", \"fitting\": 1}");
  const Job job = read_job_text(text, "job.toml", job_schema());
  try {
    make_fitting(job.fittings[1]);
    FAIL() << "is made";
  } catch (const InputError& error) {
    ASSERT_EQ(member(fitting, "problems").items.size(), error.problems().size());
    for (std::size_t i = 0; i < error.problems().size(); ++i) {
      EXPECT_EQ(text_of(member(fitting, "problems").items[i], "text"), one_line(error.problems()[i]));
      EXPECT_EQ(member(member(fitting, "problems").items[i], "row").number, 1.0);
    }
  }
}

TEST_F(Asked, WhatIsNoQuestionIsTold) {
  for (const char* question :
       {"", "{}", "[]", "{\"ask\": 5}", "{\"ask\": \"nothing\"}", "{\"ask\": \"fitting\"}",
        "{\"ask\": \"fitting\", \"fitting\": -1}", "{\"ask\": \"fitting\", \"fitting\": 0.5}",
        "{\"ask\": \"files\", \"fitting\": 3}", "{\"ask\": \"change\", \"changes\": []}"})
    EXPECT_EQ(member(ask(question), "failed").items.size(), 1u) << question;
  EXPECT_GE(member(ask(open_question("[[fitting]")), "failed").items.size(), 1u);
  EXPECT_GE(member(ask(open_question("\xFF\xFE")), "failed").items.size(), 1u);
}

constexpr const char* k_stock = "\n[[stock]]\nwidth = 48\nlength = 120\n";

TEST(Whole, BoardsAreThoseOfTheProgramAndTheSearchIsTold) {
  std::vector<double> done;
  int pictures = 0;
  Engine engine([&](const std::string& now) {
    const JsonValue told = read_json(now, "told");
    EXPECT_FALSE(text_of(told, "step").empty());
    done.push_back(member(told, "done").number);
    pictures += told.find("picture") != nullptr ? 1 : 0;
  });
  const std::string text = std::string(k_job) + k_stock;
  engine.answer(open_question(text));
  const JsonValue whole =
      read_json(engine.answer("{\"ask\": \"whole\", \"boards\": true, \"effort\": \"fill\"}"), "answer");
  EXPECT_GE(pictures, 1);
  for (const double share : done) EXPECT_TRUE(share >= 0.0 && share <= 1.0) << share;
  Job job = read_job_text(text, "job.toml", job_schema());
  apply_stock(job);
  std::vector<BoardPart> parts;
  for (const FittingRequest& request : job.fittings) {
    const Fitting fitting = make_fitting(request);
    for (BoardPart& part : board_parts(fitting, make_patterns(fitting), false))
      parts.push_back(std::move(part));
  }
  JobStock setup = job_stock(job, "job.toml", "job.toml");
  setup.options.effort = k_effort_fill;
  const DrawnBoards drawn =
      draw_boards(parts, setup.stock, setup.knife, setup.options, job.units, job_dxf(job, "job.toml"));
  std::map<std::string, std::string> files;
  for (const JsonValue& file : member(whole, "files").items)
    files[text_of(file, "name")] = text_of(file, file.find("text") != nullptr ? "text" : "base64");
  ASSERT_FALSE(drawn.files.empty());
  // a DXF and a PDF of each; job sheet, stickers, cut list, boards.csv, boards.json, remnants; two of totals
  EXPECT_EQ(files.size(), 2 * drawn.files.size() + 8);
  const SheetHead head = sheet_head(job, LINERWRIGHT_VERSION);
  EXPECT_EQ(files["boards/jobsheet.pdf"], base64(jobsheet_pdf(drawn.plan, head)));
  EXPECT_EQ(files["boards/stickers.pdf"],
            base64(stickers_pdf(drawn.plan, sticker_sheet(nullptr, job.units, "job.toml"), head)));
  EXPECT_TRUE(seal_holds(files["boards/boards.json"]));
  for (const FittingRequest& request : job.fittings)
    EXPECT_NE(files["boards/boards.json"].find(state_of(request)), std::string::npos);
  for (std::size_t b = 0; b < drawn.files.size(); ++b)
    EXPECT_EQ(files["boards/" + board_file(drawn.plan, b)], drawn.files[b]);
  EXPECT_EQ(files["boards/cutlist.csv"], cut_list_csv(drawn.plan));
  EXPECT_NE(files["totals.csv"].find("all,boards,"), std::string::npos);
  EXPECT_EQ(member(whole, "made").number, 2.0);
  EXPECT_EQ(member(whole, "problems").items.size(), 0u);
}

// Six straights of 24 in and six of 18 in take 18 boards of 48 by 120 in divided evenly, 8 with panels that
// share them (by hand, as tests/cli/test_nest.py has it): the fittings' files are then cut as the boards are
// planned.
TEST_F(Asked, PiecesAreDividedAsTheirBoardsAreBestUsed) {
  const std::string text =
      "[job]\nunits = \"in\"\n\n[liner]\nthickness = 1\n\n[[stock]]\nwidth = 48\nlength = 120\nedge_trim = "
      "0.25\n"
      "\n[[fitting]]\ntag = \"S-24\"\nkind = \"straight\"\ndiameter = 24\nlength = 48\ncount = 6\n"
      "\n[[fitting]]\ntag = \"S-18\"\nkind = \"straight\"\ndiameter = 18\nlength = 48\ncount = 6\n";
  ask(open_question(text));
  const JsonValue whole = ask("{\"ask\": \"whole\", \"boards\": true, \"effort\": \"fill\"}");
  const JsonValue& divided = member(whole, "divided");
  ASSERT_EQ(divided.keys.size(), 2u);
  std::size_t boards = 0;
  std::string cut_list, planned;
  for (const JsonValue& file : member(whole, "files").items) {
    const std::string name = text_of(file, "name");
    boards += name.rfind("boards/board-", 0) == 0 && name.find(".dxf") != std::string::npos ? 1 : 0;
    if (name == "boards/cutlist.csv") cut_list = text_of(file, "text");
    if (name == "boards/division.toml") planned = text_of(file, "text");
  }
  EXPECT_LE(boards, 8u);
  for (std::size_t row = 0; row < 2; ++row) {
    const std::string tag = row == 0 ? "S-24" : "S-18";
    const std::string division = text_of(divided, tag.c_str());
    EXPECT_NE(planned.find("division = \"" + division + "\""), std::string::npos) << planned;
    JsonWriter question;
    question.begin_object().key("ask").text("files").key("fitting").integer(static_cast<long>(row));
    question.key("division").text(division).end_object();
    const JsonValue answer = ask(question.str());
    EXPECT_EQ(member(answer, "faults").items.size(), 0u);
    std::size_t patterns = 0;
    for (const JsonValue& file : member(answer, "files").items) {
      const std::string name = text_of(file, "name");
      if (name.find(".dxf") == std::string::npos) continue;
      const std::string piece = name.substr(tag.size() + 1, name.size() - tag.size() - 5);
      EXPECT_NE(cut_list.find(piece), std::string::npos) << name;
      ++patterns;
    }
    EXPECT_GE(patterns, 2u);
  }
}

TEST_F(Asked, WhatCannotBeMadeIsLeftOutOfTheWholeAndTold) {
  std::string text = std::string(k_job) + k_stock;
  text.replace(text.find("branch_diameter = 16"), 20, "branch_diameter = 30");
  ask(open_question(text));
  const JsonValue whole = ask("{\"ask\": \"whole\"}");
  EXPECT_EQ(member(whole, "made").number, 1.0);
  EXPECT_EQ(member(whole, "left_out").number, 1.0);
  EXPECT_GE(member(whole, "problems").items.size(), 1u);
  EXPECT_EQ(whole.find("boards"), nullptr);
  ASSERT_EQ(member(whole, "files").items.size(), 2u);
  EXPECT_EQ(member(ask("{\"ask\": \"whole\", \"effort\": \"much\"}"), "failed").items.size(), 1u);
  ask(open_question(k_job));
  EXPECT_EQ(member(ask("{\"ask\": \"whole\", \"boards\": true}"), "failed").items.size(), 1u);
}

TEST_F(Asked, FilesComeCheckedAndWithSolidsWhereTheyAreWanted) {
  ask(open_question(k_job));
  const JsonValue bare = ask("{\"ask\": \"files\", \"fitting\": 1}");
  const JsonValue with = ask("{\"ask\": \"files\", \"fitting\": 1, \"solids\": true}");
  EXPECT_GE(member(bare, "checks").number, 6.0);
  EXPECT_EQ(member(bare, "faults").items.size(), 0u);
  ASSERT_EQ(member(with, "files").items.size(), member(bare, "files").items.size() + 3);
  const JsonValue& stl = member(with, "files").items.back();
  EXPECT_EQ(text_of(stl, "name"), "T-1-bore.stl");
  EXPECT_EQ(text_of(stl, "base64").substr(0, 12), "TGluZXJ3cmln");  // "Linerwrig"
  // the sheet is the one that the fitting's page prints
  const Job job = read_job_text(k_job, "job.toml", job_schema());
  const Fitting tee = make_fitting(job.fittings[1]);
  const std::string html = text_of(ask("{\"ask\": \"sheet\", \"fitting\": 1}"), "html");
  EXPECT_NE(html.find("T-1, sheet 1"), std::string::npos);
  const std::vector<Pattern> patterns = make_patterns(tee);
  const std::string page = fitting_page({tee, patterns, {}, {}, {}, {}, {}});
  EXPECT_EQ(read_json(support::unpacked(page, "drawn"), "drawn").items.back().text, html);
}

TEST_F(Asked, AScheduleStaysOneAndBecomesAJobWhereThatIsAsked) {
  const std::string text =
      "# units = in\ntag,kind,diameter,angle,pieces,length,thickness\nE-1,elbow,24,90,5,,1\nS-1,"
      "straight,600mm,,,48,1\n";
  const JsonValue kept = ask(open_question(text, "rows.CSV"));
  ASSERT_EQ(member(kept, "rows").items.size(), 2u);
  EXPECT_EQ(text_of(kept, "text"), text);
  EXPECT_TRUE(member(kept, "is_schedule").flag);
  EXPECT_TRUE(member(member(kept, "rows").items[1], "can").flag);
  const JsonValue changed =
      ask("{\"ask\": \"change\", \"changes\": [{\"do\": \"set\", \"fitting\": 0, \"key\": \"angle\", "
          "\"value\": \"45\"}]}");
  EXPECT_EQ(text_of(changed, "text"), replaced(text, "24,90,5", "24,45,5"));
  EXPECT_EQ(member(ask("{\"ask\": \"change\", \"changes\": [{\"do\": \"set_table\", \"table\": \"liner\", "
                       "\"index\": 0, "
                       "\"key\": \"thickness\", \"value\": \"2\"}]}"),
                   "failed")
                .items.size(),
            1u);
  std::string question = open_question(text, "rows.CSV");
  question.insert(question.rfind('}'), ", \"as_job\": true");
  const JsonValue job = ask(question);
  EXPECT_EQ(text_of(job, "name"), "rows.toml");
  EXPECT_EQ(text_of(member(member(job, "rows").items[1], "cells"), "diameter"), "600mm");
  const JsonValue again = ask(open_question(text_of(job, "text")));
  EXPECT_EQ(text_of(again, "text"), text_of(job, "text"));
  EXPECT_TRUE(member(member(again, "rows").items[0], "can").flag);
}

// What the engine hands over are the program's own texts, and a text that is changed and changed back gives
// its bytes.
TEST_F(Asked, RandomFittingsGiveTheSameFilesAndTextsComeBack) {
  support::Chance chance(5);
  const int count = support::cases(16);
  const std::string text = support::random_job(chance, count);
  const Job job = read_job_text(text, "job.toml", job_schema());
  ask(open_question(text));
  int made = 0;
  for (int i = 0; i < count; ++i) {
    const JsonValue answer = ask(fmt::format("{{\"ask\": \"files\", \"fitting\": {}}}", i));
    const std::string tag = fmt::format("F-{}", i + 1);
    for (const FittingRequest& request : job.fittings) {
      if (request.tag != tag) continue;
      try {
        const Fitting fitting = make_fitting(request);
        const std::vector<TextFile> files = fitting_files(fitting, make_patterns(fitting), {});
        ASSERT_EQ(member(answer, "files").items.size(), files.size());
        for (std::size_t k = 0; k < files.size(); ++k)
          EXPECT_EQ(text_of(member(answer, "files").items[k], "text"), files[k].text);
        ++made;
      } catch (const InputError&) {
        EXPECT_GE(member(answer, "failed").items.size(), 1u);
      }
    }
  }
  EXPECT_GT(made, count / 4);
  std::vector<std::string> before{text};
  for (int i = 0; i < 60; ++i) {
    const JsonValue changed =
        ask(fmt::format("{{\"ask\": \"change\", \"changes\": [{{\"do\": \"set\", \"fitting\": {}, \"key\": "
                        "\"thickness\", \"value\": \"{}\"}}]}}",
                        chance.whole(0, count - 1), chance.whole(8, 40)));
    before.push_back(text_of(changed, "text"));
  }
  EXPECT_NE(before.back(), text);
  EXPECT_EQ(text_of(ask(open_question(before.front())), "text"), text);
}

}  // namespace
}  // namespace linerwright
