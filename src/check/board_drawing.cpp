// One board's drawing: every piece's contours, marks and labels in the place that the list names.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>
#include <tuple>

#include "boards.hpp"
#include "linerwright/nest/nest.hpp"
#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/units/error.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

// Pieces lie on a grid of the nest's rounding; where two share an edge, one of them is cut along the other's.
constexpr double k_off = k_nest_rounding + 5e-4;  // mm, with the file's own rounding
constexpr double k_same_size = 1e-3;              // mm

// A pattern moved to its place: turned end for end or not, never mirrored.
class Lay {
 public:
  Lay(const Pattern& pattern, const ListedPiece& piece) : sign_(piece.turned ? -1.0 : 1.0) {
    const Box own = bounding_box(turned(pattern.cut.outer)).value();
    shift_ = piece.box.low - own.low;
    size_ = own.high - own.low;
  }
  Vec2 size() const { return size_; }
  std::vector<Vec2> line(const std::vector<Vec2>& points) const {
    std::vector<Vec2> moved = turned(points);
    for (Vec2& p : moved) p = p + shift_;
    return moved;
  }
  Region region(const Region& given) const {
    Region moved{line(given.outer), {}};
    for (const Ring& hole : given.holes) moved.holes.push_back(line(hole));
    return moved;
  }
  bool is_turned() const { return sign_ < 0.0; }
  Vec2 shift() const { return shift_; }

 private:
  std::vector<Vec2> turned(std::vector<Vec2> points) const {
    for (Vec2& p : points) p = sign_ * p;
    return points;
  }

  double sign_;
  Vec2 shift_{};
  Vec2 size_{};
};

BoardLines cut_lines(const Pattern& pattern, const Lay& lay) {
  BoardLines lines{{lay.line(pattern.cut.outer), true}};
  for (const Ring& hole : pattern.cut.holes) lines.push_back({lay.line(hole), true});
  for (const auto& line : pattern.open_cuts) lines.push_back({lay.line(line), false});
  return lines;
}

BoardLines mark_lines(const Pattern& pattern, const Lay& lay) {
  BoardLines lines;
  for (const auto& line : pattern.marks) lines.push_back({lay.line(line), false});
  return lines;
}

// The labels as they are written on the board: upright, with the copy's number where there are several.
BoardLines label_strokes(const Pattern& own, const Lay& lay, long copy, long count) {
  Pattern pattern;
  place_labels_of(pattern, own, lay.is_turned(), lay.shift(),
                  count > 1 ? fmt::format("  {}/{}", copy, count) : "");
  BoardLines lines;
  for (const auto& line : pattern.label_lines) lines.push_back({line, false});
  for (const Text& text : pattern.labels)
    for (std::vector<Vec2>& stroke : stroke_text(text)) lines.push_back({std::move(stroke), false});
  return lines;
}

// Lines with the boxes around them, so that a piece is compared with what lies near it alone.
class Near {
 public:
  explicit Near(BoardLines lines) : lines_(std::move(lines)) {
    for (const BoardLine& line : lines_) boxes_.push_back(bounding_box(line.points).value_or(Box{}));
  }
  const BoardLines& all() const { return lines_; }
  BoardLines around(const Box& box) const {
    BoardLines near;
    for (std::size_t i = 0; i < lines_.size(); ++i)
      if (boxes_[i].low.x <= box.high.x + k_off && box.low.x <= boxes_[i].high.x + k_off &&
          boxes_[i].low.y <= box.high.y + k_off && box.low.y <= boxes_[i].high.y + k_off)
        near.push_back(lines_[i]);
    return near;
  }

 private:
  BoardLines lines_;
  std::vector<Box> boxes_;
};

double furthest_from(const BoardLines& lines, const BoardLines& from) {
  double worst = 0.0;
  const NearLines near(from);
  for (const BoardLine& line : lines)
    for (const Vec2 p : line.points) worst = std::max(worst, near.distance(p));
  return worst;
}

