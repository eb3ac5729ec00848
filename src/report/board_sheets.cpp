#include "linerwright/report/board_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/report/text_pdf.hpp"

namespace linerwright {

namespace {

constexpr double k_margin = 12.0;        // mm
constexpr double k_body = 9.0;           // points
constexpr double k_least = 11.0;         // points of a name in its piece
constexpr double k_foot = 7.0;           // points
constexpr double k_smallest = k_foot;    // points of anything
constexpr double k_most = 32.0;          // likewise
constexpr double k_point = 25.4 / 72.0;  // mm
constexpr double k_row = 1.5 * k_body * k_point;
constexpr double k_share_of_page = 0.56;  // most of a page's height that a board takes
constexpr const char* k_black = "#000000";
constexpr const char* k_trim = "#9a9a9a";
constexpr const char* k_accent = "#1f5f8b";

std::string minutes(double seconds) {
  const long whole = std::lround(seconds);
  return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

// Where names may stand: a piece where it lies on its board, and a blank's cuts inside it as its marks.
struct NameRoom {
  LabelBlock block;
  Pattern lines;
};

NameRoom name_room(const BoardPart& part, const PlacedPiece& piece) {
  const double turn = piece.turned ? -1.0 : 1.0;
  NameRoom room;
  room.block.part = part.pattern.cut;
  if (part.pattern.is_blank) room.lines.marks = part.pattern.open_cuts;
  const Box box = bounding_box(part.pattern.cut.outer).value();
  const Vec2 move = piece.box.low - (piece.turned ? -1.0 * box.high : box.low);
  const auto lay = [&](std::vector<Vec2>& points) {
    for (Vec2& p : points) p = turn * p + move;
  };
  lay(room.block.part.outer);
  for (Ring& hole : room.block.part.holes) lay(hole);
  for (auto& line : room.lines.marks) lay(line);
  return room;
}

class JobSheet {
 public:
  JobSheet(TextPdf& pdf, Vec2 size, const BoardPlan& plan, const SheetHead& head)
      : plan_(plan), head_(head), size_(size), pdf_(pdf) {}

  void boards() {
    for (std::size_t b = 0; b < plan_.boards.size(); ++b) board(b);
  }

  std::string all() {
    cover();
    boards();
    return finished(title());
  }

  std::string one(std::size_t b) {
    board(b);
    return finished(board_title(plan_, b));
  }

 private:
  std::string finished(const std::string& name) {
    for (std::size_t page = 0; page < pdf_.page_count(); ++page) {
      pdf_.go_to(page);
      const std::string foot =
          fmt::format("page {} of {}   linerwright {}", page + 1, pdf_.page_count(), head_.version);
      pdf_.text({size_.x - k_margin - text_width(foot, k_foot), 6.0}, foot, k_foot);
    }
    return pdf_.finish(name, "linerwright " + head_.version);
  }

  const BoardPlan& plan_;
  const SheetHead& head_;
  Vec2 size_;
  TextPdf& pdf_;
  double y_ = 0.0;  // of the next line's foot

  std::string title() const { return head_.job.empty() ? "boards" : head_.job + ": boards"; }
  double right() const { return size_.x - k_margin; }

  void begin(const std::string& heading) {
    pdf_.begin_page();
    pdf_.go_to(pdf_.page_count() - 1);
    y_ = size_.y - k_margin - 5.0;
    pdf_.text({k_margin, y_}, heading, 15.0, true);
    pdf_.entry(heading, size_.y);
    if (!head_.date.empty()) pdf_.text({right() - text_width(head_.date, k_body), y_}, head_.date, k_body);
    y_ -= 1.4 * k_row;
  }

  void line(const std::string& words, bool bold = false) {
    pdf_.text({k_margin, y_}, words, k_body, bold);
    y_ -= k_row;
  }

  std::string length(double value) const { return format_quantity(Quantity::length, value, plan_.units, 2); }

  std::string way(double value) const {
    return plan_.units == Units::inch ? trimmed(value / 304.8, 1) + " ft" : trimmed(value * 1e-3, 1) + " m";
  }

  // Text no wider than `room`: what does not fit gives way to three dots.
  static std::string cut_to(std::string words, double room, double points) {
    if (text_width(words, points) <= room) return words;
    while (!words.empty() && text_width(words + "...", points) > room) words.pop_back();
    return words + "...";
  }

  static std::string capital(std::string words) {
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z')
      words.front() = static_cast<char>(words.front() - 'a' + 'A');
    return words;
  }

  void row(const std::vector<std::string>& cells, const std::vector<double>& at, bool bold) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const double end = i + 1 < at.size() ? at[i + 1] - 2.0 : right();
      pdf_.text({at[i], y_}, cut_to(cells[i], end - at[i], k_body), k_body, bold);
    }
    y_ -= k_row;
  }

