// Text that comes from people never becomes markup or script.
#include "html.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "packed.hpp"
#include "web_text.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace linerwright {
namespace {

TEST(Html, MarksOfMarkupAreNamed) {
  EXPECT_EQ(html_text("<b a='1' c=\"2\">&"), "&lt;b a=&#39;1&#39; c=&quot;2&quot;&gt;&amp;");
}

TEST(Html, TextInAnyScriptStaysAsWritten) {
  const std::string text = "b\u00f6gen \u05e9\u05dc\u05d5\u05dd \u6f22\u5b57 1/2\u2033";
  EXPECT_EQ(html_text(text), text);
  EXPECT_EQ(html_name(text), "<bdi>" + text + "</bdi>");
}

TEST(Html, ControlsOverridesAndBrokenBytesShowAsReplacement) {
  EXPECT_EQ(html_text(std::string("a\0b", 3)), "a\uFFFDb");
  EXPECT_EQ(html_text("a\x1b[31m"), "a\uFFFD[31m");
  EXPECT_EQ(html_text("gpj.\u202eexe"), "gpj.\uFFFDexe");  // would turn the rest around
  EXPECT_EQ(html_text("\xff\xc3"), "\uFFFD\uFFFD");
}

// RFC 4648, section 10, and the head and length that RFC 1952 states.
TEST(Html, NumbersKeepFractionAndUnitOnTheirLine) {
  EXPECT_EQ(html_size("24 in to 20 1/2 in"), "24\u00a0in to 20\u00a01/2\u00a0in");
  EXPECT_EQ(html_size("600 x 400 mm to 315 mm"), "600 x 400\u00a0mm to 315\u00a0mm");
  EXPECT_EQ(html_size("24 / 12 in <"), "24 / 12\u00a0in &lt;");
  EXPECT_EQ(html_size(""), "");
}

TEST(Html, WhatPagesCarryPacked) {
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
  for (const std::string bytes : {"", "f", "fo", "foo", "foob", "\xff\x80z\x01"})
    EXPECT_EQ(from_base64(base64(bytes)), bytes);
  EXPECT_THROW(from_base64("Zg="), std::invalid_argument);
  EXPECT_THROW(from_base64("Z<=="), std::invalid_argument);
  const std::string data = "</script><!-- " + std::string(5000, 'x');
  const std::string packed = gzipped(data);
  EXPECT_EQ(packed.substr(0, 8), std::string("\x1f\x8b\x08\0\0\0\0\0", 8));
  EXPECT_LT(packed.size(), 100u);
  EXPECT_EQ(static_cast<unsigned char>(packed[packed.size() - 4]), data.size() % 256);
  EXPECT_EQ(static_cast<unsigned char>(packed[packed.size() - 3]), data.size() / 256);
  EXPECT_EQ(gzipped(data), packed);
}

// The test case of ZeroMQ's RFC 32 (there small letters stand before capitals), "Man " and the full stop that
// ends the worked example of Ascii85 (both from memory): the same digits' values.
TEST(Html, BytesInDigitsOfBase85) {
  EXPECT_EQ(base85("\x86\x4F\xD2\x6F\xB5\x59\xF7\x5B"), "hELLOwORLD");
  EXPECT_EQ(base85("Man "), "O;_]z");
  EXPECT_EQ(base85("."), "E)");
  EXPECT_EQ(base85(""), "");
  EXPECT_EQ(base85("\xff\xff\xff\xff"), "|NsC0");
  EXPECT_EQ(k_base85_digits.size(), 85u);
  EXPECT_EQ(k_base85_digits.find_first_of("<>&\"'\\/`$ "), std::string_view::npos);
  EXPECT_EQ(packed_element("scene", "Man "), "<script type=\"text/plain\" id=\"scene\">O;_]z</script>\n");
}

TEST(Html, ValuesOfATemplateAreNotTemplates) {
  EXPECT_EQ(filled("a {{x}} b {{y}}", {{"x", "{{y}}"}, {"y", "2"}}), "a {{y}} b 2");
  EXPECT_THROW(filled("{{z}}", {{"x", ""}}), std::logic_error);
}

TEST(Html, TablesKeepWordsAndNumbersApart) {
  const std::string out = html_of(HtmlTable{{}, {"name", "value"}, 1, {{"a", "1"}}});
  EXPECT_NE(out.find("<table class=\"words-1\">"), std::string::npos) << out;
  EXPECT_NE(out.find("<td>a</td><td>1</td>"), std::string::npos) << out;
  // the columns behind the words stand to the right, however many words a table has
  for (int words = 0; words <= 6; ++words)
    EXPECT_NE(web_text("page.css").find(".words-" + std::to_string(words) + " "), std::string_view::npos)
        << words;
}

}  // namespace
}  // namespace linerwright
