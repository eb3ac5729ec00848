// Lines of words on a page in the two letterings that every reader of PDF has (Helvetica and its bold face):
// how wide they are and where they break. Millimetres, sizes of letters in points.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

// The text in the codes of those letterings (WinAnsiEncoding): what they lack in their letters, or by its
// number.
std::string page_codes(std::string_view utf8);

// Advance widths of their letters in thousandths of the size, by those codes from 32 on.
const std::array<int, 224>& letter_widths(bool bold);

// How wide the text is.
double text_width(std::string_view utf8, double points, bool bold = false);

struct Lettering {
  double points = 9.0;
  bool bold = false;
  // From line to line.
  double pitch() const;
  double width(std::string_view text) const { return text_width(text, points, bold); }
};

// The text with an ellipsis at its end where it is wider than that.
std::string cut_to(const std::string& text, Lettering lettering, double width);

// Lines of at most that width, broken at blanks; those behind the first are `hang` narrower.
std::vector<std::string> broken(const std::string& text, Lettering lettering, double width,
                                double hang = 0.0);

// A table's columns: how wide each is, and how large its letters are.
struct Columns {
  double points;
  std::vector<double> widths;
};
constexpr double k_column_gap = 3.0;
// Columns that hold their rows in so much room: the first `words` columns are narrowed and letters made
// smaller, from `points` down to `least`, where it takes that. The first column is bold.
Columns columns_of(const std::vector<std::string>& heads, const std::vector<std::vector<std::string>>& rows,
                   std::size_t words, double room, double points, double least);

}  // namespace linerwright
