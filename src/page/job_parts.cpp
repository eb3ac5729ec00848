#include "job_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "html.hpp"

namespace linerwright {

namespace {

// The board with its pieces' names as large as they fit.
std::string board_svg(const PageBoard& board) {
  constexpr double k_letter_width = 0.62;  // of a letter's size, on average
  double longest = 0.0;
  for (const Polyline& line : board.drawing.lines)
    for (const Vec2 p : line.points) longest = std::max(longest, p.x);
  SvgOptions options;
  options.inside_page = true;
  for (const PagePiece& piece : board.pieces) {
    const Vec2 size = piece.box.high - piece.box.low;
    const Vec2 middle = 0.5 * (piece.box.low + piece.box.high);
    const double letters = std::max(1.0, static_cast<double>(piece.name.size()));
    const double letter = std::min({longest / 32.0, size.x / (letters * k_letter_width), 0.6 * size.y});
    options.overlay += fmt::format(
        "<text class=\"piece\" font-size=\"{}\" transform=\"translate({} {}) scale(1 -1)\" "
        "dy=\".35em\">{}</text>\n",
        trimmed(letter, 1), trimmed(middle.x, 1), trimmed(middle.y, 1), html_text(piece.name));
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
