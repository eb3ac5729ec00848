// Pictures, pages and paper: the patterns' pictures are to scale and as large as their cuts; the others are
// whole files (their content is held by their digests).
#include <algorithm>
#include <charconv>
#include <optional>

#include "beside.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_largest_picture = 64u << 20;

std::optional<double> number_at(std::string_view text, std::size_t& at) {
  while (at < text.size() && (text[at] == ' ' || text[at] == ',')) ++at;
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data() + at, text.data() + text.size(), value);
  if (error != std::errc()) return std::nullopt;
  at = static_cast<std::size_t>(end - text.data());
  return value;
}

// The value of an attribute of the first element.
std::optional<std::string_view> attribute(std::string_view head, const std::string& name) {
  const std::string before = " " + name + "=\"";
  const std::size_t from = head.find(before);
  if (from == std::string_view::npos) return std::nullopt;
  const std::size_t end = head.find('"', from + before.size());
  if (end == std::string_view::npos) return std::nullopt;
  return head.substr(from + before.size(), end - from - before.size());
}

// Millimetres on paper are the picture's own units.
bool to_scale(std::string_view svg) {
  const std::string_view head = svg.substr(0, svg.find('>'));
  const auto view = attribute(head, "viewBox");
  if (!view) return false;
  std::size_t at = 0;
  for (int i = 0; i < 2; ++i)
    if (number_at(*view, at) != 0.0) return false;
  for (const char* side : {"width", "height"}) {
    const auto size = attribute(head, side);
    const auto units = number_at(*view, at);
    std::size_t end = 0;
    if (!size || !units || number_at(*size, end) != units || size->substr(end) != "mm") return false;
  }
  return true;
}

// Around all paths of one class; nothing where there are none.
std::optional<Box> drawn(std::string_view svg, const std::string& group) {
  const std::size_t begin = svg.find("<g class=\"" + group + "\">");
  if (begin == std::string_view::npos) return std::nullopt;
  svg = svg.substr(begin, svg.find("</g>", begin) - begin);
  std::optional<Box> box;
  for (std::size_t at = svg.find(" d=\"M"); at != std::string_view::npos; at = svg.find(" d=\"M", at)) {
    for (at += 4; at < svg.size() && (svg[at] == 'M' || svg[at] == 'L');) {
      const auto x = number_at(svg, ++at);
      const auto y = number_at(svg, at);
      if (!x || !y) return std::nullopt;
      const Box point{{*x, *y}, {*x, *y}};
      box = box ? joined(*box, point) : point;
    }
  }
  return box;
}

void prove_picture(Tally& tally, const std::string& name, std::string_view svg, const Pattern& pattern) {
  constexpr double k_rounding = 2e-3;  // mm: two roundings to three decimals
  tally.require(to_scale(svg), name + " is not to scale: its size in mm is not its size in units");
  const auto box = drawn(svg, "cut");
  tally.require(box.has_value(), name + " shows no cut");
  if (!box) return;
  const Box cut = bounding_box(pattern.cut.outer).value();
  const Vec2 found = box->high - box->low;
  const Vec2 expected = cut.high - cut.low;
  tally.require(distance(found, expected) <= k_rounding,
                fmt::format("{} shows a cut of {} x {} mm, not {} x {}", name, trimmed(found.x, 3),
                            trimmed(found.y, 3), trimmed(expected.x, 3), trimmed(expected.y, 3)));
}

// A file of this kind that was not cut short.
bool is_whole(const std::string& bytes, const std::string& ending) {
  const auto begins = [&](std::string_view with) { return bytes.compare(0, with.size(), with) == 0; };
  const auto closes = [&](std::string_view with) {
    const std::size_t last = bytes.find_last_not_of("\r\n ");
    return last != std::string::npos && last + 1 >= with.size() &&
           bytes.compare(last + 1 - with.size(), with.size(), with) == 0;
  };
  if (ending == ".pdf") return begins("%PDF-") && closes("%%EOF");
  if (ending == ".html") return begins("<!") && closes("</html>");
  if (ending == ".svg") return begins("<svg") && closes("</svg>");
  return begins("\x89PNG") && bytes.size() > 12 && bytes.compare(bytes.size() - 8, 4, "IEND") == 0;
}

}  // namespace

std::vector<CheckResult> prove_pictures(const std::vector<Pattern>& patterns, const CheckFiles& files,
                                        const JsonValue& json) {
  Tally tally("pictures and pages");
  for (const std::string& name : names_in(json.find("files"))) {
    const std::string ending = std::filesystem::path(name).extension().string();
    if (ending != ".svg" && ending != ".html" && ending != ".pdf" && ending != ".png") continue;
    try {
      const std::string bytes = file_bytes(files.folder / name, k_largest_picture);
      tally.require(is_whole(bytes, ending), name + " is not whole");
      if (ending != ".svg") continue;
      const auto shown = std::find_if(patterns.begin(), patterns.end(), [&](const Pattern& pattern) {
        return name == files.stem + "-" + pattern.id + ".svg";
      });
      if (shown != patterns.end())
        prove_picture(tally, name, bytes, *shown);
      else
        tally.require(to_scale(bytes), name + " is not to scale: its size in mm is not its size in units");
    } catch (const InputError& error) {
      tally.wrong(error.what());
    }
  }
  return {tally.result("facts of pictures, pages and paper")};
}

}  // namespace linerwright
