// The pairs of lines that a DXF file consists of.
#pragma once

#include <cstdint>
#include <istream>
#include <string>
#include <string_view>

namespace linerwright {

// The text without spaces and tabs around it.
std::string_view without_spaces(std::string_view text);

// A group code with its value, and the line of the file that the value stands on.
struct Group {
  int code = 0;
  std::string value;
  int line = 0;
};

// Reads groups one by one, with one group of look-ahead. Everything throws InputError for what is broken.
class Groups {
 public:
  Groups(std::istream& in, const std::string& name);

  const Group& peek() const { return group_; }
  bool ended() const { return ended_; }
  Group next();

  // The value as a number (infinite when it is too large), a whole number, a handle in base 16.
  double number(const Group& group) const;
  int integer(const Group& group) const;
  std::uint64_t handle(const Group& group) const;

  [[noreturn]] void fail(int line, const std::string& value, const std::string& reason) const;

 private:
  bool read_line(std::string& line);  // without its end; false at the end of the file
  void advance();

  std::istream& in_;
  const std::string& name_;
  Group group_;
  bool ended_ = false;
  int line_ = 0;
  std::size_t bytes_ = 0;
};

}  // namespace linerwright
