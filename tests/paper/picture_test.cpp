// Pictures of patterns, PNG among them.
#include <gtest/gtest.h>

#include <algorithm>

#include "linerwright/paper/paper.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

const InkedGroup& group_of(const Picture& picture, const std::string& name) {
  for (const InkedGroup& group : picture)
    if (group.ink.name == name) return group;
  throw std::logic_error("no ink " + name);
}

// A straight length of 300 mm bare diameter unrolls to pi x 300 less the fit allowance by its length.
TEST(PatternPicture, StatesTheSizeOfTheBoard) {
  const Fitting fitting = support::fitting_from(
      "straight", {{"diameter", "300"}, {"length", "900"}, {"thickness", "25"}, {"fit_allowance", "20"}});
  const Picture picture = pattern_picture(make_patterns(fitting).front(), fitting);
  const auto& texts = group_of(picture, "dimension").texts;
  const auto says = [&](const std::string& what) {
    return std::any_of(texts.begin(), texts.end(), [&](const Text& text) { return text.text == what; });
  };
  EXPECT_TRUE(says("922.5 mm"));  // 942.48 - 20
  EXPECT_TRUE(says("900 mm"));
  EXPECT_EQ(texts.size(), 2U);
  EXPECT_FALSE(group_of(picture, "cut").lines.empty());
  EXPECT_FALSE(group_of(picture, "scale").lines.empty());
}

// The cut is painted over the faces' contours, which it follows in places.
TEST(PatternPicture, TheCutIsSeen) {
  const Fitting fitting = support::fitting_from(
      "elbow", {{"diameter", "300"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}});
  const Picture picture = pattern_picture(make_patterns(fitting).front(), fitting);
  const auto place = [&](const std::string& name) {
    return std::find_if(picture.begin(), picture.end(),
                        [&](const InkedGroup& group) { return group.ink.name == name; }) -
           picture.begin();
  };
  EXPECT_GT(place("cut"), place("duct-face"));
  EXPECT_GT(place("cut"), place("air-face"));
}

unsigned big_endian(const std::string& bytes, std::size_t at) {
  unsigned value = 0;
  for (std::size_t i = at; i < at + 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[i]);
  return value;
}

// PNG (ISO/IEC 15948, clause 11.2.2): signature of 8 bytes, then the IHDR chunk with width and height.
TEST(Png, HasTheSizeAskedFor) {
  const Picture picture{{{"a", "#000000", "#ffffff", 0.5, {}}, {{false, {{0, 0}, {200, 100}}}}, {}}};
  const std::string png = png_of(picture, 440, 10.0);
  EXPECT_EQ(png.substr(0, 8), "\x89PNG\r\n\x1a\n");
  EXPECT_EQ(big_endian(png, 16), 440U);  // 220 mm
  EXPECT_EQ(big_endian(png, 20), 240U);  // 120 mm
  EXPECT_EQ(png, png_of(picture, 440, 10.0));
  EXPECT_THROW(png_of(picture, 0), std::invalid_argument);
  EXPECT_THROW(png_of(picture, 100'000), std::invalid_argument);
  EXPECT_EQ(big_endian(png_of({}, 100, 10.0), 16), 100U);
}

}  // namespace
}  // namespace linerwright
