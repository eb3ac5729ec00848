#include "linerwright/boards/division_plan.hpp"
#include "linerwright/fitting/choices.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "groups.hpp"
#include "linerwright/fitting/divisible.hpp"
#include "linerwright/nest/division_search.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// What other pieces may not lie on, as a share of its box.
bool is_rectangle(const BoardPart& part, const BoardOptions& options) {
  const Vec2 size = size_of(part);
  const Region& cut = part.pattern.cut;
  return area(options.use_holes ? cut : Region{cut.outer, {}}) >= k_nearly_rectangle * size.x * size.y;
}

// The pieces of a job that may share a board.
struct Sharing {
  std::vector<std::size_t> requests;  // that may be divided, and their pieces
  std::vector<DivisiblePiece> pieces;
  std::vector<const BoardPart*> others;
};

DivisionChoice choice_of(const std::vector<StatedRing>& rings) {
  DivisionChoice choice;
  for (const StatedRing& ring : rings) choice.push_back({ring.height, ring.panels});
  return choice;
}

// Boards with the pieces that are no rectangles, and what they leave.
std::vector<BegunBoard> begun_boards(const Sharing& sharing, const std::vector<NestBoard>& boards, double gap,
                                     double least, const BoardOptions& options) {
  std::vector<const BoardPart*> parts;
  for (const BoardPart* part : sharing.others)
    if (!is_rectangle(*part, options)) parts.push_back(part);
  std::vector<BegunBoard> begun;
  if (parts.empty()) return begun;
  NestJob job = nest_job(parts, boards, gap, options);
  job.options.min_offcut = std::max(1.0, least);
  for (const NestedBoard& board : nest(job).boards) {
    const Vec2 corner = boards[board.stock].trim.low();
    BegunBoard one{board.stock, {}};
    for (const Box& box : board.offcuts)
      one.free.push_back({box.low - corner + Vec2{gap, gap}, box.high - corner});
    begun.push_back(std::move(one));
  }
  return begun;
}

DivisionSearch search_for(const Sharing& sharing, const std::vector<NestBoard>& boards, double gap,
                          const DivisionRules& rules, const BoardOptions& options,
                          const std::vector<FittingRequest>& requests) {
  DivisionSearch search;
  search.gap = gap;
  search.effort = options.effort;
  search.seed = options.seed;
  for (const NestBoard& board : boards)
    search.stock.push_back({board.room() + Vec2{gap, gap}, board.quantity, cost_of(board), board.roll});
  search.seam_cost = rules.seam_cost * board_cost(boards);
  double least = 1e9;
  for (std::size_t i = 0; i < sharing.pieces.size(); ++i) {
    const DivisiblePiece& piece = sharing.pieces[i];
    search.items.push_back({piece.length, piece.around, requests[sharing.requests[i]].count, piece.least,
                            piece.end_extra, piece.butt_extra, choice_of(piece.today)});
    for (const StretchOfHole& hole : piece.holes)
      search.items.back().held.push_back({hole.low, hole.high, hole.panel});
    least = std::min(least, piece.least);
  }
  search.begun = begun_boards(sharing, boards, gap, least, options);
  for (const BoardPart* part : sharing.others)
    if (is_rectangle(*part, options))
      search.fixed.insert(search.fixed.end(), static_cast<std::size_t>(part->copies()), size_of(*part));
  return search;
}

bool same(const DivisionChoice& a, const DivisionChoice& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const RingChoice& x, const RingChoice& y) {
    return x.panels == y.panels && std::fabs(x.height - y.height) < 1e-6;
  });
}

std::vector<StatedRing> rings_of(const DivisionChoice& choice) {
  std::vector<StatedRing> rings;
  for (const RingChoice& ring : choice) rings.push_back({ring.height, ring.panels});
  return rings;
}

// Of the parts of a fitting those that the piece is cut into, which are taken from the list.
std::vector<const BoardPart*> taken_from(std::vector<const BoardPart*>& parts, const std::string& piece) {
  std::vector<const BoardPart*> found;
  for (const BoardPart*& part : parts)
    if (is_cut_of(part->piece, piece)) found.push_back(std::exchange(part, nullptr));
  parts.erase(std::remove(parts.begin(), parts.end(), nullptr), parts.end());
  return found;
}

}  // namespace

DivisionRules division_rules(const Values* table, const std::string& divide, const std::string& seam_cost) {
  Values flags;
  std::map<std::string, std::string> written;
  if (!divide.empty()) written["divide"] = divide;
  if (!seam_cost.empty()) written["seam_cost"] = seam_cost;
  flags = table_from_flags(job_schema().tables.at("boards"), written, Units::metric);
  const auto values = [&](const char* key) -> const Values& {
    return table != nullptr && !flags.given(key) ? *table : flags;
  };
  DivisionRules rules;
  rules.divide = chosen(values("divide"), "divide", k_divide_choices);
  rules.seam_cost = values("seam_cost").quantity("seam_cost");
  return rules;
}

PlannedDivisions plan_divisions(const std::vector<FittingRequest>& requests,
                                const std::vector<BoardPart>& parts, const std::vector<BoardStock>& stock,
                                const DivisionRules& rules, const BoardOptions& options) {
  PlannedDivisions stated;
  if (!rules.chosen()) return stated;
  std::map<std::string, std::vector<const BoardPart*>> of_tag;
  for (const BoardPart& part : parts) of_tag[part.tag].push_back(&part);
  std::map<Group, Sharing> groups;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    const auto found = of_tag.find(requests[i].tag);
    if (found == of_tag.end()) continue;
    for (DivisiblePiece& piece : divisible_pieces(requests[i])) {
      if (piece.fits_whole && rules.divide == Divide::if_needed) continue;
      const std::vector<const BoardPart*> cut = taken_from(found->second, piece.piece);
      if (cut.empty()) continue;
      Sharing& sharing = groups[group_of(*cut.front())];
      sharing.requests.push_back(i);
      sharing.pieces.push_back(std::move(piece));
    }
  }
  for (const auto& [tag, left] : of_tag)
    for (const BoardPart* part : left) groups[group_of(*part)].others.push_back(part);

  std::vector<std::optional<int>> left;
  for (const BoardStock& each : stock) left.push_back(each.quantity);
  for (const auto& [group, sharing] : groups) {
    std::vector<std::size_t> stocks;
    const std::vector<NestBoard> boards = boards_for(stock, group, left, stocks);
    if (boards.empty()) continue;
    if (!sharing.pieces.empty()) {
      const DivisionSearch search =
          search_for(sharing, boards, gap_of(stock, options), rules, options, requests);
      const DivisionFound found = search_division(search);
      for (std::size_t i = 0; i < sharing.pieces.size(); ++i)
        if (!same(found.choices[i], search.items[i].today))
          stated[sharing.requests[i]][sharing.pieces[i].piece] = rings_of(found.choices[i]);
      for (const std::size_t taken : found.packing.stock)
        if (auto& count = left[stocks[taken]]) *count = std::max(0, *count - 1);
    }
  }
  return stated;
}

double plan_cost(const BoardPlan& plan) {
  double money = 0.0;
  double area = 0.0;
  bool priced = true;
  for (const PlannedBoard& board : plan.boards) {
    const BoardStock& stock = plan.stock[board.stock];
    if (!stock.remnant.empty()) continue;
    priced = priced && board.cost.has_value();
    money += board.cost.value_or(0.0);
    area += board.length * stock.width;
  }
  return priced && money > 0.0 ? money : area * 1e-6;
}

}  // namespace linerwright
