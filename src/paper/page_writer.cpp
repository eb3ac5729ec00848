#include "page_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

namespace linerwright {

namespace {

constexpr double k_foot = 8.0;  // the foot line's height above the page's edge

const char* colour_of(ShopInk ink) {
  switch (ink) {
    case ShopInk::cut:
      return "#000000";
    case ShopInk::mark:
      return "#7a7a7a";
    case ShopInk::dimension:
      return "#1f5f8b";
    case ShopInk::air:
      return "#0b6b4f";
  }
  return "#000000";
}

double width_of(ShopInk ink) {
  switch (ink) {
    case ShopInk::cut:
      return 0.9;
    case ShopInk::air:
      return 1.6;
    case ShopInk::mark:
    case ShopInk::dimension:
      return 0.4;
  }
  return 0.4;
}

}  // namespace

void Writer::need(double height) {
  if (y_ - height < margin_) turn();
}

void Writer::turn() {
  pdf_.begin_page();
  pdf_.go_to(pdf_.page_count() - 1);
  y_ = size_.y - margin_;
}

void Writer::title(const std::string& text, double below) {
  const Style style{heading_, true};
  need(2.6 * style.pitch() + below);
  skip(0.9 * style.pitch());
  pdf_.entry(text, y_ + 2.0);
  for (const std::string& part : broken(text, style, width())) line(part, style);
  pdf_.bar({margin_, y_ - 0.15}, width(), 0.3, k_rule);
  skip(1.5);
}

void Writer::paragraph(const std::string& text, Style style, double hang) {
  std::istringstream words(text);
  std::string current;
  bool first = true;
  const auto put = [&] {
    const double in = first ? 0.0 : hang;
    need(style.pitch());
    line(cut_to(current, style, width() - in), style, margin_ + in);
    first = false;
  };
  for (std::string word; words >> word;) {
    const std::string longer = current.empty() ? word : current + " " + word;
    if (!current.empty() && style.width(longer) > width() - (first ? 0.0 : hang)) {
      put();
      current = word;
    } else {
      current = longer;
    }
  }
  put();
}

void Writer::line(const std::string& text, Style style, double x) {
  need(style.pitch());
  skip(style.pitch());
  write(text, style, x);
}

void Writer::write(const std::string& text, Style style, double x) {
  if (!text.empty()) pdf_.text({x, y_ + 0.3 * style.points * k_point}, text, style.points, style.bold);
}

void Writer::write_lower(double down, const std::string& text, Style style, double x) {
  skip(down);
  write(text, style, x);
  skip(-down);
}

void Writer::rule(const char* colour, double thickness) {
  pdf_.bar({margin_, y_ - 0.5 * thickness}, width(), thickness, colour);
}

void Writer::bar(const char* colour, double x, double length, double height) {
  if (length > 0.0) pdf_.bar({x, y_}, length, height, colour);
}

void Writer::draw(const ShopDrawing& drawing, Vec2 low) {
  for (const ShopLine& line : drawing.lines) {
    std::vector<Vec2> through;
    for (const Vec2 p : line.points) through.push_back(low + p);
    pdf_.line(through, line.closed, width_of(line.ink), colour_of(line.ink));
  }
  for (const ShopText& text : drawing.texts) {
    const double width = text_width(text.text, text.points, text.bold);
    const double back = text.align == ShopAlign::left     ? 0.0
                        : text.align == ShopAlign::middle ? 0.5 * width
                                                          : width;
    pdf_.text(low + text.at - Vec2{back, 0.0}, text.text, text.points, text.bold);
  }
}

std::string Writer::finish(const std::string& title, const std::string& version) {
  const Style style{k_small};
  for (std::size_t i = 0; i < pdf_.page_count(); ++i) {
    pdf_.go_to(i);
    const std::string number = fmt::format("page {} of {}", i + 1, pdf_.page_count());
    const double wide = style.width(number);
    pdf_.text({margin_, k_foot}, cut_to(title, style, width() - wide - k_column_gap), style.points);
    pdf_.text({size_.x - margin_ - wide, k_foot}, number, style.points);
  }
  return pdf_.finish(title, "Linerwright " + version);
}

namespace {

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
  TableWriter(Writer& page, const SheetTable& table, double least)
      : page_(page),
        table_(table),
        columns_(columns_of(table.heads, table.rows, table.words, page.width(), k_table, least)) {}

  void write() {
    if (!table_.title.empty()) page_.title(table_.title, 4.0 * Style{columns_.points}.pitch());
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
      lines.push_back(
          broken(cells[c], {columns_.points, bold || c == 0}, columns_.widths[c] - 0.5 * k_column_gap));
    return lines;
  }

  double height_of(const std::vector<std::vector<std::string>>& lines) const {
    std::size_t most = 1;
    for (const auto& cell : lines) most = std::max(most, cell.size());
    return static_cast<double>(most) * Style{columns_.points}.pitch() + 0.6;
  }

  void row(const std::vector<std::vector<std::string>>& lines, bool bold) {
    const double height = height_of(lines);
    const double pitch = Style{columns_.points}.pitch();
    double x = page_.left();
    for (std::size_t c = 0; c < lines.size(); ++c) {
      const Style style{columns_.points, bold || c == 0};
      for (std::size_t i = 0; i < lines[c].size(); ++i) {
        page_.write_lower(
            static_cast<double>(i + 1) * pitch, lines[c][i], style,
            c < table_.words ? x : x + columns_.widths[c] - k_column_gap - style.width(lines[c][i]));
      }
      x += columns_.widths[c];
    }
    page_.skip(height);
  }

  Writer& page_;
  const SheetTable& table_;
  Columns columns_;
};

}  // namespace

void write_table(Writer& page, const SheetTable& table, double least) {
  const SheetTable shown = without_empty_columns(table);
  TableWriter(page, shown, least).write();
}

}  // namespace linerwright
