// PDF pages of words and bars. The words are text in a lettering that every reader has (Helvetica), so
// they can be searched, marked and read aloud. The same pages give the same bytes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/draw/page_text.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright {

// Millimetres from the lower left corner of a page; sizes of letters in points.
class TextPdf {
 public:
  explicit TextPdf(Vec2 size) : size_(size) {}

  void begin_page() { pages_.emplace_back(); }
  std::size_t page_count() const { return pages_.size(); }
  // What is written from here on goes onto this page, of those that were begun.
  void go_to(std::size_t page) { current_ = page; }

  void text(Vec2 at, std::string_view utf8, double points, bool bold = false);
  // The same running upward from there.
  void text_upward(Vec2 at, std::string_view utf8, double points, bool bold = false);
  // A line `width` points wide.
  void line(const std::vector<Vec2>& through, bool closed, double width, std::string_view colour);
  void bar(Vec2 low, double width, double height, std::string_view colour);
  // An entry of the outline that leads to this height of the current page.
  void entry(std::string_view utf8, double height);

  std::string finish(std::string_view title, std::string_view producer) const;

 private:
  struct Entry {
    std::string title;
    std::size_t page;
    double height;
  };
  std::string& page() { return pages_.at(current_); }

  Vec2 size_;
  std::size_t current_ = 0;
  std::vector<std::string> pages_;
  std::vector<Entry> entries_;
};

}  // namespace linerwright
