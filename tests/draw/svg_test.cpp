#include <gtest/gtest.h>

#include <limits>

#include "helpers.hpp"

namespace linerwright {
namespace {

bool holds(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

TEST(Svg, is_to_scale_with_y_turned) {
  SvgOptions options;
  options.margin = 5.0;
  const std::string svg =
      svg_of(drawing_of({{Layer::cut, true, {{-10, 20}, {90, 20}, {90, 70.5}}}}), options);
  EXPECT_TRUE(holds(svg, "width=\"110mm\" height=\"60.5mm\" viewBox=\"0 0 110 60.5\"")) << svg;
  EXPECT_TRUE(holds(svg, "<g class=\"cut\">\n<path d=\"M5 55.5L105 55.5L105 5Z\"/>\n</g>")) << svg;
}

TEST(Svg, has_a_class_per_layer_and_colours_for_both_schemes) {
  const std::string svg = svg_of(sample_drawing());
  for (const char* name : {"cut", "duct-face", "air-face", "mark", "label", "scale", "stock"}) {
    EXPECT_TRUE(holds(svg, std::string("<g class=\"") + name + "\">")) << name;
    EXPECT_TRUE(holds(svg.substr(svg.find("prefers-color-scheme: dark")), std::string(".") + name + " path"))
        << name;
  }
  EXPECT_FALSE(holds(svg, "url("));
  EXPECT_FALSE(holds(svg, "href"));
  EXPECT_FALSE(holds(svg, "@import"));
}

TEST(Svg, hidden_layers_are_left_out) {
  SvgOptions options;
  options.hidden = {Layer::stock};
  const std::string svg = svg_of(sample_drawing(), options);
  EXPECT_FALSE(holds(svg, "stock"));
  EXPECT_FALSE(holds(svg, "2460mm"));
  EXPECT_TRUE(holds(svg_of(sample_drawing()), "height=\"2460mm\""));
}

TEST(Svg, escapes_text_and_keeps_what_was_written) {
  Drawing drawing;
  const auto shown = [&](const std::string& words) {
    drawing.texts = {{Layer::label, {0, 0}, 10.0, 0.0, false, words}};
    const std::string svg = svg_of(drawing);
    const std::size_t start = svg.find('>', svg.find("<text x=")) + 1;
    return svg.substr(start, svg.find("</text>") - start);
  };
  EXPECT_EQ(shown("a<b>&\"'</text>"), "a&lt;b&gt;&amp;&quot;&#39;&lt;/text&gt;");
  EXPECT_EQ(shown("\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D 5"), "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D 5");
  EXPECT_EQ(shown(std::string("a\0b\n\x1b", 5)), "a b  ");
  EXPECT_EQ(shown("\xFF"), "\xEF\xBF\xBD");
  EXPECT_EQ(shown("\xEF\xBF\xBE"), "\xEF\xBF\xBD");  // U+FFFE is forbidden by XML 1.0, section 2.2
}

TEST(Svg, turns_and_centres_text) {
  Drawing drawing;
  drawing.texts = {{Layer::label, {50, 50}, 7.2, k_pi / 2.0, true, "up"}};
  const std::string svg = svg_of(drawing);
  EXPECT_TRUE(holds(svg, "font-size=\"10\" text-anchor=\"middle\" transform=\"rotate(-90 ")) << svg;
}

TEST(Svg, title_is_escaped_and_optional) {
  SvgOptions options;
  EXPECT_FALSE(holds(svg_of(sample_drawing(), options), "<title>"));
  options.title = "A & B";
  EXPECT_TRUE(holds(svg_of(sample_drawing(), options), "<title>A &amp; B</title>"));
}

TEST(Svg, refuses_numbers_that_are_not_finite) {
  EXPECT_THROW(
      svg_of(drawing_of({{Layer::cut, true, {{0, 0}, {std::numeric_limits<double>::quiet_NaN(), 1}}}})),
      GeometryError);
  EXPECT_TRUE(holds(svg_of(Drawing{}), "viewBox=\"0 0 20 20\""));
}

}  // namespace
}  // namespace linerwright
