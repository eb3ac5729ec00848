#include "linerwright/bore_pdf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "linerwright/draw.hpp"
#include "pdf_pages.hpp"

namespace linerwright {

namespace {

constexpr Vec2 k_a4{210.0, 297.0};
constexpr Vec2 k_letter{215.9, 279.4};
constexpr double k_margin = 15.0;
constexpr double k_text = 2.0;  // height of a capital, mm
constexpr double k_title = 2.7;
constexpr double k_pitch = 1.75;  // of the height, from line to line
constexpr double k_gap = 2.2;     // between columns

Ink black() {
  return {"words", "#000000", "#ffffff", 0.2, {}};
}
Ink grey() {
  return {"rule", "#909090", "#a0a0a0", 0.15, {}};
}
// A line as wide as a bar, cut square at its ends.
Ink bar_ink(const char* colour, double width) {
  return {"bar", colour, colour, width, {1e4}};
}

// The text with an ellipsis at its end where it is wider than that.
std::string cut_to(const std::string& text, double height, double width) {
  if (stroke_text_width(pen_spelling(text), height) <= width) return text;
  std::string cut = text;
  while (!cut.empty() && stroke_text_width(pen_spelling(cut + "..."), height) > width) {
    do {
      cut.pop_back();
    } while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U);
    if (!cut.empty() && static_cast<unsigned char>(cut.back()) >= 0xC0U) cut.pop_back();
  }
  return cut + "...";
}

// Words, rules and bars from the top down, over as many pages as they take.
class Writer {
 public:
  explicit Writer(Vec2 size) : size_(size) { turn(); }

  double width() const { return size_.x - 2.0 * k_margin; }

  // Makes room for so much, on a new page if it has to be.
  void need(double height) {
    if (y_ - height < k_margin + 5.0) turn();
  }
  void skip(double height) { y_ -= height; }

  void title(const std::string& text) {
    need(5.0 * k_title);
    skip(1.6 * k_title);
    line(text, k_title, k_margin);
    rule();
    skip(1.0);
  }

  // Broken at blanks; lines behind the first stand `hang` further in.
  void paragraph(const std::string& text, double height = k_text, double in = 0.0, double hang = 0.0) {
    std::istringstream words(text);
    std::string current;
    double at = in;
    const auto flush = [&] {
      if (!current.empty()) line(cut_to(current, height, width() - at), height, k_margin + at);
      current.clear();
      at = in + hang;
    };
    for (std::string word; words >> word;) {
      const std::string longer = current.empty() ? word : current + " " + word;
      if (!current.empty() && stroke_text_width(pen_spelling(longer), height) > width() - at) flush();
      current = current.empty() ? word : current + " " + word;
    }
    flush();
  }

  void line(const std::string& text, double height, double x) {
    need(k_pitch * height);
    y_ -= height;
    write(text, height, x);
    y_ -= (k_pitch - 1.0) * height;
  }

  // At the current line, without moving on.
  void write(const std::string& text, double height, double x) {
    words().texts.push_back({Layer::label, {x, y_}, height, 0.0, false, pen_spelling(text)});
  }

  void rule() {
    InkedGroup group{grey(), {{false, {{k_margin, y_ + 0.4}, {size_.x - k_margin, y_ + 0.4}}}}, {}};
    pages_.back().push_back(std::move(group));
  }

  void bar(const char* colour, double x, double length, double thickness) {
    const double middle = y_ - 0.5 * thickness;
    if (length <= 0.0) return;
    pages_.back().push_back({bar_ink(colour, thickness), {{false, {{x, middle}, {x + length, middle}}}}, {}});
  }

  double y() const { return y_; }

  std::vector<Picture> pages(const std::string& foot) {
    for (std::size_t i = 0; i < pages_.size(); ++i) {
      InkedGroup group{black(), {}, {}};
      group.texts.push_back({Layer::label, {k_margin, k_margin - 5.0}, 1.7, 0.0, false, pen_spelling(foot)});
      group.texts.push_back({Layer::label,
                             {size_.x - k_margin - 22.0, k_margin - 5.0},
                             1.7,
                             0.0,
                             false,
                             fmt::format("page {} of {}", i + 1, pages_.size())});
      pages_[i].push_back(std::move(group));
    }
    return std::move(pages_);
  }

 private:
  void turn() {
    pages_.emplace_back();
    pages_.back().push_back({black(), {}, {}});
    y_ = size_.y - k_margin;
  }
  InkedGroup& words() { return pages_.back().front(); }

  Vec2 size_;
  double y_ = 0.0;
  std::vector<Picture> pages_;
};

double wide(const std::string& text, double height) {
  return stroke_text_width(pen_spelling(text), height);
}

// Widths of the columns: what they hold, words narrowed and letters made smaller where the page is too
// narrow.
std::vector<double> widths_of(const SheetTable& table, double room, double& height) {
  for (height = 1.8;; height *= 0.95) {
    std::vector<double> widths;
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
      double widest = wide(table.heads[c], height);
      for (const auto& row : table.rows) widest = std::max(widest, wide(row[c], height));
      widths.push_back(widest + k_gap);
    }
    double all = 0.0;
    for (const double width : widths) all += width;
    for (int step = 0; step < 200 && all > room; ++step) {
      const auto words = widths.begin() + static_cast<std::ptrdiff_t>(table.words);
      const auto widest = std::max_element(widths.begin(), words);
      if (widest == words || *widest < 22.0) break;
      const double less = std::min(all - room, 0.1 * *widest);
      *widest -= less;
      all -= less;
    }
    if (all <= room + 1e-6 || height < 1.1) return widths;
  }
}

