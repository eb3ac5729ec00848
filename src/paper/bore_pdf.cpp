#include "linerwright/bore_pdf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <sstream>

#include "text_pdf.hpp"

namespace linerwright {

namespace {

constexpr Vec2 k_a4{210.0, 297.0};
constexpr Vec2 k_letter{215.9, 279.4};
constexpr double k_margin = 15.0;
constexpr double k_foot = 8.0;  // the foot line's height above the page's edge

// Sizes of letters in points.
constexpr double k_name = 20.0, k_title = 12.0, k_figure = 10.0, k_text = 9.0, k_small = 7.5;
constexpr double k_table = 8.5, k_least_table = 6.5;

constexpr double k_point = 25.4 / 72.0;  // mm
constexpr double k_pitch = 1.3;          // of a size, from line to line
constexpr double k_gap = 3.0;            // between columns

constexpr const char* k_rule = "#9a9a9a";
constexpr const char* k_hair = "#d8d8d8";
constexpr const char* k_bare = "#d9a28f";
constexpr const char* k_lined = "#4f9bbd";

struct Style {
  double points = k_text;
  bool bold = false;
  double pitch() const { return k_pitch * points * k_point; }
  double width(const std::string& text) const { return text_width(text, points, bold); }
};

// The text with an ellipsis at its end where it is wider than that.
std::string cut_to(const std::string& text, Style style, double width) {
  if (style.width(text) <= width) return text;
  std::string cut = text;
  while (!cut.empty() && style.width(cut + "...") > width) {
    while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U) cut.pop_back();
    if (!cut.empty()) cut.pop_back();
  }
  return cut + "...";
}

// Lines of at most that width, broken at blanks; those behind the first are `hang` narrower.
std::vector<std::string> broken(const std::string& text, Style style, double width, double hang = 0.0) {
  std::vector<std::string> lines;
  std::istringstream words(text);
  std::string current;
  const auto room = [&] { return width - (lines.empty() ? 0.0 : hang); };
  for (std::string word; words >> word;) {
    const std::string longer = current.empty() ? word : current + " " + word;
    if (!current.empty() && style.width(longer) > room()) {
      lines.push_back(cut_to(current, style, room()));
      current = word;
    } else {
      current = longer;
    }
  }
  lines.push_back(cut_to(current, style, room()));
  return lines;
}

// Words, rules and bars from the top down, over as many pages as they take.
class Writer {
 public:
  explicit Writer(Vec2 size) : size_(size), pdf_(size) { turn(); }

  double width() const { return size_.x - 2.0 * k_margin; }

  // Makes room for so much, on a new page if it has to be.
  void need(double height) {
    if (y_ - height < k_margin) turn();
  }
  void skip(double height) { y_ -= height; }

  // A heading, with room for so much below it.
  void title(const std::string& text, double below) {
    const Style style{k_title, true};
    need(2.6 * style.pitch() + below);
    skip(0.9 * style.pitch());
    pdf_.entry(text, y_ + 2.0);
    for (const std::string& part : broken(text, style, width())) line(part, style);
    rule(k_rule, 0.3);
    skip(1.5);
  }

  // Broken at blanks; lines behind the first stand `hang` further in.
  void paragraph(const std::string& text, Style style, double hang = 0.0) {
    const std::vector<std::string> lines = broken(text, style, width(), hang);
    for (std::size_t i = 0; i < lines.size(); ++i) line(lines[i], style, k_margin + (i == 0 ? 0.0 : hang));
  }

  void line(const std::string& text, Style style, double x = k_margin) {
    need(style.pitch());
    skip(style.pitch());
    write(text, style, x);
  }

  // On the current line, without moving on.
  void write(const std::string& text, Style style, double x) {
    if (!text.empty()) pdf_.text({x, y_ + 0.3 * style.points * k_point}, text, style.points, style.bold);
  }

  void write_lower(double down, const std::string& text, Style style, double x) {
    skip(down);
    write(text, style, x);
    skip(-down);
  }

  void rule(const char* colour, double thickness) {
    pdf_.bar({k_margin, y_ - 0.5 * thickness}, width(), thickness, colour);
  }

  void bar(const char* colour, double x, double length, double height) {
    if (length > 0.0) pdf_.bar({x, y_}, length, height, colour);
  }

