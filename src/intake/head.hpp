// The row of heads, and what its columns stand for.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "linerwright/intake/intake.hpp"
#include "words.hpp"

namespace linerwright {

struct IntakeColumn {
  std::string head;
  HeadWords words;
  std::string how;  // why it means that, or why it was left
};

struct IntakeHead {
  std::size_t row = 0;  // of the grid
  std::vector<IntakeColumn> columns;
};

// Every key that a column may stand for.
std::vector<std::string> keys_known(const JobSchema& schema);

// How many heads of a row are words of the trade; 0 where it is no head at all.
std::size_t head_score(const GridRow& row, const std::vector<std::string>& keys, const ReadAnswers& answers);

// The row with the most words of the trade among the first hundred. Throws InputError where there is none.
IntakeHead find_head(const Grid& grid, const JobSchema& schema, const ReadAnswers& answers);

// Settles meanings that depend on the cells and the other columns; what nobody can tell becomes a question.
void settle_columns(IntakeHead& head, const Grid& grid, const JobSchema& schema, const ReadAnswers& answers,
                    std::vector<Problem>& questions);

// Whether a cell says that it has nothing to say: -, n/a, none.
bool says_nothing_at_all(const std::string& cell);

}  // namespace linerwright
