// The order of work, and what nobody could reach.
#include <gtest/gtest.h>

#include "helpers.hpp"

namespace linerwright {
namespace {

using support::elbow;
using support::k_head;
using support::laid;
using support::Laid;
using support::straight;

std::string words(const RunOrder& order) {
  std::string text;
  for (const RunStage& step : order.steps) text += step.where + " " + step.what + ": " + step.text + "\n";
  return text;
}

std::string job(const std::string& lined) {
  return std::string(k_head) + straight("A", 600, 900) + straight("B", 600, 400, lined) +
         straight("C", 600, 900) + elbow("E", 600, 90, 900);
}

TEST(Order, LinedBeforeItIsJoined) {
  const Laid run =
      laid(job("") +
           "[[run]]\nname = \"a\"\npath = [\"A\", \"B\", \"C\", \"E\"]\njoints = [\"shop\", \"field\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  const RunOrder order = order_of(run.only());
  ASSERT_EQ(order.steps.size(), 7u) << words(order);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(order.steps[i].what, "line");
  EXPECT_EQ(order.steps[3].pieces.size(), 5u);
  EXPECT_EQ(order.steps[3].pieces[0].rfind("E ", 0), 0u);
  EXPECT_NE(order.steps[4].text.find("join A, B in the shop"), std::string::npos);
  EXPECT_NE(order.steps[5].text.find("join C, E in the shop"), std::string::npos);
  EXPECT_EQ(order.steps[6].where, "field");
  EXPECT_NE(order.steps[6].text.find("join C to B on site"), std::string::npos);
  EXPECT_TRUE(order.unreached.empty());
}

// B's piece lies from 900 to 1300 of 2200: its farthest place is the middle of the run, 1100 from both ends,
// or where it is joined to A alone its near edge, 400 from B's open end.
TEST(Order, WhatNobodyCouldReach) {
  const std::string lined = "lined = \"after joining\"\n";
  const auto run_with = [&](const std::string& more) {
    return laid(job(lined) + "[[run]]\nname = \"a\"\npath = [\"A\", \"B\", \"C\"]\n" + more);
  };
  const RunOrder shop = order_of(run_with("").only());
  ASSERT_EQ(shop.unreached.size(), 1u);
  EXPECT_NEAR(shop.unreached[0].distance, 1100.0, 1e-6);
  EXPECT_NE(shop.unreached[0].text.find(
                "B 1 of B: nobody could reach it: it lies 1100 mm from the nearest open end"),
            std::string::npos)
      << shop.unreached[0].text;
  EXPECT_TRUE(order_of(run_with("reach = 1100\n").only()).unreached.empty());
  EXPECT_FALSE(order_of(run_with("reach = 1099\n").only()).unreached.empty());
  const RunOrder field = order_of(run_with("joints = [\"shop\", \"field\"]\n").only());
  EXPECT_TRUE(field.unreached.empty()) << words(field);
  EXPECT_FALSE(order_of(run_with("joints = [\"shop\", \"field\"]\nreach = 399\n").only()).unreached.empty());
}

}  // namespace
}  // namespace linerwright
