// Lines and letters of a shop drawing, letters kept clear of each other.
#pragma once

#include <string>
#include <vector>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

class Sketch {
 public:
  explicit Sketch(ShopDrawing& drawing) : drawing_(drawing) {}

  void line(ShopInk ink, std::vector<Vec2> points, bool closed = false);
  // Points that lie on the way between their neighbours to within a hair are left out.
  void curve(ShopInk ink, const std::vector<Vec2>& points, bool closed);
  void arrow(ShopInk ink, Vec2 from, Vec2 to, double head);
  // A dimension line with ticks and its words in the middle above it, or beside it where it stands upright.
  void dimension(Vec2 from, Vec2 to, const std::string& words);
  void text(Vec2 at, const std::string& words, double points = k_least_letter,
            ShopAlign align = ShopAlign::middle, bool bold = false);
  // The same unless it would cover letters that are there; whether it was written.
  bool text_if_free(Vec2 at, const std::string& words, double points = k_least_letter,
                    ShopAlign align = ShopAlign::middle, bool bold = false);
  bool is_free(const Box& box) const;

 private:
  ShopDrawing& drawing_;
  std::vector<Box> taken_;
};

// From a piece's seam to a ruling, less than a turn.
double turn_to(const Piece& piece, double theta);

// Around a text as it is written.
Box box_of(const ShopText& text);

}  // namespace linerwright
