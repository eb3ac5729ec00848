// UTF-8 against RFC 3629 and the marks that must not reach a label or a terminal.
#include "linerwright/utf8.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace linerwright {
namespace {

// RFC 3629, section 4 (syntax of UTF-8): the first and last code point of each length and beside the
// surrogates.
TEST(Utf8, EndsOfEachLength) {
  const std::vector<std::pair<std::string, char32_t>> rows = {
      {std::string(1, '\0'), 0},
      {"\x7F", 0x7F},
      {"\xC2\x80", 0x80},
      {"\xDF\xBF", 0x7FF},
      {"\xE0\xA0\x80", 0x800},
      {"\xED\x9F\xBF", 0xD7FF},
      {"\xEE\x80\x80", 0xE000},
      {"\xEF\xBF\xBF", 0xFFFF},
      {"\xF0\x90\x80\x80", 0x10000},
      {"\xF4\x8F\xBF\xBF", 0x10FFFF},
  };
  for (const auto& [text, code] : rows) {
    const CodePoint found = first_code_point(text + "a");
    EXPECT_EQ(found.code, code);
    EXPECT_EQ(found.bytes, text.size());
  }
}

TEST(Utf8, WhatIsNone) {
  for (const std::string text :
       {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2",
        "\xC2"
        "a",
        "\xE0\x80\x80", "\xE0\x9F\xBF", "\xE2\x82", "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x8F\xBF\xBF",
        "\xF0\x90\x80", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFE", "\xFF"}) {
    EXPECT_EQ(first_code_point(text).bytes, 0u) << text;
  }
}

// A sample of both sorts; the categories are from memory of the Unicode Standard.
TEST(Utf8, Controls) {
  for (const char32_t code :
       {0x00,   0x1F,   0x7F,   0x9F,   0xAD,   0x61C,  0x200B, 0x200E,  0x200F,   0x2028,
        0x202E, 0x2060, 0x2066, 0x2069, 0xFEFF, 0xFFFE, 0xFFFF, 0x1FFFE, 0x10FFFF, 0xE0041}) {
    EXPECT_TRUE(is_control(code)) << std::hex << static_cast<unsigned>(code);
  }
  for (const char32_t code :
       {0x20, 0x7E, 0xA0, 0xE9, 0x5D0, 0x200C, 0x200D, 0x2010, 0x2033, 0x5F2F, 0xFFFD, 0x1F527}) {
    EXPECT_FALSE(is_control(code)) << std::hex << static_cast<unsigned>(code);
  }
}

}  // namespace
}  // namespace linerwright
