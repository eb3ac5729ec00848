// Numbers from characters, alike with every standard library.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <random>
#include <string>
#include <system_error>

#include <fmt/format.h>

#include "linerwright/units/read_double.hpp"
#include "linerwright/units/units.hpp"

namespace linerwright {
namespace {

struct Read {
  std::errc error;
  std::size_t used;
  double value;
};

Read read(const std::string& text, double before = 7.0) {
  Read out{std::errc(), 0, before};
  const auto [end, error] = read_double(text.data(), text.data() + text.size(), out.value);
  out.error = error;
  out.used = static_cast<std::size_t>(end - text.data());
  return out;
}

void expect(const std::string& text, std::errc error, std::size_t used, double value) {
  const Read got = read(text);
  EXPECT_EQ(got.error, error) << text;
  EXPECT_EQ(got.used, used) << text;
  if (std::isnan(value)) {
    EXPECT_TRUE(std::isnan(got.value)) << text;
  } else {
    EXPECT_EQ(got.value, value) << text;
  }
}

TEST(ReadDouble, TakesAllFormsOfANumber) {
  constexpr auto ok = std::errc();
  expect("0", ok, 1, 0.0);
  expect("-0.000", ok, 6, 0.0);
  expect("0e5", ok, 3, 0.0);
  expect("1.", ok, 2, 1.0);
  expect(".5", ok, 2, 0.5);
  expect("1e", ok, 1, 1.0);
  expect("1e+", ok, 1, 1.0);
  expect("2.5E-3x", ok, 6, 0.0025);
  expect("0x10", ok, 1, 0.0);
  expect("5e-324", ok, 6, 5e-324);
  expect("1.7976931348623157e308", ok, 22, 1.7976931348623157e308);
  expect("inf", ok, 3, HUGE_VAL);
  expect("-inf", ok, 4, -HUGE_VAL);
  expect("nan", ok, 3, NAN);
}

TEST(ReadDouble, LeavesTheValueWhereThereIsNoNumber) {
  for (const char* text : {"", ".", "+1", "-", "e5", " 1", "x"})
    expect(text, std::errc::invalid_argument, 0, 7.0);
}

TEST(ReadDouble, SaysWhatIsOutOfRange) {
  for (const char* text : {"1e400", "-1e400", "1e-400", "2e-324", "1.7976931348623159e308"})
    expect(text, std::errc::result_out_of_range, std::strlen(text), 7.0);
}

// Seventeen digits tell every double from its neighbours (IEEE 754-2019, 5.12.2), so what is written comes
// back.
TEST(ReadDouble, GivesBackWhatWasWritten) {
  std::mt19937_64 random(1);
  int tried = 0;
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t bits = random();
    double value = 0.0;
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    ++tried;
    const std::string text = fmt::format("{:.16e}", value);
    ASSERT_EQ(read(text).value, value) << text;
  }
  EXPECT_GT(tried, 19000);
}

// The nearest text of that many decimals: read back, it is within half of the last of them.
TEST(Fixed, IsTheNearestText) {
  std::mt19937_64 random(2);
  std::uniform_real_distribution<double> exponent(-6.0, 6.0);
  for (int i = 0; i < 20000; ++i) {
    const double value = std::pow(10.0, exponent(random)) * (i % 2 == 0 ? 1.0 : -1.0);
    const int decimals = i % 9;
    const std::string text = fixed(value, decimals);
    const double grain = std::ldexp(std::fabs(value), -52);  // of the number that is read back
    ASSERT_LE(std::fabs(read(text).value - value), 0.5 * std::pow(10.0, -decimals) + grain) << text;
  }
}

}  // namespace
}  // namespace linerwright
