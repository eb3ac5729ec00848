// Labels where a pattern lies on a board.
#include <gtest/gtest.h>

#include <algorithm>

#include "linerwright/draw/draw.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

// Of this blank, turned end for end, a label had room at one place and none a rounding beside it: wherever it
// lies, the labels are the same, moved.
TEST(Labels, DoNotHangOnTheLastDigitsOfAPlace) {
  const Fitting fitting = support::fitting_from("elbow", {{"diameter", "300"},
                                                          {"angle", "90"},
                                                          {"pieces", "4"},
                                                          {"radius_ratio", "0.9"},
                                                          {"collar", "60"},
                                                          {"hold_back_start", "35"},
                                                          {"thickness", "25"},
                                                          {"seam", "heel"},
                                                          {"cut", "duct"},
                                                          {"pins_above", "250"}});
  for (const Pattern& own : make_patterns(fitting))
    for (const bool turned : {false, true}) {
      Pattern still, moved;
      const Vec2 shift{1124.0161375, 645.4299996};
      place_labels_of(still, own, turned, {}, "  1/3");
      place_labels_of(moved, own, turned, shift, "  1/3");
      ASSERT_FALSE(still.labels.empty()) << own.id;
      ASSERT_EQ(still.labels.size(), moved.labels.size()) << own.id;
      for (std::size_t i = 0; i < still.labels.size(); ++i) {
        EXPECT_EQ(still.labels[i].text, moved.labels[i].text);
        EXPECT_EQ(still.labels[i].height, moved.labels[i].height);
        EXPECT_LT(distance(still.labels[i].at + shift, moved.labels[i].at), 1e-9);
      }
      ASSERT_EQ(still.label_lines.size(), moved.label_lines.size());
      const auto named = [&](const Text& text) {
        return text.text.find("/" + still.label_blocks[0].piece + "  1/3") != std::string::npos;
      };
      EXPECT_TRUE(std::any_of(still.labels.begin(), still.labels.end(), named)) << own.id;
    }
}

}  // namespace
}  // namespace linerwright
