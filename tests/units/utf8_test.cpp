// UTF-8 against RFC 3629 and the marks that must not reach a label or a terminal.
#include "linerwright/units/utf8.hpp"

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
  for (const unsigned code :
       {0x00u,   0x1Fu,   0x7Fu,   0x9Fu,   0xADu,   0x61Cu,  0x200Bu, 0x200Eu,  0x200Fu,   0x2028u,
        0x202Eu, 0x2060u, 0x2066u, 0x2069u, 0xFEFFu, 0xFFFEu, 0xFFFFu, 0x1FFFEu, 0x10FFFFu, 0xE0041u}) {
    EXPECT_TRUE(is_control(code)) << std::hex << code;
  }
  for (const unsigned code :
       {0x20u, 0x7Eu, 0xA0u, 0xE9u, 0x5D0u, 0x200Cu, 0x200Du, 0x2010u, 0x2033u, 0x5F2Fu, 0xFFFDu, 0x1F527u}) {
    EXPECT_FALSE(is_control(code)) << std::hex << code;
  }
}

}  // namespace
}  // namespace linerwright
