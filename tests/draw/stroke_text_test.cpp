#include <gtest/gtest.h>

#include "helpers.hpp"

namespace linerwright {
namespace {

Text text_of(std::string words, double height = 21.0) {
  Text text;
  text.text = std::move(words);
  text.height = height;
  return text;
}

Box box_of(const Text& text) {
  std::vector<Vec2> all;
  for (const auto& stroke : stroke_text(text)) all.insert(all.end(), stroke.begin(), stroke.end());
  const std::optional<Box> box = bounding_box(all);
  if (!box) throw std::logic_error("no strokes");
  return *box;
}

// The strokes as plain pairs, to compare.
std::vector<std::vector<std::pair<double, double>>> pairs(const Text& text) {
  std::vector<std::vector<std::pair<double, double>>> all;
  for (const auto& stroke : stroke_text(text)) {
    all.emplace_back();
    for (const Vec2 p : stroke) all.back().emplace_back(p.x, p.y);
  }
  return all;
}

// The Hershey letter H is 22 units wide: two uprights 14 apart and 21 tall, 4 units in, with a bar at 11.
TEST(StrokeText, draws_a_letter_as_the_font_has_it) {
  const std::vector<std::vector<std::pair<double, double>>> expected{
      {{4, 21}, {4, 0}}, {{18, 21}, {18, 0}}, {{4, 11}, {18, 11}}};
  EXPECT_EQ(pairs(text_of("H")), expected);
  EXPECT_DOUBLE_EQ(stroke_text_width("H", 21.0), 22.0);
  EXPECT_DOUBLE_EQ(stroke_text_width("HH", 10.5), 22.0);
}

TEST(StrokeText, capitals_have_the_height_asked_for) {
  for (const double height : {2.5, 8.0, 100.0}) {
    const Box box = box_of(text_of("EHIT", height));
    EXPECT_NEAR(box.high.y - box.low.y, height, 1e-9);
    EXPECT_NEAR(box.low.y, 0.0, 1e-9);
  }
}

TEST(StrokeText, is_placed_centred_and_turned) {
  Text text = text_of("HH");
  text.at = {100.0, 50.0};
  EXPECT_NEAR(box_of(text).low.x, 104.0, 1e-9);
  text.centred = true;
  EXPECT_NEAR(box_of(text).low.x, 100.0 - 22.0 + 4.0, 1e-9);
  EXPECT_NEAR(box_of(text).high.x, 100.0 + 22.0 - 4.0, 1e-9);
  text.angle = k_pi / 2.0;  // the letters now rise to the left
  EXPECT_NEAR(box_of(text).low.x, 100.0 - 21.0, 1e-9);
  EXPECT_NEAR(box_of(text).low.y, 50.0 - 22.0 + 4.0, 1e-9);
}

TEST(StrokeText, corners_hold_the_strokes_of_capitals) {
  Text text = text_of("E-1 GORE 3/5", 8.0);
  text.at = {10.0, 20.0};
  text.angle = 0.3;
  text.centred = true;
  const std::vector<Vec2> corners = text_corners(text);
  ASSERT_EQ(corners.size(), 4u);
  EXPECT_NEAR(signed_area(corners), 8.0 * stroke_text_width(text.text, 8.0), 1e-9);
  Text plain = text;
  plain.text = "EHT";
  const std::vector<Vec2> tight = text_corners(plain);
  int points = 0;
  for (const auto& stroke : stroke_text(plain)) {
    for (const Vec2 p : stroke) {
      const Vec2 inward = 1e-9 * (text.at + Vec2{0.0, 4.0} - p);
      EXPECT_TRUE(point_in_polygon(p + inward, tight));
      ++points;
    }
  }
  EXPECT_GT(points, 10);
}

TEST(StrokeText, spells_what_the_font_lacks) {
  EXPECT_EQ(pairs(text_of("\xC3\xA9")), pairs(text_of("e")));
  EXPECT_EQ(pairs(text_of("e\xCC\x81")), pairs(text_of("e")));  // accent after its letter
  EXPECT_EQ(pairs(text_of("\xC3\x97")), pairs(text_of("x")));
  EXPECT_EQ(pairs(text_of("\xC3\x9F\xC5\x81\xC5\xBE")), pairs(text_of("ssLz")));
  EXPECT_EQ(pairs(text_of("\xC2\xBD")), pairs(text_of("1/2")));
  EXPECT_EQ(pairs(text_of("\xE2\x80\x9C\xE2\x80\x93")), pairs(text_of("\"-")));
  EXPECT_EQ(pairs(text_of("\xD7\xA9")), pairs(text_of("?")));
  EXPECT_EQ(pairs(text_of("\xFF")), pairs(text_of("?")));
  EXPECT_EQ(pairs(text_of("a\nb")), pairs(text_of("a b")));
}

TEST(StrokeText, degree_sign_is_a_small_ring_at_the_top) {
  const auto strokes = stroke_text(text_of("\xC2\xB0"));
  ASSERT_EQ(strokes.size(), 1u);
  EXPECT_TRUE(strokes[0].front() == strokes[0].back());
  const Box box = box_of(text_of("\xC2\xB0"));
  EXPECT_DOUBLE_EQ(box.high.y, 21.0);
  EXPECT_DOUBLE_EQ(box.low.y, 15.0);
}

TEST(StrokeText, any_bytes_are_drawn_within_their_width) {
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  const Text text = text_of(all);
  const Box box = box_of(text);
  EXPECT_GE(box.low.x, -1e-9);
  EXPECT_LE(box.high.x, stroke_text_width(all, 21.0) + 1e-9);
  EXPECT_GT(stroke_text(text).size(), 95u);
  EXPECT_TRUE(stroke_text(text_of("")).empty());
  EXPECT_EQ(stroke_text_width("", 10.0), 0.0);
}

// What the pen cannot draw keeps its number, so that two tags never look alike.
TEST(StrokeText, LettersThatThePenLacksAreSpelledByNumber) {
  EXPECT_EQ(pen_spelling("R-1 <a>"), "R-1 <a>");
  EXPECT_EQ(pen_spelling("\xC3\xA9t\xC3\xA9 90\xC2\xB0"), "\xC3\xA9t\xC3\xA9 90\xC2\xB0");
  EXPECT_EQ(pen_spelling("\xD7\xA9\xD7\x9C 5"), "<U+5E9><U+5DC> 5");
  EXPECT_EQ(pen_spelling("\xF0\x9F\x94\xA7"), "<U+1F527>");
  EXPECT_EQ(pen_spelling("\xFF"), "<U+FFFD>");
}

}  // namespace
}  // namespace linerwright
