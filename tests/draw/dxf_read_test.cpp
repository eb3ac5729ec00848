#include <gtest/gtest.h>

#include <random>

#include "helpers.hpp"

namespace linerwright {
namespace {

// An ENTITIES section and nothing else, as the shortest R12 writers leave it.
std::string entities(const std::string& groups) {
  return "0\nSECTION\n2\nENTITIES\n" + groups + "0\nENDSEC\n0\nEOF\n";
}

TEST(ReadDxf, takes_a_bare_r12_file_with_other_line_ends_and_spacing) {
  const DxfFile file = file_of(
      "\xEF\xBB\xBF  0\r\nSECTION\r\n  2\r\nENTITIES\r\n  0\r\nLINE\r\n  8\r\nA B\r\n 10\r\n 1.5\r\n "
      "20\r\n+2\r\n 11\r\n1e2\r\n"
      " 21\r\n-.5\r\n  0\r\nENDSEC\r\n  0\r\nEOF");
  ASSERT_EQ(file.lines.size(), 1u);
  EXPECT_EQ(file.lines[0].kind, "LINE");
  EXPECT_EQ(file.lines[0].layer, "A B");
  EXPECT_TRUE(file.lines[0].points[0] == (Vec2{1.5, 2.0}));
  EXPECT_TRUE(file.lines[0].points[1] == (Vec2{100.0, -0.5}));
  EXPECT_EQ(file.units, DxfUnits::unstated);
  EXPECT_EQ(file.version, "");
  EXPECT_FALSE(file.extents.has_value());
}

TEST(ReadDxf, notes_bulges_and_other_entities) {
  const DxfFile file =
      file_of(entities("0\nLWPOLYLINE\n8\nCUT\n90\n2\n70\n129\n10\n0\n20\n0\n42\n1\n10\n5\n20\n0\n0\nCIRCLE\n"
                       "8\nCUT\n10\n0\n20\n0\n40\n5\n"));
  ASSERT_EQ(file.lines.size(), 1u);
  EXPECT_TRUE(file.lines[0].curved);
  EXPECT_TRUE(file.lines[0].closed);
  ASSERT_EQ(file.others.size(), 1u);
  EXPECT_EQ(file.others[0].kind, "CIRCLE");
  EXPECT_EQ(file.others[0].line, 24);
}

TEST(ReadDxf, turns_round_what_is_seen_from_below) {
  const DxfFile file = file_of(
      entities("0\nLWPOLYLINE\n8\nCUT\n70\n0\n10\n1\n20\n2\n10\n3\n20\n4\n210\n0\n220\n0\n230\n-1\n"));
  EXPECT_TRUE(file.lines.at(0).points.at(0) == (Vec2{-1.0, 2.0}));
}

TEST(ReadDxf, aligned_text_stands_at_its_second_point) {
  const DxfFile file =
      file_of(entities("0\nTEXT\n8\nLABEL\n10\n1\n20\n2\n40\n5\n1\n90%%d\n50\n90\n72\n1\n11\n30\n21\n40\n"));
  ASSERT_EQ(file.texts.size(), 1u);
  EXPECT_TRUE(file.texts[0].at == (Vec2{30.0, 40.0}));
  EXPECT_TRUE(file.texts[0].centred);
  EXPECT_EQ(file.texts[0].text, "90\xC2\xB0");
  EXPECT_NEAR(file.texts[0].angle, k_pi / 2.0, 1e-12);
}

TEST(ReadDxf, leaves_out_spline_frames_and_meshes) {
  const std::string vertex = "0\nVERTEX\n8\nCUT\n10\n1\n20\n1\n";
  const DxfFile file =
      file_of(entities("0\nPOLYLINE\n8\nCUT\n66\n1\n70\n4\n" + vertex + "70\n16\n" + vertex + "0\nSEQEND\n" +
                       "0\nPOLYLINE\n8\nCUT\n66\n1\n70\n64\n" + vertex + "0\nSEQEND\n"));
  ASSERT_EQ(file.lines.size(), 1u);
  EXPECT_EQ(file.lines[0].points.size(), 1u);
  ASSERT_EQ(file.others.size(), 1u);
  EXPECT_EQ(file.others[0].kind, "POLYLINE");
}

// Each broken file is refused in one line that names the file and the line at fault.
TEST(ReadDxf, names_file_and_line_of_what_is_broken) {
  const std::string good = dxf_of(drawing_of({{Layer::cut, true, rectangle(0, 0, 9, 9)}}));
  const std::pair<std::string, std::string> cases[] = {
      {"", "test.dxf: the file is empty"},
      {"hello\n", "test.dxf:1: DXF = hello: a group code"},
      {"0\n", "test.dxf:1: the file is cut short"},
      {"0\nSECTION\n2\nENTITIES\n", "test.dxf:4: the file is cut short inside a section"},
      {"0\nSECTION\n", "test.dxf:2: the file is cut short"},
      {"0\nSECTION\n0\nENDSEC\n0\nEOF\n", "the section has no name"},
      {"0\nEOF\n", "the file holds no section"},
      {"0\nSECTION\n2\nENTITIES\n0\nEOF\n", "test.dxf:6: DXF = EOF: the section before this has no ENDSEC"},
      {"0\nSECTION\n2\nHEADER\n0\nLINE\n8\nA\n0\nENDSEC\n0\nEOF\n", "the header has no ENDSEC"},
      {"0\nLINE\n", "test.dxf:2: DXF = LINE: a section belongs here"},
      {"5\nLINE\n", "test.dxf:2: DXF = LINE: a section belongs here"},
      {entities("0\nLINE\n10\n1,5\n"), "test.dxf:8: DXF = 1,5: not a number"},
      {entities("0\nLINE\n10\n\n"), "test.dxf:8: not a number"},
      {entities("0\nLINE\n5\nXYZ\n"), "test.dxf:8: DXF = XYZ: not a handle"},
      {entities("0\nLWPOLYLINE\n70\n1e99\n"), "test.dxf:8: DXF = 1e99: not a whole number"},
      {entities("0\nLWPOLYLINE\n20\n1\n"), "test.dxf:8: DXF = 1: y stands before x"},
      {entities("0\nVERTEX\n10\n1\n"), "test.dxf:6: DXF = VERTEX: stands outside a POLYLINE"},
      {entities("0\nPOLYLINE\n8\nCUT\n0\nVERTEX\n10\n1\n20\n1\n"),
       "test.dxf:6: the POLYLINE that starts here has no SEQEND"},
      {entities("0x\nLINE\n"), "test.dxf:5: DXF = 0x: a group code"},
      {"Some Binary DXF\r\n\x1a", "test.dxf:1: this is a binary DXF file"},
      {good.substr(0, good.size() - 8), "the file is cut short: it has no EOF"},
      {std::string(70000, '1') + "\n", "test.dxf:1: the line is longer"},
  };
  for (const auto& [dxf, expected] : cases) {
    const std::string message = refusal_of(dxf);
    EXPECT_NE(message.find(expected), std::string::npos) << "'" << message << "' lacks '" << expected << "'";
    EXPECT_EQ(message.find('\n'), std::string::npos);
  }
}

TEST(ReadDxf, every_cut_of_a_good_file_is_refused) {
  for (const DxfVersion version : {DxfVersion::r2000, DxfVersion::r12}) {
    DxfOptions options;
    options.version = version;
    const std::string good = dxf_of(drawing_of({{Layer::cut, true, rectangle(0, 0, 9, 9)}}), options);
    ASSERT_EQ(refusal_of(good), "");
    // Only the last line end may be missing.
    for (std::size_t size = 0; size + 1 < good.size(); ++size) {
      EXPECT_NE(refusal_of(good.substr(0, size)), "") << size;
    }
  }
}

TEST(ReadDxf, survives_damaged_files) {
  const std::string good = dxf_of(sample_drawing());
  std::mt19937 random(20240607);
  int refused = 0;
  int taken = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string bytes = good.substr(0, 1 + random() % good.size());
    if (round % 2 == 0) bytes = good;
    for (auto hits = 1 + random() % 6; hits > 0; --hits) {
      const std::size_t at = random() % bytes.size();
      if (random() % 3 == 0) {
        bytes.erase(at, random() % 40);
        if (bytes.empty()) bytes = "0";
      } else {
        bytes[at] = static_cast<char>(random() & 0xFF);
      }
    }
    try {
      audit_dxf(file_of(bytes), {});
      ++taken;
    } catch (const InputError& error) {
      EXPECT_EQ(error.problems().size(), 1u);
      ++refused;
    }
  }
  EXPECT_GT(refused, 500);
  EXPECT_GT(taken, 100);
}

TEST(ReadDxf, survives_random_bytes) {
  std::mt19937 random(7);
  for (int round = 0; round < 500; ++round) {
    std::string bytes;
    for (auto size = random() % 400; size > 0; --size) bytes += static_cast<char>(random() & 0xFF);
    EXPECT_NE(refusal_of(bytes), "");
  }
}

}  // namespace
}  // namespace linerwright
