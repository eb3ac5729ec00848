// A sheet on pages: words in two columns around the view, the table of pieces, and drawings as they come, as
// large as one page lets them be.
#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <sstream>

#include "linerwright/draw/page_text.hpp"
#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

namespace {

constexpr double k_margin = 12.0;
constexpr double k_between = 6.0;  // columns of words
constexpr double k_aside = 5.0;    // drawings
constexpr double k_hang = 4.0;
constexpr double k_name = 18.0, k_what = 9.5;  // points
constexpr double k_below = 2.0;                // a drawing
constexpr double k_heading_gap = 1.2;
constexpr double k_row_gap = 0.6;  // of a table

// A line of a column, its texts from the column's left and from the line's foot.
struct FlowLine {
  double height = 0.0;
  bool keep = false;   // it does not stand last in a column
  double ruled = 0.0;  // how far a rule reaches below it
  std::vector<ShopText> texts{};
};

// Words broken into the lines of a column.
class Words {
 public:
  Words(double width, double body) : width_(width), body_(body) {}

  std::vector<FlowLine> lines;

  void heading(const std::string& text) {
    const Lettering bold{body_ + 1.4, true};
    lines.push_back({1.7 * bold.pitch() + k_heading_gap, true, width_, {}});
    lines.back().texts.push_back(
        {{0.0, k_heading_gap + foot(bold.points)}, bold.points, ShopAlign::left, true, text});
  }

  // The first words in bold, the rest behind them; lines behind the first stand further in.
  void paragraph(const std::string& bold, const std::string& plain) {
    const std::size_t first = lines.size();
    double x = 0.0;
    begin();
    for (const bool is_bold : {true, false}) {
      const Lettering letters{body_, is_bold};
      const double blank = letters.width(" ");
      std::string run;
      double from = x;
      std::istringstream words(is_bold ? bold : plain);
      for (std::string word; words >> word;) {
        const double wide = letters.width(word);
        if (x > 0.0 && x + wide > width_ && (x > k_hang || !run.empty())) {
          put(from, run, is_bold);
          begin();
          run.clear();
          x = from = k_hang;
        }
        if (!run.empty()) run += ' ';
        run += word;
        x += wide + blank;
      }
      put(from, run, is_bold);
    }
    constexpr std::size_t k_together = 6;
    if (lines.size() - first <= k_together)
      for (std::size_t i = first; i + 1 < lines.size(); ++i) lines[i].keep = true;
  }

  void list(const std::string& title, const std::vector<std::string>& texts, bool numbered) {
    if (texts.empty()) return;
    heading(title);
    for (std::size_t i = 0; i < texts.size(); ++i)
      paragraph({}, (numbered ? fmt::format("{}. ", i + 1) : std::string("\xE2\x80\xA2 ")) + texts[i]);
  }

  // Its rows stay together where they are few.
  void table(const SheetTable& table) {
    heading(table.title);
    const Columns columns = columns_of(table.heads, table.rows, table.words, width_, body_, k_least_letter);
    row(table, table.heads, columns, true);
    constexpr std::size_t k_together = 12;
    for (const auto& cells : table.rows) row(table, cells, columns, false);
    if (table.rows.size() <= k_together)
      for (std::size_t i = 0; i < table.rows.size(); ++i) lines[lines.size() - 2 - i].keep = true;
  }

 private:
  double width_, body_;

  static double foot(double points) { return 0.3 * points * 25.4 / 72.0; }
  void begin() { lines.push_back({Lettering{body_}.pitch(), false, 0.0, {}}); }
  void put(double x, const std::string& text, bool bold) {
    if (text.empty()) return;
    const std::string shown = cut_to(text, {body_, bold}, width_ - x);
    lines.back().texts.push_back({{x, foot(body_)}, body_, ShopAlign::left, bold, shown});
  }

  void row(const SheetTable& table, const std::vector<std::string>& cells, const Columns& columns,
           bool bold) {
    std::vector<std::vector<std::string>> broken_cells;
    std::size_t most = 1;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      broken_cells.push_back(
          broken(cells[c], {columns.points, bold || c == 0}, columns.widths[c] - 0.5 * k_column_gap));
      most = std::max(most, broken_cells.back().size());
    }
    const double pitch = Lettering{columns.points}.pitch();
    FlowLine line{static_cast<double>(most) * pitch + k_row_gap, false, -k_column_gap, {}};
    for (std::size_t c = 0; c < cells.size(); ++c) {
      for (std::size_t i = 0; i < broken_cells[c].size(); ++i)
        line.texts.push_back(
            {{line.ruled + k_column_gap + (c < table.words ? 0.0 : columns.widths[c] - k_column_gap),
              line.height - static_cast<double>(i + 1) * pitch + foot(columns.points)},
             columns.points,
             c < table.words ? ShopAlign::left : ShopAlign::right,
             bold || c == 0,
             broken_cells[c][i]});
      line.ruled += columns.widths[c];
    }
    lines.push_back(std::move(line));
  }
};

