// The sheet in the installer's hand: what stands on it, in the order in which it stands. The page and the PDF
// show the same; every sentence and number follows from the fitting and its patterns.
#pragma once

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

// No letter on a sheet is smaller, points.
constexpr double k_least_letter = 7.0;

// At the foot of every sheet.
constexpr const char* k_shop_cautions =
    "Gloves, eye protection, a dust mask and long sleeves with fibrous board; cut away from the body, hands "
    "off the "
    "table while it runs. Sheet metal edges cut: file or cover them before reaching in. Local codes, the "
    "board maker's "
    "instructions and the licensed designer decide.";

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
  std::vector<std::string> notes;     // below them
  std::vector<std::string> cutting;
  std::vector<std::string> fitting;
  std::vector<std::pair<std::string, std::string>> answers;  // what an installer asks
  std::vector<ShopDrawing> patterns;
};

// What prints on letter paper and on A4, mm.
constexpr Vec2 k_shop_paper{210.0, 279.4};

// Patterns are make_patterns() of the fitting, `warnings` all that is told of it. The patterns are drawn as
// large as a sheet on one page of `paper` lets them be, those that are cut alike once.
ShopSheet shop_sheet(const Fitting& fitting, const std::vector<Pattern>& patterns,
                     const std::vector<std::string>& warnings, const SheetHead& head,
                     Vec2 paper = k_shop_paper);

// The sheet on pages of that size: one where it fits, a second when the first is full. The words are as large
// as that allows; no letter is smaller than k_least_letter. The job's name and date, where the head has them,
// stand at the upper right, at most so wide.
constexpr std::array<double, 3> k_shop_bodies{8.2, 7.6, k_least_letter};  // points, of the words
constexpr double k_job_width = 66.0;
std::vector<ShopDrawing> shop_pages(const ShopSheet& sheet, Vec2 paper);

// Whether one contour cuts both.
bool cut_alike(const Pattern& a, const Pattern& b);

// Mass of the board that a pattern is cut to, kg.
double cut_mass(const Fitting& fitting, const Pattern& pattern);
// What a pattern is called: its piece's name, or what the pieces of a blank are.
std::string pattern_name(const Fitting& fitting, const Pattern& pattern);

// Parts of it.
ShopDrawing side_view(const Fitting& fitting, Vec2 room);
std::vector<ShopDrawing> knife_sections(const Fitting& fitting, const std::vector<Pattern>& patterns);
// Patterns that are cut alike, the first of them drawn, no larger than `most` mm without words.
ShopDrawing pattern_drawing(const Fitting& fitting, const std::vector<const Pattern*>& alike, Vec2 most);
// Patterns to cut that one drawing shows: their contours, marks and sizes are the same.
std::vector<std::vector<const Pattern*>> drawn_once(const Fitting& fitting,
                                                    const std::vector<Pattern>& patterns);
// How wide a text is at most, mm.
double shop_text_width(const std::string& text, double points);

}  // namespace linerwright
