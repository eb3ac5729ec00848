// Every figure has its explanation.
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "linerwright/airway/airway.hpp"

using namespace linerwright;

TEST(Explain, every_figure_has_formula_and_source) {
  for (const char* figure : {"bare diameter",
                             "lined diameter",
                             "free area",
                             "share",
                             "narrowest place",
                             "velocity factor",
                             "equivalent diameter",
                             "opening",
                             "velocity",
                             "velocity pressure",
                             "Reynolds",
                             "roughness",
                             "friction factor",
                             "friction per length",
                             "velocity limit",
                             "nosing",
                             "step up",
                             "diameter series",
                             "added metal",
                             "thermal resistance",
                             "insertion loss",
                             "loss coefficient",
                             "fitting loss",
                             "loss of total pressure",
                             "fan power",
                             "branch flow",
                             "heat gain",
                             "dew point",
                             "bare attenuation",
                             "air noise",
                             "air"}) {
    const Explanation* found = explain(figure);
    ASSERT_NE(found, nullptr) << figure;
    EXPECT_EQ(found->figure, figure);
    EXPECT_FALSE(found->formula.empty()) << figure;
    EXPECT_FALSE(found->source.empty()) << figure;
  }
}

TEST(Explain, names_are_one_each_and_one_line_each) {
  std::set<std::string> names;
  for (const Explanation& entry : explanations()) {
    EXPECT_TRUE(names.insert(std::string(entry.figure)).second) << entry.figure;
    for (const auto text : {entry.figure, entry.formula, entry.source, entry.doubts}) {
      EXPECT_EQ(text.find('\n'), std::string_view::npos) << entry.figure;
      EXPECT_EQ(text.find("  "), std::string_view::npos) << entry.figure;
    }
  }
  EXPECT_EQ(names.size(), 31u);
}

TEST(Explain, case_and_joiners_do_not_matter) {
  EXPECT_EQ(explain("Friction-Factor"), explain("friction factor"));
  EXPECT_EQ(explain("reynolds"), explain("Reynolds"));
  EXPECT_EQ(explain("step_up"), explain("step up"));
  EXPECT_EQ(explain("no such figure"), nullptr);
  EXPECT_EQ(explain(""), nullptr);
}

TEST(Explain, knows_the_heads_of_the_tables) {
  const auto names = [](std::string_view head) {
    const Explanation* found = explain(head);
    return found == nullptr ? std::string_view("(unknown)") : found->figure;
  };
  EXPECT_EQ(names("p_v"), "velocity pressure");
  EXPECT_EQ(names("Re"), "Reynolds");
  EXPECT_EQ(names("f"), "friction factor");
  EXPECT_EQ(names("friction"), "friction per length");
  EXPECT_EQ(names("sound"), "insertion loss");
  EXPECT_EQ(names("heat"), "thermal resistance");
  EXPECT_EQ(names("loss"), "loss of total pressure");
  for (const char* head :
       {"bare", "lined", "free", "share", "velocity x", "narrowest", "limit", "metal", "fan", "vel. x"})
    EXPECT_NE(explain(head), nullptr) << head;
}

TEST(Explain, what_is_from_memory_is_said) {
  // The doubtful ones must own up to it.
  for (const char* figure : {"roughness", "insertion loss", "diameter series", "added metal",
                             "thermal resistance", "loss coefficient"}) {
    EXPECT_NE(explain(figure)->doubts.find("from memory"), std::string_view::npos) << figure;
  }
}
