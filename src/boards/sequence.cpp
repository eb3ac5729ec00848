#include "sequence.hpp"

#include <algorithm>
#include <set>
#include <tuple>

namespace linerwright {

namespace {

// Pieces of each fitting that lie on each board.
std::vector<std::map<std::string, long>> pieces_on(const std::vector<BoardPart>& parts,
                                                   const std::vector<Nested>& nests) {
  std::vector<std::map<std::string, long>> on;
  for (const Nested& nested : nests) {
    const std::size_t first = on.size();
    on.resize(first + nested.result.boards.size());
    for (const NestedPiece& piece : nested.result.placements)
      ++on[first + piece.board][parts[nested.parts[piece.part]].tag];
  }
  return on;
}

}  // namespace

Sequence sequence_by_fitting(const std::vector<BoardPart>& parts, const std::vector<Nested>& nests) {
  const std::vector<std::map<std::string, long>> on = pieces_on(parts, nests);
  std::map<std::string, long> left;
  for (const auto& board : on)
    for (const auto& [tag, count] : board) left[tag] += count;
  Sequence sequence;
  sequence.ranks.resize(on.size());
  std::set<std::size_t> waiting;
  for (std::size_t b = 0; b < on.size(); ++b) waiting.insert(b);
  std::set<std::string> begun;
  while (!waiting.empty()) {
    // completed, then begun before, then pieces that stay open
    const auto worth = [&](std::size_t b) {
      long completed = 0, known = 0, open = 0;
      for (const auto& [tag, count] : on[b]) {
        completed += left.at(tag) == count ? 1 : 0;
        known += begun.count(tag) > 0 ? 1 : 0;
        open += left.at(tag) - count;
      }
      return std::make_tuple(-completed, -known, open, b);
    };
    const std::size_t next = *std::min_element(
        waiting.begin(), waiting.end(), [&](std::size_t a, std::size_t b) { return worth(a) < worth(b); });
    std::vector<std::pair<long, std::string>> order;
    for (const auto& [tag, count] : on[next]) {
      left.at(tag) -= count;
      begun.insert(tag);
      order.emplace_back(left.at(tag), tag);
    }
    std::sort(order.begin(), order.end());
    for (std::size_t i = 0; i < order.size(); ++i)
      sequence.ranks[next][order[i].second] = static_cast<int>(i);
    sequence.boards.push_back(next);
    waiting.erase(next);
  }
  return sequence;
}

}  // namespace linerwright