void add_table(Writer& page, const SheetTable& table) {
  SheetTable shown = table;  // without columns that hold nothing
  for (std::size_t c = shown.heads.size(); c-- > 0;) {
    const bool empty =
        std::all_of(shown.rows.begin(), shown.rows.end(), [&](const auto& row) { return row[c].empty(); });
    if (!empty || shown.rows.empty()) continue;
    const auto at = static_cast<std::ptrdiff_t>(c);
    shown.heads.erase(shown.heads.begin() + at);
    for (auto& row : shown.rows) row.erase(row.begin() + at);
    if (c < shown.words) --shown.words;
  }
  double height = 0.0;
  const std::vector<double> widths = widths_of(shown, page.width(), height);
  page.title(shown.title);
  const auto write_row = [&](const std::vector<std::string>& cells) {
    page.need(k_pitch * height);
    page.skip(height);
    double x = k_margin;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      const std::string text = cut_to(cells[c], height, widths[c] - 0.5 * k_gap);
      page.write(text, height, c < shown.words ? x : x + widths[c] - k_gap - wide(text, height));
      x += widths[c];
    }
    page.skip((k_pitch - 1.0) * height);
  };
  double top = page.y();
  write_row(shown.heads);
  page.rule();
  page.skip(0.8);
  for (const auto& row : shown.rows) {
    page.need(k_pitch * height);
    if (page.y() > top) {  // the heads again on a new page
      top = page.y();
      write_row(shown.heads);
      page.rule();
      page.skip(0.8);
    }
    write_row(row);
  }
  page.skip(0.8);
  for (const std::string& note : shown.notes) page.paragraph(note, 1.6, 0.0, 4.0);
}

void add_bars(Writer& page, const SheetBars& group) {
  double longest = 0.0;
  double names = 0.0;
  double values = 0.0;
  for (const SheetBar& bar : group.bars) {
    longest = std::max({longest, bar.bare, bar.lined});
    names = std::max(names, wide(bar.name, k_text));
    for (const std::string& text : {bar.bare_text, bar.lined_text})
      values = std::max(values, wide(text, 1.7));
  }
  if (longest <= 0.0) return;
  page.title(group.title);
  names = std::min(names, 0.3 * page.width());
  const double from = k_margin + names + 3.0;
  const double room = page.width() - names - values - 7.0;
  constexpr double k_bar = 2.6;
  const char* const bare_colour = "#d9a28f";
  const char* const lined_colour = "#4f9bbd";
  page.need(4.0);
  page.bar(bare_colour, from, 8.0, k_bar);
  page.bar(lined_colour, from + 25.0, 8.0, k_bar);
  page.skip(k_bar);
  page.write("bare", 1.7, from + 10.0);
  page.write("lined", 1.7, from + 35.0);
  page.skip(2.2);
  for (const SheetBar& bar : group.bars) {
    page.need(2.0 * k_bar + 1.6);
    const auto one = [&](const char* colour, double value, const std::string& text) {
      const double length = room * value / longest;
      page.bar(colour, from, length, k_bar);
      page.skip(k_bar - 0.4);
      page.write(text, 1.7, from + length + 1.5);
      page.skip(0.4);
    };
    page.skip(k_text + 0.4);
    page.write(cut_to(bar.name, k_text, names), k_text, k_margin);
    page.skip(-(k_text + 0.4));
    one(bare_colour, bar.bare, bar.bare_text);
    one(lined_colour, bar.lined, bar.lined_text);
    page.skip(1.6);
  }
}

void add_list(Writer& page, const std::string& title, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  page.title(title);
  for (const std::string& line : lines) page.paragraph("- " + line, k_text, 0.0, 3.0);
}

}  // namespace

std::string bore_pdf(const BoreSheet& sheet) {
  const Vec2 size = sheet.units == Units::inch ? k_letter : k_a4;
  Writer page(size);
  const std::string job = sheet.head.job.empty() ? "Bore report" : sheet.head.job;
  page.paragraph(job, 5.0);
  page.paragraph("What the lining leaves of the bore, and what it costs", k_title);
  page.paragraph(fmt::format("{}{}Linerwright {}", sheet.head.date, sheet.head.date.empty() ? "" : ", ",
                             sheet.head.version));
  page.skip(1.5);
  for (const auto& [name, value] : sheet.figures) page.paragraph(name + ": " + value, k_title, 0.0, 4.0);
  add_list(page, "Warnings and notes", sheet.warnings);
  for (const SheetBars& group : sheet.bars) add_bars(page, group);
  for (const SheetTable& table : sheet.tables) add_table(page, table);
  add_list(page, "What the figures rest on", sheet.basis);
  add_list(page, "Cautions", sheet.cautions);
  PdfPages pages(job + ": bore");
  int number = 0;
  for (const Picture& picture : page.pages(job)) {
    pages.begin(size, fmt::format("page {}", ++number));
    paint(pages.context(), picture);
    pages.end();
  }
  return pages.finish();
}

}  // namespace linerwright
