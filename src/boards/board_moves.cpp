#include "board_moves.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "groups.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_tries = 16.0;       // at effort 1
constexpr double k_most_tries = 48.0;  // whatever the effort
constexpr double k_trial = 0.1;        // of the effort
constexpr double k_loss = 0.05;        // boards: so much worse, and like divisions of the piece are left out

// One change: a piece divided otherwise, or copies of the blank one by one.
struct Move {
  std::size_t request = 0;
  std::optional<OtherDivision> division;
  long one_by_one = 0;
  double size = 0.0;  // of the largest piece that it is about, mm2
};

double box_area(const BoardPart& part) {
  const Vec2 size = size_of(part);
  return size.x * size.y;
}

// What the boards of one group cost; of the last one what is not left in one piece.
double boards_used(const NestJob& job) {
  constexpr double k_homeless = 1e6;  // a board each, and more
  const NestResult result = nest(job);
  double cost = result.cost;
  for (const UnplacedPart& part : result.unplaced) cost += k_homeless * part.copies;
  if (result.boards.empty()) return cost;
  const NestedBoard& last = result.boards.back();
  const NestBoard& stock = job.boards[last.stock];
  if (!stock.roll) cost -= cost_of(stock) * (1.0 - last.used_length / last.length);
  return cost;
}

class Trials {
 public:
  Trials(Cutting cutting, const std::vector<FittingRequest>& requests, const std::vector<BoardPart>& even,
         const JobStock& setup, const PieceRules& rules)
      : best_(std::move(cutting)), requests_(requests), even_(even), setup_(setup), rules_(rules) {
    quick_ = setup.options;
    quick_.effort *= k_trial;
    quick_.watch = {};
    gap_ = gap_of(setup.stock, setup.options);
    for (const BoardStock& each : setup.stock) left_.push_back(each.quantity);
  }

  Cutting run() {
    const double wanted = std::min(k_tries * setup_.options.effort, k_most_tries);
    std::size_t left = static_cast<std::size_t>(wanted);
    if (left == 0) return std::move(best_);
    const std::vector<Move> moves = all_moves();
    if (moves.empty()) return std::move(best_);
    used_ = used_by(best_, {});
    std::set<std::pair<std::size_t, std::string>> worse;  // pieces, by request
    for (const Move& move : moves) {
      if (left == 0) break;
      if (move.division && worse.count({move.request, move.division->piece}) > 0) continue;
      Cutting trial = best_;
      if (!make(trial, move)) continue;
      --left;
      const std::map<Group, double> used = used_by(trial, requests_[move.request].tag);
      double gained = 0.0;
      double board = 0.0;
      for (const auto& [group, cost] : used) {
        const auto before = used_.find(group);
        gained += (before == used_.end() ? 0.0 : before->second) - cost;
        std::vector<std::size_t> stocks;
        board = std::max(board, board_cost(boards_for(setup_.stock, group, left_, stocks)));
      }
      const double seams =
          move.division ? move.division->seams * static_cast<double>(requests_[move.request].count) : 0.0;
      if (move.division && gained < -k_loss * board) worse.insert({move.request, move.division->piece});
      if (gained <= board * std::max(k_little, rules_.division.seam_cost * seams)) continue;
      best_ = std::move(trial);
      for (const auto& [group, cost] : used) used_[group] = cost;
    }
    return std::move(best_);
  }

 private:
  static constexpr double k_little = 1e-3;  // boards: no gain
  Cutting best_;
  const std::vector<FittingRequest>& requests_;
  const std::vector<BoardPart>& even_;
  const JobStock& setup_;
  const PieceRules& rules_;
  BoardOptions quick_;
  double gap_ = 0.0;
  std::vector<std::optional<int>> left_;
  std::map<Group, double> used_;

  // The largest pieces first: they decide. Pieces of blanks come last, since a blank wastes nothing between
  // them.
  std::vector<Move> all_moves() const {
    std::vector<Move> moves;
    const bool all = rules_.division.divide == Divide::if_it_saves;
    const std::vector<BoardPart> parts = parts_of(best_, requests_, even_, rules_.scatter);
    for (std::size_t i = 0; i < requests_.size(); ++i) {
      const std::string& tag = requests_[i].tag;
      if (tag.empty()) continue;
      double largest = 0.0;
      for (const BoardPart& part : parts) {
        if (part.tag != tag) continue;
        largest = std::max(largest, box_area(part));
        if (part.apart.empty()) continue;
        moves.push_back({i, {}, part.copies(), box_area(part)});
        if (part.copies() > 1) moves.push_back({i, {}, 1, box_area(part)});
      }
      if (!rules_.division.chosen() || largest == 0.0) continue;
      for (OtherDivision& other : other_divisions(requests_[i])) {
        if (other.fits_whole && !all) continue;
        double size = 0.0;
        for (const BoardPart& part : parts)
          if (part.tag == tag &&
              (is_cut_of(part.piece, other.piece) || (other.in_blank && !part.apart.empty())))
            size = std::max(size, box_area(part));
        moves.push_back({i, std::move(other), 0, size});
      }
    }
    const auto is_late = [](const Move& move) { return move.division && move.division->in_blank; };
    std::stable_sort(moves.begin(), moves.end(), [&](const Move& a, const Move& b) {
      return is_late(a) != is_late(b) ? is_late(b) : a.size > b.size;
    });
    return moves;
  }

