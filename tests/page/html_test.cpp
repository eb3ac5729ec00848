// Text that comes from people never becomes markup or script.
#include "html.hpp"

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

TEST(Html, JsonCannotEndItsScript) {
  const std::string out = json_for_script("{\"tag\": \"</script><!--&\u2028\u2029\"}");
  EXPECT_EQ(out, "{\"tag\": \"\\u003c/script\\u003e\\u003c!--\\u0026\\u2028\\u2029\"}");
}

TEST(Html, ValuesOfATemplateAreNotTemplates) {
  EXPECT_EQ(filled("a {{x}} b {{y}}", {{"x", "{{y}}"}, {"y", "2"}}), "a {{y}} b 2");
  EXPECT_THROW(filled("{{z}}", {{"x", ""}}), std::logic_error);
}

TEST(Html, TablesKeepWordsAndNumbersApart) {
  const std::string out = html_of(HtmlTable{{}, {"name", "value"}, 1, {{"a", "1"}}});
  EXPECT_NE(out.find("<td>a</td><td class=\"number\">1</td>"), std::string::npos) << out;
}

}  // namespace
}  // namespace linerwright
