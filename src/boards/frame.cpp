#include "frame.hpp"

#include <algorithm>

namespace linerwright {

namespace {

constexpr double k_title = 20.0;   // mm tall, at most
constexpr double k_least = 4.0;    // and at least, where there is any room
constexpr double k_margin = 3.0;   // mm
constexpr double k_letters = 8.0;  // of the words below the line to measure

bool overlap(const Box& a, const Box& b) {
  return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

std::vector<Vec2> corners_of(const Box& box) {
  return {box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}, box.low};
}

// What is left of a room beside a box: below, above, to the left and right of it.
void add_rest(const Box& room, const Box& taken, std::vector<Box>& rest) {
  if (!overlap(room, taken)) {
    rest.push_back(room);
    return;
  }
  for (const Box& part :
       {Box{room.low, {room.high.x, taken.low.y}}, Box{{room.low.x, taken.high.y}, room.high},
        Box{room.low, {taken.low.x, room.high.y}}, Box{{taken.high.x, room.low.y}, room.high}})
    if (part.high.x - part.low.x > k_margin && part.high.y - part.low.y > k_margin) rest.push_back(part);
}

// Rooms for words, where nothing is drawn: the trim, offcuts beside their labels, and inside pieces.
class Rooms {
 public:
  Rooms(const BoardPlan& plan, const PlannedBoard& board) {
    const BoardStock& stock = plan.stock[board.stock];
    const EdgeTrim& trim = stock.trim;
    for (const Box& strip : {Box{{0.0, 0.0}, {board.length, trim.below}},
                             Box{{0.0, stock.width - trim.above}, {board.length, stock.width}}})
      rooms_.push_back(strip);
    for (const Box& offcut : board.offcuts) rooms_.push_back(offcut);
    rooms_.push_back({{board.used_length, 0.0}, {board.length, stock.width}});
    rooms_.insert(rooms_.end(), board.rooms.begin(), board.rooms.end());
    for (const BoardRemnant& remnant : board.remnants)
      for (const Text& text : remnant_words(remnant, plan.units)) take(*bounding_box(text_corners(text)));
  }

  void take(const Box& box) {
    const Box wider{box.low - Vec2{k_margin, k_margin}, box.high + Vec2{k_margin, k_margin}};
    std::vector<Box> rest;
    for (const Box& room : rooms_) add_rest(room, wider, rest);
    rooms_ = std::move(rest);
  }

  const std::vector<Box>& all() const { return rooms_; }

