// Air carried along runs: continuity by hand, and statements that do not agree.
#include <gtest/gtest.h>

#include <cmath>

#include "helpers.hpp"

namespace linerwright {
namespace {

using support::elbow;
using support::k_head;
using support::laid;
using support::Laid;
using support::straight;
using support::tee;

// Laid, and its air carried.
Laid carried(const std::string& text, std::optional<double> job_flow = std::nullopt) {
  Laid run = laid(text);
  EXPECT_EQ(run.problems.size(), 0u) << run.all_problems();
  std::vector<Problem> problems;
  carry_air(run.runs, job_flow, problems);
  for (const Problem& problem : problems) run.problems.push_back(one_line(problem));
  return run;
}

// Out of a port of a fitting of any run; NaN where it is not known.
double out_of(const Laid& laid_runs, const std::string& tag, const std::string& port) {
  for (const LaidRun& run : laid_runs.runs)
    for (const Placed& placed : run.fittings)
      for (std::size_t i = 0; i < placed.ports.size(); ++i)
        if (shown(placed.part) == tag && placed.ports[i].name == port)
          return placed.air.at(i) ? *placed.air[i] : std::nan("");
  throw std::out_of_range(tag + ":" + port);
}

std::string fitting(const std::string& tag, const std::string& more = "") {
  return straight(tag, 600, 500, more);
}

// A main of A, T, B with a branch of C, and what may be said of each.
std::string system(const std::map<std::string, std::string>& said) {
  const auto more = [&](const std::string& tag) {
    const auto found = said.find(tag);
    return found == said.end() ? std::string() : found->second + "\n";
  };
  return std::string(k_head) + fitting("A", more("A")) + tee("T", more("T")) + fitting("B", more("B")) +
         straight("C", 300, 400, more("C")) + "[[run]]\nname = \"main\"\npath = [\"A\", \"T\", \"B\"]\n" +
         more("main") + "[[run]]\nname = \"side\"\nfrom = \"T:branch1\"\npath = [\"C\"]\n" + more("side");
}

struct Case {
  std::map<std::string, std::string> said;
  double start, behind, branch;  // m3/s into A, out of B, out of C
};

TEST(Air, WhatGoesInComesOut) {
  const Case cases[] = {
      {{{"A", "flow = \"1 m3/s\""}, {"T", "branch_flow = \"0.25 m3/s\""}}, 1.0, 0.75, 0.25},
      {{{"main", "flow = \"1 m3/s\""}, {"T", "branch_flow = \"0.25 m3/s\""}}, 1.0, 0.75, 0.25},
      // from behind, and from what the branch's own run says
      {{{"B", "flow = \"0.75 m3/s\""}, {"T", "branch_flow = \"0.25 m3/s\""}}, 1.0, 0.75, 0.25},
      {{{"A", "flow = \"1 m3/s\""}, {"side", "flow = \"0.25 m3/s\""}}, 1.0, 0.75, 0.25},
      {{{"A", "flow = \"1 m3/s\""}, {"B", "flow = \"0.75 m3/s\""}}, 1.0, 0.75, 0.25},
      {{{"B", "flow = \"0.75 m3/s\""}, {"C", "flow = \"0.25 m3/s\""}}, 1.0, 0.75, 0.25},
      // a branch that brings air
      {{{"A", "flow = \"1 m3/s\""}, {"T", "branch_flow = \"-0.5 m3/s\""}}, 1.0, 1.5, -0.5},
      // all of it leaves by the branch
      {{{"A", "flow = \"1 m3/s\""}, {"T", "branch_flow = \"1 m3/s\""}}, 1.0, 0.0, 1.0},
      // said twice, rounded
      {{{"A", "flow = \"1 m3/s\""}, {"B", "flow = \"0.752 m3/s\""}, {"T", "branch_flow = \"0.25 m3/s\""}},
       1.0,
       0.752,
       0.25}};
  int tried = 0;
  for (const Case& each : cases) {
    const Laid run = carried(system(each.said));
    ASSERT_EQ(run.problems.size(), 0u) << run.all_problems() << tried;
    EXPECT_NEAR(out_of(run, "A", "start"), -each.start, 1e-12) << tried;
    EXPECT_NEAR(out_of(run, "B", "end"), each.behind, 3e-3) << tried;
    EXPECT_NEAR(out_of(run, "C", "end"), each.branch, 1e-12) << tried;
    EXPECT_NEAR(out_of(run, "T", "end"), -out_of(run, "B", "start"), 3e-3);
    ++tried;
  }
  EXPECT_EQ(tried, 9);
}

TEST(Air, WhatIsNotKnownStaysSo) {
  const Laid run = carried(system({{"A", "flow = \"1 m3/s\""}}));
  EXPECT_NEAR(out_of(run, "T", "start"), -1.0, 1e-12);
  for (const auto& [tag, port] :
       {std::pair<const char*, const char*>{"T", "end"}, {"B", "end"}, {"C", "end"}})
    EXPECT_TRUE(std::isnan(out_of(run, tag, port))) << tag;
  // the copy for the report has no flow that is not its own
  const Placed& behind = run.runs[0].fittings[2];
  EXPECT_FALSE(in_its_air(behind).request.values.has("flow"));
}

TEST(Air, TheJobsFlowBeginsWhereNoneIsSaid) {
  const Laid plain = carried(system({{"T", "branch_flow = \"0.2 m3/s\""}}), 0.8);
  EXPECT_NEAR(out_of(plain, "A", "start"), -0.8, 1e-12);
  EXPECT_NEAR(out_of(plain, "B", "end"), 0.6, 1e-12);
  EXPECT_NEAR(out_of(plain, "C", "end"), 0.2, 1e-12);
  const Laid said = carried(system({{"A", "flow = \"1 m3/s\""}, {"T", "branch_flow = \"0.2 m3/s\""}}), 0.8);
  EXPECT_NEAR(out_of(said, "B", "end"), 0.8, 1e-12);
}

TEST(Air, TwoThatDoNotAgreeAreAMistake) {
  const struct {
    std::map<std::string, std::string> said;
    std::vector<const char*> words;
  } cases[] = {
      {{{"A", "flow = \"1 m3/s\""}, {"B", "flow = \"0.9 m3/s\""}, {"T", "branch_flow = \"0.25 m3/s\""}},
       {"T: branch_flow = 0.25 m3/s: does not agree", "flow = 1 m3/s of A (job.toml:",
        "flow = 0.9 m3/s of B (job.toml:", "0.100 m3/s come out by it at T branch1, and 0.250 m3/s by this"}},
      {{{"A", "flow = \"1 m3/s\""}, {"main", "flow = \"2 m3/s\""}},
       {"A: flow = 1 m3/s: does not agree with flow = 2 m3/s of run main (job.toml:"}},
      {{{"A", "flow = \"1 m3/s\""}, {"B", "flow = \"1 m3/s\""}, {"side", "flow = \"0.25 m3/s\""}},
       {"does not agree with"}}};
  for (const auto& each : cases) {
    const Laid run = carried(system(each.said));
    ASSERT_EQ(run.problems.size(), 1u) << run.all_problems();
    for (const char* words : each.words)
      EXPECT_NE(run.problems[0].find(words), std::string::npos) << run.problems[0];
    EXPECT_EQ(run.problems[0].rfind("job.toml:", 0), 0u) << run.problems[0];
    EXPECT_TRUE(run.runs.empty());  // the side hangs together with the main
  }
}

TEST(Air, ArrowsAgainstEachOther) {
  const Laid run = carried(std::string(k_head) + fitting("A", "flow = \"1 m3/s\"\n") +
                           fitting("B", "flow = \"1 m3/s\"\nflow_arrow = \"against\"\n") +
                           "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\n");
  ASSERT_EQ(run.problems.size(), 1u) << run.all_problems();
  EXPECT_NE(run.problems[0].find("flow arrows point against each other"), std::string::npos);
  // exhaust: the run is written from the outlet to the fan, and all arrows point back
  const std::string back = "flow_arrow = \"against\"\n";
  const Laid exhaust = carried(
      std::string(k_head) + fitting("A", back) + tee("T", back + "branch_flow = \"-0.3 m3/s\"\n") +
      fitting("B", back + "flow = \"0.7 m3/s\"\n") + "[[run]]\nname = \"a\"\npath = [\"A\", \"T\", \"B\"]\n");
  ASSERT_EQ(exhaust.problems.size(), 0u) << exhaust.all_problems();
  EXPECT_NEAR(out_of(exhaust, "B", "end"), -0.7, 1e-12);
  EXPECT_NEAR(out_of(exhaust, "A", "start"), 1.0, 1e-12);
  EXPECT_EQ(in_its_air(exhaust.runs[0].fittings[0]).liner.flow, Flow::against);
}

// Air that comes in at both ends of a tee's body meets at its branch.
TEST(Air, TwoFlowsIntoABranch) {
  const Laid run = carried(std::string(k_head) + fitting("A", "flow = \"1 m3/s\"\n") +
                           tee("T", "branch_flow = \"1.4 m3/s\"\nflow_arrow = \"to_branch\"\n") +
                           fitting("B", "flow_arrow = \"against\"\n") +
                           "[[run]]\nname = \"a\"\npath = [\"A\", \"T\", \"B\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  EXPECT_NEAR(out_of(run, "T", "start"), -1.0, 1e-12);
  EXPECT_NEAR(out_of(run, "T", "end"), -0.4, 1e-12);
  EXPECT_EQ(in_its_air(run.runs[0].fittings[1]).liner.flow, Flow::to_branch);
}

// Another system of the same job keeps its own air.
TEST(Air, RunsThatDoNotHangTogether) {
  const Laid run =
      carried(std::string(k_head) + fitting("A", "flow = \"1 m3/s\"\n") + fitting("B") + fitting("X") +
                  "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\n[[run]]\nname = \"x\"\npath = [\"X\"]\n",
              0.4);
  EXPECT_NEAR(out_of(run, "B", "end"), 1.0, 1e-12);
  EXPECT_NEAR(out_of(run, "X", "end"), 0.4, 1e-12);
}

// One of a count is each of them: behind a branch it has other air than it says.
TEST(Air, ACountSpeaksForAll) {
  const Laid run = carried(std::string(k_head) + fitting("A", "count = 2\nflow = \"1 m3/s\"\n") +
                           tee("T", "branch_flow = \"0.25 m3/s\"\n") +
                           "[[run]]\nname = \"a\"\npath = [\"A\", \"T\", \"A#2\"]\n");
  ASSERT_EQ(run.problems.size(), 1u) << run.all_problems();
  EXPECT_NE(run.problems[0].find("does not agree"), std::string::npos);
}

TEST(Air, NeighboursAreLined) {
  const Laid run = carried(std::string(k_head) + fitting("A", "flow = \"1 m3/s\"\nupstream = \"metal\"\n") +
                           elbow("E", 600, 90, 900, "upstream = \"metal\"\n") + fitting("B") +
                           "[[run]]\nname = \"a\"\npath = [\"A\", \"E\", \"B\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  const std::vector<Placed>& fittings = run.only().fittings;
  const auto said = [&](std::size_t i, const char* key) {
    const Values& values = in_its_air(fittings[i]).request.values;
    return values.has(key) ? values.text(key) : std::string();
  };
  EXPECT_EQ(said(0, "upstream"), "metal");
  EXPECT_EQ(said(0, "downstream"), "lined");
  EXPECT_EQ(said(1, "upstream"), "lined");
  EXPECT_EQ(said(2, "upstream"), "lined");
  EXPECT_EQ(said(2, "downstream"), "");
  std::string notes;
  for (const RunNote& note : run.only().notes) notes += note.text + "\n";
  EXPECT_NE(notes.find("A start: the lining begins here behind bare metal: it needs a metal nosing"),
            std::string::npos)
      << notes;
  EXPECT_NE(notes.find("E: says upstream = metal, and A, which is lined, comes before it"), std::string::npos)
      << notes;
}

}  // namespace
}  // namespace linerwright
