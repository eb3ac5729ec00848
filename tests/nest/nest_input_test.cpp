// Jobs that make no sense are refused with the part, the key and the reason, all at once.
#include <gtest/gtest.h>

#include <limits>

#include "linerwright/nest/nest.hpp"
#include "linerwright/units/error.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using test::part;
using test::rectangle;

const double k_nan = std::numeric_limits<double>::quiet_NaN();
const double k_infinity = std::numeric_limits<double>::infinity();

NestJob sound_job() {
  NestJob job;
  job.parts = {part("plate", rectangle(100.0, 100.0))};
  job.boards = {test::board(400.0, 300.0)};
  return job;
}

std::vector<Problem> problems_of(const NestJob& job) {
  try {
    nest(job);
  } catch (const InputError& error) {
    return error.problems();
  }
  return {};
}

void expect_refused(const NestJob& job, const std::string& key, const std::string& reason) {
  const auto problems = problems_of(job);
  ASSERT_EQ(problems.size(), 1U) << key << ": " << reason;
  EXPECT_EQ(problems[0].key, key);
  EXPECT_EQ(problems[0].reason, reason);
  EXPECT_FALSE(problems[0].allowed.empty());
}

TEST(NestInput, ASoundJobIsTaken) {
  EXPECT_TRUE(problems_of(sound_job()).empty());
}

TEST(NestInput, OutlinesThatEncloseNothing) {
  NestJob job = sound_job();
  const auto expect_outline = [&](Ring outline, const std::string& reason) {
    job.parts[0].outline = std::move(outline);
    expect_refused(job, "outline", reason);
  };
  const std::string nothing = "the contour encloses nothing";
  const std::string little = "the contour encloses next to nothing";
  expect_outline({}, nothing);
  expect_outline({{0.0, 0.0}, {10.0, 0.0}}, nothing);
  expect_outline({{0.0, 0.0}, {10.0, 0.0}, {10.0, 0.0}, {0.0, 0.0}}, nothing);
  expect_outline({{0.0, 0.0}, {10.0, 0.0}, {20.0, 0.0}}, little);
  expect_outline({{0.0, 0.0}, {10.0, 10.0}, {20.0, 20.0}}, little);
  expect_outline(rectangle(0.05, 0.05), little);
  expect_outline(rectangle(100.0, 1e-3), little);
  expect_outline({{0.0, 0.0}, {100.0, 100.0}, {100.0, 0.0}, {0.0, 100.0}}, little);  // equal loops either way
}

TEST(NestInput, OutlinesThatCrossThemselves) {
  NestJob job = sound_job();
  job.parts[0].outline = {{0.0, 0.0}, {100.0, 80.0}, {100.0, 0.0}, {0.0, 100.0}};
  expect_refused(job, "outline", "the contour crosses itself");
}

TEST(NestInput, PointsThatAreNoNumbers) {
  for (const double bad : {k_nan, k_infinity, -k_infinity, 1e9}) {
    NestJob job = sound_job();
    job.parts[0].outline[2].y = bad;
    expect_refused(job, "outline", "a point is not on any board");
    job = sound_job();
    job.parts[0].marks = {{{0.0, 0.0}, {bad, 1.0}}};
    expect_refused(job, "mark", "a point is not on any board");
  }
}

TEST(NestInput, HolesOutsideTheOutlineOrAcrossEachOther) {
  const std::string reason = "a hole leaves the piece or meets another";
  NestJob job = sound_job();
  job.parts[0].holes = {rectangle(20.0, 20.0, {90.0, 10.0})};
  expect_refused(job, "hole", reason);
  job.parts[0].holes = {rectangle(20.0, 20.0, {200.0, 10.0})};
  expect_refused(job, "hole", reason);
  job.parts[0].holes = {rectangle(20.0, 20.0, {10.0, 10.0}), rectangle(20.0, 20.0, {20.0, 20.0})};
  expect_refused(job, "hole", reason);
  job.parts[0].holes = {rectangle(20.0, 20.0, {10.0, 10.0}), rectangle(20.0, 20.0, {50.0, 20.0})};
  EXPECT_TRUE(problems_of(job).empty());
}

TEST(NestInput, NothingToCutAndNothingToCutFrom) {
  NestJob job = sound_job();
  job.parts.clear();
  expect_refused(job, "parts", "there is nothing to cut");
  job = sound_job();
  job.boards.clear();
  expect_refused(job, "boards", "there is no board to cut from");
}

TEST(NestInput, Counts) {
  NestJob job = sound_job();
  job.parts[0].count = 0;
  expect_refused(job, "count", "no piece is wanted");
  job.parts[0].count = -3;
  expect_refused(job, "count", "no piece is wanted");
  job.parts[0].count = 1000000;
  expect_refused(job, "count", "too many pieces");
}

TEST(NestInput, Boards) {
  for (const double bad : {0.0, -5.0, k_nan, k_infinity}) {
    NestJob job = sound_job();
    job.boards[0].width = bad;
    EXPECT_EQ(problems_of(job).at(0).key, "width");
    job = sound_job();
    job.boards[0].length = bad;
    EXPECT_EQ(problems_of(job).at(0).key, "length");
  }
  NestJob job = sound_job();
  job.boards[0].trim = 150.0;
  expect_refused(job, "trim", "the trim leaves no board");
  job.boards[0].trim = -1.0;
  expect_refused(job, "trim", "the trim leaves no board");
  job = sound_job();
  job.boards[0].quantity = -1;
  expect_refused(job, "quantity", "not a number of boards");
  job = sound_job();
  job.boards[0].cost = k_nan;
  expect_refused(job, "cost", "not a cost");
}

TEST(NestInput, Options) {
  for (const double bad : {-1.0, k_nan, k_infinity}) {
    NestJob job = sound_job();
    job.options.gap = bad;
    expect_refused(job, "gap", "not a distance between pieces");
    job = sound_job();
    job.options.effort = bad;
    expect_refused(job, "effort", "not an effort");
    job = sound_job();
    job.options.min_offcut = bad;
    expect_refused(job, "min_offcut", "not a size of an offcut");
  }
  NestJob job = sound_job();
  job.options.threads = 0;
  expect_refused(job, "threads", "the search has two lanes");
}

TEST(NestInput, EverythingWrongIsReportedAtOnce) {
  NestJob job = sound_job();
  job.parts[0].count = 0;
  job.parts.push_back(part("bow", {{0.0, 0.0}, {100.0, 80.0}, {100.0, 0.0}, {0.0, 100.0}}));
  job.boards[0].trim = -1.0;
  job.options.gap = -1.0;
  const auto problems = problems_of(job);
  ASSERT_EQ(problems.size(), 4U);
  EXPECT_EQ(problems[0].tag, "plate");
  EXPECT_EQ(problems[1].tag, "bow");
  EXPECT_EQ(problems[2].tag, "board");
}

}  // namespace
}  // namespace linerwright
