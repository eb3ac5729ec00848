#include "job_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "html.hpp"
#include "linerwright/draw/polygon.hpp"

namespace linerwright {

namespace {

// Where a piece's name stands clear of what is drawn on its board.
class FreePlaces {
 public:
  explicit FreePlaces(const Drawing& drawing) : drawing_(drawing) {}

  // The middle of a place of that size on the piece that lies in `around`, the nearest to its middle; nothing
  // where there is none.
  std::optional<Vec2> place(const Box& around, Vec2 size) const {
    std::vector<std::array<Vec2, 2>> near;
    std::vector<const Polyline*> contours;
    for (const Polyline& line : drawing_.lines) {
      const std::size_t sides = line.points.size() - (line.closed ? 0 : 1);
      bool is_near = false;
      for (std::size_t i = 0; i < sides; ++i) {
        const Vec2 a = line.points[i], b = line.points[(i + 1) % line.points.size()];
        if (!meets_box(around, a, b)) continue;
        near.push_back({a, b});
        is_near = true;
      }
      if (is_near && line.closed && line.layer == Layer::cut) contours.push_back(&line);
    }
    constexpr int k_half = 4;  // places to either side of the middle
    std::optional<Vec2> best;
    double nearest = 1e300;
    const Vec2 middle = 0.5 * (around.low + around.high);
    const Vec2 step = (0.5 / k_half) * (around.high - around.low - size);
    for (int i = -k_half; i <= k_half; ++i)
      for (int k = -k_half; k <= k_half; ++k) {
        const Vec2 at = middle + Vec2{i * step.x, k * step.y};
        if (distance(at, middle) < nearest && is_free({at - 0.5 * size, at + 0.5 * size}, near) &&
            std::any_of(contours.begin(), contours.end(),
                        [&](const Polyline* line) { return point_in_polygon(at, line->points); })) {
          best = at;
          nearest = distance(at, middle);
        }
      }
    return best;
  }

 private:
  const Drawing& drawing_;

  bool is_free(const Box& box, const std::vector<std::array<Vec2, 2>>& near) const {
    if (std::any_of(near.begin(), near.end(),
                    [&](const auto& side) { return meets_box(box, side[0], side[1]); }))
      return false;
    return std::none_of(drawing_.texts.begin(), drawing_.texts.end(), [&](const Text& text) {
      const Box letters = bounding_box(text_corners(text)).value();
      return letters.low.x < box.high.x && letters.high.x > box.low.x && letters.low.y < box.high.y &&
             letters.high.y > box.low.y;
    });
  }
};

// A piece's name on the board.
struct PlacedName {
  std::string text;
  double letter = 0.0;  // its size, mm
  Vec2 middle{};
};

// As large as it fits without covering a mark or a line of words; where there is no such place, the piece's
// number alone, by which the list below names it; where there is none for that, as small as it can be read.
PlacedName name_of(const PagePiece& piece, const FreePlaces& places, double longest) {
  constexpr double k_letter_width = 0.62;  // of a letter's size, on average
  const Vec2 size = piece.box.high - piece.box.low;
  const double readable = longest / 90.0;
  PlacedName name;
  for (const std::string& text : {piece.name, piece.name.substr(0, piece.name.find(' '))}) {
    const double letters = std::max(1.0, static_cast<double>(text.size()));
    double letter = std::min({longest / 32.0, size.x / (letters * k_letter_width), 0.6 * size.y});
    const double least = std::min(letter, readable);
    name = {text, least, 0.5 * (piece.box.low + piece.box.high)};
    for (; letter >= least; letter *= 0.8)
      if (const std::optional<Vec2> free =
              places.place(piece.box, {1.1 * letter * letters * k_letter_width, 1.2 * letter}))
        return {text, letter, *free};
  }
  return name;
}

std::string board_svg(const PageBoard& board) {
  double longest = 0.0;
  for (const Polyline& line : board.drawing.lines)
    for (const Vec2 p : line.points) longest = std::max(longest, p.x);
  SvgOptions options;
  options.inside_page = true;
  const FreePlaces places(board.drawing);
  for (const PagePiece& piece : board.pieces) {
    const PlacedName name = name_of(piece, places, longest);
    options.overlay += fmt::format(
        "<text class=\"piece\" font-size=\"{}\" transform=\"translate({} {}) scale(1 -1)\" "
        "dy=\".35em\">{}</text>\n",
        trimmed(name.letter, 1), trimmed(name.middle.x, 1), trimmed(name.middle.y, 1), html_text(name.text));
  }
  return svg_of(board.drawing, options);
}

}  // namespace

std::string html_link(const std::string& folder, const std::string& file, const std::string& shown) {
  return fmt::format("<a href=\"{}{}{}\">{}</a>", html_text(folder), folder.empty() ? "" : "/",
                     html_text(file), shown);
}

std::string table_html(const PageTable& table) {
  const auto escaped = [](const std::vector<std::string>& cells) {
    std::vector<std::string> out;
    for (const std::string& cell : cells) out.push_back(html_text(cell));
    return out;
  };
  // columns that say nothing are left out
  std::vector<bool> kept;
  for (std::size_t c = 0; c < table.heads.size(); ++c)
    kept.push_back(table.rows.empty() || std::any_of(table.rows.begin(), table.rows.end(),
                                                     [&](const auto& row) { return !row[c].empty(); }));
  const auto of = [&](const std::vector<std::string>& cells) {
    std::vector<std::string> out;
    for (std::size_t c = 0; c < cells.size(); ++c)
      if (kept[c]) out.push_back(cells[c]);
    return escaped(out);
  };
  HtmlTable html{html_text(table.title), of(table.heads), table.words, {}};
  for (const auto& row : table.rows) html.rows.push_back(of(row));
  return html_of(html);
}

std::string boards_html(const std::vector<PageBoard>& boards) {
  std::string out;
  for (const PageBoard& board : boards) {
    std::string below;
    for (const std::string& file : board.more)
      below += (below.empty() ? "" : ", ") + html_link({}, file, html_text(file.substr(file.rfind('/') + 1)));
    below = fmt::format("<p>{}{}{}</p>\n", html_text(board.words), below.empty() ? "" : " ", below);
    for (const PageTable& table : board.order) below += table_html(table);
    out += fmt::format(
        "<figure><figcaption>{} <small>{}</small></figcaption><div class=\"pattern\">{}</div>{}</figure>\n",
        board.file.empty() ? html_text(board.name) : html_link({}, board.file, html_text(board.name)),
        html_text(board.yield), board_svg(board), below);
  }
  return out;
}

}  // namespace linerwright
