#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fitting_parts.hpp"
#include "fitting_tables.hpp"
#include "html.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "packed.hpp"
#include "page_script.hpp"
#include "scene.hpp"
#include "shop_svg.hpp"
#include "web_text.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

std::string coarser_note(const FittingPage& page) {
  if (!page.coarser) return {};
  return "<p class=\"coarser\"><small>Facets within " + html_text(length_text(page.fitting, *page.coarser)) +
         "; the STL files are finer.</small></p>\n";
}

// Of fittings that air passes through; a disc alone has no bore.
std::string bore_section(const Fitting& fitting) {
  if (fitting.passages.empty()) return "";
  return "<section id=\"bore\"><h2>Bore along the path</h2>\n<div class=\"graphs\">\n" +
         bore_graphs(fitting) + "</div>\n" + bore_table_of(fitting) + "</section>\n";
}

std::string lost_box(const Fitting& fitting) {
  if (fitting.passages.empty()) return "";
  return "\n<label><input type=\"checkbox\" id=\"lost\"> shade the lost bore</label>";
}

// Of fittings with branches: the heights of their saddles.
std::string saddle_box(const Fitting& fitting) {
  return std::any_of(fitting.pieces.begin(), fitting.pieces.end(),
                     [&](const Piece& piece) { return has_saddle(fitting, piece); })
             ? "\n<label><input type=\"checkbox\" id=\"saddle\"> heights of the saddle at its "
               "stations</label>"
             : "";
}

std::string file_links(const std::vector<std::string>& files) {
  std::string out;
  for (const std::string& file : files)
    out += fmt::format("<li><a href=\"{0}\">{0}</a></li>\n", html_text(file));
  return out;
}

}  // namespace

std::string fitting_page(const FittingPage& page) {
  const Fitting& fitting = page.fitting;
  const bool seen = !page.parts.empty();
  std::optional<ShopSheet> made;
  if (page.sheet == nullptr) made = shop_sheet(fitting, page.patterns, fitting.warnings, {});
  const ShopSheet& sheet = made ? *made : *page.sheet;
  std::vector<ShopDrawing> views = sheet.sections;
  views.insert(views.begin(), sheet.view);
  const PageScript script = page_script(page.script);
  PackedParts packed;  // in the order in which they stand on the page
  const std::string patterns = pattern_figures(page, &packed);
  const std::string sheets = packed.element("<div", shop_page_figures(sheet));
  return filled(
      web_text("fitting.html"),
      {{"tag", html_text(fitting.tag)},
       {"kind", html_text(kind_title(fitting.kind))},
       {"what", html_text(sheet.what)},
       {"answers", shop_answers(sheet)},
       {"views", shop_figures(views)},
       {"sheets", sheets},
       {"drawn", packed.packed()},
       {"style", std::string(web_text("page.css")) + std::string(web_text("pattern.css")) +
                     std::string(web_text("fitting.css"))},
       {"unpack", web_text("bundle/unpack.js")},
       {"unpack_hash", web_text("bundle/unpack.hash")},
       {"allowed", script.allowed},
       {"script", script.element},
       {"figures", key_figures(fitting)},
       {"warnings", fitting.warnings.empty() ? ""
                                             : "<section class=\"warnings\"><h2>Notes</h2>" +
                                                   html_list(fitting.warnings, false) + "</section>\n"},
       {"model_link", seen ? "<a href=\"#model\">3D</a>" : ""},
       {"model", seen ? filled(web_text("model.html"), {{"layers", layer_boxes(page)},
                                                        {"lost", lost_box(fitting)},
                                                        {"heights", saddle_box(fitting)},
                                                        {"coarser", coarser_note(page)},
                                                        {"cut_open", web_text("cut_open.html")}})
                      : ""},
       {"still", page.picture.empty() ? "" : "<div class=\"still\">" + page.picture + "</div>"},
       {"pieces", pieces_table(page)},
       {"cautions", web_text("cautions.html")},
       {"cutting", html_list(sheet.cutting, true)},
       {"steps", html_list(fitting.steps, true)},
       {"patterns", patterns},
       {"ordinates", ordinate_tables(page)},
       {"bore_link", fitting.passages.empty() ? "" : "<a href=\"#bore\">Bore</a>"},
       {"bore", bore_section(fitting)},
       {"checks", checks_table(page)},
       {"facts", facts_table(fitting)},
       {"asked", asked_table(fitting)},
       {"files", file_links(page.files)},
       {"scene", seen ? scene_element(scene_json(page)) : ""}});
}

}  // namespace linerwright
