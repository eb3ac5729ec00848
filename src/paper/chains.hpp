// From the short lines that a view is made of to lines worth drawing.
#pragma once

#include <vector>

#include "linerwright/paper/paper.hpp"

namespace linerwright {

// Short lines joined where exactly two ends meet, equals dropped, needless points thinned out.
std::vector<InkedLine> joined_lines(const SeenLines& lines);
// Of lines that run beside a longer one, closer than can be told apart, only the longer: the two edges of a
// sheet of metal.
std::vector<InkedLine> without_twins(std::vector<InkedLine> lines);

}  // namespace linerwright
