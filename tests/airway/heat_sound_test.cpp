// Thermal resistance and insertion loss.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/vector.hpp"

using namespace linerwright;

TEST(Resistance, textbook_tube) {
  // J. P. Holman, Heat Transfer, example 2-1: tube 2 cm inside, 4 cm outside, k 19; 3 cm of insulation, k 0.2
  // W/(m K); 600 C inside, 100 C outside: 680 W per metre (printed to 3 figures).
  const double tube = lining_resistance(40, 10, 19).per_length;
  const double insulation = lining_resistance(100, 30, 0.2).per_length;
  EXPECT_NEAR((600 - 100) / (tube + insulation), 680, 0.5);
}

TEST(Resistance, worked_pipe) {
  // A teaching example of an insulated steel pipe 10 m long: 5 to 6 cm radius, k 50: 5.8e-5 K/W; 6 to 10 cm,
  // k 0.04: 0.2033 K/W.
  EXPECT_NEAR(lining_resistance(120, 10, 50).per_length / 10, 5.8e-5, 0.05e-5);
  EXPECT_NEAR(lining_resistance(200, 40, 0.04).per_length / 10, 0.2033, 0.00005);
}

TEST(Resistance, by_hand) {
  // 315 lined 25, k 0.036: ln(315/265) = 0.172840; / (2 pi 0.036) = 0.764112 m K/W; on the metal x pi 0.315 =
  // 0.756178; on the bore x pi 0.265 = 0.636150; flat 0.025/0.036 = 0.694444 m2 K/W, which lies between the
  // two.
  const LiningResistance r = lining_resistance(315, 25, 0.036);
  EXPECT_NEAR(r.per_length, std::log(315.0 / 265) / (2 * k_pi * 0.036), 1e-14);
  EXPECT_NEAR(r.on_duct_face, 0.315 / (2 * 0.036) * std::log(315.0 / 265), 1e-14);
  EXPECT_NEAR(r.on_air_face, 0.265 / (2 * 0.036) * std::log(315.0 / 265), 1e-14);
  EXPECT_NEAR(r.flat, 0.694444, 0.5e-6);
  EXPECT_LT(r.on_air_face, r.flat);
  EXPECT_GT(r.on_duct_face, r.flat);
}

TEST(Resistance, thin_lining_is_a_flat_plate) {
  // D ln(D/(D-2t))/(2k) = (t/k)(1 + t/D + ...): the difference from t/k goes with t/D.
  for (const double diameter : {1e3, 1e4, 1e6, 1e9}) {
    const LiningResistance r = lining_resistance(diameter, 25, 0.036);
    EXPECT_NEAR(r.on_duct_face / r.flat - 1, 25 / diameter, 2 * std::pow(25 / diameter, 2) + 1e-14)
        << diameter;
    EXPECT_NEAR(r.on_air_face / r.flat - 1, -25 / diameter, 2 * std::pow(25 / diameter, 2) + 1e-14)
        << diameter;
  }
}

TEST(Resistance, layers_add_up) {
  // 400 lined with 25 then 25 is 400 lined with 50.
  EXPECT_NEAR(lining_resistance(400, 25, 0.036).per_length + lining_resistance(350, 25, 0.036).per_length,
              lining_resistance(400, 50, 0.036).per_length, 1e-14);
}