  std::size_t page() const { return pdf_.page_count(); }

  std::string finish(const std::string& title, const std::string& version) {
    const Style style{k_small};
    for (std::size_t i = 0; i < pdf_.page_count(); ++i) {
      pdf_.go_to(i);
      const std::string number = fmt::format("page {} of {}", i + 1, pdf_.page_count());
      const double wide = style.width(number);
      pdf_.text({k_margin, k_foot}, cut_to(title, style, width() - wide - k_gap), style.points);
      pdf_.text({size_.x - k_margin - wide, k_foot}, number, style.points);
    }
    return pdf_.finish(title, "Linerwright " + version);
  }

 private:
  void turn() {
    pdf_.begin_page();
    pdf_.go_to(pdf_.page_count() - 1);
    y_ = size_.y - k_margin;
  }

  Vec2 size_;
  TextPdf pdf_;
  double y_ = 0.0;
};

// Widths of the columns: what they hold, words narrowed and letters made smaller where the page is too
// narrow.
std::vector<double> widths_of(const SheetTable& table, double room, double& points) {
  for (points = k_table;; points = std::max(k_least_table, 0.96 * points)) {
    std::vector<double> widths;
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
      double widest = Style{points, true}.width(table.heads[c]);
      for (const auto& row : table.rows) widest = std::max(widest, Style{points, c == 0}.width(row[c]));
      widths.push_back(widest + k_gap);
    }
    double all = std::accumulate(widths.begin(), widths.end(), 0.0);
    for (int step = 0; step < 200 && all > room; ++step) {
      const auto words = widths.begin() + static_cast<std::ptrdiff_t>(table.words);
      const auto widest = std::max_element(widths.begin(), words);
      if (widest == words || *widest < 28.0) break;
      const double less = std::min(all - room, 0.1 * *widest);
      *widest -= less;
      all -= less;
    }
    if (all <= room + 1e-6 || points <= k_least_table) return widths;
  }
}

// The table without columns that hold nothing.
SheetTable without_empty_columns(SheetTable table) {
  for (std::size_t c = table.heads.size(); c-- > 0;) {
    const bool empty =
        std::all_of(table.rows.begin(), table.rows.end(), [&](const auto& row) { return row[c].empty(); });
    if (!empty || table.rows.empty()) continue;
    const auto at = static_cast<std::ptrdiff_t>(c);
    table.heads.erase(table.heads.begin() + at);
    for (auto& row : table.rows) row.erase(row.begin() + at);
    if (c < table.words) --table.words;
  }
  return table;
}

class TableWriter {
 public:
  TableWriter(Writer& page, const SheetTable& table)
      : page_(page), table_(table), widths_(widths_of(table, page.width(), points_)) {}

  void write() {
    page_.title(table_.title, 4.0 * Style{points_}.pitch());
    heads();
    std::size_t on = page_.page();
    for (const auto& cells : table_.rows) {
      const std::vector<std::vector<std::string>> lines = lines_of(cells, false);
      page_.need(height_of(lines));
      if (page_.page() != on) heads();  // again on a new page
      on = page_.page();
      row(lines, false);
      page_.rule(k_hair, 0.15);
    }
    page_.skip(1.0);
    for (const std::string& note : table_.notes) page_.paragraph(note, {k_small}, 4.0);
  }

 private:
  void heads() {
    row(lines_of(table_.heads, true), true);
    page_.rule(k_rule, 0.2);
  }

  std::vector<std::vector<std::string>> lines_of(const std::vector<std::string>& cells, bool bold) const {
    std::vector<std::vector<std::string>> lines;
    for (std::size_t c = 0; c < cells.size(); ++c)
      lines.push_back(broken(cells[c], {points_, bold || c == 0}, widths_[c] - 0.5 * k_gap));
    return lines;
  }

  double height_of(const std::vector<std::vector<std::string>>& lines) const {
    std::size_t most = 1;
    for (const auto& cell : lines) most = std::max(most, cell.size());
    return static_cast<double>(most) * Style{points_}.pitch() + 0.6;
  }