  void cover() {
    begin(title());
    const std::vector<double> at{k_margin,         k_margin + 18.0,  k_margin + 90.0, k_margin + 118.0,
                                 k_margin + 148.0, k_margin + 170.0, k_margin + 196.0};
    const std::vector<std::string> heads{"board", "stock", "liner", "face up", "pieces", "min:s", "file"};
    row(heads, at, true);
    double time = 0.0;
    for (std::size_t b = 0; b < plan_.boards.size(); ++b) {
      if (y_ < k_margin + 6.0 * k_row) {
        begin(title());
        row(heads, at, true);
      }
      const PlannedBoard& board = plan_.boards[b];
      time += board.time;
      row({std::to_string(b + 1), plan_.stock[board.stock].name, length(board.thickness), face_up_word(board),
           std::to_string(board.pieces.size()), minutes(board.time), board_file(plan_, b)},
          at, false);
    }
    row({"all", "", "", "", std::to_string(pieces()), minutes(time), ""}, at, true);
    y_ -= 0.5 * k_row;
    line(capital(zero_words(plan_.zero)) + "; drawings show boards as they lie to read their labels.");
    line("Numbers are the order in which pieces come free. Labels that the pen draws name them, too.");
    line("Gloves, eye protection and a dust mask with fibrous board; hands off the table while it runs.");
  }

  std::size_t pieces() const {
    std::size_t count = 0;
    for (const PlannedBoard& board : plan_.boards) count += board.pieces.size();
    return count;
  }

  void board(std::size_t b) {
    const PlannedBoard& board = plan_.boards[b];
    begin(board_title(plan_, b));
    const std::size_t count = board.pieces.size();
    line(fmt::format("{}: {} {}, knife {}, about {} min, yield {:.0f} %", board_file(plan_, b), count,
                     count == 1 ? "piece" : "pieces", way(board.knife_length), minutes(board.time),
                     100.0 * board.yield));
    std::string table = capital(zero_words(plan_.zero));
    if (plan_.knife.corner == Corner::stop) table += "; the knife lifts at corners";
    if (plan_.knife.corner == Corner::run_past)
      table += "; the knife runs " + length(plan_.knife.past) + " past corners";
    line(table + ".");
    const double width = plan_.stock[board.stock].width;
    const double scale =
        std::min((right() - k_margin - 6.0) / board.length, k_share_of_page * size_.y / width);
    if (plan_.zero.upper) y_ -= k_row;  // room for the mark of zero
    const Vec2 low{k_margin + 6.0, y_ - 1.0 - scale * width};
    draw(board, low, scale, width);
    y_ = low.y - 12.0;
    list(board, b);
  }

