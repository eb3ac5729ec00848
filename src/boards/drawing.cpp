// A board as a drawing and as a DXF file.
#include <algorithm>
#include <sstream>

#include <fmt/format.h>

#include "frame.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

void add_box(Drawing& drawing, const Box& box) {
  drawing.lines.push_back(
      {Layer::stock, true, {box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}}});
}

// From the board's own zero to the table's.
void lay_on_table(const BoardPlan& plan, const PlannedBoard& board, Drawing& drawing) {
  const TableZero& zero = plan.zero;
  if (!zero.right && !zero.upper && zero.quarter_turns == 0) return;
  const double width = plan.stock[board.stock].width;
  const auto lay = [&](Vec2& p) { p = zero.on_table(p, board.length, width); };
  for (Polyline& line : drawing.lines)
    for (Vec2& p : line.points) lay(p);
  for (Text& text : drawing.texts) {
    lay(text.at);
    text.angle += 0.5 * k_pi * zero.quarter_turns;
  }
}

}  // namespace

const char* face_up_word(const PlannedBoard& board) {
  const bool air = board.face_up == Face::air;
  return board.layer == 0 ? (air ? "air" : "duct") : (air ? "inner" : "outer");
}

std::string board_file(const BoardPlan& plan, std::size_t index) {
  return fmt::format("board-{:0{}}.dxf", index + 1, std::to_string(plan.boards.size()).size());
}

std::string board_title(const BoardPlan& plan, std::size_t index) {
  const PlannedBoard& board = plan.boards.at(index);
  const auto length = [&](double value) { return format_quantity(Quantity::length, value, plan.units, 2); };
  std::string title = fmt::format("board {} of {}: {}, liner {}, {} face up", index + 1, plan.boards.size(),
                                  plan.stock[board.stock].name, length(board.thickness), face_up_word(board));
  if (plan.stock[board.stock].roll) title += ", cut off at " + length(board.length);
  const bool densities = std::any_of(plan.boards.begin(), plan.boards.end(), [&](const PlannedBoard& other) {
    return other.thickness == board.thickness && other.density != board.density;
  });
  if (densities) title += ", " + format_quantity(Quantity::density, board.density, plan.units, 1);
  return title;
}

Drawing board_lying(const BoardPlan& plan, std::size_t index, TextStyle text) {
  const PlannedBoard& board = plan.boards.at(index);
  const BoardStock& stock = plan.stock[board.stock];
  Drawing drawing;
  add_box(drawing, {{0.0, 0.0}, {board.length, stock.width}});
  if (stock.kerf_pitch)
    for (int i = 1; i * *stock.kerf_pitch < board.length; ++i)
      for (const double y : {0.0, stock.width}) {
        const double x = i * *stock.kerf_pitch;
        drawing.lines.push_back({Layer::stock, false, {{x, y}, {x, y + (y > 0.0 ? -5.0 : 5.0)}}});
      }
  for (const PenLine& line : board.pen)
    if (!line.of_text || text == TextStyle::strokes) drawing.lines.push_back(line.line);
  drawing.lines.insert(drawing.lines.end(), board.faces.begin(), board.faces.end());
  drawing.lines.insert(drawing.lines.end(), board.knife.begin(), board.knife.end());
  add_frame(plan, index, drawing);
  if (text == TextStyle::entities)
    drawing.texts.insert(drawing.texts.end(), board.texts.begin(), board.texts.end());
  return drawing;
}

Drawing board_drawing(const BoardPlan& plan, std::size_t index, TextStyle text) {
  Drawing drawing = board_lying(plan, index, text);
  lay_on_table(plan, plan.boards.at(index), drawing);
  return drawing;
}

AuditExpectations board_expectations(const BoardPlan& plan, std::size_t board, const DxfOptions& options) {
  AuditExpectations expected;
  expected.units = options.units;
  expected.version = options.version;
  expected.open_cuts = true;  // blanks' cuts across, and what is left of contours that share an edge
  expected.overcut = plan.knife.overcut;
  const PlannedBoard& on = plan.boards.at(board);
  const auto lay = [&](Vec2 p) { return plan.zero.on_table(p, on.length, plan.stock[on.stock].width); };
  expected.opened = on.opened;
  for (Ring& ring : expected.opened)
    for (Vec2& p : ring) p = lay(p);
  if (plan.gap < k_nest_rounding) expected.intrusion = k_nest_rounding;
  expected.labels_inside = !options.cut_only && !options.single_layer;
  for (const BoardRemnant& remnant : on.remnants)
    expected.labelled.push_back(*bounding_box({lay(remnant.box.low), lay(remnant.box.high)}));
  expected.single_layer = options.single_layer;
  expected.faces_paired = std::all_of(plan.parts.begin(), plan.parts.end(),
                                      [](const BoardPart& part) { return part.pattern.faces_paired; });
  return expected;
}

std::string board_dxf(const BoardPlan& plan, std::size_t index, const DxfOptions& options) {
  DxfOptions dxf = options;
  dxf.chord_error = k_chord_error;
  dxf.comments.push_back(board_title(plan, index));
  dxf.comments.push_back(zero_words(plan.zero));
  std::ostringstream out;
  write_dxf(out, board_drawing(plan, index, options.text), dxf);
  std::istringstream in(out.str());
  const std::string name = fmt::format("board {}", index + 1);
  const std::vector<Finding> findings =
      audit_dxf(read_dxf(in, name), board_expectations(plan, index, options));
  if (!findings.empty()) throw GeometryError(one_line(findings.front(), name));
  return out.str();
}

}  // namespace linerwright
