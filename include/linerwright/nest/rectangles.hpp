// Rectangles on boards, packed fast enough to be asked thousands of times: what a search for the division of
// large pieces rests on, and a start for the nest. Lengths are millimetres; rectangles are never turned.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright {

// Least share of its box that a piece fills to be packed as its box.
constexpr double k_nearly_rectangle = 0.95;

// One kind of stock, as the room that it offers to pieces.
struct RectangleStock {
  Vec2 room;
  std::optional<int> quantity;  // unlimited when not given
  double cost = 1.0;            // of the board, or of the whole roll
  bool roll = false;            // cut off where the last rectangle ends
};

// A board that other pieces lie on already, and what they leave free.
struct BegunBoard {
  std::size_t stock = 0;
  std::vector<Box> free;
};

struct RectanglePacking {
  struct Place {
    std::size_t board;
    Vec2 low;
  };
  std::vector<std::size_t> stock;            // of each board, the begun ones first
  std::vector<std::optional<Place>> places;  // of each rectangle; none: no board was left for it
  std::size_t unplaced = 0;
  double cost = 0.0;   // of all boards that are begun or taken
  double spare = 0.0;  // the dearest room that is left in one piece: its board's cost times its share
};

// Whether one packing is better: more placed, then the lower cost, then the larger offcut.
bool better(const RectanglePacking& a, const RectanglePacking& b);

// How many ways of packing are tried at most, in a fixed order from the most promising on.
constexpr int k_all_packings = 27;

// The best packing of `tries` ways: each puts the rectangles in one of three orders where they fit one of
// three rules best, and takes new boards by one of three rules.
RectanglePacking pack_rectangles(const std::vector<Vec2>& sizes, const std::vector<RectangleStock>& stock,
                                 const std::vector<BegunBoard>& begun, int tries = k_all_packings);

}  // namespace linerwright
