#include "linerwright/division_search.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace linerwright {
namespace {

constexpr double k_inch = 25.4;

// A straight length of duct of this diameter, lined 1 in thick: pi (D - 2 k t) less the fit allowance, with
// k = 0 and 3/4 in; the most even rings that fit 47 1/2 in are how it is divided without a search.
DivisibleItem straight(double diameter, double length, long count, double room = 47.5) {
  DivisibleItem item;
  item.length = length * k_inch;
  item.around = (3.14159265358979 * diameter - 0.75) * k_inch;
  item.count = count;
  item.least = 100.0;
  const double rings = std::ceil(length / room);
  item.today.assign(static_cast<std::size_t>(rings), {item.length / rings, 1});
  return item;
}

// Boards of 48 x 120 in with a quarter inch trimmed off all around; each counts as one.
DivisionSearch on_boards(std::vector<DivisibleItem> items) {
  DivisionSearch search;
  search.items = std::move(items);
  search.stock = {{{119.5 * k_inch, 47.5 * k_inch}, {}, 1.0, false}};
  search.seam_cost = 0.01;
  return search;
}

// Each ring is allowed, and all of them are the piece.
void expect_whole(const DivisionSearch& search, const DivisionFound& found) {
  ASSERT_EQ(found.choices.size(), search.items.size());
  for (std::size_t i = 0; i < search.items.size(); ++i) {
    double sum = 0.0;
    for (const RingChoice& ring : found.choices[i]) {
      sum += ring.height;
      EXPECT_GE(ring.height, search.items[i].least - 1e-6);
      EXPECT_TRUE(ring.panels == 1 || search.items[i].around / ring.panels >= search.items[i].least - 1e-6);
    }
    EXPECT_NEAR(sum, search.items[i].length, 1e-6);
  }
}

// By hand 10 boards without panels, 8 with; 37 569 in2 of pieces need 6.6 boards of 119.5 x 47.5 in.
TEST(DivisionSearch, SixAndSixStraightsFillSevenBoards) {
  const DivisionSearch search = on_boards({straight(24.0, 48.0, 6), straight(18.0, 48.0, 6)});
  const DivisionFound found = search_division(search);
  EXPECT_EQ(found.today.stock.size(), 18U);
  EXPECT_EQ(found.packing.stock.size(), 7U);
  expect_whole(search, found);
}

// By hand 11 boards without panels, 8 with; 35 832 in2 of pieces need 6.3.
TEST(DivisionSearch, EightLongStraightsFillSevenBoards) {
  const DivisionSearch search = on_boards({straight(24.0, 60.0, 8)});
  const DivisionFound found = search_division(search);
  EXPECT_EQ(found.today.stock.size(), 16U);
  EXPECT_EQ(found.packing.stock.size(), 7U);
  expect_whole(search, found);
}

}  // namespace
}  // namespace linerwright
