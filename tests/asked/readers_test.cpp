#include "readers.hpp"

#include <gtest/gtest.h>

#include <cstring>

#include "linerwright/asked/asked.hpp"

namespace linerwright::asked {
namespace {

const char* const k_square =
    "999\nunits: "
    "inches\n0\nSECTION\n2\nHEADER\n9\n$"
    "INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nCUT\n"
    "90\n4\n70\n1\n10\n0\n20\n0\n10\n1\n20\n0\n10\n1\n20\n1\n10\n0\n20\n1\n0\nTEXT\n8\nLABEL\n1\nliner 1 "
    "in\n0\nENDSEC\n0\nEOF\n";

TEST(AskedReaders, GroupCodes) {
  const Drawn drawn = read_drawn(k_square, "square.dxf", 25.4);
  ASSERT_EQ(drawn.entities.size(), 2u);
  EXPECT_EQ(drawn.header.at("$INSUNITS"), "1");
  EXPECT_EQ(drawn.comments.front(), "units: inches");
  EXPECT_TRUE(drawn.entities[0].closed);
  EXPECT_EQ(drawn.entities[0].points[2], (Point{25.4, 25.4}));
  EXPECT_EQ(drawn.entities[1].text, "liner 1 in");
}

TEST(AskedReaders, VerticesOfTheOlderFormat) {
  const std::string text =
      "0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n8\nCUT\n66\n1\n70\n1\n10\n0.0\n20\n0."
      "0\n0\nVERTEX\n8\nCUT\n10\n1\n20\n2\n70\n0\n"
      "0\nVERTEX\n8\nCUT\n10\n3\n20\n4\n0\nSEQEND\n8\nCUT\n0\nENDSEC\n0\nEOF\n";
  const Drawn drawn = read_drawn(text, "old.dxf", 1.0);
  ASSERT_EQ(drawn.entities.size(), 1u);
  EXPECT_TRUE(drawn.entities[0].closed);
  ASSERT_EQ(drawn.entities[0].points.size(), 2u);
  EXPECT_EQ(drawn.entities[0].points[1], (Point{3.0, 4.0}));
}

TEST(AskedReaders, BrokenFilesAreRefused) {
  EXPECT_THROW(read_drawn("0\nSECTION\n2\n", "cut.dxf", 1.0), Unreadable);
  EXPECT_THROW(read_drawn("zero\nSECTION\n", "code.dxf", 1.0), Unreadable);
  EXPECT_THROW(read_drawn("0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nnan\n", "nan.dxf", 1.0), Unreadable);
  EXPECT_THROW(read_facets("short", "short.stl"), Unreadable);
  EXPECT_THROW(read_facets(std::string(84, '\xff'), "count.stl"), Unreadable);
}

TEST(AskedReaders, FacetsOfAnStlFile) {
  std::string bytes(84 + 50, '\0');
  bytes[80] = 1;
  const float corners[9] = {0, 0, 0, 1, 0, 0, 0, 2, 0};
  std::memcpy(&bytes[84 + 12], corners, sizeof corners);
  const auto facets = read_facets(bytes, "one.stl");
  ASSERT_EQ(facets.size(), 1u);
  EXPECT_EQ(facets[0].corner[2], (Place{0.0, 2.0, 0.0}));
}

TEST(AskedReaders, AFolderWithoutAFittingIsALineThatFails) {
  for (const Files& files :
       {Files{}, Files{{"fitting.json", "{"}}, Files{{"fitting.json", "{\"tag\": 3}"}}}) {
    const auto findings = prove_asked(files, {});
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_FALSE(findings[0].pass);
  }
}

}  // namespace
}  // namespace linerwright::asked
