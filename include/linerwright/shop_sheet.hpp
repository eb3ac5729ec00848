// The sheet in the installer's hand: what stands on it, in the order in which it stands. The page and the PDF
// show the same; every sentence and number follows from the fitting and its patterns.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/bore_sheet.hpp"
#include "linerwright/fitting.hpp"
#include "linerwright/pattern.hpp"

namespace linerwright {

// No letter on a sheet is smaller, points.
constexpr double k_least_letter = 7.0;

enum class ShopAlign { left, middle, right };
// One line of text, its baseline at `at`.
struct ShopText {
  Vec2 at{};
  double points = k_least_letter;
  ShopAlign align = ShopAlign::middle;
  bool bold = false;
  std::string text;
};
// What a line stands for.
enum class ShopInk { cut, mark, dimension, air };
struct ShopLine {
  ShopInk ink = ShopInk::cut;
  bool closed = false;
  std::vector<Vec2> points;
};
// A drawing to be shown as large as it is: mm on the paper, from its lower left corner, y up.
struct ShopDrawing {
  std::string id;
  std::string title;  // above it
  std::string note;   // below the title
  Vec2 size{};
  std::vector<ShopLine> lines;
  std::vector<ShopText> texts;
};

struct ShopSheet {
  std::string tag;
  std::string what;   // "elbow, 2 to make"
  std::string sizes;  // "diameter 24 in, angle 90, pieces 5"
  SheetHead head;
  std::vector<std::pair<std::string, std::string>> figures;  // name and value
  std::vector<std::string> warnings;
  ShopDrawing view;                   // from the side: pieces, ends, the way of the air
  std::vector<ShopDrawing> sections;  // of the knife
  SheetTable pieces;                  // in the order in which they go in; the first column is the order
  std::vector<std::string> cutting;
  std::vector<std::string> fitting;
  std::vector<std::pair<std::string, std::string>> answers;  // what an installer asks
  std::vector<ShopDrawing> patterns;
};

// Patterns are make_patterns() of the fitting, `warnings` all that is told of it.
ShopSheet shop_sheet(const Fitting& fitting, const std::vector<Pattern>& patterns,
                     const std::vector<std::string>& warnings, const SheetHead& head);

// What is done before anything is cut, and what is held to while it is.
std::vector<std::string> cutting_steps(const Fitting& fitting);
// Mass of the board that a pattern is cut to, kg.
double cut_mass(const Fitting& fitting, const Pattern& pattern);
// What a pattern is called: its piece's name, or what the pieces of a blank are.
std::string pattern_name(const Fitting& fitting, const Pattern& pattern);

// Parts of it.
ShopDrawing side_view(const Fitting& fitting, Vec2 room);
std::vector<ShopDrawing> knife_sections(const Fitting& fitting, const std::vector<Pattern>& patterns);
// No wider than `width` mm.
ShopDrawing pattern_drawing(const Fitting& fitting, const Pattern& pattern, double width);
// How wide a text is at most, mm.
double shop_text_width(const std::string& text, double points);

}  // namespace linerwright