 private:
  std::vector<Box> rooms_;
};

Vec2 size_of(const Box& box) {
  return box.high - box.low;
}

void add_scale(const BoardPlan& plan, Rooms& rooms, Drawing& drawing) {
  const bool inch = plan.units == Units::inch;
  const double length = inch ? 4.0 * 25.4 : 100.0;
  const std::string words = inch ? "this line is 4 in long" : "this line is 100 mm long";
  constexpr double k_above = 14.0;  // of the line, over the words' foot
  constexpr double k_tick = 4.0;
  const double wide = stroke_text_width(words, 1.0);
  const Vec2 needed{length + 2.0 * k_margin, k_above + k_tick + 2.0 * k_margin + 3.0};
  const auto found = std::find_if(rooms.all().begin(), rooms.all().end(), [&](const Box& room) {
    return size_of(room).x >= needed.x && size_of(room).y >= needed.y;
  });
  const Vec2 low = found == rooms.all().end() ? Vec2{0.0, 0.0} : found->low;
  const Vec2 foot = low + Vec2{k_margin, k_margin + 3.0};
  const Vec2 line = foot + Vec2{0.0, k_above};
  drawing.lines.push_back({Layer::scale, false, {line, line + Vec2{length, 0.0}}});
  for (const double x : {0.0, length})
    drawing.lines.push_back({Layer::scale, false, {line + Vec2{x, -k_tick}, line + Vec2{x, k_tick}}});
  drawing.texts.push_back({Layer::scale, foot, std::min(k_letters, length / wide), 0.0, false, words});
  rooms.take({low, low + needed});
}

// The title in one line, or in two, as large as a room lets it be.
void add_title(const BoardPlan& plan, std::size_t index, const Rooms& rooms, Drawing& drawing) {
  const std::string title = board_title(plan, index);
  const std::size_t comma = title.find(", liner");
  const std::vector<std::vector<std::string>> ways{{title},
                                                   {title.substr(0, comma), title.substr(comma + 2)}};
  constexpr double k_line = 1.6;  // from one line to the next, in heights
  const auto height_in = [&](const Box& room, const std::vector<std::string>& lines) {
    double wide = 0.0;
    for (const std::string& line : lines) wide = std::max(wide, stroke_text_width(line, 1.0));
    const Vec2 size = size_of(room) - Vec2{2.0 * k_margin, 2.0 * k_margin};
    return std::min({k_title, size.x / wide, size.y / (k_line * static_cast<double>(lines.size()))});
  };
  const PlannedBoard& board = plan.boards[index];
  Box best{{0.0, 0.0}, {board.length, plan.stock[board.stock].width}};
  double height = std::min(k_least, height_in(best, ways.front()));
  const std::vector<std::string>* lines = &ways.front();
  for (const Box& room : rooms.all())
    for (const std::vector<std::string>& way : ways)
      if (const double here = height_in(room, way); here > height * (1.0 + 1e-9)) {
        best = room;
        height = here;
        lines = &way;
      }
  Vec2 at = best.low + Vec2{k_margin, k_margin + 0.4 * height};
  for (auto line = lines->rbegin(); line != lines->rend(); ++line, at.y += k_line * height)
    drawing.texts.push_back({Layer::stock, at, height, 0.0, false, *line});
}

// Arrows from the table's zero along its x and y, as far as they lie on the board.
void add_zero(const BoardPlan& plan, const PlannedBoard& board, Drawing& drawing) {
  constexpr double k_longest = 40.0;
  constexpr double k_head = 6.0;
  const double width = plan.stock[board.stock].width;
  const double arm = std::min(k_longest, 0.4 * std::min(board.length, width));
  const auto on_board = [&](Vec2 p) { return plan.zero.on_board(p, board.length, width); };
  const Vec2 zero = on_board({0.0, 0.0});
  for (const Vec2 axis : {Vec2{1.0, 0.0}, Vec2{0.0, 1.0}}) {
    const Vec2 way = on_board(axis) - zero;
    const Vec2 side{-way.y, way.x};
    const Vec2 middle{0.5 * board.length, 0.5 * width};
    const double inward = dot(middle - zero, side) >= 0.0 ? 1.0 : -1.0;
    const double onto = dot(middle - zero, way) >= 0.0 ? 1.0 : -1.0;  // an axis may lead away from the board
    const Vec2 foot = zero + k_margin * inward * side;
    const Vec2 end = foot + arm * onto * way;
    const Vec2 tip = onto > 0.0 ? end : foot;
    drawing.lines.push_back({Layer::stock, false, {onto > 0.0 ? foot : end, tip}});
    drawing.lines.push_back({Layer::stock, false, {tip, tip - k_head * way + 0.5 * k_head * inward * side}});
    if (axis.x > 0.0) {
      const double letter = 8.0;
      const Vec2 in = inward * side;
      const Vec2 beside = foot + (onto > 0.0 ? arm : 0.5 * arm) * onto * way + 2.0 * in;
      // a letter stands on its lower left corner, whichever way the board lies from the arrow
      const Vec2 back{in.x < -0.5 ? stroke_text_width("x", letter) : 0.0, in.y < -0.5 ? letter : 0.0};
      drawing.texts.push_back({Layer::stock, beside - back, letter, 0.0, false, "x"});
    }
  }
}

}  // namespace

std::vector<Box> rooms_in(const LaidPiece& piece) {
  const std::vector<Vec2> sizes{{112.0, 30.0}, {600.0, 30.0}, {420.0, 24.0}, {300.0, 18.0},
                                {200.0, 14.0}, {140.0, 24.0}, {100.0, 12.0}, {60.0, 10.0}};
  Pattern pattern = piece.pattern;
  pattern.label_lines.insert(pattern.label_lines.end(), piece.code.begin(), piece.code.end());
  std::vector<Box> rooms;
  for (const LabelBlock& block : pattern.label_blocks)
    for (const Vec2 size : sizes)
      if (const auto middle = free_place(pattern, block, size)) {
        rooms.push_back({*middle - 0.5 * size, *middle + 0.5 * size});
        pattern.label_lines.push_back(corners_of(rooms.back()));
      }
  return rooms;
}

void add_frame(const BoardPlan& plan, std::size_t index, Drawing& drawing) {
  const PlannedBoard& board = plan.boards.at(index);
  Rooms rooms(plan, board);
  add_scale(plan, rooms, drawing);
  add_title(plan, index, rooms, drawing);
  add_zero(plan, board, drawing);
}

}  // namespace linerwright
