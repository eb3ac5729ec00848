// Fittings of a job, each guarded against the others, and the boards for all of them.
#include "linerwright/boards/shape_job.hpp"

#include <gtest/gtest.h>

#include <map>
#include <stdexcept>

#include "boards/jobs.hpp"
#include "linerwright/report/cut_list.hpp"

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

// Four sectors of which a board of 3050 x 1220 holds one: in panels they take fewer, where the rules allow it
// (BoardMoves).
TEST(ShapeJob, RequestsAreThoseOfTheDivisionOnTheBoards) {
  const support::Flags reducer{{"tag", "R-1"},
                               {"diameter", "800mm"},
                               {"to_diameter", "500mm"},
                               {"length", "600mm"},
                               {"thickness", "25mm"}};
  std::vector<FittingRequest> requests{support::request_from("reducer", reducer)};
  requests[0].count = 4;
  const std::vector<BoardPart> parts = parts_of("reducer", reducer, 4);
  JobStock setup{{sheet(1220, 3050)}, plain_knife(), {}};
  setup.options.effort = 0.1;
  const PlannedBoards even = boards_of_job(requests, parts, setup, nullptr, Units::metric, {});
  EXPECT_TRUE(even.divided.empty());
  EXPECT_EQ(even.note, "");
  EXPECT_EQ(requests[0].values.find("division"), nullptr);
  EXPECT_EQ(boards_json(even.drawn.plan),
            boards_json(draw_boards(parts, setup.stock, setup.knife, setup.options, Units::metric, {}).plan));
  PieceRules rules;
  rules.division.divide = Divide::if_it_saves;
  const PlannedBoards planned = boards_of_job(requests, parts, setup, &rules, Units::metric, {});
  EXPECT_LT(planned.drawn.plan.boards.size(), even.drawn.plan.boards.size());
  ASSERT_EQ(planned.divided.size(), 1u);
  EXPECT_NE(planned.note, "");
  ASSERT_NE(requests[0].values.find("division"), nullptr);
  EXPECT_EQ(requests[0].values.text("division"),
            planned.divided.at(0).fitting.request.values.text("division"));
}