// Of all lines drawn on the board, how far the worst point lies from every piece's own lines.
double furthest_from_pieces(const Near& drawn, const std::vector<std::pair<Box, BoardLines>>& pieces) {
  constexpr double k_beyond = 0.1;  // mm: a mark ends on the exact edge, the box is one of chords
  double worst = 0.0;
  std::vector<NearLines> near;
  for (const auto& piece : pieces) near.emplace_back(piece.second);
  for (const BoardLine& line : drawn.all())
    for (const Vec2 p : line.points) {
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Box& box = pieces[i].first;
        if (p.x >= box.low.x - k_beyond && p.x <= box.high.x + k_beyond && p.y >= box.low.y - k_beyond &&
            p.y <= box.high.y + k_beyond)
          least = std::min(least, near[i].distance(p));
      }
      worst = std::max(worst, least);
    }
  return worst;
}

// A board's title stands in a comment: what liner it is for, and which face is up.
std::string wrong_title(const DxfFile& file, const ListedBoard& board) {
  for (const std::string& comment : file.comments) {
    if (comment.rfind("board ", 0) != 0) continue;
    const std::size_t liner = comment.find(", liner ");
    const std::size_t end = comment.find(',', liner + 2);
    if (liner == std::string::npos || end == std::string::npos) return "the title names no liner: " + comment;
    try {
      const std::string written = comment.substr(liner + 8, end - liner - 8);
      const double half_a_place = written.find("in") == std::string::npos ? 0.0051 : 0.0051 * 25.4;
      if (std::fabs(parse_quantity(Quantity::length, written, Units::metric) - board.thickness) >
          half_a_place)
        return "the title names another liner: " + comment;
    } catch (const std::invalid_argument&) {
      return "the title names no liner: " + comment;
    }
    if (comment.compare(end, board.face_up.size() + 10, ", " + board.face_up + " face up") != 0)
      return "the title names another face: " + comment;
  }
  return {};
}

// The findings that do not need the plan's own knowledge.
std::string first_finding(const DxfFile& file, const std::string& name, bool layered) {
  AuditExpectations expected;
  expected.units = file.units;
  expected.open_cuts = true;
  expected.single_layer = !layered;
  for (const Finding& finding : audit_dxf(file, expected))
    for (const char* code : {"D109", "D112", "D117", "D118", "D120", "D121", "D122"})
      if (finding.code == code) return one_line(finding, name);
  return file.units == DxfUnits::unstated ? name + " states no unit" : std::string();
}

// Everything that one board is compared with.
struct OnBoard {
  std::vector<std::pair<Box, BoardLines>> cuts;  // by piece
  std::vector<Region> regions;                   // the same
  std::vector<std::pair<Box, BoardLines>> marks;
  BoardLines labels;
  BoardLines remnants;  // what is written on offcuts
};

// A remnant is one of the offcuts, and no piece lies on it.
std::string wrong_remnant(const ListedBoard& board, const BoardRemnant& remnant) {
  const auto same = [&](const Box& offcut) {
    return distance(offcut.low, remnant.box.low) < k_off && distance(offcut.high, remnant.box.high) < k_off;
  };
  if (std::none_of(board.offcuts.begin(), board.offcuts.end(), same))
    return fmt::format("remnant {} is none of its offcuts", remnant.id);
  for (const ListedPiece& piece : board.pieces)
    if (piece.box.low.x < remnant.box.high.x - k_off && remnant.box.low.x < piece.box.high.x - k_off &&
        piece.box.low.y < remnant.box.high.y - k_off && remnant.box.low.y < piece.box.high.y - k_off)
      return fmt::format("remnant {} lies under {}/{}", remnant.id, piece.tag, piece.piece);
  return {};
}

// The file's lines as they lie on the board, whatever the table's zero.
void lay_on_board(DxfFile& file, const ListedBoard& board) {
  for (DxfPolyline& line : file.lines)
    for (Vec2& p : line.points) p = board.zero.on_board(p, board.length, board.width);
}

// Where the knife may run past a contour's corners: straight on from each.
void add_runs_past(std::vector<std::pair<Box, BoardLines>>& pieces, double past) {
  if (past <= 0.0) return;
  for (auto& [box, lines] : pieces) {
    BoardLines more;
    for (const BoardLine& line : lines) {
      const std::size_t count = line.points.size();
      for (std::size_t i = 0; i < count; ++i) {
        if (!line.closed && (i == 0 || i + 1 == count)) continue;
        for (const std::size_t other : {(i + count - 1) % count, (i + 1) % count}) {
          const Vec2 way = line.points[i] - line.points[other];
          more.push_back({{line.points[i], line.points[i] + (past / norm(way)) * way}, false});
        }
      }
    }
    lines.insert(lines.end(), more.begin(), more.end());
    box = {box.low - Vec2{past, past}, box.high + Vec2{past, past}};
  }
}

