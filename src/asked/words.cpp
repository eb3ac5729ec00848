#include <algorithm>

#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

// "1 in", "25.4 mm": at most three decimals, no zeros behind.
std::string in_words(double mm, bool inches, int decimals) {
  const double scale = std::pow(10.0, decimals);
  long long whole = std::llround(mm / (inches ? 25.4 : 1.0) * scale);
  std::string digits = std::to_string(whole);
  if (decimals > 0) {
    if (digits.size() <= static_cast<std::size_t>(decimals))
      digits.insert(0, static_cast<std::size_t>(decimals) + 1 - digits.size(), '0');
    digits.insert(digits.size() - static_cast<std::size_t>(decimals), ".");
    while (digits.back() == '0') digits.pop_back();
    if (digits.back() == '.') digits.pop_back();
  }
  return digits + (inches ? " in" : " mm");
}

bool holds(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

// The line to measure itself, or one of the short ones at its ends.
bool is_of_the_line(const Entity& entity, double longest) {
  const Point& a = entity.points[0];
  const Point& b = entity.points[1];
  const bool whole = std::abs(std::hypot(b[0] - a[0], b[1] - a[1]) - longest) < 1e-6;
  const bool upright = std::abs(a[0] - b[0]) < 1e-6;
  return whole || (upright && (std::abs(a[0]) < 1e-6 || std::abs(a[0] - longest) < 1e-6));
}

void prove_drawing(const Case& asked, const std::string& name, Worst& words) {
  const bool inches = asked.made.inch_drawings;
  const Drawn drawn = read_drawn(asked.files.at(name), name, inches ? 25.4 : 1.0);
  const auto header = [&](const char* key) {
    const auto found = drawn.header.find(key);
    std::string value = found == drawn.header.end() ? "" : found->second;
    value.erase(
        0, value.find_first_not_of(' ') == std::string::npos ? value.size() : value.find_first_not_of(' '));
    return value;
  };
  if (asked.made.version == "r12") {
    words.expect(header("$ACADVER") == "AC1009", name + " is of another version");
  } else {
    words.expect(header("$ACADVER") == "AC1015", name + " is of another version");
    words.expect(header("$INSUNITS") == (inches ? "1" : "4"), name + ": $INSUNITS");
    words.expect(header("$MEASUREMENT") == (inches ? "0" : "1"), name + ": $MEASUREMENT");
  }
  const double t = asked.made.request.value("thickness");
  const std::string face = asked.made.request.word("face_up") + " face up";
  for (const std::string& comment : drawn.comments) {
    if (holds(comment, "units:"))
      words.expect(holds(comment, inches ? "inch" : "millimetres"), name + " says " + comment);
    if (comment.compare(0, 6, "liner ") == 0)
      words.expect(comment == "liner " + in_words(t, false, 3) + ", " + face ||
                       comment == "liner " + in_words(t, true, 3) + ", " + face,
                   name + " says " + comment);
  }
  static const char* const layers[] = {"CUT",   "DUCT_FACE", "AIR_FACE", "MARK",
                                       "LABEL", "SCALE",     "STOCK",    "0"};
  for (const Entity& entity : drawn.entities)
    words.expect(
        !entity.closed || (entity.layer != "MARK" && entity.layer != "LABEL" && entity.layer != "SCALE"),
        name + ": a closed line on " + entity.layer);
  for (const Entity& entity : drawn.entities)
    if (!entity.layer.empty() && entity.layer != "Defpoints")
      words.expect(std::any_of(std::begin(layers), std::end(layers),
                               [&](const char* layer) { return entity.layer == layer; }),
                   name + " draws on layer " + entity.layer);
  if (asked.made.bare_drawings) return;
  // the line to measure: 100 mm, or 4 in where the fitting is in inches
  double longest = 0.0;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == "SCALE" && entity.points.size() == 2)
      longest = std::max(longest, std::hypot(entity.points[1][0] - entity.points[0][0],
                                             entity.points[1][1] - entity.points[0][1]));
  words.expect(std::abs(longest - 100.0) < 0.003 || std::abs(longest - 101.6) < 0.003,
               name + ": the line to measure");
  // what it says stands under its middle
  double left = 1e300;
  double right = -1e300;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == "SCALE" && entity.type != "TEXT" &&
        !(entity.points.size() == 2 && is_of_the_line(entity, longest)))
      for (const Point& point : entity.points) {
        left = std::min(left, point[0]);
        right = std::max(right, point[0]);
      }
  if (right > left)
    words.expect(std::abs(left + right - longest) < 2.0,
                 name + ": what the line to measure says stands elsewhere");
}

// A minus sign before nothing but zeros, which no table should show.
bool shows_minus_zero(const std::string& text) {
  const auto ends = [](char c) { return std::string(", \n\r}]\"").find(c) != std::string::npos; };
  for (std::size_t at = text.find("-0"); at != std::string::npos; at = text.find("-0", at + 1)) {
    // a cell's or a value's own sign, not one that a person wrote in a text
    const std::size_t before = at == 0 ? std::string::npos : text.find_last_not_of(' ', at - 1);
    if (before != std::string::npos && std::string(",:\n[").find(text[before]) == std::string::npos) continue;
    const std::size_t end = text.find_first_not_of("0.", at + 1);
    if (end == std::string::npos || ends(text[end])) return true;
  }
  return false;
}

// The words that stand in a pattern's picture.
std::vector<std::string> texts_of(const std::string& svg) {
  std::vector<std::string> texts;
  for (std::size_t at = svg.find("<text"); at != std::string::npos; at = svg.find("<text", at + 1)) {
    const std::size_t from = svg.find('>', at);
    const std::size_t to = svg.find('<', from);
    if (from == std::string::npos || to == std::string::npos) break;
    texts.push_back(svg.substr(from + 1, to - from - 1));
  }
  return texts;
}

void prove_picture(const Case& asked, const Cut& cut, Worst& words) {
  const Request& request = asked.made.request;
  const std::string name = name_ending(asked.files, "-" + cut.made->id + ".svg");
  if (name.empty()) return;
  const auto texts = texts_of(asked.files.at(name));
  const auto any = [&](const std::string& text) {
    return std::any_of(texts.begin(), texts.end(), [&](const std::string& one) { return holds(one, text); });
  };
  const double t = request.value("thickness");
  words.expect(any("liner " + in_words(t, false, 3)) || any("liner " + in_words(t, true, 3)),
               name + " does not state the liner");
  words.expect(any(request.word("face_up") + " face up"), name + " does not state the face that is up");
  words.expect(any(cut.made->id), name + " does not name the piece");
}

}  // namespace

void prove_words(Case& asked) {
  Worst words("words", 0.0, "", "units, layers, labels and the line to measure, by the request");
  for (const auto& [name, bytes] : asked.files) {
    const std::string ending = name.size() > 4 ? name.substr(name.size() - 4) : "";
    if (ending == ".dxf") prove_drawing(asked, name, words);
    if (ending == ".csv" || name == "fitting.json")
      words.expect(!shows_minus_zero(bytes), name + " shows a minus zero");
  }
  for (const Cut& cut : asked.cuts) prove_picture(asked, cut, words);
  words.into(asked.findings);
}

}  // namespace linerwright::asked
