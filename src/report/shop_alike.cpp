// Which patterns one drawing or one template shows, and what a pattern is called.
#include <algorithm>
#include <cmath>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "sketch.hpp"

namespace linerwright {

namespace {

bool same_line(const std::vector<Vec2>& a, const std::vector<Vec2>& b, double within) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [&](Vec2 one, Vec2 other) {
           return distance(one, other) <= within;
         });
}

// "heel" of "B heel".
std::string without_letter(const std::string& name) {
  const std::size_t end = name.find(' ');
  const bool is_letter =
      end != std::string::npos && std::all_of(name.begin(), name.begin() + static_cast<std::ptrdiff_t>(end),
                                              [](char c) { return c >= 'A' && c <= 'Z'; });
  return is_letter ? name.substr(end + 1) : name;
}

bool same_names(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const std::string& one, const std::string& other) {
                      return without_letter(one) == without_letter(other);
                    });
}

// Whether the same is said of both but for the letters where they meet others.
bool marked_alike(const Fitting& fitting, const Pattern& a, const Pattern& b) {
  constexpr double k_same = 0.01;  // mm
  if (a.pieces.size() != 1 || b.pieces.size() != 1 || !same_names(a.mark_names, b.mark_names) ||
      std::fabs(a.max_tilt - b.max_tilt) > 1e-6 || std::fabs(a.gap_square - b.gap_square) > k_same ||
      std::fabs(a.overlap_square - b.overlap_square) > k_same ||
      a.label_blocks.size() != b.label_blocks.size())
    return false;
  for (std::size_t i = 0; i < a.marks.size(); ++i)
    if (!same_line(a.marks[i], b.marks[i], k_same)) return false;
  for (std::size_t i = 0; i < a.label_blocks.size(); ++i) {
    const auto &one = a.label_blocks[i].flow, &other = b.label_blocks[i].flow;
    if (one.has_value() != other.has_value() || (one && distance(*one, *other) > 1e-6) ||
        a.label_blocks[i].two_flows != b.label_blocks[i].two_flows)
      return false;
  }
  const Piece& one = fitting.piece(a.pieces.front());
  const Piece& other = fitting.piece(b.pieces.front());
  // where a panel lies is told by its name
  return (one.seam_place == other.seam_place || !one.full_turn()) && one.full_turn() == other.full_turn() &&
         std::equal(one.meets.begin(), one.meets.end(), other.meets.begin(), other.meets.end(),
                    [&](const MeetMark& mine, const MeetMark& theirs) {
                      return mine.end == theirs.end &&
                             without_letter(mine.name) == without_letter(theirs.name) &&
                             std::fabs(turn_to(one, mine.theta) - turn_to(other, theirs.theta)) < 1e-6;
                    });
}

}  // namespace

double turn_to(const Piece& piece, double theta) {
  const double turn = std::fmod(theta - piece.seam, k_two_pi);
  return turn < -1e-9 ? turn + k_two_pi : turn;
}

double cut_mass(const Fitting& fitting, const Pattern& pattern) {
  constexpr double k_cubic_metre = 1e9;  // mm3
  const LinerSpec& liner = liner_of(fitting, pattern);
  return pattern.board_area * liner.thickness / k_cubic_metre * liner.density;
}

std::string pattern_name(const Fitting& fitting, const Pattern& pattern) {
  if (pattern.pieces.empty()) return "template of the hole";
  std::string name;
  if (pattern.is_blank && notched_with(fitting, pattern.pieces.front()) == nullptr)
    return held_words(fitting, pattern.pieces) + " in one blank, shared cuts";
  for (const int index : pattern.pieces) {
    const std::string one = piece_name(fitting, fitting.piece(index));
    name += (name.empty() ? "" : " and ") + one;
  }
  return pattern.pieces.size() > 1 ? name + " in one board" : name;
}

bool cut_alike(const Pattern& a, const Pattern& b) {
  constexpr double k_same = 0.01;  // mm
  if (a.layer != b.layer || a.cut.holes.size() != b.cut.holes.size() ||
      !same_line(a.cut.outer, b.cut.outer, k_same))
    return false;
  for (std::size_t i = 0; i < a.cut.holes.size(); ++i)
    if (!same_line(a.cut.holes[i], b.cut.holes[i], k_same)) return false;
  return true;
}

std::vector<std::vector<const Pattern*>> drawn_once(const Fitting& fitting,
                                                    const std::vector<Pattern>& patterns) {
  std::vector<std::vector<const Pattern*>> groups;
  for (const std::size_t i : patterns_to_cut(patterns, true)) {
    const auto same = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
      return cut_alike(*group.front(), patterns[i]) && marked_alike(fitting, *group.front(), patterns[i]);
    });
    if (same == groups.end())
      groups.push_back({&patterns[i]});
    else
      same->push_back(&patterns[i]);
  }
  return groups;
}

}  // namespace linerwright