  void draw(const PlannedBoard& board, Vec2 low, double scale, double width) {
    const auto at = [&](Vec2 p) { return low + scale * p; };
    const auto lines = [&](const Ring& ring, double points, const char* colour) {
      std::vector<Vec2> drawn;
      for (const Vec2 p : ring) drawn.push_back(at(p));
      pdf_.line(drawn, true, points, colour);
    };
    lines({{0.0, 0.0}, {board.length, 0.0}, {board.length, width}, {0.0, width}}, 1.2, k_black);
    const EdgeTrim& trim = plan_.stock[board.stock].trim;
    if (trim.along_length() + trim.along_width() > 0.0)
      lines({{trim.start, trim.below},
             {board.length - trim.end, trim.below},
             {board.length - trim.end, width - trim.above},
             {trim.start, width - trim.above}},
            0.4, k_trim);
    for (const Polyline& cut : board.knife) {
      std::vector<Vec2> drawn;
      for (const Vec2 p : cut.points) drawn.push_back(at(p));
      pdf_.line(drawn, cut.closed, 0.6, k_accent);
    }
    for (std::size_t i = 0; i < board.pieces.size(); ++i) name(board, i, at, scale);
    for (const BoardRemnant& remnant : board.remnants) {
      const Vec2 middle = at(0.5 * (remnant.box.low + remnant.box.high));
      lines({remnant.box.low,
             {remnant.box.high.x, remnant.box.low.y},
             remnant.box.high,
             {remnant.box.low.x, remnant.box.high.y}},
            0.4, k_trim);
      const Vec2 size = scale * (remnant.box.high - remnant.box.low);
      const double points = std::min({k_body, 0.9 * size.x / text_width(remnant.id, 1.0), size.y / k_point});
      if (points >= k_smallest)
        pdf_.text(middle - Vec2{0.5 * text_width(remnant.id, points), 0.36 * points * k_point}, remnant.id,
                  points);
    }
    axes(low, scale * Vec2{board.length, width});
  }

  // What a name in bold letters of this size takes on the board, with a little air around it.
  static Vec2 room_of(const std::string& words, double points, double scale) {
    constexpr double k_high = 0.95;  // of the letters' size, from tails to capitals
    constexpr double k_air = 0.35;   // likewise, around it
    return (1.0 / scale) * Vec2{text_width(words, points, true) + k_air * points * k_point,
                                (k_high + k_air) * points * k_point};
  }

  // The name inside its piece as large as it fits, lying or upright; where it would be too small, its number
  // alone; where that does not fit, its number beside it with a line that leads to it.
  template <class At>
  void name(const PlannedBoard& board, std::size_t index, const At& at, double scale) {
    const PlacedPiece& piece = board.pieces[index];
    const BoardPart& part = plan_.parts[piece.part];
    const NameRoom free = name_room(part, piece);
    const Vec2 most = piece.box.high - piece.box.low;
    const std::string number = std::to_string(index + 1);
    const std::string words = fmt::format("{}  {}/{}", number, part.tag, part.piece);
    constexpr double k_step = 0.9;
    constexpr double k_number = 12.0;  // points, at most
    for (const bool all : {true, false})
      for (double points = all ? k_most : k_number; points >= (all ? k_least : k_smallest);
           points *= k_step) {
        const std::string& text = all ? words : number;
        const Vec2 room = room_of(text, points, scale);
        for (const bool upright : {false, true}) {
          const Vec2 size = upright ? Vec2{room.y, room.x} : room;
          if (size.x > most.x || size.y > most.y) continue;
          if (const auto middle = free_place(free.lines, free.block, size)) {
            write_name(at(*middle), text, points, upright);
            return;
          }
        }
      }
    lead_to(board, piece, number, at, scale);
  }

  void write_name(Vec2 middle, const std::string& text, double points, bool upright) {
    constexpr double k_rise = 0.26;  // of the letters' size: how far the baseline lies below the middle
    const Vec2 back{0.5 * text_width(text, points, true), k_rise * points * k_point};
    if (upright)
      pdf_.text_upward(middle + Vec2{back.y, -back.x}, text, points, true);
    else
      pdf_.text(middle - back, text, points, true);
  }

  // The nearest place outside all pieces; the board's own margin on the page is free.
  template <class At>
  void lead_to(const PlannedBoard& board, const PlacedPiece& piece, const std::string& number, const At& at,
               double scale) {
    const Vec2 centre = 0.5 * (piece.box.low + piece.box.high);
    const Vec2 half = 0.5 * room_of(number, k_smallest, scale);
    const auto taken = [&](Vec2 p) {
      return std::any_of(board.pieces.begin(), board.pieces.end(), [&](const PlacedPiece& other) {
        return other.box.low.x < p.x + half.x && p.x - half.x < other.box.high.x &&
               other.box.low.y < p.y + half.y && p.y - half.y < other.box.high.y;
      });
    };
    constexpr int k_ways = 16;
    for (double far = norm(half); far < board.length; far += half.y)
      for (int i = 0; i < k_ways; ++i) {
        const double turn = 2.0 * k_pi * i / k_ways;
        const Vec2 way{std::cos(turn), std::sin(turn)};
        if (taken(centre + far * way)) continue;
        pdf_.line({at(centre), at(centre + (far - norm(half)) * way)}, false, 0.4, k_black);
        write_name(at(centre + far * way), number, k_smallest, false);
        return;
      }
  }

