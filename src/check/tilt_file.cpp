// A reader of its own for the tilt table: comma-separated, with a head of "# key = value".
#include "tilt_file.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_degree = k_pi / 180.0;
constexpr double k_inch = 25.4;
constexpr std::size_t k_most_rows = 1000000;

class Reader {
 public:
  explicit Reader(const std::filesystem::path& file) : file_(file), in_(file, std::ios::binary) {
    if (!in_) fail("it cannot be read");
  }

  TiltFile read() {
    std::string line;
    std::size_t rows = 0;
    bool named = false;
    while (std::getline(in_, line)) {
      ++line_;
      if (line.size() > 1000 || ++rows > k_most_rows) fail("it is too long");
      if (line.rfind("# ", 0) == 0) {
        read_head(line.substr(2));
      } else if (!named) {
        name_columns(line);
        named = true;
      } else {
        read_row(line);
      }
    }
    for (const char* key :
         {"face_up", "board", "tilt_sign", "tilt_zero_deg", "pivot_height", "tilt_limit_deg"})
      if (head_.count(key) == 0) fail(std::string("its head does not say ") + key);
    return std::move(table_);
  }

 private:
  [[noreturn]] void fail(const std::string& why) const {
    throw InputError({Problem{file_.string(), line_, {}, {}, {}, {}, why}});
  }

  double number(const std::string& text) const {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !(std::fabs(value) < 1e7))
      fail("\"" + text + "\" is no number");
    return value;
  }

  template <class Table>
  auto known(const Table& table, const std::string& value) const {
    if (const auto words = words_of(table); std::find(words.begin(), words.end(), value) == words.end())
      fail("its head says \"" + value + "\"");
    return meaning_of(table, value);
  }

  // "key = value"; other lines explain.
  void read_head(const std::string& line) {
    const std::size_t equals = line.find(" = ");
    if (equals == std::string::npos) return;
    std::string key = line.substr(0, equals);
    if (key.find(' ') != std::string::npos) return;
    const std::string value = line.substr(equals + 3);
    double unit = 1.0;
    for (const auto& [ending, size] : {std::pair<std::string, double>{"_mm", 1.0}, {"_in", k_inch}})
      if (key.size() > 3 && key.compare(key.size() - 3, 3, ending) == 0) {
        unit = size;
        key.resize(key.size() - 3);
      }
    if (!head_.emplace(key, value).second) fail("its head says " + key + " twice");
    if (key == "face_up") table_.face_up = known(k_face_up_choices, value);
    if (key == "board") table_.board = unit * number(value);
    if (key == "tilt_sign") table_.head.sign = known(k_tilt_sign_choices, value);
    if (key == "tilt_zero_deg") table_.head.zero = k_degree * number(value);
    if (key == "pivot_height") table_.head.pivot_height = unit * number(value);
    if (key == "tilt_limit_deg") table_.head.limit = k_degree * number(value);
  }

  void name_columns(const std::string& line) {
    for (const auto& [name, size] : {std::pair<std::string, double>{"mm", 1.0}, {"in", k_inch}}) {
      const std::string columns =
          "piece,contour,x_" + name + ",y_" + name + ",heading_deg,tilt_deg,left_" + name;
      pivots_ = line == columns + ",pivot_x_" + name + ",pivot_y_" + name;
      unit_ = size;
      if (line == columns || pivots_) return;
    }
    fail("its columns are not those of a tilt table");
  }

  void read_row(const std::string& line) {
    std::vector<std::string> cells{{}};
    for (const char c : line) {
      if (c == ',')
        cells.emplace_back();
      else
        cells.back() += c;
    }
    if (cells.size() != (pivots_ ? 9u : 7u)) fail("a row has another number of cells");
    TiltFileRow row;
    const double contour = number(cells[1]);
    if (contour != std::floor(contour) || contour < 0.0) fail("a contour is no whole number");
    row.contour = static_cast<int>(contour);
    row.at = unit_ * Vec2{number(cells[2]), number(cells[3])};
    row.heading = k_degree * number(cells[4]);
    row.reading = k_degree * number(cells[5]);
    row.left = unit_ * number(cells[6]);
    if (pivots_) row.pivot = unit_ * Vec2{number(cells[7]), number(cells[8])};
    table_.pieces[cells[0]].push_back(row);
  }

  std::filesystem::path file_;
  std::ifstream in_;
  int line_ = 0;
  bool pivots_ = false;
  double unit_ = 1.0;
  std::map<std::string, std::string> head_;
  TiltFile table_;
};

}  // namespace

TiltFile read_tilt_file(const std::filesystem::path& file) {
  return Reader(file).read();
}

}  // namespace linerwright
