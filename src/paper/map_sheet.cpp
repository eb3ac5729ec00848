// The first sheet: all patterns small with the names of their sheets, and how to go about it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/shop_words.hpp"
#include "sheets.hpp"

namespace linerwright {

namespace {

constexpr double k_words = 2.8;
constexpr double k_between = 6.0;
constexpr double k_title = 6.0;       // mm below a map for its title
constexpr double k_roll_map = 420.0;  // mm of roll for this sheet

Box box_of_tiles(const Tiling& tiling) {
  Box box = tiling.tiles.front().cell;
  for (const Tile& tile : tiling.tiles) box = joined(box, tile.cell);
  return box;
}

// A pattern and its sheets, small, within a box.
void add_map(Picture& picture, const PaperPattern& pattern, const Box& room) {
  const Box all = box_of_tiles(pattern.tiling);
  const Vec2 size = all.high - all.low;
  const Vec2 space = room.high - room.low - Vec2{0.0, k_title};
  const double scale = std::min(space.x / size.x, space.y / size.y);
  const Vec2 low =
      room.low + Vec2{0.5 * (space.x - scale * size.x), k_title + 0.5 * (space.y - scale * size.y)};
  const auto placed = [&](Vec2 p) { return low + scale * (p - all.low); };
  for (const InkedGroup& group : pattern.picture) {
    if (group.ink.name != "cut" && group.ink.name != "mark") continue;
    InkedGroup small{group.ink, group.lines, {}};
    small.ink.width *= 0.7;
    for (InkedLine& line : small.lines)
      for (Vec2& p : line.points) p = placed(p);
    picture.push_back(std::move(small));
  }
  InkedGroup sheets{square_ink(), {}, {}};
  for (const Tile& tile : pattern.tiling.tiles) {
    const Vec2 a = placed(tile.cell.low);
    const Vec2 b = placed(tile.cell.high);
    sheets.lines.push_back({true, {a, {b.x, a.y}, b, {a.x, b.y}}});
    const double height = std::min({4.0, 0.3 * (b.y - a.y), 0.3 * (b.x - a.x)});
    sheets.texts.push_back(
        {Layer::label, 0.5 * (a + b) - Vec2{0.0, 0.5 * height}, height, 0.0, true, tile.name});
  }
  Words words({0.5 * (room.low.x + room.high.x), low.y - 1.0}, space.x, k_words);
  words.line(fmt::format("{}: {} sheet{}", pattern.title, pattern.tiling.tiles.size(),
                         pattern.tiling.tiles.size() == 1 ? "" : "s"));
  for (Text& text : words.texts) text.centred = true;
  sheets.texts.insert(sheets.texts.end(), words.texts.begin(), words.texts.end());
  picture.push_back(std::move(sheets));
}

// All maps, in as many columns as show them largest.
void add_maps(Picture& picture, const std::vector<PaperPattern>& patterns, const Box& room) {
  const Vec2 size = room.high - room.low;
  const int count = static_cast<int>(patterns.size());
  int best = 1;
  double largest = 0.0;
  const auto cell_for = [&](int columns) {
    const int rows = (count + columns - 1) / columns;
    return Vec2{(size.x - (columns - 1) * k_between) / columns, (size.y - (rows - 1) * k_between) / rows};
  };
  for (int columns = 1; columns <= count; ++columns) {
    const Vec2 cell = cell_for(columns);
    double smallest = 1e9;
    for (const PaperPattern& pattern : patterns) {
      const Box box = box_of_tiles(pattern.tiling);
      const Vec2 all = box.high - box.low;
      smallest = std::min({smallest, cell.x / all.x, (cell.y - k_title) / all.y});
    }
    if (smallest > largest) {
      largest = smallest;
      best = columns;
    }
  }
  const Vec2 cell = cell_for(best);
  for (int i = 0; i < count; ++i) {
    const int row = i / best;
    const Vec2 at{room.low.x + (i % best) * (cell.x + k_between),
                  room.high.y - cell.y - row * (cell.y + k_between)};
    add_map(picture, patterns[static_cast<std::size_t>(i)], {at, at + cell});
  }
}

void move(InkedGroup& group, Vec2 by) {
  for (InkedLine& line : group.lines)
    for (Vec2& p : line.points) p = p + by;
  for (Text& text : group.texts) text.at = text.at + by;
}

void add_legend(Picture& picture, Words& words, const Picture& pattern) {
  const auto entry = [&](const Ink& ink, const std::string& what) {
    const Vec2 at = words.at();
    const double y = at.y - 0.5 * k_words;
    picture.push_back({ink, {{false, {{at.x, y}, {at.x + 12.0, y}}}}, {}});
    Words beside({at.x + 15.0, at.y}, 70.0, k_words);
    beside.line(what);
    picture.push_back({word_ink(), {}, std::move(beside.texts)});
    words.skip(1.0);
  };
  for (const InkedGroup& group : pattern) {
    if (group.ink.name == "cut") entry(group.ink, "cut here");
    if (group.ink.name == "mark") entry(group.ink, "mark: stations, seam, heel, throat");
    if (group.ink.name == "duct-face") entry(group.ink, "edge of the duct face");
    if (group.ink.name == "air-face") entry(group.ink, "edge of the air face");
    if (group.ink.name == "outer-face") entry(group.ink, "edge of the outer face");
    if (group.ink.name == "inner-face") entry(group.ink, "edge of the inner face");
  }
  entry(frame_ink(), "sheets lie together here");
}

Picture how_to(Vec2 top_left, double width, Units units, const std::vector<PaperPattern>& patterns) {
  Picture picture;
  Words words(top_left, width, k_words);
  words.write(
      fmt::format("1. Print this sheet first: at 100 %, actual size, no scaling, not fitted to the page. "
                  "Measure the square: 100 mm wide and high{}. If it is not, stop: every piece would "
                  "come out wrong.",
                  units == Units::inch ? ", the rulers 4 in long" : ""));
  words.write(
      "2. Print the rest. The outer 10 mm of each sheet stay empty for the printer; sheets without a line "
      "are left out.");
  words.write(
      "3. Where sheets meet, cut one of them along the dashed line, lay it on the other so that the "
      "crosses cover each other, and tape. Measure the whole before cutting board.");
  const bool of_board = !patterns.front().pattern->pieces.empty();
  words.write(of_board ? "4. Draw round the template on the board, the named face up. The board bends around "
                         "the duct only."
                       : "4. Draw round the template on thin sheet, cut it, take off the burrs, and clamp it "
                         "around the rolled piece, its lap away from the seam.");
  words.skip(0.3);
  add_legend(picture, words, patterns.front().picture);
  words.skip(0.3);
  words.write(
      "Gloves, eye protection and a dust mask with fibrous board; cut away from the body. Cut and try one "
      "piece before a batch. Local codes, the board maker's instructions and the licensed designer "
      "decide.");
  picture.push_back({word_ink(), {}, std::move(words.texts)});
  return picture;
}

}  // namespace

SheetPlan map_sheet(const Fitting& fitting, const std::vector<PaperPattern>& patterns, const Paper& paper) {
  SheetPlan plan;
  plan.size = paper.roll ? Vec2{paper.size.x, k_roll_map} : paper.size;
  const double left = k_printer_margin;
  const double width = plan.size.x - 2.0 * k_printer_margin;
  std::size_t sheets = 0;
  for (const PaperPattern& pattern : patterns) sheets += pattern.tiling.tiles.size();

  Words head({left, plan.size.y - k_printer_margin}, width, k_words);
  head.line(fmt::format("{}: templates at full size", fitting.tag), 1.8);
  head.line(fmt::format("{}, {} on {}{}", kind_title(fitting.kind),
                        sheets == 1 ? std::string("one sheet") : fmt::format("{} sheets", sheets),
                        paper.title,
                        fitting.count == 1 ? std::string() : fmt::format("; {} alike", fitting.count)));
  for (const PaperPattern& pattern : patterns)
    head.write(fmt::format("{}: {}; {}", pattern.pattern->id, pattern.facts, pattern.edges), 0.85);
  if (pen_spelling(fitting.tag) != fitting.tag)
    head.line("<U+...> in the tag: a letter that the pen cannot draw, by its Unicode number", 0.85);

  // the square below left, how to go about it beside it
  const Box room = square_room(fitting.units);
  const Vec2 square = Vec2{left, k_printer_margin} - room.low;
  add_square(plan.frame, square, fitting.units);
  const double beside = square.x + room.high.x + 6.0;
  Picture how = how_to({beside, 0.0}, plan.size.x - k_printer_margin - beside, fitting.units, patterns);
  const double needed = -extents(how).value().low.y;
  const double how_top = k_printer_margin + 1.0 + std::max(needed, room.high.y - room.low.y);
  plan.frame.insert(plan.frame.end(), how.begin(), how.end());
  for (std::size_t i = plan.frame.size() - how.size(); i < plan.frame.size(); ++i)
    move(plan.frame[i], {0.0, how_top});

  const double top = head.at().y - k_between;
  const double bottom = how_top + k_between;
  add_maps(plan.frame, patterns, {{left, bottom}, {left + width, top}});
  plan.frame.push_back({word_ink(), {}, std::move(head.texts)});
  return plan;
}

}  // namespace linerwright
