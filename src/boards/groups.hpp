// Which pieces may share a board, and the stock that is for them.
#pragma once

#include <optional>
#include <tuple>
#include <vector>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

// Thickness, density, the face that is up, the layer of liner.
using Group = std::tuple<double, double, Face, int>;

inline Group group_of(const BoardPart& part) {
  return {part.thickness, part.density, part.face_up, part.layer};
}

// Whether pieces of a liner may be cut from the stock.
bool is_for(const BoardStock& stock, double thickness, double density);
// The stock for a group as the nest takes it; `stocks` are its indices. Money and square metres do not
// add up: all new stock has a price, or none counts. `left`, by stock: how many boards there are still. A
// remnant costs nothing.
std::vector<NestBoard> boards_for(const std::vector<BoardStock>& stock, const Group& group,
                                  const std::vector<std::optional<int>>& left,
                                  std::vector<std::size_t>& stocks);

// Of the whole board or roll: its area in m2 where no price counts.
double cost_of(const NestBoard& board);
// What a board stands for where seams are weighed against boards: the dearest, or a square of a roll.
double board_cost(const std::vector<NestBoard>& boards);

// The box of the part's cut.
Vec2 size_of(const BoardPart& part);
// The part as the nest takes it.
NestPart nest_part(const BoardPart& part);

// Parts that may share boards, and these boards, as the nest takes them.
NestJob nest_job(const std::vector<const BoardPart*>& parts, std::vector<NestBoard> boards, double gap,
                 const BoardOptions& options);

// The largest gap that a stock asks for, or the one that the options ask for instead.
double gap_of(const std::vector<BoardStock>& stock, const BoardOptions& options);

}  // namespace linerwright
