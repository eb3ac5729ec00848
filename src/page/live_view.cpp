#include "linerwright/page/live_view.hpp"

#include <fmt/format.h>

#include "fitting_parts.hpp"
#include "fitting_tables.hpp"
#include "html.hpp"
#include "job_parts.hpp"
#include "linerwright/page/page_boards.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "scene.hpp"
#include "shop_svg.hpp"

namespace linerwright {

void write_live_view(JsonWriter& json, const Fitting& fitting, const std::vector<Pattern>& patterns) {
  const FittingPage page{fitting, patterns, {}, {}, {}, {}, {}};
  json.begin_object();
  json.key("figures").text(key_figures(fitting));
  json.key("warnings").text(html_list(fitting.warnings, false));
  json.key("patterns").text(pattern_figures(page));
  json.key("bore").text(bore_graphs(fitting) + bore_table_of(fitting));
  json.key("facts").text(facts_table(fitting));
  json.key("pieces").text(pieces_table(page));
  json.key("steps").text(html_list(fitting.steps, true));
  json.end_object();
}

std::string live_scene(const Fitting& fitting, const std::vector<Pattern>& patterns,
                       const std::vector<PagePart>& parts) {
  const FittingPage page{fitting, patterns, parts, {}, {}, {}, {}};
  JsonWriter json;
  json.begin_object();
  json.key("boxes").text(layer_boxes(page));
  json.key("scene").text(scene_json(page));
  json.end_object();
  return json.str();
}

std::string live_sheet(const Fitting& fitting, const std::vector<Pattern>& patterns, const SheetHead& head) {
  return shop_page_figures(shop_sheet(fitting, patterns, fitting.warnings, head));
}

std::string live_totals(const JobTotals& totals) {
  std::string html;
  for (TotalsCells& cells : totals_cells(totals))
    html += table_html({"", std::move(cells.heads), 1, std::move(cells.rows)});
  return html + html_list(totals_notes(totals), false);
}

std::string live_boards(const BoardPlan& plan) {
  return boards_html(page_boards(plan));
}

std::string live_search(const BoardsSoFar& now) {
  std::string html;
  for (const BoardsSoFar::Board& board : now.boards) {
    std::string way;
    for (const Ring& piece : board.pieces)
      for (std::size_t i = 0; i < piece.size(); ++i)
        way += fmt::format("{}{} {}{}", i == 0 ? "M" : "L", trimmed(piece[i].x, 0),
                           trimmed(board.size.y - piece[i].y, 0), i + 1 == piece.size() ? "Z" : "");
    const std::string x = trimmed(board.size.x, 1), y = trimmed(board.size.y, 1);
    html += fmt::format(
        "<svg viewBox=\"0 0 {0} {1}\"><path class=\"edge\" d=\"M0 0H{0}V{1}H0Z\"/><path d=\"{2}\"/></svg>\n",
        x, y, way);
  }
  return html;
}

}  // namespace linerwright
