// One layer of liner at a time: a fitting with two is proved as two, each by what the request says of it.
#pragma once

#include <string>
#include <vector>

#include "linerwright/asked/asked.hpp"
#include "made.hpp"
#include "wall.hpp"

namespace linerwright::asked {

// What is there of one layer, its pieces, files and bodies under the names that a single layer's have.
struct Layer {
  MadeFitting made;
  Files files;
  std::vector<Body> bodies;
  double turned = 0.0;  // of its seams against the first layer's
  bool seams = true;    // they lie where the request alone says

  Wanted walls(Wanted wanted) const;  // their seams where this layer has them
};

// Whether a piece belongs to the second layer: its id begins with i.
bool is_of_second(const Request& request, const std::string& piece);
// The layers from the metal in. Throws Unreadable.
std::vector<Layer> layers_of(const MadeFitting& made, const Files& files, const std::vector<Body>& bodies);

}  // namespace linerwright::asked
