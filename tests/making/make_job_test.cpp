// A whole job: what one fitting or one step does reaches no other, and every step is told what it needs.
#include "linerwright/making/make_job.hpp"

#include <gtest/gtest.h>

#include <map>
#include <mutex>
#include <stdexcept>

#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

namespace {

constexpr const char* k_job = R"([job]
name = "Five"
units = "mm"
[liner]
thickness = 25
[[stock]]
width = 1220
length = 3050
[[fitting]]
tag = "S-1"
kind = "straight"
diameter = 300
length = 600
[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = 315
angle = 90
pieces = 5
[[fitting]]
tag = "X-1"
kind = "elbow"
diameter = 315
angle = 90
pieces = 5
[[fitting]]
tag = "R-1"
kind = "reducer"
diameter = 400
to_diameter = 300
length = 300
[[fitting]]
tag = "S-2"
kind = "straight"
diameter = 250
length = 400
)";

// The job, of which the third fitting cannot be made.
Job five() {
  Job job = read_job_text(k_job, "job.toml", job_schema());
  apply_stock(job);
  EXPECT_EQ(job.fittings.size(), 5u);
  EXPECT_TRUE(job.problems.empty());
  job.fittings[2].values = {};  // nothing that an elbow needs is there
  return job;
}

JobOptions with_boards(const Job& job) {
  JobOptions options;
  options.boards.emplace();
  static_cast<JobStock&>(*options.boards) = job_stock(job, "job.toml", "job.toml");
  options.boards->options.effort = k_effort_fill;
  return options;
}

std::vector<std::string> tags_of(const std::vector<TotalsRow>& rows) {
  std::vector<std::string> tags;
  for (const TotalsRow& row : rows) tags.push_back(row.tag);
  return tags;
}

std::vector<std::string> tags_on(const BoardPlan& plan) {
  std::map<std::string, int> tags;
  for (const PlannedBoard& board : plan.boards)
    for (const auto& piece : board.pieces) ++tags[plan.parts[piece.part].tag];
  std::vector<std::string> names;
  for (const auto& [tag, count] : tags) names.push_back(tag);
  return names;
}

// Keeps what it is told, and throws where it is asked to.
struct Steps : Listener {
  std::size_t throws_at = 99;
  std::size_t late = 99;  // fails when all are shaped
  bool bad_settle = false, bad_before = false, bad_placed = false;
  std::mutex telling;
  std::map<std::size_t, std::size_t> shaped_patterns;
  std::map<std::size_t, std::vector<std::string>> not_made;
  std::size_t boards = 0;

  void shaped(std::size_t i, const Shaped& shaped) override {
    if (i == throws_at) throw WriteError("out: no room left");
    const std::lock_guard<std::mutex> lock(telling);
    shaped_patterns[i] = shaped.patterns.size();
  }
  void failed(std::size_t i, const MakingFailed& why) override {
    const std::lock_guard<std::mutex> lock(telling);
    not_made[i] = why.lines;
  }
  void settle(std::vector<JobFitting>& fittings) override {
    if (bad_settle) throw std::runtime_error("settling failed");
    if (late < fittings.size()) fittings[late].failed = MakingFailed{{}, {"placed too late"}, 3};
  }
  void before_boards() override {
    if (bad_before) throw InputError({Problem{{}, 0, {}, "--only", {}, {}, "another folder"}});
  }
  void placed(JobResult& result) override {
    boards = result.boards.plan.boards.size();
    if (bad_placed) throw WriteError("boards: no room left");
  }
};

}  // namespace

