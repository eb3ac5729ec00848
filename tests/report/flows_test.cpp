// How the air shares itself among the passages of a fitting, and what each of them takes.
#include "losses.hpp"

namespace linerwright {
namespace {

// Continuity: 1 m3/s, 0.2 leave, 0.1 join; every leg has its own velocity, friction and limit.
TEST(Flows, OfABodyWithTwoBranches) {
  const BoreReport report = report_of({tee({{"flow", "1"}, {"branch_flow", "0.2 & -0.1"}})});
  ASSERT_EQ(report.rows.size(), 3U);
  const BoreRow& body = report.rows[0];
  ASSERT_EQ(body.places.size(), 4U);
  EXPECT_EQ(body.places[1].place, "after branch1");
  EXPECT_EQ(body.places[2].place, "after branch2");
  const double expected[] = {1.0, 0.8, 0.9, 0.9};
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(body.places[i].flow.value(), expected[i], 1e-12) << i;
  EXPECT_NEAR(body.flow.value(), 1.0, 1e-12) << "where it is fastest";
  EXPECT_NEAR(report.rows[1].flow.value(), 0.2, 1e-12);
  EXPECT_NEAR(report.rows[2].flow.value(), 0.1, 1e-12);
  EXPECT_NEAR(report.rows[2].lined_air->velocity, 0.1 / (0.25 * k_pi * 0.15 * 0.15), 1e-9);
  const double legs = 0.5 * friction(0.45, 1.0, 0.9e-3) + 0.5 * friction(0.45, 0.8, 0.9e-3) +
                      0.5 * friction(0.45, 0.9, 0.9e-3);
  EXPECT_NEAR(body.lined_loss->friction / legs, 1.0, 1e-6);
  EXPECT_NEAR(part(report.rows[1].lined_loss.value(), "branch that leaves"),
              dividing_flow(0.2, std::pow(200.0 / 450.0, 2), 0.5 * k_pi).branch.value * dynamic(1.0, 450),
              1e-6);
  EXPECT_NEAR(
      part(report.rows[2].lined_loss.value(), "branch that joins"),
      joining_flow(0.1 / 0.9, std::pow(150.0 / 450.0, 2), 0.5 * k_pi).branch.value * dynamic(0.9, 450), 1e-6);
  EXPECT_EQ(body.lined_loss->parts.size(), 2U);
  EXPECT_TRUE(body.lined_loss->left_out.empty());
}

// Run against, the air comes in at the far end: what the branches took is added on the way back.
TEST(Flows, AgainstTheArrow) {
  const BoreReport report =
      report_of({tee({{"flow", "1"}, {"branch_flow", "-0.2 & -0.3"}, {"flow_arrow", "against"}})});
  const double expected[] = {1.0, 0.8, 0.5, 0.5};
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_NEAR(report.rows[0].places[i].flow.value(), expected[i], 1e-12) << i;
  EXPECT_NEAR(part(*report.rows[1].lined_loss, "branch that joins"),
              joining_flow(0.2, std::pow(200.0 / 450.0, 2), 0.5 * k_pi).branch.value * dynamic(1.0, 450),
              1e-6);
}

// A branch at 45 degrees leans toward the far end: it takes air off by 45 degrees, but turns it back by 135
// when it joins.
TEST(Flows, ALeaningBranchIsRefusedWhereTheAirTurnsBack) {
  const Flags lateral{{"diameter", "500"},
                      {"length", "1500"},
                      {"branch_diameter", "250"},
                      {"branch_length", "700"},
                      {"angle", "45"},
                      {"thickness", "25"},
                      {"flow", "1"}};
  const BoreReport out = report_of({fitting_from("tee", with(lateral, {{"branch_flow", "0.3"}}))});
  EXPECT_NEAR(part(*out.rows[1].lined_loss, "branch that leaves"),
              dividing_flow(0.3, std::pow(200.0 / 450.0, 2), 45 * k_degree).branch.value * dynamic(1.0, 450),
              1e-6);
  const BoreReport in = report_of({fitting_from("tee", with(lateral, {{"branch_flow", "-0.3"}}))});
  ASSERT_EQ(in.rows[1].lined_loss->left_out.size(), 1U);
  EXPECT_NE(in.rows[1].lined_loss->left_out[0].find("turned by 135"), std::string::npos);
  const BoreReport over = report_of({fitting_from("tee", with(lateral, {{"branch_flow", "1.4"}}))});
  EXPECT_NE(over.rows[0].lined_loss->left_out.at(0).find("both ends"), std::string::npos);
  EXPECT_NEAR(over.rows[0].places.back().flow.value(), -0.4, 1e-12);
}

// Two flows against each other into a branch as wide as the body, 0.6 and 0.4 of it: each half is a leg that
// joins, 0.55 (2 + 3 (q^2 - q)) where it carries more than 0.4 of the flow, by Idelchik's diagram 7-29; their
// mean by flow is on the velocity pressure in the branch, on which the body's front does not bear, bare or
// held back.
TEST(Flows, TwoAgainstEachOtherIntoABranch) {
  const Flags cross{{"diameter", "500"},      {"length", "1500"},       {"branch_diameter", "500"},
                    {"branch_length", "700"}, {"thickness", "25"},      {"flow", "0.6"},
                    {"branch_flow", "1"},     {"hold_back_start", "60"}};
  const BoreReport in = report_of({fitting_from("tee", cross)});
  const double mean = 0.6 * leg_of_two(0.6, 1.0, 0.5 * k_pi, true, false).value +
                      0.4 * leg_of_two(0.4, 1.0, 0.5 * k_pi, true, false).value;
  EXPECT_NEAR(part(*in.rows[1].lined_loss, "two flows that join"), mean * dynamic(1.0, 450), 1e-6);
  EXPECT_NEAR(part(*in.rows[1].bare_loss, "two flows that join"), mean * dynamic(1.0, 500), 1e-6);
  EXPECT_TRUE(in.rows[0].lined_loss->left_out.empty());
  EXPECT_TRUE(in.rows[1].lined_loss->left_out.empty());
  const BoreReport out = report_of({fitting_from(
      "tee", with(cross, {{"flow", "0.6"}, {"branch_flow", "-1"}, {"flow_arrow", "against"}}))});
  for (const char* arrow : {"to_branch", "from_branch"}) {
    const bool to = arrow[0] == 't';
    const BoreReport drawn = report_of({fitting_from(
        "tee", with(cross, {{"flow", "0.6"}, {"branch_flow", to ? "1" : "-1"}, {"flow_arrow", arrow}}))});
    EXPECT_EQ(drawn.rows[1].lined_loss->total, (to ? in : out).rows[1].lined_loss->total);
  }
  const double parts = 0.6 * (1 + 1.5 * 0.36) + 0.4 * (1 + 1.5 * 0.16);
  EXPECT_NEAR(part(*out.rows[1].lined_loss, "flow that parts in two"), parts * dynamic(1.0, 450), 1e-6);
}

TEST(Flows, AWrongNumberOfThemIsNamed) {
  const BoreReport report = report_of({tee({{"flow", "1"}, {"branch_flow", "0.2"}})});
  ASSERT_EQ(report.problems.size(), 1U);
  EXPECT_EQ(report.problems[0].key, "--branch-flow");
  EXPECT_TRUE(report.rows[0].lined_air);
  EXPECT_FALSE(report.rows[1].lined_air);
  const BoreReport alone = report_of({tee({{"branch_flow", "0.2 & 0.2"}, {"upstream", "lined"}})});
  EXPECT_FALSE(alone.rows[0].lined_air);
  EXPECT_TRUE(alone.rows[1].lined_air);
  EXPECT_EQ(alone.rows[0].notes.size(), 1U);
}

// A wye's legs: the inlet has what they add up to, out of it or into it; each leg its own velocity, friction
// and taper; of their turn nothing is given, and it says so.
TEST(Flows, OfAWyesLegs) {
  const auto wye = [](Flags more) {
    return fitting_from("wye", with({{"diameter", "500"},
                                     {"inlet_length", "400"},
                                     {"leg_diameter", "355"},
                                     {"leg_length", "760"},
                                     {"angle", "35"},
                                     {"thickness", "25"}},
                                    more));
  };
  const BoreReport out = report_of({wye({{"branch_flow", "0.6 & 0.4"}, {"upstream", "metal"}})});
  ASSERT_EQ(out.rows.size(), 3U);
  EXPECT_TRUE(out.problems.empty());
  EXPECT_NEAR(out.rows[0].flow.value(), 1.0, 1e-12);
  EXPECT_NEAR(out.rows[1].flow.value(), 0.6, 1e-12);
  EXPECT_NEAR(out.rows[2].flow.value(), 0.4, 1e-12);
  EXPECT_NEAR(out.rows[0].lined_loss->friction, friction(0.45, 1.0, 0.9e-3) * out.rows[0].length * 1e-3,
              1e-6);
  ASSERT_EQ(out.rows[0].lined_loss->parts.size(), 1U) << "the step out of the metal, and none at the crotch";
  EXPECT_TRUE(out.rows[0].lined_loss->left_out.empty());
  EXPECT_FALSE(out.rows[0].nosing.empty());
  for (const std::size_t leg : {1U, 2U}) {
    EXPECT_TRUE(out.rows[leg].nosing.empty()) << "it comes out of the lined inlet";
    for (const auto* loss : {&out.rows[leg].bare_loss, &out.rows[leg].lined_loss}) {
      ASSERT_EQ((*loss)->left_out.size(), 1U);
      EXPECT_NE((*loss)->left_out[0].find("its turn: a formula was found for two legs in one line"),
                std::string::npos);
      EXPECT_GT(part(loss->value(), "narrowing taper"), 0.0);
    }
  }
  // two streams that join: the air runs against the arrow, and comes in at the legs
  const BoreReport in =
      report_of({wye({{"branch_flow", "-0.6 & -0.4"}, {"flow_arrow", "against"}, {"upstream", "metal"}})});
  EXPECT_NEAR(in.rows[0].flow.value(), 1.0, 1e-12);
  EXPECT_TRUE(in.rows[0].nosing.empty());
  EXPECT_FALSE(in.rows[1].nosing.empty());
  EXPECT_GT(part(in.rows[1].lined_loss.value(), "widening taper"), 0.0);
  // two legs in one line, as wide as the inlet: 1 + 1.5 x^2 on the inlet's p_v, x the share of the flow
  const Flags square{{"leg_diameter", "500"}, {"angle", "90"}, {"inlet_length", "600"}};
  const BoreReport bull = report_of({wye(with(square, {{"branch_flow", "0.6 & 0.4"}}))});
  EXPECT_NEAR(part(bull.rows[1].lined_loss.value(), "leg that leaves"), (1 + 1.5 * 0.36) * dynamic(1.0, 450),
              1e-9);
  EXPECT_NEAR(part(bull.rows[2].bare_loss.value(), "leg that leaves"), (1 + 1.5 * 0.16) * dynamic(1.0, 500),
              1e-9);
  EXPECT_TRUE(bull.rows[1].lined_loss->left_out.empty());
  const BoreReport turned =
      report_of({wye(with(square, {{"branch_flow", "0.6 & 0.4"}, {"around", "0 & 90"}}))});
  EXPECT_EQ(turned.rows[1].lined_loss->left_out.size(), 1U) << "the legs do not lie in one line";
  // a flow given twice agrees, or is an error that names both
  EXPECT_TRUE(report_of({wye({{"branch_flow", "0.6 & 0.4"}, {"flow", "1"}})}).problems.empty());
  const BoreReport twice = report_of({wye({{"branch_flow", "0.6 & 0.4"}, {"flow", "1.2"}})});
  ASSERT_EQ(twice.problems.size(), 1U);
  EXPECT_NE(one_line(twice.problems[0]).find("1.2"), std::string::npos);
  EXPECT_NE(one_line(twice.problems[0]).find("0.6 & 0.4"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