  bool make(Cutting& cutting, const Move& move) const {
    if (!move.division) {
      long& copies = cutting.one_by_one[move.request];
      if (copies >= move.one_by_one) return false;
      copies = move.one_by_one;
      return true;
    }
    const auto found = cutting.divisions.find(move.request);
    StatedDivisions divisions = found == cutting.divisions.end() ? StatedDivisions{} : found->second;
    divisions[move.division->piece] = move.division->rings;
    std::shared_ptr<const Shaped> shape = shaped_as(requests_[move.request], divisions);
    if (shape == nullptr) return false;
    cutting.divisions[move.request] = std::move(divisions);
    cutting.shapes[move.request] = std::move(shape);
    return true;
  }

  // Of each group, or of those that a fitting's pieces belong to.
  std::map<Group, double> used_by(const Cutting& cutting, const std::optional<std::string>& tag) const {
    const std::vector<BoardPart> parts = parts_of(cutting, requests_, even_, rules_.scatter);
    std::map<Group, std::vector<const BoardPart*>> groups;
    for (const BoardPart& part : parts)
      if (!tag || part.tag == *tag) groups[group_of(part)];
    for (const BoardPart& part : parts)
      if (const auto found = groups.find(group_of(part)); found != groups.end())
        found->second.push_back(&part);
    std::map<Group, double> used;
    for (const auto& [group, those] : groups) {
      std::vector<std::size_t> stocks;
      std::vector<NestBoard> boards = boards_for(setup_.stock, group, left_, stocks);
      used[group] = boards.empty() ? 0.0 : boards_used(nest_job(those, std::move(boards), gap_, quick_));
    }
    return used;
  }
};

// The part's last `copies` one by one; what is left of the blank before them.
std::vector<BoardPart> parted(const BoardPart& blank, long copies) {
  std::vector<BoardPart> parts;
  const long whole = blank.copies() - std::min(copies, blank.copies());
  for (BoardPart piece : blank.apart) {
    piece.first_copy = blank.first_copy + whole;
    parts.push_back(std::move(piece));
  }
  if (whole == 0) return parts;
  parts.push_back(blank);
  parts.back().some = whole;
  return parts;
}

}  // namespace

std::shared_ptr<const Shaped> shaped_as(const FittingRequest& request, const StatedDivisions& divisions) {
  try {
    Fitting fitting = make_fitting(divided_as(request, division_text(divisions)));
    std::vector<Pattern> patterns = make_patterns(fitting);
    return std::make_shared<const Shaped>(Shaped{std::move(fitting), std::move(patterns)});
  } catch (const InputError&) {
    return nullptr;
  }
}

std::vector<BoardPart> parts_of(const Cutting& cutting, const std::vector<FittingRequest>& requests,
                                const std::vector<BoardPart>& even, bool scatter) {
  std::map<std::string, std::size_t> of_tag;
  for (std::size_t i = 0; i < requests.size(); ++i) of_tag.emplace(requests[i].tag, i);
  std::vector<BoardPart> parts;
  for (const BoardPart& part : even)
    if (cutting.shapes.count(of_tag.at(part.tag)) == 0) parts.push_back(part);
  for (const auto& [request, shape] : cutting.shapes)
    for (BoardPart& part : board_parts(shape->fitting, shape->patterns, scatter))
      parts.push_back(std::move(part));
  std::vector<BoardPart> all;
  for (BoardPart& part : parts) {
    const auto found = cutting.one_by_one.find(of_tag.at(part.tag));
    if (found == cutting.one_by_one.end() || part.apart.empty()) {
      all.push_back(std::move(part));
      continue;
    }
    std::vector<BoardPart> pieces = parted(part, found->second);
    std::move(pieces.begin(), pieces.end(), std::back_inserter(all));
  }
  return all;
}

Cutting improved(Cutting cutting, const std::vector<FittingRequest>& requests,
                 const std::vector<BoardPart>& even, const JobStock& setup, const PieceRules& rules) {
  return Trials(std::move(cutting), requests, even, setup, rules).run();
}

}  // namespace linerwright