TEST(MakeJob, OneBadFittingInFive) {
  const Job job = five();
  for (const int threads : {1, 3}) {
    JobOptions options = with_boards(job);
    options.bore.emplace();
    options.threads = threads;
    options.version = "1.2.3";
    Steps steps;
    const JobResult result = make_job(job, options, steps);
    EXPECT_EQ(result.exit_code, result.fittings[2].failed->exit_code);
    EXPECT_EQ(result.well(), 4u);
    EXPECT_EQ(steps.shaped_patterns.size(), 4u);
    ASSERT_EQ(steps.not_made.size(), 1u);
    EXPECT_EQ(steps.not_made.at(2), result.fittings[2].failed->lines);
    const std::vector<std::string> good{"S-1", "E-1", "R-1", "S-2"};
    EXPECT_EQ(tags_of(result.totals.rows), good);
    EXPECT_EQ(result.totals.left_out, 1);
    EXPECT_EQ(result.totals.missing, 0);
    EXPECT_EQ(result.totals.version, "1.2.3");
    EXPECT_EQ(result.totals.job, "Five");
    EXPECT_EQ(tags_on(result.boards.plan), (std::vector<std::string>{"E-1", "R-1", "S-1", "S-2"}));
    EXPECT_EQ(sum_of(result.totals.stock).boards, static_cast<long>(result.boards.plan.boards.size()));
    ASSERT_EQ(result.bore.rows.size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(result.bore.rows[i].tag, good[i]);
    EXPECT_EQ(placed_fittings(result).size(), 4u);
  }
}

// What a fitting needs is what the tables say of it when it is made alone.
TEST(MakeJob, FiguresAreThoseOfEachFittingAlone) {
  const Job job = five();
  Listener nobody;
  const JobResult result = make_job(job, {}, nobody);
  EXPECT_TRUE(result.boards.plan.boards.empty());
  EXPECT_TRUE(result.bore.rows.empty());
  std::size_t row = 0;
  for (std::size_t i = 0; i < 5; ++i) {
    if (i == 2) continue;
    const Shaped alone = shape(job.fittings[i]);
    const TotalsRow expected = totals_row(alone.fitting, alone.patterns, result.totals.rules);
    for (const TotalsFigure& figure : totals_figures())
      EXPECT_EQ(result.totals.rows[row].each.*figure.value, expected.each.*figure.value) << figure.key;
    ++row;
  }
  EXPECT_EQ(row, 4u);
}

TEST(MakeJob, AStepThatThrowsFailsItsOwnFitting) {
  const Job job = five();
  Steps steps;
  steps.throws_at = 0;
  steps.late = 4;
  const JobResult result = make_job(job, with_boards(job), steps);
  EXPECT_EQ(result.well(), 2u);
  EXPECT_EQ(result.exit_code, 3);
  ASSERT_TRUE(result.fittings[0].failed);
  EXPECT_EQ(result.fittings[0].failed->lines, std::vector<std::string>{"out: no room left"});
  EXPECT_EQ(steps.not_made.count(0), 1u);
  EXPECT_EQ(tags_of(result.totals.rows), (std::vector<std::string>{"E-1", "R-1"}));
  EXPECT_EQ(tags_on(result.boards.plan), (std::vector<std::string>{"E-1", "R-1"}));
}

TEST(MakeJob, AStepOfTheWholeJobThatThrowsEndsOnlyItself) {
  const Job job = five();
  struct Case {
    bool Steps::*bad;
    bool has_boards;
    int code;
    const char* told;
  };
  for (const Case& each : {Case{&Steps::bad_settle, true, 1, "settling failed"},
                           Case{&Steps::bad_before, false, 2, "--only: another folder"},
                           Case{&Steps::bad_placed, false, 3, "boards: no room left"}}) {
    Steps steps;
    steps.*each.bad = true;
    const JobResult result = make_job(job, with_boards(job), steps);
    EXPECT_EQ(result.well(), 4u) << each.told;
    EXPECT_EQ(result.problems, std::vector<std::string>{each.told});
    EXPECT_EQ(!result.boards.plan.boards.empty(), each.has_boards) << each.told;
    EXPECT_EQ(result.totals.stock.empty(), !each.has_boards) << each.told;
    EXPECT_EQ(result.totals.rows.size(), 4u) << each.told;
    EXPECT_EQ(result.exit_code, each.code) << each.told;
    EXPECT_EQ(steps.boards > 0, each.bad != &Steps::bad_before) << each.told;
  }
}

TEST(MakeJob, APartOfAJobCountsTheRestAsMissing) {
  const Job whole = five();
  Job part = whole;
  part.fittings = {whole.fittings[1], whole.fittings[3]};
  JobOptions options = with_boards(whole);
  options.whole = &whole;
  options.pieces["E-1"] = {"2", "2", "4"};
  Listener nobody;
  const JobResult result = make_job(part, options, nobody);
  EXPECT_EQ(tags_of(result.totals.rows), (std::vector<std::string>{"E-1", "R-1"}));
  EXPECT_EQ(result.totals.missing, 3);
  std::map<std::string, int> placed;
  for (const PlannedBoard& board : result.boards.plan.boards)
    for (const auto& piece : board.pieces) {
      const BoardPart& of = result.boards.plan.parts[piece.part];
      if (of.tag == "E-1") ++placed[of.piece];
    }
  EXPECT_EQ(placed, (std::map<std::string, int>{{"2", 2}, {"4", 1}}));
  options.pieces["R-1"] = {"nine"};
  const JobResult refused = make_job(part, options, nobody);
  EXPECT_EQ(refused.well(), 1u);
  ASSERT_TRUE(refused.fittings[1].failed);
  EXPECT_EQ(refused.fittings[1].failed->exit_code, 2);
}

// The bore alone needs no patterns, and what is wrong with the runs ends nothing.
TEST(MakeJob, TheBoreAloneAndItsRuns) {
  const std::string air_and_run =
      "[air]\nflow = \"0.3 m3/s\"\n[[run]]\nname = \"main\"\npath = [\"S-1\", \"R-1\"]\n";
  const Job job = read_job_text(k_job + air_and_run, "job.toml", job_schema());
  JobOptions options;
  options.patterns = false;
  options.bore.emplace();
  options.bore->step_up = StepUpCriterion::area;
  Steps steps;
  const JobResult result = make_job(job, options, steps);
  EXPECT_EQ(result.well(), 5u);
  for (const auto& [i, patterns] : steps.shaped_patterns) EXPECT_EQ(patterns, 0u) << i;
  EXPECT_EQ(result.bore.rows.size(), 5u);
  EXPECT_TRUE(result.totals.rows.empty());
  EXPECT_FALSE(result.run_problems.empty());  // bores of 300 and 400 do not meet
  EXPECT_EQ(result.exit_code, 0);
  for (const BoreRow& row : result.bore.rows) EXPECT_FALSE(row.steps.empty()) << row.tag;
}
