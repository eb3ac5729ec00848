#include <algorithm>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

namespace {

BoardPart part_of(const Fitting& fitting, const Pattern& given) {
  const LinerSpec& liner = liner_of(fitting, given);
  BoardPart part{fitting.tag,
                 given.id,
                 fitting.count,
                 fitting.units,
                 liner.thickness,
                 liner.density,
                 liner.face_up,
                 liner.cut == CutPolicy::tilt,
                 given};
  part.layer = given.layer;
  Pattern& pattern = part.pattern;
  pattern.tilts.clear();
  pattern.ordinates.clear();
  pattern.hole_ordinates.clear();
  pattern.notch_ordinates.clear();
  if (!part.both_faces) {
    pattern.duct = pattern.air = {};
    pattern.duct_rest.clear();
    pattern.air_rest.clear();
    pattern.duct_lines.clear();
    pattern.air_lines.clear();
  }
  return part;
}

}  // namespace

std::vector<BoardPart> board_parts(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                   bool scatter) {
  std::vector<BoardPart> parts;
  for (const std::size_t i : patterns_to_cut(patterns, scatter)) {
    parts.push_back(part_of(fitting, patterns[i]));
    if (!patterns[i].is_blank) continue;
    const std::vector<int>& held = patterns[i].pieces;
    for (const Pattern& pattern : patterns)
      if (!pattern.is_blank && std::find(held.begin(), held.end(), pattern.pieces.front()) != held.end())
        parts.back().apart.push_back(part_of(fitting, pattern));
  }
  return parts;
}

std::string next_pieces(const BoardPart& part) {
  const std::string head = "next: ";
  std::string all;
  for (const LabelBlock& block : part.pattern.label_blocks) {
    if (part.pattern.is_blank) {
      all += (all.empty() ? "" : ", ") + block.piece;
      continue;
    }
    for (const std::string& line : block.lines)
      if (const std::size_t at = line.find(head); at != std::string::npos && all.empty())
        all = line.substr(at + head.size());
  }
  return all;
}

}  // namespace linerwright
