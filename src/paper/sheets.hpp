// What stands on the sheets of a fitting's templates.
#pragma once

#include <string>
#include <vector>

#include "linerwright/paper/paper.hpp"
#include "tiles.hpp"

namespace linerwright {

// One pattern as it goes onto paper.
struct PaperPattern {
  const Pattern* pattern;
  Tiling tiling;
  Picture picture;    // in the tiling's coordinates
  std::string title;  // "RA-2 - 3"
  std::string facts;  // what it is, which face is up, how large
  std::string edges;  // which edge is which
};
// `alike`: more patterns that are cut the same. `half`: one half alone, where the other is its mirror image.
PaperPattern on_paper(const Fitting& fitting, const Pattern& pattern,
                      const std::vector<const Pattern*>& alike, const Paper& paper, bool half);

// A sheet's words, frame and square, mm from its lower left corner.
struct SheetPlan {
  Vec2 size{};
  Picture frame;
  // the part of the pattern that it shows, if any, and what moves it there
  Box window{};
  Vec2 shift{};
};
SheetPlan tile_sheet(const Fitting& fitting, const PaperPattern& pattern, const Tile& tile, int number,
                     int of);
SheetPlan map_sheet(const Fitting& fitting, const std::vector<PaperPattern>& patterns, const Paper& paper);

// A map of the sheets and all of them, as a PDF. Throws InputError where they are more than k_most_sheets.
std::string patterns_pdf(const Fitting& fitting, const std::vector<PaperPattern>& patterns,
                         const Paper& paper);

// Lines of words on a sheet, from the top down.
class Words {
 public:
  Words(Vec2 top_left, double width, double height) : at_(top_left), width_(width), height_(height) {}
  // Broken into lines that fit; a word that is too long makes its line smaller. `larger` times the height.
  void write(const std::string& text, double larger = 1.0);
  // One line, made smaller where it does not fit.
  void line(const std::string& text, double larger = 1.0);
  void skip(double lines) { at_.y -= lines * 1.7 * height_; }
  Vec2 at() const { return at_; }
  std::vector<Text> texts;

 private:
  Vec2 at_;
  double width_, height_;
};

// A square of 100 mm with its lower left corner at `low`, and rulers of 4 in beside it where the job is in
// inches; with all that belongs to it, it needs this much room.
void add_square(Picture& picture, Vec2 low, Units units);
Box square_room(Units units);

// Inks that print on white: words, frames, the square.
Ink word_ink();
Ink frame_ink();
Ink square_ink();

}  // namespace linerwright
