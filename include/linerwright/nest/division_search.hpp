// How to divide pieces that are larger than their board so that fewest boards are cut. Such a piece is a
// rectangle of fixed width around the duct whose length may be shared among rings of any height, each in
// equal panels; the search moves heights and panels and packs what comes of them. Lengths are millimetres.
#pragma once

#include <cstdint>
#include <vector>

#include "linerwright/nest/rectangles.hpp"

namespace linerwright {

struct RingChoice {
  double height = 0.0;  // along the duct, without allowances
  int panels = 1;
};
using DivisionChoice = std::vector<RingChoice>;

// What a hole takes of a piece: no ring ends between these heights, counted from the first end on, and the
// ring that holds it comes in one panel or in panels no narrower than `panel`.
struct HeldStretch {
  double low = 0.0, high = 0.0, panel = 0.0;
};

// One piece that may be divided, and how many are cut of it, all alike.
struct DivisibleItem {
  double length = 0.0;  // the sum of its rings
  double around = 0.0;  // on the board
  long count = 1;
  double least = 0.0;       // no ring is lower and no panel narrower
  double end_extra = 0.0;   // board beyond either end
  double butt_extra = 0.0;  // board beyond each side of a joint between rings
  DivisionChoice today;     // as it is divided without a search
  std::vector<HeldStretch> held{};
};

struct DivisionSearch {
  std::vector<DivisibleItem> items;
  std::vector<Vec2> fixed;  // rectangles that stay as they are
  std::vector<RectangleStock> stock;
  std::vector<BegunBoard> begun;  // boards of pieces that are no rectangles
  double gap = 0.0;               // between pieces: stock and free room are as much larger
  double seam_cost = 0.0;         // of a metre of seam that today's division does not have
  double effort = 1.0;            // of the search; 0: today's division and some plain ones
  std::uint64_t seed = 1;
};

struct DivisionFound {
  std::vector<DivisionChoice> choices;  // by item
  RectanglePacking packing;             // of them all
  double seams = 0.0;                   // metres more than today
  RectanglePacking today;
};

// Never worse than today's division, seams counted. The same search gives the same division on any machine.
DivisionFound search_division(const DivisionSearch& search);

}  // namespace linerwright
