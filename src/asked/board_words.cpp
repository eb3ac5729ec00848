// What was asked of the boards, from the words in which it was written; the defaults as the pages on boards
// and the help of `nest` word them.
#include "board_words.hpp"

#include <algorithm>

#include "written.hpp"

namespace linerwright::asked {

namespace {

using Words = std::map<std::string, std::string>;

class Table {
 public:
  Table(const Words& words, bool inches) : words_(words), inches_(inches) {}

  bool has(const char* key) const { return words_.count(key) > 0; }
  std::string word(const char* key, const char* otherwise) const {
    return has(key) ? words_.at(key) : otherwise;
  }
  double value(const char* key, What what, const char* otherwise) const {
    return value_of(word(key, otherwise), what, inches_);
  }
  double length(const char* key, const char* otherwise) const { return value(key, What::length, otherwise); }

 private:
  const Words& words_;
  bool inches_;
};

Words table_named(const BoardWords& words, const char* name) {
  const auto found = words.tables.find(name);
  return found == words.tables.end() ? Words{} : found->second;
}

// The gap: of all stock the largest, or the flag's.
double gap_asked(const BoardWords& words) {
  const Words flags = table_named(words, "flags");
  if (flags.count("gap") > 0) return value_of(flags.at("gap"), What::length, words.inches);
  double gap = 0.0;
  for (const Words& row : words.stock) gap = std::max(gap, Table(row, words.inches).length("gap", "3mm"));
  return gap;
}

// Whether a board is one of this stock, whose name is stated or its size: how far off its figures are, mm.
double off_stock(const MadeBoard& board, const Table& stock) {
  const bool roll = stock.word("form", "sheet") == "roll";
  const double length = stock.length("length", "120in");
  double off = std::abs(board.width - stock.length("width", "48in"));
  off = std::max(off, roll ? std::max(0.0, board.length - length) : std::abs(board.length - length));
  if (board.usable) {
    const char* trim = "edge_trim";
    const double all = stock.length(trim, "0mm");
    const auto edge = [&](const char* key) { return stock.has(key) ? stock.length(key, "0mm") : all; };
    const double wanted[4] = {edge("trim_left"), edge("trim_bottom"), board.length - edge("trim_right"),
                              board.width - edge("trim_top")};
    for (std::size_t k = 0; k < 4; ++k) off = std::max(off, std::abs((*board.usable)[k] - wanted[k]));
  }
  if (stock.has("thickness") && std::abs(stock.length("thickness", "0mm") - board.thickness) > 0.0501)
    off = std::max(off, std::abs(stock.length("thickness", "0mm") - board.thickness));
  // of a roll its length's part
  const double part = roll && length > 0.0 ? board.length / length : 1.0;
  if (stock.has("cost"))
    off = std::max(off, std::abs(board.cost.value_or(-1e9) - part * stock.value("cost", What::number, "0")));
  return off;
}

// Of the stock that a board may be of the one whose figures are nearest to its own. An offcut of an earlier
// job has a name of its own and stands in no table.
struct NearestStock {
  double off = 1e300;
  bool remnant = false;
  Words words;
};

NearestStock nearest_stock(const BoardWords& words, const MadeBoard& board) {
  NearestStock nearest;
  bool named = false;
  for (const Words& row : words.stock) {
    const Table stock(row, words.inches);
    if (stock.has("name") && stock.word("name", "") != board.stock) continue;
    named = named || stock.has("name");
    const double off = off_stock(board, stock);
    if (off >= nearest.off) continue;
    nearest.off = off;
    nearest.words = row;
  }
  nearest.remnant = !named && board.stock.compare(0, 10, "remnant R-") == 0;
  return nearest;
}

}  // namespace

std::optional<double> mass_asked(const MadeBoards& made, const MadeBoard& board, double density) {
  if (!made.words) return {};
  const NearestStock nearest = nearest_stock(*made.words, board);
  if (nearest.remnant) return {};
  const Table stock(nearest.words, made.words->inches);
  const double per_area =
      stock.has("mass") ? stock.value("mass", What::area_mass, "0") : board.thickness * 1e-3 * density;
  return per_area * board.length * board.width * 1e-6;
}

void prove_board_words(const MadeBoards& made, std::vector<Finding>& findings) {
  if (!made.words) return;
  const BoardWords& words = *made.words;
  Worst choices("boards' choices", 0.0, "", "what was written of zero, turn and order, else the defaults");
  Worst sizes("boards' sizes", 1e-6, "", "what was written of stock, gap and knife table, else the defaults");
  const Words of_boards = table_named(words, "boards");
  const Table boards(of_boards, words.inches);
  choices.expect(made.sequence == boards.word("sequence", "by board"), "sequence");
  const std::string zero = boards.word("zero", "lower left");
  choices.expect((zero.find("right") != std::string::npos) == made.zero_right, "zero: left or right");
  choices.expect((zero.find("upper") != std::string::npos) == made.zero_upper, "zero: lower or upper");
  choices.expect(boards.word("turn", "0") == std::to_string(90 * made.quarters), "turn");
  sizes.off(made.gap - gap_asked(words), "gap");
  const Words of_knife = table_named(words, "knife");
  const Table knife(of_knife, words.inches);
  for (const auto& [key, otherwise] :
       {std::make_pair("cut_speed", "0.25m/s"), {"mark_speed", "0.4m/s"}, {"travel_speed", "0.8m/s"}})
    sizes.off(made.knife.at(key) - knife.value(key, What::velocity, otherwise), key);
  for (const auto& [key, otherwise] :
       {std::make_pair("entry_time", "0.8"), {"mark_time", "0.15"}, {"board_time", "120"}})
    sizes.off(made.knife.at(key) - knife.value(key, What::number, otherwise), key);
  for (std::size_t b = 0; b < made.boards.size(); ++b) {
    const NearestStock nearest = nearest_stock(words, made.boards[b]);
    if (!nearest.remnant) sizes.off(nearest.off, "board " + std::to_string(b + 1) + " as its stock");
  }
  choices.into(findings);
  sizes.into(findings);
}

}  // namespace linerwright::asked
