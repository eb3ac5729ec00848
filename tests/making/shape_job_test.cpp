// Fittings of a job, each guarded against the others.
#include "linerwright/making/shape_job.hpp"

#include <gtest/gtest.h>

#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "linerwright/units/error.hpp"
#include "support/requests.hpp"

using namespace linerwright;

namespace {

const support::Flags k_straight{
    {"tag", "S-1"}, {"diameter", "315mm"}, {"length", "900mm"}, {"thickness", "25mm"}};

// Keeps what it is told; of the fitting with the index it throws itself.
struct Kept : Shaping {
  explicit Kept(std::size_t none = 99) : throws(none) {}
  std::size_t throws;
  std::vector<std::size_t> began;
  std::map<std::size_t, std::string> made;
  std::map<std::size_t, MakingFailed> not_made;

  std::vector<std::string> words;  // alike are those of one word

  std::string alike(std::size_t i) override { return i < words.size() ? words[i] : std::string(); }
  void begins(std::size_t i) override { began.push_back(i); }
  void shaped(std::size_t i, Shaped&& shaped) override {
    if (i == throws) throw std::runtime_error("no room left");
    made[i] = shaped.fitting.tag + " " + std::to_string(shaped.patterns.size());
  }
  void failed(std::size_t i, MakingFailed&& why) override { not_made[i] = std::move(why); }
};

}  // namespace

TEST(ShapeJob, WhatOneFittingDoesReachesNoOther) {
  FittingRequest refused = support::request_from(
      "elbow",
      {{"tag", "E-1"}, {"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}});
  refused.values = {};  // nothing that an elbow needs is there
  const std::vector<FittingRequest> requests{
      support::request_from("straight", k_straight), refused,
      support::request_from("straight", support::with(k_straight, {{"tag", "S-2"}}))};
  Kept all;
  shape_all(requests, 1, all);
  EXPECT_EQ(all.began, (std::vector<std::size_t>{0, 1, 2}));
  EXPECT_EQ(all.made, (std::map<std::size_t, std::string>{{0, "S-1 1"}, {2, "S-2 1"}}));
  ASSERT_EQ(all.not_made.size(), 1u);
  EXPECT_FALSE(all.not_made.at(1).lines.empty());
  // whoever takes the fittings may fail, too
  Kept thrown(2);
  shape_all(requests, 1, thrown);
  EXPECT_EQ(thrown.made.size(), 1u);
  ASSERT_EQ(thrown.not_made.count(2), 1u);
  EXPECT_EQ(thrown.not_made.at(2).lines, std::vector<std::string>{"S-2: no room left"});
  EXPECT_EQ(thrown.not_made.at(2).exit_code, 1);
}

TEST(ShapeJob, AlikeOnesFollowEachOther) {
  std::vector<FittingRequest> requests;
  for (const char* tag : {"S-1", "S-2", "S-3", "S-4", "S-5"})
    requests.push_back(support::request_from("straight", support::with(k_straight, {{"tag", tag}})));
  Kept kept;
  kept.words = {"a", "", "b", "a", ""};
  shape_all(requests, 1, kept);
  EXPECT_EQ(kept.began, (std::vector<std::size_t>{0, 3, 1, 2, 4}));
  EXPECT_EQ(kept.made.size(), 5u);
}

TEST(ShapeJob, WithoutPatternsTheFittingAlone) {
  Kept kept;
  shape_all({support::request_from("straight", k_straight)}, 1, kept, false);
  EXPECT_EQ(kept.made.at(0), "S-1 0");
}

// What fails is told with the exit code of its kind, and where it was asked for.
TEST(ShapeJob, WhyNotMade) {
  FittingRequest request = support::request_from("straight", k_straight);
  request.file = "job.toml";
  request.line = 7;
  const auto why = [&](const auto& error) {
    try {
      throw error;
    } catch (...) {
      return why_not_made(request);
    }
  };
  const MakingFailed input =
      why(InputError({Problem{"job.toml", 8, "S-1", "length", "0", {}, "is nothing"}}));
  EXPECT_EQ(input.exit_code, 2);
  EXPECT_EQ(input.lines, std::vector<std::string>{"job.toml:8: S-1: length = 0: is nothing"});
  EXPECT_EQ(input.problems.size(), 1u);
  const MakingFailed disk = why(WriteError("out/S-1: no room left"));
  EXPECT_EQ(disk.exit_code, 3);
  EXPECT_EQ(disk.lines, std::vector<std::string>{"out/S-1: no room left"});
  for (const MakingFailed& other : {why(GeometryError("no solid")), why(1)}) {
    EXPECT_EQ(other.exit_code, 1);
    ASSERT_EQ(other.problems.size(), 1u);
    EXPECT_EQ(other.problems[0].line, 7);
    EXPECT_EQ(other.problems[0].tag, "S-1");
    EXPECT_EQ(other.lines.front().rfind("S-1: ", 0), 0u);
  }
}
