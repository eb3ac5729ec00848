// Sheets as shops keep them, each with what was once read wrongly or refused with a hint that led nowhere.
#include <gtest/gtest.h>

#include "intake/reading.hpp"

namespace linerwright::testing {
namespace {

std::string understood(const std::string& text, const ReadAnswers& answers) {
  return understood_table(read_text(text, answers));
}

TEST(ShopSheet, AnyHeadOverKindsIsTheKind) {
  for (const char* head : {"Fitting", "Part", "Name", "Piece of work", "Duct item"}) {
    const Job job = job_read("Mark," + std::string(head) + ",Size,Length\nA,Spiral pipe,600,900\n", usual());
    EXPECT_EQ(job.fittings.at(0).kind, "straight") << head;
  }
  // where its cells are names, a fitting is a tag
  const Job job = job_read("Fitting,Type,Size,Length\nF-7,Duct,600,900\n", usual());
  EXPECT_EQ(job.fittings.at(0).tag, "F-7");
}

TEST(ShopSheet, SizesInDescriptions) {
  const std::string text =
      "MARK,QTY,DESCRIPTION,LENGTH,BRANCH LENGTH\n"
      "A,2,\"24\"\" spiral duct\",\"10'-0\"\"\",\n"
      "B,1,\"24\"\" 90 deg 5 pc ell\",,\n"
      "C,1,\"24\"\" x 18\"\" conc reducer\",\"2'-0\"\"\",\n"
      "D,1,\"24\"\" x 24\"\" x 12\"\" tee\",\"3'-6\"\"\",\"20\"\"\"\n"
      "E,1,\"24\"\"x12\"\" 45\xC2\xB0 lateral\",\"5'-0\"\"\",\"34\"\"\"\n"
      "F,1,\"\xC3\x98 610 mm pipe\",\"5'-0\"\"\",\n";
  const Job job = job_read(text, usual());
  for (const char* tag : {"A", "B", "C", "D", "E"})
    EXPECT_DOUBLE_EQ(fitting_tagged(job, tag).values.quantity("diameter"), 24.0 * 25.4) << tag;
  EXPECT_NEAR(fitting_tagged(job, "B").values.quantity("angle"), 0.5 * k_pi, 1e-15);
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "C").values.quantity("to_diameter"), 18.0 * 25.4);
  EXPECT_EQ(fitting_tagged(job, "D").values.list("branch_diameter"), std::vector<double>{12.0 * 25.4});
  EXPECT_EQ(fitting_tagged(job, "E").values.list("branch_diameter"), std::vector<double>{12.0 * 25.4});
  EXPECT_DOUBLE_EQ(fitting_tagged(job, "F").values.quantity("diameter"), 610.0);
}

// A size beside a description that names another, two sizes that could be it, and a number with a mark in it.
TEST(ShopSheet, SizesInDescriptionsThatAreNotPlain) {
  EXPECT_NE(asked("Mark,Description,Size,Length\nA,\"24\"\" duct\",\"20\"\"\",900\n", usual())
                .find("names another size than the row's 20\""),
            std::string::npos);
  EXPECT_EQ(asked("Mark,Description,Size,Length\nA,\"24\"\" duct\",\"2'-0\"\"\",900\n", usual()), "no error");
  EXPECT_NE(asked("Mark,Type,Length\nA,\"24\"\" duct 10\"\"\",900\n", usual()).find("is no kind"),
            std::string::npos);
  EXPECT_NE(asked("Mark,Type,Length\nA,\"1,200 mm duct\",900\n", usual()).find("is no kind"),
            std::string::npos);
}

TEST(ShopSheet, FeetAndInchesInAHead) {
  for (const char* head : {"Length (ft-in)", "Length, ft & in", "Length feet and inches", "Length [ft/in]"}) {
    const Job job =
        job_read("Mark,Type,Dia (in),\"" + std::string(head) + "\"\nA,Duct,24,\"1'-6 1/2\"\"\"\n", usual());
    EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("length"), 18.5 * 25.4) << head;
  }
}

TEST(ShopSheet, RadiiAsMultiplesOfTheDiameter) {
  const Job job = job_read("Mark;Type;Dia;Centre-line radius;Segments\nA;Bend 90;600;1,5 D;5\n", usual());
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("radius_ratio"), 1.5);
}

TEST(ShopSheet, LegsOfAYByTheWordsOfABranch) {
  ReadAnswers answers = usual();
  answers.wye = "y";
  const std::string head = "Mark,Type,Size,Inlet Length,Leg Length,Angle,";
  for (const char* column : {"Leg Dia", "Branch Dia", "Outlet"}) {
    const Job job = job_read(head + column + "\nA,Y-piece,600,500,900,30,400\n", answers);
    EXPECT_EQ(job.fittings.at(0).values.list("leg_diameter"), std::vector<double>{400.0}) << column;
  }
  EXPECT_NE(asked("Mark,Type,Size,Length\nA,Y-piece,600,900\n", answers)
                .find("a wye has no length (allowed: diameter, inlet_length, leg_diameter, leg_length, "
                      "hold_back_start, hold_back_leg)"),
            std::string::npos);
}

TEST(ShopSheet, AValueThatNoColumnHasIsSaidOnceForAll) {
  const std::string text = "Mark,Type,Size,Length\nA,Bend 90,600,\nB,Bend 90,600,\n";
  const std::string told = asked(text, usual());
  EXPECT_NE(told.find("[[default]] kind = \"elbow\" and pieces = ..."), std::string::npos) << told;
  EXPECT_NE(told.find("(and 1 more: line 3)"), std::string::npos) << told;
  ReadAnswers answers = usual();
  answers.defaults = "[[default]]\nkind = \"elbow\"\npieces = 5\n";
  EXPECT_NE(understood(text, answers).find("pieces = 5 by [[default]]: A, B"), std::string::npos)
      << understood(text, answers);
}

}  // namespace
}  // namespace linerwright::testing