TEST(Resistance, refusals) {
  EXPECT_THROW(lining_resistance(100, 50, 0.036), std::invalid_argument);
  EXPECT_THROW(lining_resistance(100, 0, 0.036), std::invalid_argument);
  EXPECT_THROW(lining_resistance(100, 10, 0), std::invalid_argument);
  EXPECT_THROW(lining_resistance(100, 10, std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
  EXPECT_THROW(lining_resistance(-100, 10, 0.036), std::invalid_argument);
}

namespace {

// dB per foot in each band of a lining of t inches that leaves d inches.
std::array<double, 8> per_foot(double t, double d) {
  const InsertionLoss loss = insertion_loss((d + 2 * t) * 25.4, t * 25.4, 304.8);
  EXPECT_TRUE(loss.bands.has_value());
  std::array<double, 8> out{};
  for (std::size_t i = 0; i < 8; ++i) out[i] = (*loss.bands)[i].per_metre * 0.3048;
  return out;
}

}  // namespace

TEST(InsertionLoss, published_rows) {
  // A controls maker's guide, Minimizing Excessive Sound in Ventilation System Design (2009), tables 20 (1
  // in) and 21 (2 in) of insertion loss in lined round duct, dB/ft, two decimals. Single rows.
  struct Row {
    double t, d;
    std::array<double, 8> loss;
  };
  const Row rows[] = {
      {2, 6, {0.56, 0.80, 1.37, 2.25, 2.17, 2.31, 2.04, 1.26}},
      {2, 12, {0.42, 0.67, 1.25, 2.18, 2.18, 1.91, 1.48, 1.05}},
      {2, 24, {0.25, 0.46, 1.01, 2.00, 1.71, 1.24, 0.85, 0.80}},
      {2, 48, {0.11, 0.15, 0.62, 1.36, 0.26, 0.34, 0.45, 0.44}},
      {1, 12, {0.23, 0.46, 0.81, 1.45, 2.18, 1.91, 1.48, 1.05}},
      {1, 24, {0.07, 0.25, 0.57, 1.28, 1.71, 1.24, 0.85, 0.80}},
      {1, 60, {0, 0, 0.08, 0.06, 0.10, 0.14, 0.09, 0.07}},
  };
  int checked = 0;
  for (const Row& row : rows) {
    const auto found = per_foot(row.t, row.d);
    for (std::size_t i = 0; i < 8; ++i) {
      EXPECT_NEAR(found[i], row.loss[i], 0.00501)
          << row.t << " in lining, " << row.d << " in bore, band " << i;
      ++checked;
    }
  }
  EXPECT_EQ(checked, 56);
}

TEST(InsertionLoss, unrounded_row) {
  // 1 in lining, 12 in bore: the regression by hand, e.g. 63 Hz: 0.2825 + 0.3447 - 0.05251 - 0.46044 +
  // 0.1315008 - 0.014332032 = 0.231419 dB/ft.
  const double expected[] = {0.231419, 0.459610, 0.806614, 1.453443, 2.176876, 1.914582, 1.480511, 1.053745};
  const auto found = per_foot(1, 12);
  for (std::size_t i = 0; i < 8; ++i) EXPECT_NEAR(found[i], expected[i], 1e-6) << i;
}

TEST(InsertionLoss, bands_and_label) {
  const InsertionLoss loss = insertion_loss(14 * 25.4, 25.4, 3048);
  EXPECT_EQ(loss.label, "estimate");
  ASSERT_TRUE(loss.bands.has_value());
  const double octaves[] = {63, 125, 250, 500, 1000, 2000, 4000, 8000};
  for (std::size_t i = 0; i < 8; ++i) {
    EXPECT_EQ((*loss.bands)[i].frequency, octaves[i]);
    EXPECT_NEAR((*loss.bands)[i].total, (*loss.bands)[i].per_metre * 3.048, 1e-12);
    EXPECT_FALSE((*loss.bands)[i].capped);
  }
  EXPECT_EQ(loss.notes.size(), 3u);
  EXPECT_TRUE(loss.out_of_range.empty());
}

TEST(InsertionLoss, cap_and_floor) {
  // 20 ft at 2.176876 dB/ft is 43.5 dB: capped at 40; 1.914582 x 20 = 38.29 is not.
  const InsertionLoss loss = insertion_loss(14 * 25.4, 25.4, 20 * 304.8);
  EXPECT_EQ((*loss.bands)[4].total, 40);
  EXPECT_TRUE((*loss.bands)[4].capped);
  EXPECT_NEAR((*loss.bands)[5].total, 38.29164, 1e-4);
  EXPECT_FALSE((*loss.bands)[5].capped);
  EXPECT_EQ(loss.notes.size(), 4u);
  // 1 in lining in 60 in: the fit at 125 Hz is 0.5237 + 0.2234 - 0.004936 - 1.6344 + 1.21572 - 0.53784 < 0.
  EXPECT_EQ((*insertion_loss(62 * 25.4, 25.4, 1000).bands)[1].total, 0);
}

TEST(InsertionLoss, outside_the_range_reasons_instead_of_numbers) {
  const InsertionLoss thin = insertion_loss(300, 13, 1000);
  EXPECT_FALSE(thin.bands.has_value());
  ASSERT_EQ(thin.out_of_range.size(), 1u);
  EXPECT_EQ(thin.out_of_range[0],
            "the lining is 13 mm (0.512 in) thick; the regression holds for 25 mm (1 in) to 76.2 mm (3 in)");
  EXPECT_EQ(insertion_loss(190, 25, 1000).out_of_range.size(), 1u);    // bore 140 mm
  EXPECT_EQ(insertion_loss(1800, 100, 1000).out_of_range.size(), 2u);  // 100 mm lining, 1600 mm bore
  // The ends themselves are inside, in inches and in their metric sizes.
  EXPECT_TRUE(insertion_loss(8 * 25.4, 25.4, 1000).bands.has_value());
  EXPECT_TRUE(insertion_loss(66 * 25.4, 3 * 25.4, 1000).bands.has_value());
  EXPECT_TRUE(insertion_loss(200, 25, 1000).bands.has_value());
  EXPECT_FALSE(insertion_loss(199.9, 25, 1000).bands.has_value());
  EXPECT_FALSE(insertion_loss(315, 24.9, 1000).bands.has_value());
  EXPECT_FALSE(insertion_loss(66 * 25.4 + 0.1, 3 * 25.4, 1000).bands.has_value());  // bore over 60 in
  EXPECT_FALSE(insertion_loss(1000, 76.3, 1000).bands.has_value());
}

TEST(InsertionLoss, refusals) {
  EXPECT_THROW(insertion_loss(300, 25, 0), std::invalid_argument);
  EXPECT_THROW(insertion_loss(300, 0, 1000), std::invalid_argument);
  EXPECT_THROW(insertion_loss(300, 150, 1000), std::invalid_argument);
  EXPECT_THROW(insertion_loss(300, 25, std::numeric_limits<double>::infinity()), std::invalid_argument);
}
