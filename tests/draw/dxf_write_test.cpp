#include <gtest/gtest.h>

#include <clocale>
#include <limits>
#include <locale>

#include "helpers.hpp"

namespace linerwright {
namespace {

const double k_nan = std::numeric_limits<double>::quiet_NaN();

Drawing square() {
  return drawing_of({{Layer::cut, true, rectangle(0.0, 0.0, 100.0, 50.0)}});
}

int count_of(const std::string& text, const std::string& what) {
  int count = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
  return count;
}

std::vector<DxfPolyline> on_layer(const DxfFile& file, const std::string& layer) {
  std::vector<DxfPolyline> found;
  for (const DxfPolyline& line : file.lines) {
    if (line.layer == layer) found.push_back(line);
  }
  return found;
}

TEST(WriteDxf, comes_back_in_every_version_unit_and_text_style) {
  const Drawing drawing = sample_drawing();
  int compared = 0;
  for (const SampleFile& sample : sample_files()) {
    SCOPED_TRACE(sample.name);
    const DxfFile file = file_of(dxf_of(drawing, sample.options));
    EXPECT_EQ(file.version, sample.options.version == DxfVersion::r2000 ? "AC1015" : "AC1009");
    EXPECT_EQ(file.units, sample.options.units);
    EXPECT_TRUE(file.others.empty());
    const bool cut_only = sample.options.cut_only || sample.options.single_layer;
    const bool inch = sample.options.units == DxfUnits::inch;
    const double tolerance = inch ? 0.5e-6 * 25.4 + 1e-9 : 0.5e-4 + 1e-9;  // half the last decimal
    std::size_t at = 0;
    for (const Polyline& line : drawing.lines) {
      if (cut_only && line.layer != Layer::cut) continue;
      ASSERT_LT(at, file.lines.size());
      const DxfPolyline& found = file.lines[at++];
      EXPECT_EQ(found.layer, sample.options.single_layer ? "0" : layer_name(line.layer));
      EXPECT_EQ(found.closed, line.closed);
      EXPECT_FALSE(found.curved);
      ASSERT_EQ(found.points.size(), line.points.size());
      for (std::size_t i = 0; i < line.points.size(); ++i) {
        EXPECT_NEAR(found.points[i].x, line.points[i].x, tolerance);
        EXPECT_NEAR(found.points[i].y, line.points[i].y, tolerance);
        ++compared;
      }
    }
    if (cut_only) {
      EXPECT_EQ(at, file.lines.size());
      EXPECT_TRUE(file.texts.empty());
    } else if (sample.options.text == TextStyle::strokes) {
      EXPECT_GT(file.lines.size(), at + 20);
      EXPECT_TRUE(file.texts.empty());
    } else {
      EXPECT_EQ(at, file.lines.size());
      ASSERT_EQ(file.texts.size(), drawing.texts.size());
      for (std::size_t i = 0; i < file.texts.size(); ++i) {
        EXPECT_EQ(file.texts[i].text, drawing.texts[i].text);
        EXPECT_EQ(file.texts[i].centred, drawing.texts[i].centred);
        EXPECT_EQ(file.texts[i].layer, layer_name(drawing.texts[i].layer));
        EXPECT_NEAR(file.texts[i].height, drawing.texts[i].height, tolerance);
        EXPECT_NEAR(distance(file.texts[i].at, drawing.texts[i].at), 0.0, 2.0 * tolerance);
      }
    }
  }
  EXPECT_GT(compared, 1000);
}

// Header variables and entity names as in the public DXF reference: $INSUNITS 1 inches, 4 millimetres;
// $MEASUREMENT 0 English, 1 metric; LWPOLYLINE is younger than R12.
TEST(WriteDxf, states_version_and_units) {
  DxfOptions options;
  EXPECT_NE(dxf_of(square(), options).find("  9\n$INSUNITS\n 70\n4\n  9\n$MEASUREMENT\n 70\n1\n"),
            std::string::npos);
  options.units = DxfUnits::inch;
  const std::string inch = dxf_of(square(), options);
  EXPECT_NE(inch.find("  9\n$INSUNITS\n 70\n1\n  9\n$MEASUREMENT\n 70\n0\n"), std::string::npos);
  EXPECT_NE(inch.find(" 10\n3.937008\n 20\n1.968504\n"), std::string::npos);  // 100/25.4, 50/25.4
  options.units = DxfUnits::other;
  EXPECT_THROW(dxf_of(square(), options), std::invalid_argument);
}

TEST(WriteDxf, r12_holds_nothing_younger) {
  DxfOptions options;
  options.version = DxfVersion::r12;
  options.text = TextStyle::entities;
  const std::string dxf = dxf_of(sample_drawing(), options);
  for (const char* young : {"LWPOLYLINE", "AcDb", "CLASSES", "OBJECTS", "BLOCK_RECORD", "\n330\n",
                            "$INSUNITS", "$HANDSEED", "\n  5\n"}) {
    EXPECT_EQ(dxf.find(young), std::string::npos) << young;
  }
  EXPECT_EQ(count_of(dxf, "\nPOLYLINE\n"), count_of(dxf, "\nSEQEND\n"));
  EXPECT_EQ(count_of(dxf, "\nPOLYLINE\n"), 9);
}

TEST(WriteDxf, handles_are_unique_and_below_the_seed) {
  const std::string dxf = dxf_of(sample_drawing());
  const DxfFile file = file_of(dxf);
  const std::size_t at = dxf.find("$HANDSEED\n  5\n");
  ASSERT_NE(at, std::string::npos);
  const std::uint64_t seed = std::stoull(dxf.substr(at + 14), nullptr, 16);
  std::vector<std::uint64_t> values;
  for (const DxfHandle& handle : file.handles) values.push_back(handle.value);
  std::sort(values.begin(), values.end());
  EXPECT_EQ(std::adjacent_find(values.begin(), values.end()), values.end());
  ASSERT_GT(values.size(), 40u);
  EXPECT_GT(values.front(), 0u);
  EXPECT_LT(values.back(), seed);
}

TEST(WriteDxf, does_not_repeat_vertices_that_print_alike) {
  const DxfFile file = file_of(dxf_of(
      drawing_of({{Layer::cut, true, {{0, 0}, {100, 0}, {100, 0.00001}, {100, 50}, {0, 50}, {0, 0.00004}}},
                  {Layer::cut, false, {{5, 5}, {5, 5.00001}}},
                  {Layer::air_face, true, {{0, 0}, {9, 0}, {9, 0}, {9, 9}}}})));
  ASSERT_EQ(file.lines.size(), 2u);  // the line of no length is left out
  EXPECT_EQ(file.lines[0].points.size(), 4u);
  EXPECT_EQ(file.lines[1].points.size(), 4u);  // face vertices pair up, so all of them stay
}

TEST(WriteDxf, single_layer_is_layer_0_and_cut_lines_unless_asked) {
  DxfOptions options;
  options.single_layer = true;
  const DxfFile cut = file_of(dxf_of(sample_drawing(), options));
  ASSERT_EQ(cut.layers.size(), 1u);
  EXPECT_EQ(cut.layers[0].name, "0");
  EXPECT_EQ(cut.layers[0].colour, 7);
  EXPECT_EQ(cut.lines.size(), 4u);
  EXPECT_EQ(on_layer(cut, "0").size(), 4u);
  options.single_layer_all = true;
  const DxfFile all = file_of(dxf_of(sample_drawing(), options));
  EXPECT_EQ(all.layers.size(), 1u);
  EXPECT_EQ(on_layer(all, "0").size(), all.lines.size());
  EXPECT_GT(all.lines.size(), 30u);
}

TEST(WriteDxf, layer_table_lists_layers_in_use_and_0) {
  const DxfFile file = file_of(dxf_of(
      drawing_of({{Layer::cut, true, rectangle(0, 0, 9, 9)}, {Layer::mark, false, {{1, 1}, {2, 2}}}})));
  ASSERT_EQ(file.layers.size(), 3u);
  EXPECT_EQ(file.layers[0].name, "0");
  EXPECT_EQ(file.layers[1].name, "CUT");
  EXPECT_EQ(file.layers[2].name, "MARK");
  EXPECT_NE(file.layers[1].colour, file.layers[2].colour);
}

TEST(WriteDxf, comments_stand_at_the_top_as_single_lines) {
  DxfOptions options;
  options.chord_error = 0.05;
  options.comments = {"two\nlines", "EOF"};
  const DxfFile file = file_of(dxf_of(square(), options));
  EXPECT_EQ(file.comments, (std::vector<std::string>{"Linerwright", "units: millimetres",
                                                     "chord error: at most 0.05 mm", "two lines", "EOF"}));
}

TEST(WriteDxf, hostile_labels_do_not_break_the_file) {
  for (const DxfVersion version : {DxfVersion::r2000, DxfVersion::r12}) {
    for (const TextStyle style : {TextStyle::strokes, TextStyle::entities}) {
      Drawing drawing = square();
      std::string bytes;
      for (int i = 1; i < 256; ++i) bytes += static_cast<char>(i);
      for (const std::string& words :
           {std::string("x\n  0\nEOF\n"), std::string("\r\n  0\nENDSEC"), bytes, std::string(9000, 'W'),
            std::string("a\0b", 3), std::string("  "), std::string()}) {
        drawing.texts.push_back({Layer::label, {5, 5}, 2.0, 0.0, false, words});
      }
      DxfOptions options;
      options.version = version;
      options.text = style;
      const DxfFile file = file_of(dxf_of(drawing, options));
      EXPECT_TRUE(file.others.empty());
      EXPECT_EQ(on_layer(file, "CUT").size(), 1u);
      if (style == TextStyle::entities) {
        ASSERT_EQ(file.texts.size(), 5u);  // the two empty ones are left out
        EXPECT_EQ(file.texts[0].text, "x   0 EOF ");
        EXPECT_EQ(file.texts[4].text, "a b");
      }
    }
  }
}

TEST(WriteDxf, refuses_what_cannot_be_cut) {
  EXPECT_THROW(dxf_of({}), GeometryError);
  EXPECT_THROW(dxf_of(drawing_of({{Layer::cut, true, {{0, 0}, {k_nan, 1}, {2, 2}}}})), GeometryError);
  EXPECT_THROW(dxf_of(drawing_of({{Layer::cut, true, {{0, 0}, {1e308 * 10, 1}, {2, 2}}}})), GeometryError);
  DxfOptions options;
  options.cut_only = true;
  EXPECT_THROW(dxf_of(drawing_of({{Layer::mark, false, {{0, 0}, {1, 1}}}}), options), GeometryError);
}

struct CommaDecimals : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(WriteDxf, same_bytes_whatever_the_locale) {
  DxfOptions options;
  options.text = TextStyle::entities;
  const std::string expected = dxf_of(sample_drawing(), options);
  const std::string expected_svg = svg_of(sample_drawing());
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaDecimals));
  std::ostringstream probe;
  probe << 1234.5;
  EXPECT_EQ(probe.str(), "1.234,5");  // the locale does bite
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const std::string dxf = dxf_of(sample_drawing(), options);
  const std::string svg = svg_of(sample_drawing());
  const DxfFile file = file_of(dxf);
  std::setlocale(LC_ALL, "C");
  std::locale::global(before);
  EXPECT_EQ(dxf, expected);
  EXPECT_EQ(svg, expected_svg);
  EXPECT_NEAR(file.lines[2].points[2].y, 190.12345, 0.51e-4);
}

TEST(Layers, names_are_plain_and_found_again) {
  for (const Layer layer : k_all_layers) {
    const std::string name = layer_name(layer);
    EXPECT_EQ(name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_"), std::string::npos);
    EXPECT_EQ(layer_named(name), layer);
  }
  EXPECT_FALSE(layer_named("0").has_value());
  EXPECT_FALSE(layer_named("cut").has_value());
}

}  // namespace
}  // namespace linerwright
