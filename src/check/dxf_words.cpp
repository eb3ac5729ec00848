// What a DXF says in words: its comments, and the text that is drawn on the board.
#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <stdexcept>

#include <fmt/format.h>

#include "proof.hpp"

namespace linerwright {

namespace {

// A length as the files print it: three decimals of the fitting's unit.
bool is_length(const std::string& written, double expected, Units units) {
  try {
    const double half_a_place = from_units(Quantity::length, 0.0005, units) + 1e-9;
    return std::fabs(parse_quantity(Quantity::length, written, units) - expected) <= half_a_place;
  } catch (const std::invalid_argument&) {
    return false;
  }
}

// What follows `head` in `text`, up to `tail` if one is given; nothing where they are not there.
std::optional<std::string> between(const std::string& text, const std::string& head,
                                   const std::string& tail = {}) {
  if (text.rfind(head, 0) != 0) return std::nullopt;
  if (tail.empty()) return text.substr(head.size());
  const std::size_t end = text.find(tail, head.size());
  return end == std::string::npos ? std::nullopt
                                  : std::optional<std::string>(text.substr(head.size(), end - head.size()));
}

const char* face_up_of(const LinerSpec& liner) {
  const bool air = liner.face_up == Face::air;
  return liner.outer_depth > 0.0 ? (air ? "inner" : "outer") : (air ? "air" : "duct");
}

// A comment that our files carry: how it begins, and whether the rest is true.
struct Stated {
  const char* head;
  std::function<bool(const std::string&)> holds;
};

std::vector<Stated> stated_by(const Fitting& fitting, const Pattern& pattern) {
  const Units units = fitting.units;
  const LinerSpec& liner = liner_of(fitting, pattern);
  const Stated chords{"chord error: at most ", [](const std::string& text) {
                        return is_length(between(text, "chord error: at most ").value(), k_chord_error,
                                         Units::metric);
                      }};
  if (pattern.pieces.empty()) return {chords};
  return {chords,
          {"liner ",
           [&liner, units](const std::string& text) {
             const auto size = between(text, "liner ", ", ");
             return size && is_length(*size, liner.thickness, units) &&
                    text == "liner " + *size + ", " + face_up_of(liner) + " face up";
           }},
          {"cut square to the board: gap ", [&pattern, units](const std::string& text) {
             const std::string head = "cut square to the board: gap ";
             const auto gap = between(text, head, ", overlap ");
             if (!gap || !is_length(*gap, pattern.gap_square, units)) return false;
             std::string overlap = text.substr(head.size() + gap->size() + 10);
             overlap = overlap.substr(0, overlap.find(','));  // more may follow
             return is_length(overlap, pattern.overlap_square, units);
           }}};
}

// What a drawing has on one layer: its lines, and its text as strokes.
BoardLines drawn_on(const Drawing& drawing, Layer layer, bool with_lines, bool with_text) {
  BoardLines lines;
  for (const Polyline& line : drawing.lines)
    if (with_lines && line.layer == layer) lines.push_back({line.points, line.closed});
  for (const Text& text : drawing.texts)
    if (with_text && text.layer == layer)
      for (std::vector<Vec2>& stroke : stroke_text(text)) lines.push_back({std::move(stroke), false});
  return lines;
}

bool same_text(const DxfText& found, const Text& wanted, double tolerance) {
  return found.text == wanted.text && found.layer == layer_name(wanted.layer) &&
         found.centred == wanted.centred && distance(found.at, wanted.at) <= tolerance &&
         std::fabs(found.height - wanted.height) <= tolerance &&
         std::fabs(std::remainder(found.angle - wanted.angle, k_two_pi)) <= 1e-3;
}

// The file's texts, each once.
CheckResult compare_texts(const std::string& name, const Drawing& drawing, const DxfFile& file,
                          double tolerance) {
  std::vector<const DxfText*> left;
  for (const DxfText& text : file.texts) left.push_back(&text);
  std::string missing;
  std::size_t off = 0;
  for (const Text& wanted : drawing.texts) {
    const auto found = std::find_if(left.begin(), left.end(),
                                    [&](const DxfText* text) { return same_text(*text, wanted, tolerance); });
    if (found != left.end()) {
      left.erase(found);
      continue;
    }
    ++off;
    if (missing.empty()) missing = "'" + wanted.text + "' is not there as it should be";
  }
  off += left.size();
  if (missing.empty() && !left.empty()) missing = "'" + left.front()->text + "' should not be there";
  return within(name, static_cast<double>(off), 0.0, "texts",
                off == 0 ? fmt::format("{} texts, each in its place", drawing.texts.size()) : missing);
}

bool is_named(const Fitting& fitting, const Pattern& pattern, const std::string& id) {
  const std::string full = fitting.tag + "/" + id;
  return std::any_of(pattern.labels.begin(), pattern.labels.end(),
                     [&](const Text& text) { return text.text == full || text.text == id; });
}

// Whether the name of a piece, as small as it may be, goes anywhere on the piece's part of a board without
// labels.
bool has_room(const Pattern& pattern, const std::string& id) {
  constexpr double k_least_height = 2.5;  // mm
  Pattern bare = pattern;
  bare.labels.clear();
  // a third of the height below the baseline for tails; above, too, for the name need not stand in the middle
  const Vec2 size{stroke_text_width(id, k_least_height), k_least_height * 5.0 / 3.0};
  return std::any_of(pattern.label_blocks.begin(), pattern.label_blocks.end(), [&](const LabelBlock& block) {
    return block.piece == id && free_place(bare, block, size).has_value();
  });
}

// The words that belong on a piece, composed here anew.
std::string wrong_word(const Fitting& fitting, const Pattern& pattern) {
  const LinerSpec& liner = liner_of(fitting, pattern);
  constexpr double k_readable = 2.5 - 1e-9;        // mm
  constexpr double k_upright = 0.5 * k_pi + 1e-6;  // either side of level
  for (const Text& text : pattern.labels) {
    if (text.height < k_readable) return "'" + text.text + "' is too small to be read";
    if (std::fabs(std::remainder(text.angle, k_two_pi)) > k_upright)
      return "'" + text.text + "' stands on its head";
    if (const auto size = between(text.text, "liner ");
        size && !is_length(*size, liner.thickness, fitting.units))
      return "'" + text.text + "' is not the liner's thickness";
    const std::size_t face = text.text.rfind(" face up");
    if (face != std::string::npos && face + 8 == text.text.size() &&
        text.text.rfind(", ", face) != std::string::npos &&
        text.text.substr(text.text.rfind(", ", face) + 2) != std::string(face_up_of(liner)) + " face up")
      return "'" + text.text + "' names the wrong face";
  }
  for (const int index : pattern.pieces) {
    const std::string& id = fitting.piece(index).id;
    if (!is_named(fitting, pattern, id) && has_room(pattern, id)) return "piece " + id + " carries no name";
  }
  return {};
}

// Pieces too small for a name that could be read.
std::string nameless(const Fitting& fitting, const Pattern& pattern) {
  std::string ids;
  for (const int index : pattern.pieces) {
    const std::string& id = fitting.piece(index).id;
    if (!is_named(fitting, pattern, id) && !has_room(pattern, id)) ids += (ids.empty() ? "" : ", ") + id;
  }
  return ids;
}

}  // namespace

std::vector<CheckResult> prove_comments(const Fitting& fitting, const Pattern& pattern, const DxfFile& file) {
  std::vector<std::string> wrong;
  std::vector<std::string> missing;
  std::size_t read = 0;
  for (const Stated& stated : stated_by(fitting, pattern)) {
    bool there = false;
    for (const std::string& comment : file.comments) {
      if (comment.rfind(stated.head, 0) != 0) continue;
      there = true;
      ++read;
      if (!stated.holds(comment)) wrong.push_back(comment);
    }
    if (!there) missing.push_back(stated.head);
  }
  const std::string name = "comments " + pattern.id;
  std::vector<CheckResult> results{
      within(name, static_cast<double>(wrong.size()), 0.0, "wrong",
             wrong.empty() ? fmt::format("{} read", read) : "the file says '" + wrong.front() + "'")};
  if (!missing.empty())
    results.push_back(noted(
        name, fmt::format("{} of the usual comments not there, '{}...'", missing.size(), missing.front())));
  return results;
}

std::vector<CheckResult> prove_labels(const Fitting& fitting, const Pattern& pattern, const DxfFile& file,
                                      double tolerance) {
  const Drawing drawing = drawing_of(pattern, fitting.units);
  const std::string name = "labels " + pattern.id;
  std::vector<CheckResult> results;
  const bool strokes = file.texts.empty();
  const BoardLines expected = drawn_on(drawing, Layer::label, true, strokes);
  const BoardLines scale = drawn_on(drawing, Layer::scale, false, strokes);
  Unpaired off = unpaired(expected, lines_on(file, layer_name(Layer::label)), tolerance);
  // the check line itself is compared elsewhere
  const Unpaired off_scale = unpaired(scale, lines_on(file, layer_name(Layer::scale)), tolerance);
  if (off_scale.missing > 0 && !off.where) off.where = off_scale.where;
  off.missing += off_scale.missing;
  results.push_back(
      within(name, static_cast<double>(off.missing + off.added), 0.0, "strokes",
             off.missing + off.added > 0
                 ? fmt::format("{} not there, {} not known, at ({}, {}) mm", off.missing, off.added,
                               trimmed(off.where->x, 1), trimmed(off.where->y, 1))
                 : fmt::format("{} strokes, each in its place", expected.size() + scale.size())));
  if (!strokes) results.push_back(compare_texts(name, drawing, file, tolerance));
  const std::string wrong = wrong_word(fitting, pattern);
  results.push_back(within("words " + pattern.id, wrong.empty() ? 0.0 : 1.0, 0.0, "wrong",
                           wrong.empty() ? "the labels name the piece, and are upright" : wrong));
  if (const std::string small = nameless(fitting, pattern); !small.empty())
    results.push_back(noted("words " + pattern.id, "no room for the name of piece " + small));
  return results;
}

}  // namespace linerwright
