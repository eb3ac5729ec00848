// Text that stays inside its piece: it shrinks or moves before it crosses a cut.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/fitting/port.hpp"
#include "marks.hpp"

namespace linerwright {

namespace {

constexpr double k_heights[] = {14.0, 12.0, 10.0, 8.0, 6.5, 5.0, 4.0, 3.0, 2.5};
constexpr double k_line_pitch = 1.7;  // of the height
constexpr double k_margin = 2.0;      // mm between text and any cut
constexpr double k_tail = 1.0 / 3.0;  // of the height: how far g and j reach below the baseline
constexpr double k_above = 0.2;       // likewise, how far strokes and brackets reach above capitals

bool ring_meets(const Box& box, const Ring& ring) {
  for (std::size_t i = 0, next = 1; i < ring.size(); ++i, ++next)
    if (meets_box(box, ring[i], ring[next == ring.size() ? 0 : next])) return true;
  return false;
}

bool fits(const Box& box, const Region& region) {
  const Vec2 middle = 0.5 * (box.low + box.high);
  if (!point_in_polygon(middle, region.outer) || ring_meets(box, region.outer)) return false;
  for (const Ring& hole : region.holes)
    if (point_in_polygon(middle, hole) || ring_meets(box, hole)) return false;
  return true;
}

bool crosses_marks(const Box& box, const std::vector<std::vector<Vec2>>& marks) {
  for (const auto& line : marks)
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      if (meets_box(box, line[i], line[i + 1])) return true;
  return false;
}

// Around text of this width from the last baseline to the first line's capitals, tails included.
Box around(Vec2 middle, double width, double tall, double height) {
  const Vec2 half{0.5 * width + k_margin, 0.5 * tall + k_margin};
  return {middle - half - Vec2{0.0, k_tail * height}, middle + half + Vec2{0.0, k_above * height}};
}

bool overlap(const Box& a, const Box& b) {
  return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

bool overlaps_any(const Box& box, const std::vector<Box>& taken) {
  return std::any_of(taken.begin(), taken.end(), [&](const Box& other) { return overlap(box, other); });
}

// Middles to try for something in the region, from the middle of it outward, alternately to either side.
std::vector<Vec2> places_in(const Region& region) {
  constexpr int k_columns = 24;
  constexpr int k_rows = 9;
  const Box box = bounding_box(region.outer).value();
  const Vec2 size = box.high - box.low;
  const auto share = [](int i, int n) {
    const int step = (i + 1) / 2;
    return 0.5 + (i % 2 == 0 ? 0.5 : -0.5) * static_cast<double>(step) * 2.0 / (n + 1);
  };
  std::vector<Vec2> places;
  for (int c = 0; c < k_columns; ++c)
    for (int r = 0; r < k_rows; ++r)
      places.push_back({box.low.x + share(c, k_columns) * size.x, box.low.y + share(r, k_rows) * size.y});
  return places;
}

// Places the block of lines as large as it fits, near the middle of the region, off the marks where it can
// be, and notes what it covers.
std::vector<Text> place_block(const std::vector<std::string>& lines, const Region& region,
                              const std::vector<std::vector<Vec2>>& marks, std::vector<Box>& taken) {
  const Box box = bounding_box(region.outer).value();
  const Vec2 size = box.high - box.low;
  const std::vector<Vec2> places = places_in(region);
  constexpr double k_readable = 5.0;  // mm: rather smaller than this, the text may cross a mark
  for (const bool off_marks : {true, false})
    for (const double height : k_heights) {
      if (off_marks && height < k_readable) break;
      double width = 0.0;
      for (const std::string& line : lines) width = std::max(width, stroke_text_width(line, height));
      const double tall = height * (1.0 + k_line_pitch * static_cast<double>(lines.size() - 1));
      if (width + 2.0 * k_margin > size.x || tall + (k_tail + k_above) * height + 2.0 * k_margin > size.y)
        continue;
      for (const Vec2 middle : places) {
        const Box block = around(middle, width, tall, height);
        if (!fits(block, region) || (off_marks && crosses_marks(block, marks))) continue;
        std::vector<Text> texts;
        for (std::size_t i = 0; i < lines.size(); ++i) {
          const double down = height * k_line_pitch * static_cast<double>(i);
          texts.push_back(
              {Layer::label, {middle.x, middle.y + 0.5 * tall - height - down}, height, 0.0, true, lines[i]});
        }
        taken.push_back(block);
        return texts;
      }
    }
  return {};
}

void draw_arrow(Pattern& pattern, Vec2 foot, Vec2 tip, double head) {
  const Vec2 along{0.0, tip.y > foot.y ? 1.0 : -1.0};
  pattern.label_lines.push_back({foot, tip});
  pattern.label_lines.push_back(
      {tip - head * along + Vec2{-0.6 * head, 0.0}, tip, tip - head * along + Vec2{0.6 * head, 0.0}});
}

// An arrow the way the air goes, with a word beside it, as large as it fits near the text.
void place_arrow(Pattern& pattern, const LabelBlock& block, std::vector<Box>& taken) {
  const Region& region = block.part;
  const double up = block.flow->y >= 0.0 ? 1.0 : -1.0;
  const std::string word = "flow";
  for (const double length : {40.0, 28.0, 18.0, 12.0}) {
    const double height = length >= 18.0 ? 0.2 * length : 3.0;
    const double gap = 0.6 * height;
    const double width = stroke_text_width(word, height);
    const double head = 0.18 * length;
    // the arrow stands left of its word
    const Vec2 half{head + 0.5 * gap + 0.5 * width, 0.5 * length};
    std::optional<Vec2> best;
    for (const Vec2 middle : places_in(region)) {
      const Vec2 margin{k_margin, k_margin};
      const Box box{middle - half - margin, middle + half + margin};
      if (!fits(box, region) || crosses_marks(box, pattern.marks) || overlaps_any(box, taken)) continue;
      const Vec2 text = 0.5 * (taken.back().low + taken.back().high);
      if (!best || distance(middle, text) < distance(*best, text)) best = middle;
    }
    if (!best) continue;
    const Vec2 stem = *best + Vec2{head - half.x, 0.0};
    if (block.two_flows) {  // one below the other, tip to tip or foot to foot
      const double apart = 0.08 * length;
      const Vec2 from{0.0, up > 0.0 ? 0.5 * length : apart};
      const Vec2 to{0.0, up > 0.0 ? apart : 0.5 * length};
      draw_arrow(pattern, stem - from, stem - to, 0.7 * head);
      draw_arrow(pattern, stem + from, stem + to, 0.7 * head);
    } else {
      const Vec2 reach{0.0, 0.5 * up * length};
      draw_arrow(pattern, stem - reach, stem + reach, head);
    }
    pattern.labels.push_back(
        {Layer::label, *best + Vec2{head + 0.5 * gap, -0.5 * height} + Vec2{0.5 * width - half.x + head, 0.0},
         height, 0.0, true, word});
    taken.push_back({*best - half, *best + half});
    return;
  }
}

// A label's name beside each mark, clear of what is `taken`.
void name_marks(Pattern& pattern, const std::vector<Box>& taken) {
  const auto free = [&](const Box& box) {
    return !overlaps_any(box, taken) &&
           std::any_of(pattern.label_blocks.begin(), pattern.label_blocks.end(),
                       [&](const LabelBlock& block) { return fits(box, block.part); });
  };
  for (std::size_t i = 0; i < pattern.marks.size(); ++i) {
    const std::string& name = pattern.mark_names[i];
    if (name.empty()) continue;
    const auto& line = pattern.marks[i];
    const Vec2 along = line.back() - line.front();
    const double length = norm(along);
    const bool short_tick = length < 15.0;
    for (const double height : {5.0, 4.0, 3.0, 2.5}) {
      const double width = stroke_text_width(name, height);
      bool placed = false;
      if (short_tick) {
        // beyond the tick's far end, level
        const Vec2 middle = line.back() + ((0.5 * std::max(width, height) + 2.0 * k_margin) / length) * along;
        const Box box = around(middle, width, height, height);
        placed = free(box);
        if (placed)
          pattern.labels.push_back({Layer::label, middle - Vec2{0.0, 0.5 * height}, height, 0.0, true, name});
      } else if (width + 2.0 * k_margin < length) {
        // beside the line, along it, on whichever side is inside
        const bool forward =
            std::fabs(along.x) > 1e-6 * length ? along.x > 0.0 : along.y > 0.0;  // never upside down
        const Vec2 d = (forward ? 1.0 / length : -1.0 / length) * along;
        const Vec2 middle = 0.5 * (line.front() + line.back());
        for (const double side : {1.0, -1.0}) {
          const Vec2 off = side * (0.5 * height + 1.5) * Vec2{-d.y, d.x};
          const Vec2 centre = middle + off;
          const Vec2 half = 0.5 * width * d;
          Box box{centre - half, centre + half};
          const double reach = (0.5 + k_tail) * height + 0.5;
          box = {Vec2{std::min(box.low.x, box.high.x) - reach, std::min(box.low.y, box.high.y) - reach},
                 Vec2{std::max(box.low.x, box.high.x) + reach, std::max(box.low.y, box.high.y) + reach}};
          placed = free(box);
          if (!placed) continue;
          const Vec2 baseline = centre - 0.5 * height * Vec2{-d.y, d.x};
          pattern.labels.push_back({Layer::label, baseline, height, std::atan2(d.y, d.x), true, name});
          break;
        }
      }
      if (placed) break;
    }
  }
}

}  // namespace

void place_labels(Pattern& pattern) {
  pattern.labels.clear();
  pattern.label_lines.clear();
  std::vector<Box> taken;
  for (const LabelBlock& block : pattern.label_blocks) {
    const std::size_t before = taken.size();
    std::vector<Text> texts = place_block(block.lines, block.part, pattern.marks, taken);
    // a small piece carries its name alone
    if (texts.empty()) texts = place_block({block.lines.front()}, block.part, pattern.marks, taken);
    if (texts.empty()) texts = place_block({block.piece}, block.part, pattern.marks, taken);
    pattern.labels.insert(pattern.labels.end(), texts.begin(), texts.end());
    if (block.flow && taken.size() > before) place_arrow(pattern, block, taken);
  }
  name_marks(pattern, taken);
}

void place_labels_of(Pattern& laid, const Pattern& own, bool turned, Vec2 shift, const std::string& copy) {
  Pattern about;  // turned, not moved
  const double sign = turned ? -1.0 : 1.0;
  const auto line = [&](std::vector<Vec2> points, Vec2 by) {
    for (Vec2& p : points) p = sign * p + by;
    return points;
  };
  const auto region = [&](const Region& given, Vec2 by) {
    Region result{line(given.outer, by), {}};
    for (const Ring& hole : given.holes) result.holes.push_back(line(hole, by));
    return result;
  };
  about.cut = region(own.cut, {});
  for (const auto& each : own.open_cuts) about.open_cuts.push_back(line(each, {}));
  for (const auto& each : own.marks) about.marks.push_back(line(each, {}));
  about.mark_names = own.mark_names;
  laid.label_blocks = about.label_blocks = own.label_blocks;
  for (std::size_t i = 0; i < own.label_blocks.size(); ++i) {
    LabelBlock& block = about.label_blocks[i];
    if (block.flow && !block.two_flows) block.flow = sign * *block.flow;
    block.lines.front() += copy;
    laid.label_blocks[i] = block;
    block.part = region(own.label_blocks[i].part, {});
    laid.label_blocks[i].part = region(own.label_blocks[i].part, shift);
  }
  place_labels(about);
  laid.labels = std::move(about.labels);
  for (Text& text : laid.labels) text.at = text.at + shift;
  laid.label_lines = std::move(about.label_lines);
  for (auto& each : laid.label_lines)
    for (Vec2& p : each) p = p + shift;
}

std::optional<Vec2> free_place(const Pattern& pattern, const LabelBlock& block, Vec2 size) {
  std::vector<Box> taken;
  for (const Text& text : pattern.labels) {
    const Vec2 tail{0.0, k_tail * text.height};
    Box box = bounding_box(text_corners(text)).value();
    taken.push_back({box.low - tail, box.high});
  }
  for (const auto& line : pattern.label_lines) taken.push_back(bounding_box(line).value());
  const Vec2 half = 0.5 * size + Vec2{k_margin, k_margin};
  for (const Vec2 middle : places_in(block.part)) {
    const Box box{middle - half, middle + half};
    if (fits(box, block.part) && !crosses_marks(box, pattern.marks) && !overlaps_any(box, taken))
      return middle;
  }
  return std::nullopt;
}

void add_labels(Pattern& pattern, const Fitting& fitting, const std::vector<int>& pieces,
                const std::vector<Region>& parts) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& piece = fitting.piece(pieces[i]);
    const LinerSpec& liner = liner_of(fitting, piece);
    std::string next;
    for (const std::string& id : piece.next) next += (next.empty() ? "" : ", ") + id;
    LabelBlock block;
    block.piece = piece.id;
    block.part = parts[i];
    block.lines = {
        fmt::format("{}/{}", fitting.tag, piece.id),
        fmt::format("{}, {} face up", piece.role, face_word(liner, liner.face_up)),
        fmt::format("seam: {}", piece.seam_place),
        fmt::format("liner {}", format_quantity(Quantity::length, liner.thickness, fitting.units))};
    if (!next.empty()) block.lines[2] += "  next: " + next;
    // walls run from low to high with the numbering; a pattern lies with its middle ruling upright
    const bool flat = fitting.wall_of(piece).sheet.is_flat();
    const PieceFlow flow = flat ? PieceFlow::unmarked : flow_along(fitting, piece);
    const bool up = flow == PieceFlow::up || flow == PieceFlow::meets;
    if (flow != PieceFlow::unmarked) block.flow = Vec2{0.0, up ? 1.0 : -1.0};
    block.two_flows = flow == PieceFlow::meets || flow == PieceFlow::parts;
    pattern.label_blocks.push_back(std::move(block));
  }
  place_labels(pattern);
}

}  // namespace linerwright
