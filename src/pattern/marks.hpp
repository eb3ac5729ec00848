// What a pen draws on a pattern, and the ordinates people measure with.
#pragma once

#include <optional>

#include "linerwright/pattern/pattern.hpp"
#include "outline.hpp"

namespace linerwright {

// On the flat development, before the pattern is laid down. Lines to which allowances are trimmed follow the
// cut policy.
void add_ordinates(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece);
void add_marks(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece,
               CutPolicy policy);

// What of these belongs to the piece's holes: ordinates of their edges, the first of them being numbered
// `first`, and ticks beside them within a region, the holes being those of the pattern from `first` on.
void add_hole_ordinates(Pattern& pattern, const Fitting& fitting, const Outliner& outliner,
                        const Piece& piece, std::optional<std::size_t> first = {});
void add_hole_marks(Pattern& pattern, const Fitting& fitting, const Outliner& outliner, const Piece& piece,
                    const Region& within, std::size_t first = 0);

// On the board, once laid down: a block of lines per piece inside its own part of the board, and the marks'
// names.
void add_labels(Pattern& pattern, const Fitting& fitting, const std::vector<int>& pieces,
                const std::vector<Region>& parts);

// Where fasteners go on a piece: share of the way around from its seam, and height on that ruling. Holes are
// not taken out.
struct FastenerPlace {
  double share, v;
};
std::vector<FastenerPlace> fastener_places(const Fitting& fitting, const Piece& piece);

// The stretches of a straight line that lie in the region.
std::vector<std::vector<Vec2>> inside_parts(Vec2 a, Vec2 b, const Region& region);

}  // namespace linerwright