  void row(const std::vector<std::vector<std::string>>& lines, bool bold) {
    const double height = height_of(lines);
    const double pitch = Style{points_}.pitch();
    double x = k_margin;
    for (std::size_t c = 0; c < lines.size(); ++c) {
      const Style style{points_, bold || c == 0};
      for (std::size_t i = 0; i < lines[c].size(); ++i) {
        page_.write_lower(static_cast<double>(i + 1) * pitch, lines[c][i], style,
                          c < table_.words ? x : x + widths_[c] - k_gap - style.width(lines[c][i]));
      }
      x += widths_[c];
    }
    page_.skip(height);
  }

  Writer& page_;
  const SheetTable& table_;
  double points_ = k_table;
  std::vector<double> widths_;
};

void add_bars(Writer& page, const SheetBars& group) {
  const Style name{k_text, true};
  const Style value{k_small};
  double longest = 0.0;
  double names = 0.0;
  double values = 0.0;
  for (const SheetBar& bar : group.bars) {
    longest = std::max({longest, bar.bare, bar.lined});
    names = std::max(names, name.width(bar.name));
    values = std::max({values, value.width(bar.bare_text), value.width(bar.lined_text)});
  }
  if (longest <= 0.0) return;
  constexpr double k_bar = 2.7;
  constexpr double k_each = 2.0 * k_bar + 1.8;
  page.title(group.title, 3.0 * k_each);
  names = std::min(names, 0.3 * page.width());
  const double from = k_margin + names + 3.0;
  const double room = page.width() - names - values - 6.0;
  const auto key = [&](const char* colour, const char* text, double x) {
    page.bar(colour, x, 8.0, k_bar);
    page.write_lower(0.35, text, value, x + 10.0);
  };
  page.skip(k_bar + 0.5);
  key(k_bare, "bare", from);
  key(k_lined, "lined", from + 25.0);
  page.skip(1.8);
  for (const SheetBar& bar : group.bars) {
    page.need(k_each);
    const auto one = [&](const char* colour, double amount, const std::string& text) {
      const double length = room * amount / longest;
      page.skip(k_bar);
      page.bar(colour, from, length, k_bar);
      page.write_lower(0.35, text, value, from + length + 1.5);
    };
    one(k_bare, bar.bare, bar.bare_text);
    page.write_lower(2.1, cut_to(bar.name, name, names), name, k_margin);  // between its two bars
    one(k_lined, bar.lined, bar.lined_text);
    page.skip(1.8);
  }
}

void add_list(Writer& page, const std::string& title, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  page.title(title, 2.0 * Style{}.pitch());
  for (const std::string& line : lines) page.paragraph("\xE2\x80\xA2 " + line, {}, 3.0);
}

void add_figures(Writer& page, const BoreSheet& sheet) {
  const Style name{k_figure};
  double widest = 0.0;
  for (const auto& figure : sheet.figures) widest = std::max(widest, name.width(figure.first));
  const double in = widest + 5.0;
  for (const auto& figure : sheet.figures) {
    const std::vector<std::string> lines = broken(figure.second, {k_figure, true}, page.width() - in);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      page.line(i == 0 ? figure.first : std::string(), name);
      page.write(lines[i], {k_figure, true}, k_margin + in);
    }
  }
}

}  // namespace

std::string bore_pdf(const BoreSheet& sheet) {
  Writer page(sheet.units == Units::inch ? k_letter : k_a4);
  const std::string job = sheet.head.job.empty() ? "Bore report" : sheet.head.job;
  page.paragraph(job, {k_name, true});
  page.paragraph("What the lining leaves of the bore, and what it costs", {k_title});
  page.paragraph(fmt::format("{}{}Linerwright {}", sheet.head.date, sheet.head.date.empty() ? "" : ", ",
                             sheet.head.version),
                 {});
  page.skip(2.0);
  add_figures(page, sheet);
  add_list(page, "Warnings and notes", sheet.warnings);
  for (const SheetBars& group : sheet.bars) add_bars(page, group);
  for (const SheetTable& table : sheet.tables) {
    const SheetTable shown = without_empty_columns(table);
    TableWriter(page, shown).write();
  }
  add_list(page, "What the figures rest on", sheet.basis);
  add_list(page, "Cautions", sheet.cautions);
  return page.finish(job + ": bore", sheet.head.version);
}

}  // namespace linerwright