class Pages {
 public:
  Pages(const ShopSheet& sheet, Vec2 paper, double body)
      : sheet_(sheet), paper_(paper), body_(body), column_(0.5 * (paper.x - 2.0 * k_margin - k_between)) {}

  std::vector<ShopDrawing> run() {
    turn();
    head();
    cautions();
    words();
    patterns();
    return std::move(pages_);
  }

 private:
  const ShopSheet& sheet_;
  Vec2 paper_;
  double body_;
  double column_;  // a column's width
  double y_ = 0.0;
  double foot_ = k_margin;  // what is kept free below on this page
  std::vector<ShopDrawing> pages_;

  double width() const { return paper_.x - 2.0 * k_margin; }
  double baseline(double points) const { return 0.3 * points * 25.4 / 72.0; }

  void text(Vec2 at, const std::string& words, Lettering letters, ShopAlign align = ShopAlign::left) {
    if (!words.empty()) pages_.back().texts.push_back({at, letters.points, align, letters.bold, words});
  }
  void rule(double x, double wide, double y) {
    pages_.back().lines.push_back({ShopInk::mark, false, {{x, y}, {x + wide, y}}});
  }
  void line(const std::string& words, Lettering letters) {
    y_ -= letters.pitch();
    text({k_margin, y_ + baseline(letters.points)}, words, letters);
  }
  void paragraph(const std::string& words, Lettering letters) {
    for (const std::string& each : broken(words, letters, width())) line(each, letters);
  }

  void turn() {
    pages_.push_back({});
    pages_.back().id = fmt::format("sheet {}", pages_.size());
    pages_.back().title = fmt::format("{}, sheet {}", sheet_.tag, pages_.size());
    pages_.back().size = paper_;
    y_ = paper_.y - k_margin;
    foot_ = k_margin;
    if (pages_.size() == 1) return;
    const Lettering bold{body_ + 1.4, true};
    line(cut_to(pages_.back().title, bold, width()), bold);
    y_ -= 1.0;
    rule(k_margin, width(), y_);
    y_ -= 1.0;
  }
  void need(double height) {
    if (y_ - height < foot_) turn();
  }

  void head() {
    const Lettering name{k_name, true}, small{9.0};
    line(cut_to(sheet_.tag, name, 0.62 * width()), name);
    std::string of = sheet_.head.job;
    if (!sheet_.head.date.empty()) of += (of.empty() ? "" : ", ") + sheet_.head.date;
    text({paper_.x - k_margin, y_ + baseline(small.points)}, cut_to(of, small, k_job_width), small,
         ShopAlign::right);
    paragraph(sheet_.sizes.empty() ? sheet_.what : sheet_.what + ": " + sheet_.sizes, {k_what});
    y_ -= 1.5;
  }

  // At the foot of the first page.
  void cautions() {
    const Lettering small{k_least_letter};
    const std::vector<std::string> lines = broken(k_shop_cautions, small, width());
    double y = foot_ + static_cast<double>(lines.size()) * small.pitch();
    foot_ = y + 1.0;
    for (const std::string& each : lines) {
      y -= small.pitch();
      text({k_margin, y + baseline(small.points)}, each, small);
    }
  }

  // Whether the table stands in a column without broken cells.
  bool is_narrow_table() const {
    const SheetTable& table = sheet_.pieces;
    const Columns columns = columns_of(table.heads, table.rows, 0, column_, body_, k_least_letter);
    return std::accumulate(columns.widths.begin(), columns.widths.end(), -k_column_gap) <= column_;
  }

  std::vector<FlowLine> flow() const {
    Words words(column_, body_);
    for (const auto& [name, value] : sheet_.figures) words.paragraph(name + ":", value);
    words.list("Mind", sheet_.warnings, false);
    words.list("How it goes in", sheet_.fitting, true);
    if (is_narrow_table()) pieces(words);
    words.heading("What is asked on site");
    for (const auto& [question, answer] : sheet_.answers) words.paragraph(question + ":", answer);
    words.list("Before and while cutting", sheet_.cutting, true);
    return std::move(words.lines);
  }

  // How many lines from `next` on stand in so much room; a heading does not stand last.
  static std::size_t filled(const std::vector<FlowLine>& lines, std::size_t next, double room) {
    std::size_t end = next;
    for (double used = 0.0; end < lines.size() && used + lines[end].height <= room; ++end)
      used += lines[end].height;
    while (end > next && end < lines.size() && lines[end - 1].keep) --end;
    return end;
  }

  void pieces(Words& words) const {
    words.table(sheet_.pieces);
    for (const std::string& note : sheet_.notes) words.paragraph({}, note);
  }

  void place(const std::vector<FlowLine>& lines, std::size_t from, std::size_t to, double x, double top) {
    for (std::size_t i = from; i < to; ++i) {
      top -= lines[i].height;
      for (ShopText each : lines[i].texts) {
        each.at = each.at + Vec2{x, top};
        pages_.back().texts.push_back(std::move(each));
      }
      if (lines[i].ruled > 0.0) rule(x, lines[i].ruled, top + 0.5 * k_row_gap);
    }
  }

