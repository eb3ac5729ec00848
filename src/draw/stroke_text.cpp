#include <algorithm>
#include <iterator>
#include <optional>

#include <fmt/format.h>

#include "linerwright/draw/draw.hpp"
#include "linerwright/draw/letters.hpp"
#include "stroke_font_data.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

constexpr char k_origin = 'R';
constexpr double k_baseline = 9.0;     // y of the foot of a capital, y down
constexpr double k_cap_height = 21.0;  // the font's units
constexpr char k_degree = 0x7F;        // the extra letter after the tilde

struct Spelling {
  char32_t code;
  const char* letters;
};
constexpr Spelling k_spellings[] = {
    {0xA0, " "},     {0xA9, "(c)"},   {0xAB, "\""},    {0xAD, "-"},     {0xAE, "(R)"},   {0xB0, "\x7f"},
    {0xB1, "+/-"},   {0xB2, "2"},     {0xB3, "3"},     {0xB4, "'"},     {0xB5, "u"},     {0xB7, "."},
    {0xB9, "1"},     {0xBA, "\x7f"},  {0xBB, "\""},    {0xBC, "1/4"},   {0xBD, "1/2"},   {0xBE, "3/4"},
    {0xC6, "AE"},    {0xD7, "x"},     {0xDE, "Th"},    {0xDF, "ss"},    {0xE6, "ae"},    {0xF7, "/"},
    {0xFE, "th"},    {0x132, "IJ"},   {0x133, "ij"},   {0x149, "'n"},   {0x152, "OE"},   {0x153, "oe"},
    {0x3BC, "u"},    {0x2002, " "},   {0x2003, " "},   {0x2009, " "},   {0x200B, ""},    {0x200E, ""},
    {0x200F, ""},    {0x2010, "-"},   {0x2011, "-"},   {0x2012, "-"},   {0x2013, "-"},   {0x2014, "-"},
    {0x2018, "'"},   {0x2019, "'"},   {0x201A, "'"},   {0x201C, "\""},  {0x201D, "\""},  {0x201E, "\""},
    {0x2022, "*"},   {0x2026, "..."}, {0x202F, " "},   {0x2032, "'"},   {0x2033, "\""},  {0x2044, "/"},
    {0x20AC, "EUR"}, {0x2116, "No"},  {0x215B, "1/8"}, {0x215C, "3/8"}, {0x215D, "5/8"}, {0x215E, "7/8"},
    {0x2190, "<-"},  {0x2192, "->"},  {0x2212, "-"},   {0x2248, "~"},   {0x2264, "<="},  {0x2265, ">="},
    {0x2300, "O"},   {0xFEFF, ""},
};

// Accented Latin letters without their accents, from U+00C0 and from U+0100; * stands where k_spellings knows
// better.
constexpr char k_latin_1[] = "AAAAAA*CEEEEIIIIDNOOOOO*OUUUUY**aaaaaa*ceeeeiiiidnooooo*ouuuuy*y";
constexpr char k_latin_a[] =
    "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIi**JjKkkLlLlLlLlLlNnNnNn*NnOoOoOo**"
    "RrRrRrSsSsSsSsTtTtTtUuUuUuUu"
    "UuUuWwYyYZzZzZzs";
static_assert(sizeof(k_latin_1) == 0x40 + 1 && sizeof(k_latin_a) == 0x80 + 1);
static_assert(std::size(k_stroke_letters) == k_degree - k_first_letter + 1);

}  // namespace

std::optional<std::string> spelling_of(char32_t code) {
  const auto known = std::find_if(std::begin(k_spellings), std::end(k_spellings),
                                  [&](const Spelling& s) { return s.code == code; });
  if (is_control_code(code)) return " ";
  if (code < 0x80) return std::string(1, static_cast<char>(code));
  if (known != std::end(k_spellings)) return known->letters;
  if (code >= 0xC0 && code < 0x100) return std::string(1, k_latin_1[code - 0xC0]);
  if (code >= 0x100 && code < 0x180) return std::string(1, k_latin_a[code - 0x100]);
  if (code >= 0x300 && code <= 0x36F) return "";  // accents that follow their letter are dropped
  return std::nullopt;
}

namespace {

// `text` spelled with the letters that the font has.
std::string spelled(std::string_view text) {
  std::string out;
  for (const char32_t code : repaired_code_points(text)) out += spelling_of(code).value_or("?");
  return out;
}

const char* letter(char c) {
  return k_stroke_letters[static_cast<unsigned char>(c) - static_cast<unsigned char>(k_first_letter)];
}

double advance(const char* letter_data) {
  return letter_data[1] - letter_data[0];
}

double width_in_font_units(const std::string& letters) {
  double width = 0.0;
  for (const char c : letters) width += advance(letter(c));
  return width;
}

}  // namespace

std::string pen_spelling(std::string_view text) {
  std::string out;
  for (const char32_t code : repaired_code_points(text)) {
    if (spelling_of(code))
      append_utf8(out, code);
    else
      out += fmt::format("<U+{:X}>", static_cast<unsigned long>(code));
  }
  return out;
}

double stroke_text_width(std::string_view text, double height) {
  return width_in_font_units(spelled(text)) * height / k_cap_height;
}

std::vector<Vec2> text_corners(const Text& text) {
  const Vec2 along{std::cos(text.angle), std::sin(text.angle)};
  const double width = stroke_text_width(text.text, text.height);
  const Vec2 start = text.at - (text.centred ? 0.5 * width : 0.0) * along;
  const Vec2 up = text.height * Vec2{-along.y, along.x};
  return {start, start + width * along, start + width * along + up, start + up};
}

std::vector<std::vector<Vec2>> stroke_text(const Text& text) {
  const std::string letters = spelled(text.text);
  const double size = text.height / k_cap_height;
  const Vec2 along = size * Vec2{std::cos(text.angle), std::sin(text.angle)};
  const Vec2 up{-along.y, along.x};
  double pen = text.centred ? -0.5 * width_in_font_units(letters) : 0.0;
  std::vector<std::vector<Vec2>> strokes;
  for (const char c : letters) {
    const char* data = letter(c);
    bool lifted = true;
    for (const char* pair = data + 2; *pair != '\0'; pair += 2) {
      if (pair[0] == ' ' && pair[1] == k_origin) {
        lifted = true;
        continue;
      }
      if (lifted) strokes.emplace_back();
      lifted = false;
      const double x = pen + (pair[0] - data[0]);
      const double y = k_baseline - (pair[1] - k_origin);
      strokes.back().push_back(text.at + x * along + y * up);
    }
    pen += advance(data);
  }
  return strokes;
}

}  // namespace linerwright
