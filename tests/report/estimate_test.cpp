// Estimates by hand: every price is worked out beside it.
#include "linerwright/report/estimate.hpp"

#include <gtest/gtest.h>

#include "linerwright/units/error.hpp"

namespace linerwright {
namespace {

Values rates_table(const std::map<std::string, std::string>& written) {
  return table_from_flags(job_schema().tables.at("rates"), written, Units::metric);
}

// Two fittings of 4 m2 of liner together, 12 m of tape, 7 m of joints and 30 pins.
JobTotals two_fittings() {
  JobTotals totals;
  TotalsRow first{"A", "straight", 2, {}};
  first.each.pieces = 1.0;
  first.each.liner_area = 1e6;
  first.each.tape = 4000.0;
  first.each.sealant = 1000.0;
  first.each.fasteners = 10.0;
  TotalsRow second{"B", "elbow", 1, {}};
  second.each.pieces = 5.0;
  second.each.liner_area = 2e6;
  second.each.tape = 4000.0;
  second.each.sealant = 5000.0;
  second.each.fasteners = 10.0;
  totals.rows = {first, second};
  return totals;
}

BoardPart square_part(const std::string& tag, double side, long count) {
  BoardPart part;
  part.tag = tag;
  part.count = count;
  part.pattern.cut.outer = {{0.0, 0.0}, {side, 0.0}, {side, side}, {0.0, side}};
  return part;
}

// A board of 30 with two squares of 1 m of A, one of 20 with B's square of 2 m.
BoardPlan two_boards() {
  BoardPlan plan;
  BoardStock stock;
  stock.name = "board";
  stock.cost = 25.0;
  plan.stock = {stock};
  plan.parts = {square_part("A", 1000.0, 2), square_part("B", 2000.0, 1)};
  PlannedBoard first;
  first.cost = 25.0;
  first.piece_area = 6e6;
  first.pieces = {{0, 0, false, {}}, {0, 1, false, {}}, {1, 0, false, {}}};
  plan.boards = {first};
  return plan;
}

TEST(Estimate, WholeUnitsForTheJobSharesForItsFittings) {
  const Rates rates = rates_of(rates_table({{"boards_in_pack", "3"},
                                            {"tape_roll", "10m"},
                                            {"tape_roll_price", "5"},
                                            {"sealant_tube", "5m"},
                                            {"sealant_tube_price", "7"},
                                            {"adhesive_tube", "3m2"},
                                            {"adhesive_tube_price", "9"},
                                            {"pin_box", "100"},
                                            {"pin_box_price", "11"},
                                            {"hour_price", "60"},
                                            {"minutes_per_m_of_cut", "0.5"},
                                            {"minutes_per_piece", "3"},
                                            {"minutes_per_m2", "6"}}));
  const Estimate estimate = estimate_of(two_fittings(), two_boards(), rates);
  // one board, sold in packs of 3; 12 m of tape are 2 rolls; 7 m of joints 2 tubes; 4 m2 2 tubes; 30 pins a
  // box
  EXPECT_DOUBLE_EQ(estimate.all.board.value(), 75.0);
  EXPECT_DOUBLE_EQ(estimate.all.tape.value(), 10.0);
  EXPECT_DOUBLE_EQ(estimate.all.sealant.value(), 14.0);
  EXPECT_DOUBLE_EQ(estimate.all.adhesive.value(), 18.0);
  EXPECT_DOUBLE_EQ(estimate.all.pins.value(), 11.0);
  // A: 2 of 6 m2 of a board of 25; 8 m of 10 at 5; 2 m of 5 at 7; 2 m2 of 3 at 9; 20 pins of 100 at 11
  const EstimateFigures& a = estimate.rows[0].figures;
  EXPECT_NEAR(a.board.value(), 25.0 / 3.0, 1e-12);
  EXPECT_NEAR(a.tape.value(), 4.0, 1e-12);
  EXPECT_NEAR(a.sealant.value(), 2.8, 1e-12);
  EXPECT_NEAR(a.adhesive.value(), 6.0, 1e-12);
  EXPECT_NEAR(a.pins.value(), 2.2, 1e-12);
  // 2 squares of 4 m at half a minute, 2 pieces of 3, 2 m2 of 6: 4 + 6 + 12 minutes at 60 an hour
  EXPECT_NEAR(a.labour.value(), 22.0, 1e-12);
  // B: 8 m of cut, 5 pieces, 2 m2: 4 + 15 + 12
  EXPECT_NEAR(estimate.rows[1].figures.labour.value(), 31.0, 1e-12);
  EXPECT_NEAR(estimate.all.hours.value(), 53.0 / 60.0, 1e-12);
  EXPECT_NEAR(estimate.all.sum(), 75.0 + 10.0 + 14.0 + 18.0 + 11.0 + 53.0, 1e-12);
}

TEST(Estimate, NothingIsAssumedWithoutARate) {
  const Estimate estimate = estimate_of(two_fittings(), {}, rates_of(rates_table({{"currency", "EUR"}})));
  for (const EstimateRow& row : estimate.rows) EXPECT_EQ(row.figures.sum(), 0.0);
  EXPECT_FALSE(estimate.all.board || estimate.all.tape || estimate.all.hours);
  EXPECT_NE(estimate_table(estimate).find("without: boards"), std::string::npos);
}

// A foot of cut at 1 minute is 3.2808 minutes a metre, a square foot 10.764 a square metre.
TEST(Estimate, RatesInFeetAreTheSame) {
  const Rates rates = rates_of(rates_table({{"minutes_per_ft_of_cut", "1"}, {"minutes_per_ft2", "1"}}));
  EXPECT_NEAR(rates.minutes_per_metre_cut, 3.280839895, 1e-9);
  EXPECT_NEAR(rates.minutes_per_area, 10.763910417, 1e-9);
}

TEST(Estimate, RatesThatSayNothingAloneAreRefused) {
  for (const std::map<std::string, std::string>& wrong :
       {std::map<std::string, std::string>{{"tape_roll_price", "5"}},
        {{"pin_box", "100"}},
        {{"minutes_per_m2", "1"}, {"minutes_per_ft2", "1"}},
        {{"hour_price", "40"}}})
    EXPECT_THROW(rates_of(rates_table(wrong)), InputError);
}

}  // namespace
}  // namespace linerwright
