#include "text_codes.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

TEST(CodePoints, decode_valid_utf8_and_mark_the_rest) {
  EXPECT_EQ(repaired_code_points("a\xC2\xB0\xE2\x89\xA4\xF0\x9F\x98\x80"),
            (std::vector<char32_t>{'a', 0xB0, 0x2264, 0x1F600}));
  // Overlong, surrogate, beyond the last code point, stray continuation, cut short: byte by byte (RFC 3629,
  // section 3).
  for (const char* bad : {"\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\x80", "\xE2\x82"}) {
    EXPECT_EQ(repaired_code_points(bad), std::vector<char32_t>(std::string_view(bad).size(), k_replacement))
        << bad;
    EXPECT_FALSE(is_utf8(bad));
  }
  EXPECT_TRUE(is_utf8("22.5\xC2\xB0"));
}

TEST(DxfText, escapes_stay_one_ascii_line) {
  EXPECT_EQ(dxf_escaped("22.5\xC2\xB0"), "22.5\\U+00B0");
  EXPECT_EQ(dxf_escaped("a\nb\rc\td\x7f"), "a b c d ");
  EXPECT_EQ(dxf_escaped("%%d"), "%%%%%%d");
  EXPECT_EQ(dxf_escaped("60 % faced"), "60 % faced");
  EXPECT_EQ(dxf_escaped("a^b"), "a^ b");
  EXPECT_EQ(dxf_escaped("\\U+0041"), "\\U+005CU+0041");
  EXPECT_EQ(dxf_escaped("C:\\dir"), "C:\\dir");
  EXPECT_EQ(dxf_escaped("\xF0\x9F\x98\x80"), "?");
}

TEST(DxfText, what_is_escaped_comes_back) {
  for (const char* text :
       {"22.5\xC2\xB0 \xC3\x97 2", "%%d %%% 100%%", "^I ^ ^", "\\U+0041 \\M+1",
        "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D", "plain", "100%", "%", "\\", "\xE2\x89\xA4 5"}) {
    EXPECT_EQ(dxf_unescaped(dxf_escaped(text)), text);
  }
}

TEST(DxfText, reads_the_codes_of_other_writers) {
  EXPECT_EQ(dxf_unescaped("90%%d %%P2 %%c300 %%176 %%uunder%%u"),
            "90\xC2\xB0 \xC2\xB1"
            "2 \xC3\x98"
            "300 \xC2\xB0 under");
  EXPECT_EQ(dxf_unescaped("\xB0"), "\xC2\xB0");          // a file in Latin-1
  EXPECT_EQ(dxf_unescaped("\xC2\xB0"), "\xC2\xB0");      // a file in UTF-8
  EXPECT_EQ(dxf_unescaped("\\U+D800"), "\xEF\xBF\xBD");  // half a surrogate pair
  EXPECT_EQ(dxf_unescaped("%%"), "%%");
  EXPECT_EQ(dxf_unescaped("\\U+00"), "\\U+00");
  EXPECT_EQ(dxf_unescaped("\\U+-012"), "\\U+-012");
}

TEST(DxfText, any_bytes_become_one_short_printable_line) {
  std::string all;
  for (int i = 0; i < 256 * 8; ++i) all += static_cast<char>((i * 7) & 0xFF);
  const std::string escaped = dxf_escaped(all);
  EXPECT_LE(escaped.size(), 255u);  // the longest string of an R12 file (from memory)
  EXPECT_GE(escaped.size(), k_longest_dxf_text);
  for (const char c : escaped) EXPECT_TRUE(c >= ' ' && c <= '~');
}

}  // namespace
}  // namespace linerwright
