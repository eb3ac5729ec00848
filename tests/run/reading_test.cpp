// What is wrong with a run is said in one line each, and the run is left out.
#include <gtest/gtest.h>

#include "helpers.hpp"
#include "linerwright/run/run_json.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {
namespace {

using support::elbow;
using support::k_head;
using support::laid;
using support::Laid;
using support::straight;

std::string two() {
  return std::string(k_head) + straight("S-1", 600, 1200) + elbow("E-1", 600, 90, 900) +
         straight("S-2", 600, 500, "count = 2\n") + straight("S-3", 500, 500) + support::tee("T-1");
}

struct Wrong {
  const char* run;    // after the name
  const char* words;  // in the message
};

TEST(Reading, MistakesAreTold) {
  const Wrong cases[] = {
      {"path = []", "holds no fitting"},
      {"path = [\"S-9\"]", "names no fitting of the job, did you mean S-"},
      {"path = [\"S-2#3\"]", "number 3 of S-2, of which the job makes 2"},
      {"path = [\"S-1\", \"E-1\", \"S-1#1\"]", "stands twice in the path"},
      {"path = [\"S-1\", \"S-1\"]", "stands twice in the path, and the job makes one"},
      {"path = [\"S-2\", \"E-1\", \"S-1\", \"S-2\"]", "a ring must say that it closes"},
      {"path = [\"S-1:start>branch1\"]", "S-1: has no port branch1 (allowed: start, end)"},
      {"path = [\"S-1\", \"E-1:start\", \"S-2\"]", "must say two ports in the middle of a run"},
      {"path = [\"S-1:end>end\"]", "goes in and out of one port"},
      {"path = [\"S-1:>end\"]", "names no port on one side"},
      {"path = [\"S-1\", \"S-3\"]", "a reducer from 600 mm to 500 mm is missing between them"},
      {"path = [\"S-1\", \"T-1:branch1>end\"]", "a reducer from 600 mm to 300 mm is missing"},
      {"path = [\"S-1\"]\nturns = [0, 90]", "turns more fittings than stand in the path"},
      {"path = [\"S-1\"]\njoints = [\"shop\"]", "more joints than there are"},
      {"path = [\"S-1\", \"E-1\"]\njoints = [\"bench\"]", "is no word for where a joint is made"},
      {"path = [\"S-1\"]\nstart = {direction = [0, 0, 0]}", "its length is 0"},
      {"path = [\"S-1\"]\nstart = {direction = [1, 0, 0]}", "up lies along the way on"},
      {"path = [\"S-1\"]\nstart = {at = [1, 2]}", "takes three numbers"},
      {"path = [\"S-1\"]\nfrom = \"T-1:branch1\"", "T-1 stands in the path of no run"},
      {"path = [\"S-1\"]\nfrom = \"S-1:end\"", "is a port of the run's own path"},
      {"path = [\"S-1\"]\nfrom = \"T-1\"", "must say at which one port the run starts"},
      {"path = [\"S-1\"]\nclose_to = \"S-1:start\"", "says what the end must meet, but not that it must"},
      {"path = [\"S-1\", \"E-1\"]\nclose = true", "misses S-1:start by"},
  };
  for (const Wrong& wrong : cases) {
    const Laid run = laid(two() + "[[run]]\nname = \"a\"\n" + wrong.run + "\n");
    EXPECT_NE(run.all_problems().find(wrong.words), std::string::npos) << wrong.run << "\n"
                                                                       << run.all_problems();
    EXPECT_EQ(run.problems.size(), 1u) << run.all_problems();
    EXPECT_TRUE(run.runs.empty()) << wrong.run;
    EXPECT_EQ(run.all_problems().find("job.toml:"), 0u) << run.all_problems();
  }
}

TEST(Reading, KeysOfTheWrongKind) {
  for (const char* lines :
       {"path = \"S-1\"\nturns = \"90 m\"", "path = [1, [2]]", "path = [\"S-1\"]\nstart = {where = 1}",
        "path = [\"S-1\"]\nstart = 5", "close = true"}) {
    try {
      laid(two() + "[[run]]\nname = \"a\"\n" + lines + "\n");
      ADD_FAILURE() << lines;
    } catch (const InputError& error) {
      EXPECT_EQ(error.problems().size(), 1u) << lines << "\n" << error.what();
    }
  }
}

std::string json_of(Laid laid_runs) {
  std::vector<Problem> problems;
  carry_air(laid_runs.runs, std::nullopt, problems);
  JsonWriter json;
  json.begin_array();
  for (const LaidRun& run : laid_runs.runs) {
    json.begin_object();
    write_run(json, run);
    json.end_object();
  }
  json.end_array();
  return json.str() + laid_runs.all_problems();
}

// No key is read and then forgotten.
TEST(Reading, EveryKeyChangesTheRun) {
  const std::map<std::string, std::string> lines{{"name", "name = \"b\""},
                                                 {"from", "from = \"T-1:end\""},
                                                 {"path", "path = [\"S-1\", \"E-2\"]"},
                                                 {"turns", "turns = [10]"},
                                                 {"joints", "joints = [\"field\"]"},
                                                 {"start.at", "start.at = [1, 0, 0]"},
                                                 {"start.direction", "start = {direction = [0, 1, 0]}"},
                                                 {"start.up", "start = {up = [0, 1, 0]}"},
                                                 {"close", "close = true"},
                                                 {"close_to", "close = true\nclose_to = \"T-1:end\""},
                                                 {"close_within", "close = true\nclose_within = \"900 mm\""},
                                                 {"close_angle", "close = true\nclose_angle = 20"},
                                                 {"flow", "flow = \"1 m3/s\""},
                                                 {"seam_stagger", "seam_stagger = 70"},
                                                 {"reach", "reach = 200"}};
  const auto made = [](const std::string& key, const std::string& line) {
    std::map<std::string, std::string> said{{"name", "name = \"a\""},
                                            {"path", "path = [\"S-1\", \"E-1\", \"E-2\", \"S-2\"]"}};
    if (!key.empty()) said[key] = line;
    std::string text = two() + elbow("E-2", 600, 90, 900, "lined = \"after joining\"\n") +
                       "[[run]]\nname = \"tee\"\npath = [\"T-1\"]\n[[run]]\n";
    for (const auto& [other, written] : said) text += written + "\n";
    return json_of(laid(text));
  };
  const std::string before = made("", "");
  const std::string closed = made("close", lines.at("close"));
  std::size_t tried = 0;
  for (const KeySpec& key : job_schema().lists.at("run")) {
    ASSERT_EQ(lines.count(key.name), 1u) << key.name;
    const std::string now = made(key.name, lines.at(key.name));
    EXPECT_NE(now, key.name.rfind("close_", 0) == 0 ? closed : before) << key.name;
    ++tried;
  }
  EXPECT_EQ(tried, lines.size());
}

TEST(Reading, PortsAreTakenOnce) {
  const Laid run = laid(two() +
                        "[[run]]\nname = \"main\"\npath = [\"S-1\", \"T-1\", \"S-2\"]\n"
                        "[[run]]\nname = \"b\"\nfrom = \"T-1:end\"\npath = [\"S-2#2\"]\n");
  ASSERT_EQ(run.problems.size(), 1u) << run.all_problems();
  EXPECT_NE(run.problems[0].find("T-1:end: is taken twice: S-2 and run b join it"), std::string::npos)
      << run.problems[0];
  EXPECT_EQ(run.runs.size(), 1u);
}

TEST(Reading, AFittingStandsInOneRun) {
  const Laid run = laid(
      two() + "[[run]]\nname = \"a\"\npath = [\"S-1\"]\n[[run]]\nname = \"b\"\npath = [\"S-1\", \"E-1\"]\n");
  ASSERT_EQ(run.problems.size(), 1u) << run.all_problems();
  EXPECT_NE(run.problems[0].find("stands in run a, too"), std::string::npos) << run.problems[0];
}

TEST(Reading, RunsThatStartFromEachOther) {
  const Laid run = laid(two() +
                        "[[run]]\nname = \"a\"\nfrom = \"S-2:end\"\npath = [\"S-1\"]\n"
                        "[[run]]\nname = \"b\"\nfrom = \"S-1:end\"\npath = [\"S-2\"]\n");
  ASSERT_EQ(run.problems.size(), 2u) << run.all_problems();
  EXPECT_NE(run.problems[0].find("starts from a run that starts from this one"), std::string::npos);
}

TEST(Reading, EndsThatWaitForEachOther) {
  const Laid run = laid(two() +
                        "[[run]]\nname = \"a\"\npath = [\"S-1\"]\nclose = true\nclose_to = \"S-2:end\"\n"
                        "[[run]]\nname = \"b\"\npath = [\"S-2\"]\nclose = true\nclose_to = \"S-1:end\"\n");
  EXPECT_EQ(run.problems.size(), 2u) << run.all_problems();
  EXPECT_TRUE(run.runs.empty());
}

TEST(Reading, NamesAreTold) {
  const Laid run =
      laid(two() + "[[run]]\nname = \"a\"\npath = [\"S-1\"]\n[[run]]\nname = \"A\"\npath = [\"E-1\"]\n");
  ASSERT_EQ(run.problems.size(), 1u);
  EXPECT_NE(run.problems[0].find("is the name of two runs"), std::string::npos);
}

TEST(Reading, AFittingThatFailedIsNamed) {
  // 11 pieces of 40 mm: the throat of a piece has no length, which only the making tells
  const Laid run = laid(std::string(k_head) + straight("S-1", 600, 1200) + elbow("E-1", 600, 90, 301) +
                        "[[run]]\nname = \"a\"\npath = [\"S-1\", \"E-1\"]\n");
  ASSERT_EQ(run.problems.size(), 1u);
  EXPECT_NE(run.problems[0].find("E-1: was not made, so this run is not made in part"), std::string::npos)
      << run.problems[0];
  EXPECT_TRUE(run.runs.empty());
}

TEST(Reading, AFittingLeftOutByTheReaderIsNamed) {
  const Laid run =
      laid(std::string(k_head) + straight("S-1", 600, 1200) +
           "[[fitting]]\ntag = \"E-1\"\nkind = \"elbow\"\npieces = 3\nangle = 90\ndiameter = -4\n"
           "[[run]]\nname = \"a\"\npath = [\"S-1\", \"E-1\"]\n");
  ASSERT_EQ(run.problems.size(), 2u) << run.all_problems();
  EXPECT_NE(run.all_problems().find("path = E-1: this fitting is left out of the job because it is wrong"),
            std::string::npos);
}

TEST(Reading, RingWrittenOut) {
  std::string job = k_head;
  for (int i = 1; i <= 4; ++i) job += elbow("E-" + std::to_string(i), 300, 90, 450);
  const Laid run = laid(
      job + "[[run]]\nname = \"a\"\npath = [\"E-1\", \"E-2\", \"E-3\", \"E-4\", \"E-1\"]\nclose = true\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  EXPECT_EQ(run.only().fittings.size(), 4u);
  EXPECT_LT(run.only().miss, 1e-9);
  const Laid silent = laid(job + "[[run]]\nname = \"a\"\npath = [\"E-1\", \"E-2\", \"E-3\", \"E-4\"]\n");
  ASSERT_EQ(silent.problems.size(), 1u);
  EXPECT_NE(silent.problems[0].find("comes back to where it began"), std::string::npos);
}

TEST(Reading, ScheduleColumns) {
  const Laid run = laid(
      "# units = mm\n"
      "tag,kind,diameter,length,branch_diameter,branch_length,angle,pieces,thickness,joins,turn (deg)\n"
      "S-1,straight,600,1200,,,,,25,,\n"
      "T-1,tee,600,900,300,550,,,25,S-1,90\n"
      "E-1,elbow,600,,,,45,3,25,T-1:end,-30\n"
      "B-1,straight,300,400,,,,,25,T-1:branch1,\n",
      "job.csv");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  ASSERT_EQ(run.runs.size(), 2u);
  EXPECT_EQ(run.runs[0].run.name, "S-1");
  ASSERT_EQ(run.runs[0].fittings.size(), 3u);
  EXPECT_EQ(run.runs[0].fittings[2].part.tag, "E-1");
  EXPECT_NEAR(run.runs[0].run.steps[1].turn, 0.5 * k_pi, 1e-12);
  EXPECT_NEAR(run.runs[0].run.steps[2].turn, -k_pi / 6.0, 1e-12);
  EXPECT_EQ(run.runs[1].run.name, "B-1");
  EXPECT_NEAR(
      distance(run.runs[1].fittings[0].ports[0].frame.origin, run.runs[0].fittings[1].ports[2].frame.origin),
      0.0, 1e-9);
}

// Each row joins the one before at its start, so that each begins a run of its own: none of them nests in the
// other.
TEST(Reading, ManyRunsOneAfterTheOther) {
  std::string rows = "# units = mm\ntag,kind,thickness,diameter,length,joins\nA0,straight,25,600,500,\n";
  constexpr int k_many = 3000;
  for (int i = 1; i <= k_many; ++i)
    rows += "A" + std::to_string(i) + ",straight,25,600,500,A" + std::to_string(i - 1) + ":start" + "\n";
  const Laid run = laid(rows, "job.csv");
  // A1 takes the start of A0 by its own start, which A2 then asks for a second time
  EXPECT_EQ(run.runs.size(), 2u);
  EXPECT_NE(run.all_problems().find("A1:start: is taken twice"), std::string::npos);
}

TEST(Reading, ScheduleMistakes) {
  const std::string head = "# units = mm\ntag,kind,thickness,diameter,length,joins,turn\n";
  const auto problems = [&](const std::string& rows) { return laid(head + rows, "job.csv").all_problems(); };
  EXPECT_NE(problems("A,straight,25,600,500,B,\nB,straight,25,600,500,A,\n").find("joins in a circle"),
            std::string::npos);
  EXPECT_NE(problems("A,straight,25,600,500,,\nB,straight,25,600,500,A,\nC,straight,25,600,500,A:end,\n")
                .find("end of A is taken twice: B joins it already"),
            std::string::npos);
  EXPECT_NE(problems("A,straight,25,600,500,,\nB,straight,25,600,500,A:side,\n").find("has no port side"),
            std::string::npos);
  EXPECT_NE(problems("A,straight,25,600,500,A,\n").find("joins itself"), std::string::npos);
  EXPECT_NE(problems("A,straight,25,600,500,Z,\n").find("names no fitting of the job"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
