#include "cells.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace linerwright {
namespace {

std::string sizes(const std::string& cell, bool slash = false) {
  const SizesText read = sizes_text(cell, slash);
  std::string out;
  for (const std::string& size : read.sizes) out += (out.empty() ? "" : "|") + size;
  return out + (read.size_is.empty() ? "" : " " + read.size_is);
}

TEST(Cells, OneSizeOrSeveral) {
  EXPECT_EQ(sizes("24"), "24");
  EXPECT_EQ(sizes("24\""), "24\"");
  EXPECT_EQ(sizes("\xC3\x98"
                  "24"),
            "24");
  EXPECT_EQ(sizes("24\"\xC3\x98"), "24\"");
  EXPECT_EQ(sizes("24\" dia."), "24\"");
  EXPECT_EQ(sizes("DIA 600 mm"), "600 mm");
  EXPECT_EQ(sizes("24\" x 20\""), "24\"|20\"");
  EXPECT_EQ(sizes("24x20"), "24|20");
  EXPECT_EQ(sizes("24X20X12"), "24|20|12");
  EXPECT_EQ(sizes("600\xC3\x97"
                  "450 mm"),
            "600mm|450 mm");
  EXPECT_EQ(sizes("24 to 20"), "24|20");
  EXPECT_EQ(sizes("24\" x 20"), "24\"|20\"");
  EXPECT_EQ(sizes("24inx20in"), "24in|20in");
  EXPECT_EQ(sizes("24\" ID"), "24\" metal");
  EXPECT_EQ(sizes("610 O.D."), "610 outside");
  EXPECT_EQ(sizes("1'-6 1/2\""), "1'-6 1/2\"");
}

TEST(Cells, ASlashPartsSizesOnlyWhereItIsNoFraction) {
  EXPECT_EQ(sizes("24\"/12\""), "24\"|12\"");
  EXPECT_EQ(sizes("24 / 12"), "24|12");
  EXPECT_EQ(sizes("24/12", true), "24|12");
  EXPECT_EQ(sizes("24/12", false), "24/12");
  EXPECT_EQ(sizes("1/2", true), "1/2");
  EXPECT_EQ(sizes("12 1/2\"", true), "12 1/2\"");
  EXPECT_EQ(sizes("24-18", true), "24|18");
  EXPECT_EQ(sizes("24\" - 18\"", true), "24\"|18\"");
  EXPECT_EQ(sizes("24-18", false), "24-18");
  EXPECT_EQ(sizes("1-1/2", true), "1-1/2");
  EXPECT_EQ(sizes("5'-0\"", true), "5'-0\"");
}

TEST(Cells, LengthsKeepWhatWasWritten) {
  EXPECT_EQ(length_text("5'-0\"", "mm").text, "5'-0\"");
  EXPECT_EQ(length_text("1200", "mm").text, "1200 mm");
  EXPECT_TRUE(length_text("1200", "").bare);
  EXPECT_FALSE(length_text("0", "").bare);
  EXPECT_THROW(length_text("see plan", "mm"), std::invalid_argument);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, length_text("1'-6 1/2\"", "").text, Units::metric),
                   18.5 * 25.4);
}

TEST(Cells, CountsAndRatios) {
  EXPECT_EQ(count_text("1 EA"), "1");
  EXPECT_EQ(count_text("2 pcs"), "2");
  EXPECT_EQ(count_text("4x"), "4");
  EXPECT_EQ(count_text("12"), "12");
  EXPECT_EQ(count_text("1 pallet"), "1 pallet");
  EXPECT_EQ(ratio_text("1.5 D"), "1.5");
  EXPECT_EQ(ratio_text("1.5xD"), "1.5");
  EXPECT_EQ(ratio_text("1.5"), "1.5");
}

}  // namespace
}  // namespace linerwright