  // Zero and the ways of the table's x and y; `low` and `size` of the drawn board.
  void axes(Vec2 low, Vec2 size) {
    constexpr double k_arm = 9.0;
    constexpr double k_head = 1.4;
    constexpr double k_off = 3.0;
    const TableZero& turn = plan_.zero;
    const Vec2 corner = turn.on_board({0.0, 0.0}, size.x, size.y);
    const Vec2 outward{turn.right ? 1.0 : -1.0, turn.upper ? 1.0 : -1.0};
    const Vec2 zero = low + corner + k_off * outward;
    const auto arrow = [&](Vec2 axis, const char* name) {
      const Vec2 way = turn.on_board(axis, size.x, size.y) - corner;
      const Vec2 tip = zero + k_arm * way;
      const Vec2 side{-way.y, way.x};
      pdf_.line({zero, tip}, false, 0.8, k_black);
      pdf_.line({tip - k_head * way + 0.5 * k_head * side, tip, tip - k_head * way - 0.5 * k_head * side},
                false, 0.8, k_black);
      pdf_.text(tip + 1.5 * way - Vec2{1.0, 1.0}, name, k_body);
    };
    arrow({1.0, 0.0}, "x");
    arrow({0.0, 1.0}, "y");
    pdf_.text(zero + 2.0 * outward - Vec2{0.8, 1.0}, "0", k_body);
  }

  void list(const PlannedBoard& board, std::size_t b) {
    constexpr int k_columns = 2;
    const double step = (right() - k_margin) / k_columns;
    std::size_t next = 0;
    while (next < board.pieces.size()) {
      const double top = y_;
      for (int column = 0; column < k_columns && next < board.pieces.size(); ++column) {
        y_ = top;
        const double left = k_margin + column * step;
        while (y_ > k_margin && next < board.pieces.size()) {
          const PlacedPiece& piece = board.pieces[next];
          const BoardPart& part = plan_.parts[piece.part];
          const Vec2 size = piece.box.high - piece.box.low;
          std::string words = fmt::format("{}/{}", part.tag, part.piece);
          if (part.count > 1) words += fmt::format(" ({} of {})", piece.copy + 1, part.count);
          words += fmt::format(", {} x {}", length(size.x), length(size.y));
          if (piece.turned) words += ", turned";
          if (const std::string beside = next_pieces(part); !beside.empty())
            words += (part.pattern.is_blank ? ", makes " : ", next ") + beside;
          pdf_.text({left, y_}, std::to_string(next + 1), k_body, true);
          pdf_.text({left + 8.0, y_}, cut_to(words, step - 11.0, k_body), k_body);
          y_ -= k_row;
          ++next;
        }
      }
      if (next < board.pieces.size()) begin(board_title(plan_, b) + ", continued");
    }
  }
};

// A4, or letter, on its side.
Vec2 lying(const BoardPlan& plan) {
  return plan.units == Units::inch ? Vec2{279.4, 215.9} : Vec2{297.0, 210.0};
}

}  // namespace

std::string jobsheet_pdf(const BoardPlan& plan, const SheetHead& head) {
  TextPdf pdf(lying(plan));
  return JobSheet(pdf, lying(plan), plan, head).all();
}

std::string board_pdf(const BoardPlan& plan, std::size_t board, const SheetHead& head) {
  TextPdf pdf(lying(plan));
  return JobSheet(pdf, lying(plan), plan, head).one(board);
}

std::string board_pdf_file(const BoardPlan& plan, std::size_t board) {
  const std::string drawing = board_file(plan, board);
  return drawing.substr(0, drawing.rfind('.')) + ".pdf";
}

void add_board_pages(TextPdf& pdf, Vec2 size, const BoardPlan& plan, const SheetHead& head) {
  JobSheet(pdf, size, plan, head).boards();
}

}  // namespace linerwright