  // Both columns as high as each other where they end; the view stands above the right one.
  void words() {
    const std::vector<FlowLine> lines = flow();
    const double right = k_margin + column_ + k_between;
    double art = view(right);
    for (std::size_t next = 0; next < lines.size(); art = 0.0) {
      const double most = y_ - foot_;
      double high = std::min(most, art);
      constexpr double k_step = 0.5;
      while (high < most && filled(lines, filled(lines, next, high), high - art) < lines.size())
        high = std::min(most, high + k_step);
      const std::size_t turn_at = filled(lines, next, high);
      std::size_t end = filled(lines, turn_at, high - art);
      if (end == next && art <= 0.0) end = std::min(lines.size(), next + 1);  // nothing is that high
      place(lines, next, turn_at, k_margin, y_);
      place(lines, turn_at, end, right, y_ - art);
      y_ -= high;
      if (end < lines.size()) turn();
      next = end;
    }
    if (is_narrow_table()) return;
    Words wide(width(), body_);
    pieces(wide);
    for (std::size_t i = 0; i < wide.lines.size(); ++i) {
      need(wide.lines[i].height);
      place(wide.lines, i, i + 1, k_margin, y_);
      y_ -= wide.lines[i].height;
    }
  }

  // The fitting from the side with the knife's sections below it; returns how much room they take.
  double view(double x) {
    double low = y_ - sheet_.view.size.y;
    add(sheet_.view, {x + 0.5 * (column_ - sheet_.view.size.x), low});
    low -= k_below;
    double across = 0.0, tallest = 0.0;
    for (const ShopDrawing& section : sheet_.sections) {
      if (across > 0.0 && across + section.size.x > column_) {
        low -= tallest;
        across = tallest = 0.0;
      }
      tallest = std::max(tallest, put(section, {x + across, low}));
      across += section.size.x + 2.0;
    }
    return y_ - low + tallest + 1.0;
  }

  void add(const ShopDrawing& drawing, Vec2 low) {
    for (ShopLine each : drawing.lines) {
      for (Vec2& p : each.points) p = p + low;
      pages_.back().lines.push_back(std::move(each));
    }
    for (ShopText each : drawing.texts) {
      each.at = each.at + low;
      pages_.back().texts.push_back(std::move(each));
    }
  }

  Lettering title_letters() const { return {std::max(body_, k_least_letter + 0.5), true}; }

  double caption(const ShopDrawing& drawing) const {
    const Lettering note{k_least_letter};
    return static_cast<double>(broken(drawing.title, title_letters(), drawing.size.x).size()) *
               title_letters().pitch() +
           (drawing.note.empty()
                ? 0.0
                : static_cast<double>(broken(drawing.note, note, drawing.size.x).size()) * note.pitch());
  }

  // A drawing below its title and its note; returns how much room they take.
  double put(const ShopDrawing& drawing, Vec2 top_left) {
    double y = top_left.y;
    const auto lines = [&](const std::string& words, Lettering letters) {
      if (words.empty()) return;
      for (const std::string& each : broken(words, letters, drawing.size.x)) {
        y -= letters.pitch();
        text({top_left.x, y + baseline(letters.points)}, each, letters);
      }
    };
    lines(drawing.title, title_letters());
    lines(drawing.note, {k_least_letter});
    add(drawing, {top_left.x, y - drawing.size.y});
    return top_left.y - y + drawing.size.y;
  }

  void title(const std::string& words, double below) {
    const Lettering bold{body_ + 1.4, true};
    need(1.2 * bold.pitch() + k_heading_gap + below);
    y_ -= 0.2 * bold.pitch();
    line(words, bold);
    rule(k_margin, width(), y_ - 0.4);
    y_ -= k_heading_gap;
  }

  // As many beside each other as there is room for.
  void patterns() {
    const std::vector<ShopDrawing>& all = sheet_.patterns;
    for (std::size_t i = 0; i < all.size();) {
      double across = 0.0, tallest = 0.0;
      std::size_t end = i;
      for (; end < all.size() && (end == i || across + all[end].size.x <= width()); ++end) {
        across += all[end].size.x + k_aside;
        tallest = std::max(tallest, caption(all[end]) + all[end].size.y);
      }
      if (i == 0) title("Patterns, to scale; sizes as cut, heights on the duct face", tallest);
      need(tallest);
      double x = k_margin;
      for (; i < end; ++i) {
        put(all[i], {x, y_});
        x += all[i].size.x + k_aside;
      }
      y_ -= tallest + k_below;
    }
  }
};

}  // namespace

std::vector<ShopDrawing> shop_pages(const ShopSheet& sheet, Vec2 paper) {
  std::vector<ShopDrawing> best;
  for (const double body : k_shop_bodies) {
    std::vector<ShopDrawing> pages = Pages(sheet, paper, body).run();
    if (best.empty() || pages.size() < best.size()) best = std::move(pages);
    if (best.size() == 1) break;
  }
  return best;
}

}  // namespace linerwright
