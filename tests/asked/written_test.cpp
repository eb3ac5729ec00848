// Lengths and angles as people write them, by the inch of 25.4 mm (exact since 1959).
#include "written.hpp"

#include <gtest/gtest.h>

#include "plain_number.hpp"
#include "request.hpp"
#include "space.hpp"
#include "support/comma_locale.hpp"

namespace linerwright::asked {
namespace {

TEST(AskedWritten, LengthsInTheirOwnUnits) {
  EXPECT_DOUBLE_EQ(value_of("24in", What::length, false), 609.6);
  EXPECT_DOUBLE_EQ(value_of("1-1/2\"", What::length, false), 38.1);
  EXPECT_DOUBLE_EQ(value_of("2' 6\"", What::length, false), 762.0);
  EXPECT_DOUBLE_EQ(value_of("2' 6 1/2\"", What::length, false), 774.7);
  EXPECT_DOUBLE_EQ(value_of("600 mm", What::length, true), 600.0);
  EXPECT_DOUBLE_EQ(value_of("4ft", What::length, false), 1219.2);
  EXPECT_DOUBLE_EQ(value_of("1.2m", What::length, true), 1200.0);
  EXPECT_DOUBLE_EQ(value_of("3/4", What::length, true), 19.05);
  EXPECT_DOUBLE_EQ(value_of("-62.001", What::length, false), -62.001);
}

TEST(AskedWritten, PlainNumbersInEveryLocale) {
  const auto read = [](std::string_view text) {
    double value = -7.0;
    const std::size_t taken = read_plain_number(text, value);
    return std::make_pair(taken, value);
  };
  const auto none = std::make_pair(std::size_t{0}, -7.0);
  const auto all = [&] {
    EXPECT_EQ(read("12.5x"), std::make_pair(std::size_t{4}, 12.5));
    EXPECT_EQ(read(".5"), std::make_pair(std::size_t{2}, 0.5));
    EXPECT_EQ(read("1.5e2in"), std::make_pair(std::size_t{5}, 150.0));
    EXPECT_EQ(read("2e"), std::make_pair(std::size_t{1}, 2.0));
    EXPECT_EQ(read("-0.25-1"), std::make_pair(std::size_t{5}, -0.25));
    EXPECT_EQ(read("1,5"), std::make_pair(std::size_t{1}, 1.0));
    for (const char* text : {"", " 1", "+1", "x", "-", ".", "e5", "nan", "inf", "1e999"})
      EXPECT_EQ(read(text), none) << text;
    EXPECT_EQ(read("0x10"), std::make_pair(std::size_t{1}, 0.0));
  };
  all();
  const support::CommaLocale comma;
  all();
}

TEST(AskedWritten, BareNumbersTakeTheJobsUnit) {
  EXPECT_DOUBLE_EQ(value_of("24", What::length, true), 609.6);
  EXPECT_DOUBLE_EQ(value_of("24", What::length, false), 24.0);
  EXPECT_DOUBLE_EQ(value_of("90", What::angle, true), k_pi / 2.0);
  EXPECT_DOUBLE_EQ(value_of("22.5deg", What::angle, false), k_pi / 8.0);
  EXPECT_DOUBLE_EQ(value_of("1.5", What::number, true), 1.5);
}

TEST(AskedWritten, OtherQuantities) {
  // 16.018463 kg/m3 a pound per cubic foot, 0.00508 m/s a foot per minute, 0.144228 W/(m K): NIST SP 811,
  // appendix B
  EXPECT_NEAR(value_of("3 lb/ft3", What::density, false), 3.0 * 16.018463, 1e-5);
  EXPECT_NEAR(value_of("1 lb/ft2", What::area_mass, false), 4.882428, 1e-6);
  EXPECT_NEAR(value_of("1.2", What::area_mass, false), 1.2, 1e-12);
  EXPECT_DOUBLE_EQ(value_of("6000fpm", What::velocity, false), 30.48);
  EXPECT_NEAR(value_of("0.25", What::conductivity, true), 0.25 * 0.1442279, 1e-7);
  EXPECT_DOUBLE_EQ(value_of("0.036W/(m K)", What::conductivity, true), 0.036);
}

TEST(AskedWritten, WhatIsNoQuantityIsRefused) {
  EXPECT_THROW(value_of("", What::length, false), Unreadable);
  EXPECT_THROW(value_of("24 inn", What::length, false), Unreadable);
  EXPECT_THROW(value_of("wide", What::length, false), Unreadable);
  EXPECT_THROW(value_of("3 mm", What::number, false), Unreadable);
}

TEST(AskedRequest, DefaultsAndBranches) {
  Request request;
  request.kind = "tee";
  request.written = {{"branch_diameter", "250 & 300"}, {"angle", "45"}};
  EXPECT_DOUBLE_EQ(request.value("fit_allowance"), 19.05);
  EXPECT_DOUBLE_EQ(request.value("branch_diameter", 1), 300.0);
  EXPECT_DOUBLE_EQ(request.value("angle", 1), k_pi / 4.0);
  EXPECT_FALSE(request.stated("branch_base"));
  EXPECT_THROW(request.value("length"), Unreadable);
}

}  // namespace
}  // namespace linerwright::asked
