// What can be read in two ways is asked, once, with the way to answer it.
#include <gtest/gtest.h>

#include "intake/reading.hpp"

namespace linerwright::testing {
namespace {

struct Case {
  std::string text;
  std::string question;  // what the line must hold
  std::string answer;
};

ReadAnswers without(std::string ReadAnswers::*place) {
  ReadAnswers answers = usual();
  (answers.*place).clear();
  return answers;
}

void expect_asked(const std::string& text, const ReadAnswers& answers, const std::string& question,
                  const std::string& answer) {
  const std::string lines = asked(text, answers);
  EXPECT_NE(lines.find(question), std::string::npos) << lines;
  EXPECT_NE(lines.find(answer), std::string::npos) << lines;
}

TEST(Questions, WordsWithTwoMeanings) {
  expect_asked("Tag,Type,Dia,Length\nS-1,Duct,600,1200\n", without(&ReadAnswers::size_is), "metal's inside",
               "--size-is");
  expect_asked("Tag,Type,Dia,Angle,Gores\nE-1,Bend,600,90,5\n", usual(), "all pieces of the bend",
               "--gores all or --gores between");
  expect_asked("Tag,Type,Dia,Branch\nY-1,Wye,600,300\n", usual(), "lateral", "--wye");
  expect_asked("Tag,Type,Dia,Angle,Radius,Pieces\nE-1,Bend,600,90,900,5\n", usual(), "throat",
               "\"Radius\" = \"centreline_radius\"");
  expect_asked("Tag,Type,Dia,Length,No.\nS-1,Duct,600,1200,4\nS-2,Duct,600,1200,9\n", usual(),
               "how many or which one", "\"count\" or \"tag\"");
}

TEST(Questions, AnswersAreTaken) {
  ReadAnswers answers = usual();
  answers.gores = "between";
  EXPECT_EQ(
      job_read("Tag,Type,Dia,Angle,Gores\nE-1,Bend,600,90,3\n", answers).fittings[0].values.integer("pieces"),
      5);
  answers.gores = "all";
  EXPECT_EQ(
      job_read("Tag,Type,Dia,Angle,Gores\nE-1,Bend,600,90,5\n", answers).fittings[0].values.integer("pieces"),
      5);
  answers.wye = "lateral";
  const Job job = job_read("Tag,Type,Dia,Branch,Length,Branch Length\nY-1,Wye,600,300,1500,900\n", answers);
  EXPECT_EQ(job.fittings[0].kind, "tee");
}

TEST(Questions, NumbersThatCanBeReadTwoWays) {
  ReadAnswers answers = usual();
  expect_asked("Tag;Type;Dia;Length\nS-1;Duct;600;1.200\n", answers, "thousands or a decimal fraction",
               "--decimal");
  expect_asked("Tag;Type;Dia;Length\nS-1;Duct;600;1.200,5\nS-2;Duct;610.5;900\n", answers,
               "which one is the sheet's", "--decimal");
  answers.decimal = "comma";
  EXPECT_DOUBLE_EQ(
      job_read("Tag;Type;Dia;Length\nS-1;Duct;600;1.200\n", answers).fittings[0].values.quantity("length"),
      1200.0);
  answers.decimal = "point";
  expect_asked("Tag;Type;Dia;Length\nS-1;Duct;600;12,5\n", answers,
               "has a decimal comma, but the sheet's is the point", "sheet.csv:2");
}

TEST(Questions, AreAskedOnceForAllRows) {
  std::string text = "Tag,Type,Dia,Length\n";
  for (int i = 0; i < 25; ++i) text += "S-" + std::to_string(i) + ",Duct,600,1200\n";
  ReadAnswers answers = usual();
  answers.units.reset();
  answers.liner.clear();
  answers.size_is.clear();
  const std::string lines = asked(text, answers);
  EXPECT_EQ(std::count(lines.begin(), lines.end(), '\n'), 2) << lines;
  answers.units = Units::metric;
  answers.size_is = "metal";
  const std::string liner = asked(text, answers);
  EXPECT_EQ(std::count(liner.begin(), liner.end(), '\n'), 1) << liner;
  EXPECT_NE(liner.find("and 24 more: lines 3, 4"), std::string::npos) << liner;
  EXPECT_NE(liner.find("--liner 1in"), std::string::npos) << liner;
}

TEST(Questions, UnknownColumnsWithNumbersAreNotDropped) {
  expect_asked("Tag,Type,Dia,Length,Twist\nS-1,Duct,600,1200,15\n", usual(), "column Twist",
               "\"Twist\" = a key");
  EXPECT_EQ(asked("Tag,Type,Dia,Length,Mood\nS-1,Duct,600,1200,fine\n", usual()), "no error");
  expect_asked("Tag,Type,Dia,Length,\nS-1,Duct,600,1200,15\n", usual(), "has no head", "a head above it");
}

TEST(Questions, MistakesNameTheRowOfTheSheet) {
  const std::string head = "Tag,Type,Dia,Length\nS-1,Duct,600,1200\n";
  expect_asked(head + "S-2,Manhole,600,1200\n", usual(), "sheet.csv:3: S-2: Type = Manhole", "straight");
  expect_asked(head + "S-2,Duct,600 x 400,1200\n", usual(), "holds 2 sizes", "a round straight takes one");
  expect_asked(head + "S-1,Duct,600,1200\n", usual(), "sheet.csv:3: tag = S-1", "repeats the tag of line 2");
  expect_asked(head + "S-2,Duct,600,see plan\n", usual(), "sheet.csv:3: S-2: Length = see plan",
               "is not a number");
  expect_asked(head + ",Duct,600,1200\n", usual(), "sheet.csv:3: tag", "is missing");
  expect_asked(head + "S-2,,600,1200\n", usual(), "sheet.csv:3: S-2: kind", "names no kind");
  expect_asked(head + "S-2,Duct,1,1200\n", usual(), "sheet.csv:3: S-2: diameter = 1 mm", "at least 25 mm");
  expect_asked("Tag,Type,Dia,Length,Qty\nS-1,Duct,600,1200,\n", usual(), "count", "is blank");
  expect_asked("Tag,Type,Size,Qty,Length\nT-1,Tee,24x20x12,1,1500\n", usual(), "two ends of the body differ",
               "two fittings");
}

TEST(Questions, WhatOneSizeOfARowSaysHoldsForTheOthers) {
  const ReadAnswers answers = without(&ReadAnswers::size_is);
  EXPECT_EQ(asked("Tag,Type,ID,To,Length\nR-1,Reducer,600,500,300\n", answers), "no error");
  expect_asked("Tag,Type,ID,To OD,Length\nR-1,Reducer,600,500,300\n", answers, "sizes of two sorts",
               "sheet.csv:2");
}

TEST(Questions, HeadingsBetweenRowsAreNoFittings) {
  const ReadSheet sheet = read_text(
      "Tag,Type,Dia,Length\nS-1,Duct,600,1200\n,LEVEL 2,,\nLEVEL 3,,,\nS-2,Duct,600,900\n", usual());
  EXPECT_EQ(sheet.rows, 2u);
  EXPECT_EQ(sheet.left.size(), 2u);
}

TEST(Questions, AConicalTeeNeedsItsBase) {
  expect_asked("Tag,Type,Dia,Branch,Length,Branch Length\nT-1,Conical tee,600,300,1500,900\n", usual(),
               "Conical tee", "a column headed branch_base");
  EXPECT_EQ(
      asked("Tag,Type,Dia,Branch,Length,Branch Length,Branch Base\nT-1,Conical tee,600,300,1500,900,400\n",
            usual()),
      "no error");
}

TEST(Questions, NoTableAtAll) {
  expect_asked("Dear all,\nplease line the ducts.\n", usual(), "no row holds heads", "Tag, Type");
  expect_asked("", usual(), "is empty", "Tag, Type");
  expect_asked("Tag,Type,Dia,Length\n", usual(), "no row under the heads", "sheet.csv:1");
  expect_asked("Tag,Type,Dia\nS-1,Duct,\"24\n", usual(), "never closed", "sheet.csv:2");
  expect_asked(std::string("Tag,Type\n\0,x", 12), usual(), "NUL", "sheet.csv:2");
  expect_asked("Tag;Type;\xD8\nS-1;Duct;600\n", usual(), "is not UTF-8", "--encoding windows-1252");
}

TEST(Questions, MapsAreHeldToTheSheet) {
  ReadAnswers answers = usual();
  answers.file = "map.toml";
  answers.columns = {{"Bore", "diametre"}};
  expect_asked("Tag,Type,Bore,Length\nS-1,Duct,600,1200\n", answers, "map.toml: Bore = diametre",
               "did you mean diameter?");
  answers.columns = {{"Calibre", "diameter"}};
  expect_asked("Tag,Type,Dia,Length\nS-1,Duct,600,1200\n", answers, "Calibre", "no column with this head");
  for (const char* map : {"[columns]\nDia = 3\n", "[sheet]\ndecimal = \"dot\"\n",
                          "[sheet]\nmood = \"fine\"\n", "[liner]\nthickness = 1\n"})
    EXPECT_THROW(read_answers(map, "map.toml"), InputError) << map;
}

}  // namespace
}  // namespace linerwright::testing
