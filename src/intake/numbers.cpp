#include "numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace linerwright {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_mark(char c) {
  return c == ',' || c == '.';
}

// Where a number with marks in it, "1.234,5", begins and ends.
struct Token {
  std::size_t from = 0;
  std::size_t to = 0;
};

std::vector<Token> tokens(std::string_view text) {
  std::vector<Token> out;
  for (std::size_t i = 0; i < text.size();) {
    if (!is_digit(text[i]) && !(is_mark(text[i]) && i + 1 < text.size() && is_digit(text[i + 1]))) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && (is_digit(text[end]) || is_mark(text[end]))) ++end;
    while (end > i && is_mark(text[end - 1])) --end;  // a full stop
    out.push_back({i, end});
    i = std::max(end, i + 1);
  }
  return out;
}

// Groups of three after the first mark up to `end`, one to three digits before it.
bool grouped(std::string_view number, char mark) {
  const std::size_t first = number.find(mark);
  if (first == 0 || first > 3 || number[0] == '0') return false;
  std::size_t digits = 0;
  for (std::size_t i = first + 1; i <= number.size(); ++i) {
    if (i < number.size() && is_digit(number[i])) {
      ++digits;
    } else if (digits != 3 || (i < number.size() && number[i] != mark)) {
      return false;
    } else {
      digits = 0;
    }
  }
  return true;
}

// The decimal mark that a number shows: ',' or '.', '?' where it can be either, '!' where it is no number, 0
// without marks.
char shown_mark(std::string_view number) {
  const std::size_t comma = number.find(',');
  const std::size_t point = number.find('.');
  if (comma == std::string_view::npos && point == std::string_view::npos) return '\0';
  if (comma != std::string_view::npos && point != std::string_view::npos) {
    const char last = number[number.find_last_of(",.")];
    const std::size_t at = number.rfind(last);
    const bool once = number.find(last) == at;
    return once && grouped(number.substr(0, at), last == ',' ? '.' : ',') ? last : '!';
  }
  const char mark = comma != std::string_view::npos ? ',' : '.';
  if (std::count(number.begin(), number.end(), mark) > 1) {
    if (!grouped(number, mark)) return '!';
    return mark == ',' ? '.' : ',';
  }
  return grouped(number, mark) ? '?' : mark;
}

// Thousands apart by a space or a no-break space, "1 200", closed up; "1 1/2" is not touched.
std::string without_spaced_thousands(std::string_view text) {
  std::string out;
  std::size_t chained = std::string::npos;  // where the last group ended: more may follow
  for (std::size_t i = 0; i < text.size();) {
    std::size_t space = 0;
    for (const std::string_view blank : {" ", "\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89"})
      if (text.substr(i, blank.size()) == blank) space = blank.size();
    std::size_t before = 0;
    while (before < out.size() && is_digit(out[out.size() - 1 - before])) ++before;
    const std::size_t at = i + space;
    const auto digit = [&](std::size_t k) { return at + k < text.size() && is_digit(text[at + k]); };
    const bool group = space > 0 && before >= 1 && out[out.size() - before] != '0' && digit(0) && digit(1) &&
                       digit(2) && !digit(3) && !(at + 3 < text.size() && text[at + 3] == '/') &&
                       (out.size() == before ||
                        (out[out.size() - before - 1] != '/' && !is_mark(out[out.size() - before - 1])));
    if (group && (before <= 3 || chained == out.size())) {
      out += text.substr(at, 3);
      i = at + 3;
      chained = out.size();
    } else {
      out += text[i++];
    }
  }
  return out;
}

}  // namespace

DecimalMarks::DecimalMarks(std::string said) : said_(std::move(said)) {}

void DecimalMarks::look(std::string_view cell, int line) {
  for (const Token& token : tokens(cell)) {
    const std::string_view number = cell.substr(token.from, token.to - token.from);
    const Seen seen{std::string(number), line};
    switch (shown_mark(number)) {
      case ',':
        if (!comma_) comma_ = seen;
        break;
      case '.':
        if (!point_) point_ = seen;
        break;
      case '?':
        if (!undecided_) undecided_ = seen;
        break;
      default:
        break;
    }
  }
}

std::optional<Problem> DecimalMarks::question(const std::string& file) const {
  if (!said_.empty()) return std::nullopt;
  if (comma_ && point_)
    return Problem{
        file,
        comma_->line,
        "",
        "",
        comma_->text,
        "--decimal comma or --decimal point",
        fmt::format("has a decimal comma, but {} in line {} a decimal point: which one is the sheet's?",
                    point_->text, point_->line)};
  if (undecided_ && !comma_ && !point_)
    return Problem{file,
                   undecided_->line,
                   "",
                   "",
                   undecided_->text,
                   "--decimal comma or --decimal point",
                   "can be thousands or a decimal fraction, and no other number of the sheet tells"};
  return std::nullopt;
}

char DecimalMarks::decimal() const {
  if (!said_.empty()) return said_ == "comma" ? ',' : '.';
  return comma_ ? ',' : '.';
}

std::string DecimalMarks::plain(std::string_view cell, std::string& fault) const {
  const std::string text = without_spaced_thousands(cell);
  const char mark = decimal();
  std::string out;
  std::size_t done = 0;
  for (const Token& token : tokens(text)) {
    const std::string_view number = std::string_view(text).substr(token.from, token.to - token.from);
    const char shown = shown_mark(number);
    out += text.substr(done, token.from - done);
    done = token.to;
    if (shown == '!') {
      fault = fmt::format("{} is no number: its marks stand at odd places", number);
    } else if (shown != '\0' && shown != '?' && shown != mark) {
      fault = fmt::format("{} has a decimal {}, but the sheet's is the {}", number,
                          shown == ',' ? "comma" : "point", mark == ',' ? "comma" : "point");
    }
    for (const char c : number)
      if (!is_mark(c) || c == mark) out += c == mark ? '.' : c;
  }
  return out + text.substr(done);
}

std::string DecimalMarks::told() const {
  if (!said_.empty()) return "decimal " + said_ + ", as said";
  const Seen* seen = comma_ ? &*comma_ : point_ ? &*point_ : nullptr;
  if (seen == nullptr) return {};
  return fmt::format("decimal {}, because of {} in line {}", comma_ ? "comma" : "point", seen->text,
                     seen->line);
}

}  // namespace linerwright
