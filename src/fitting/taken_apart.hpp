// A fitting whose pieces give way to those of their divisions.
#pragma once

#include <string>
#include <vector>

#include "division.hpp"
#include "notched_division.hpp"

namespace linerwright {

// Gives a joint a corner on this ruling of one of its walls, where it has none there.
void add_split(Joint& joint, Side side, double theta);

class Apart {
 public:
  explicit Apart(Fitting& fitting);
  // Replaces a piece by those of its division.
  void take(std::size_t index, const Divider& divider, const Division& division);
  // The pieces of a notched blank, and a blank for each ring and panel.
  void take(const NotchedBlank& blank, const NotchedDivider& divider, const NotchedDivision& made);
  // Puts the new pieces in the places of the old ones and ties up what names pieces.
  void finish();

 private:
  // A notched blank, and which of their divisions' pieces its taper and collar are.
  struct Part {
    NotchedBlank blank;
    std::size_t taper, collar;
  };
  struct Replaced {
    std::size_t index;
    std::vector<Piece> pieces;
  };
  std::string name_of(const Wall& wall) const;
  std::vector<int> cut_rings(const Piece& piece, const Division& division,
                             const std::vector<std::vector<std::size_t>>& holes);
  void cut_panels(const Piece& piece, const Division& division, const std::vector<int>& rings);
  std::vector<std::string> beside(int wall_index) const;

  Fitting& fitting_;
  std::vector<std::string> names_;  // by wall
  std::vector<Replaced> replaced_;
  std::vector<Part> blanks_;
};

}  // namespace linerwright
