// Words, tables and drawings on the pages of a PDF, from the top down, over as many pages as they take.
#pragma once

#include <string>
#include <vector>

#include "linerwright/report/bore_sheet.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "linerwright/report/text_pdf.hpp"

namespace linerwright {

// Sizes of letters in points.
constexpr double k_name = 20.0, k_title = 12.0, k_figure = 10.0, k_text = 9.0, k_small = 7.5;
constexpr double k_table = 8.5, k_least_table = 6.5;

constexpr double k_point = 25.4 / 72.0;  // mm

constexpr const char* k_rule = "#9a9a9a";
constexpr const char* k_hair = "#d8d8d8";

using Style = Lettering;

class Writer {
 public:
  explicit Writer(Vec2 size, double margin = 15.0, double heading = k_title)
      : size_(size), margin_(margin), heading_(heading), pdf_(size) {
    turn();
  }

  double width() const { return size_.x - 2.0 * margin_; }
  double left() const { return margin_; }
  double y() const { return y_; }
  double room() const { return y_ - margin_; }

  // Makes room for so much, on a new page if it has to be.
  void need(double height);
  void skip(double height) { y_ -= height; }
  // A new page.
  void turn();
  // A heading, with room for so much below it.
  void title(const std::string& text, double below);
  // An entry of the outline that leads here.
  void entry(const std::string& text) { pdf_.entry(text, size_.y); }
  // Broken at blanks; lines behind the first stand `hang` further in.
  void paragraph(const std::string& text, Style style, double hang = 0.0);
  void line(const std::string& text, Style style) { line(text, style, margin_); }
  void line(const std::string& text, Style style, double x);
  // On the current line, without moving on.
  void write(const std::string& text, Style style, double x);
  void write_lower(double down, const std::string& text, Style style, double x);
  void rule(const char* colour, double thickness);
  void bar(const char* colour, double x, double length, double height);
  // The drawing with its lower left corner there.
  void draw(const ShopDrawing& drawing, Vec2 low);

  std::size_t page() const { return pdf_.page_count(); }
  TextPdf& pdf() { return pdf_; }
  Vec2 size() const { return size_; }

  std::string finish(const std::string& title, const std::string& version);

 private:
  Vec2 size_;
  double margin_;
  double heading_;  // points of titles
  TextPdf pdf_;
  double y_ = 0.0;
};

// The table with its title, its heads again on every page; no letter under `least` points. Columns that hold
// nothing are left out.
void write_table(Writer& page, const SheetTable& table, double least = k_least_table);

}  // namespace linerwright