OnBoard lie_down(Tally& tally, const ListedBoard& board, const MakeAgain& again) {
  OnBoard on;
  Units units = Units::metric;
  for (const ListedPiece& piece : board.pieces) {
    const std::shared_ptr<const MadeAgain> made = again(piece.tag);
    if (made == nullptr) {
      tally.wrong(piece.tag + " lies on it, but no such fitting was made");
      continue;
    }
    const auto shown = [&](double mm) { return format_quantity(Quantity::length, mm, made->fitting.units); };
    const auto pattern = std::find_if(made->patterns.begin(), made->patterns.end(),
                                      [&](const Pattern& each) { return each.id == piece.piece; });
    tally.require(pattern != made->patterns.end(),
                  piece.tag + "/" + piece.piece + " is no piece that was made");
    if (pattern == made->patterns.end()) continue;
    const LinerSpec& liner = liner_of(made->fitting, *pattern);
    tally.require(std::fabs(liner.thickness - board.thickness) <= 1e-6,
                  fmt::format("it is for liner {}, but {}/{} has {}: nest again", shown(board.thickness),
                              piece.tag, piece.piece, shown(liner.thickness)));
    tally.require(
        face_word(liner, liner.face_up) == board.face_up,
        fmt::format("it lies {} face up, {}/{} is cut the other way", board.face_up, piece.tag, piece.piece));
    const Lay lay(*pattern, piece);
    tally.require(
        distance(lay.size(), piece.box.high - piece.box.low) <= k_same_size,
        fmt::format("{}/{} is of another size than what was made: nest again", piece.tag, piece.piece));
    on.cuts.emplace_back(piece.box, cut_lines(*pattern, lay));
    on.regions.push_back(lay.region(pattern->cut));
    on.marks.emplace_back(piece.box, mark_lines(*pattern, lay));
    const BoardLines labels = label_strokes(*pattern, lay, piece.copy, made->fitting.count);
    on.labels.insert(on.labels.end(), labels.begin(), labels.end());
    units = made->fitting.units;
  }
  for (const BoardRemnant& remnant : board.remnants) {
    const std::string wrong = wrong_remnant(board, remnant);
    tally.require(wrong.empty(), wrong);
    for (const Text& text : remnant_words(remnant, units))
      for (std::vector<Vec2>& stroke : stroke_text(text)) on.remnants.push_back({std::move(stroke), false});
  }
  return on;
}

// `allowed`: all that may be drawn.
CheckResult compare_lines(const std::string& name, const Near& drawn,
                          const std::vector<std::pair<Box, BoardLines>>& pieces,
                          const std::vector<std::pair<Box, BoardLines>>& allowed) {
  double worst = 0.0;
  std::size_t points = 0;
  for (const auto& [box, lines] : pieces) {
    worst = std::max(worst, furthest_from(lines, drawn.around(box)));
    for (const BoardLine& line : lines) points += line.points.size();
  }
  worst = std::max(worst, furthest_from_pieces(drawn, allowed));
  return within(name, worst, k_off, "mm",
                fmt::format("{} points of {} pieces to the board's lines, and back", points, pieces.size()));
}

// By how much pieces lie nearer to each other than the gap, and beyond what the trim leaves of the board.
CheckResult lie_apart(const std::string& name, const BoardSpace& space, const OnBoard& on) {
  double lacks = 0.0;
  const auto near = [&](const Box& a, const Box& b) {
    return a.low.x < b.high.x + space.gap && b.low.x < a.high.x + space.gap &&
           a.low.y < b.high.y + space.gap && b.low.y < a.high.y + space.gap;
  };
  for (std::size_t i = 0; i < on.cuts.size(); ++i) {
    const auto& [box, lines] = on.cuts[i];
    lacks = std::max({lacks, space.usable.low.x - box.low.x, space.usable.low.y - box.low.y,
                      box.high.x - space.usable.high.x, box.high.y - space.usable.high.y});
    for (std::size_t k = 0; k < i; ++k) {
      const auto& [other_box, other] = on.cuts[k];
      if (!near(box, other_box)) continue;
      double apart = std::numeric_limits<double>::infinity();
      for (const auto& [points, to] : {std::tie(lines, other), std::tie(other, lines)})
        for (const BoardLine& line : points)
          for (const Vec2 p : line.points) apart = std::min(apart, distance_to_lines(p, to));
      // pieces that share an edge may lie over each other by what the nest rounds
      for (const Region& inner : offset({on.regions[i]}, -2.0 * k_off, OffsetCorners::mitre))
        if (!intersected({inner}, {on.regions[k]}).empty()) apart = -std::numeric_limits<double>::infinity();
      lacks = std::max(lacks, space.gap - apart);
    }
  }
  return within(name + " apart", lacks, 2.0 * k_off, "mm",
                fmt::format("that {} pieces lack of the gap of {} mm and the trim", on.cuts.size(),
                            trimmed(space.gap, 3)));
}

bool far_too_large(const DxfFile& file, const OnBoard& on) {
  constexpr std::size_t k_spare = 100000;
  std::size_t expected = 0;
  for (const auto* lists : {&on.cuts, &on.marks})
    for (const auto& each : *lists)
      for (const BoardLine& line : each.second) expected += line.points.size();
  for (const BoardLine& line : on.labels) expected += line.points.size();
  std::size_t found = 0;
  for (const DxfPolyline& line : file.lines) found += line.points.size();
  return found > 8 * expected + k_spare;
}

}  // namespace

std::vector<CheckResult> prove_board(const std::filesystem::path& path, std::size_t number,
                                     const ListedBoard& board, const MakeAgain& again) {
  const std::string name = fmt::format("board {}", number);
  const std::string file_name = path.filename().string();
  std::ifstream in(path, std::ios::binary);
  if (!in) return {undone(name, file_name + " is not there")};
  DxfFile file;
  try {
    file = read_dxf(in, file_name);
  } catch (const InputError& error) {
    return {undone(name, error.what())};
  }
  Tally tally(name);
  const OnBoard on = lie_down(tally, board, again);
  if (far_too_large(file, on)) return {undone(name, file_name + " holds far more points than its pieces")};
  const bool layered = !lines_on(file, layer_name(Layer::cut)).empty();
  const std::string finding = first_finding(file, file_name, layered);
  tally.require(finding.empty(), finding);
  lay_on_board(file, board);
  const Near cut(lines_on(file, layered ? layer_name(Layer::cut) : "0"));
  std::vector<std::pair<Box, BoardLines>> allowed = on.cuts;
  add_runs_past(allowed, board.past);
  const std::string title = wrong_title(file, board);
  tally.require(title.empty(), title);

  std::vector<CheckResult> results{tally.result("facts of pieces, liner and title"),
                                   compare_lines(name + " cuts", cut, on.cuts, allowed)};
  if (board.space) results.push_back(lie_apart(name, *board.space, on));
  const Near marks(lines_on(file, layer_name(Layer::mark)));
  const BoardLines labels = lines_on(file, layer_name(Layer::label));
  if (!layered || (marks.all().empty() && labels.empty() && file.texts.empty()))
    return results;  // cuts alone
  results.push_back(compare_lines(name + " marks", marks, on.marks, on.marks));
  if (file.texts.empty()) {
    // where labels stand hangs on the last digits of their piece's place: what is counted is that all are
    // there
    const std::size_t expected = on.labels.size() + on.remnants.size();
    const std::size_t missing = expected > labels.size() ? expected - labels.size() : 0;
    if (!on.remnants.empty())
      results.push_back(
          within(name + " remnants", furthest_from(on.remnants, labels), k_off, "mm",
                 fmt::format("{} strokes on {} offcuts", on.remnants.size(), board.remnants.size())));
    results.push_back(within(name + " labels", static_cast<double>(missing), 0.0, "strokes",
                             fmt::format("{} strokes of {} that belong there", labels.size(), expected)));
  }
  return results;
}

}  // namespace linerwright
