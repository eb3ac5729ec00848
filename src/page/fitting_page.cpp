#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fitting_parts.hpp"
#include "fitting_tables.hpp"
#include "html.hpp"
#include "linerwright/page.hpp"
#include "packed.hpp"
#include "scene.hpp"
#include "web_text.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

std::string coarser_note(const FittingPage& page) {
  if (!page.coarser) return {};
  return "<p class=\"coarser\"><small>Facets within " + html_text(length_text(page.fitting, *page.coarser)) +
         "; the STL files are finer.</small></p>\n";
}

// Whether the patterns need three columns so that two sheets hold all; measures in mm, as fitting.css makes
// them on the shorter of the two usual sheets.
bool many_patterns(const FittingPage& page) {
  if (page.patterns.empty()) return false;
  constexpr double k_sheet = 257.0, k_checks = 48.0, k_graph_row = 45.0, k_before = 175.0, k_piece_row = 6.0;
  const auto own_height = [](const Pattern& pattern) {
    constexpr double k_caption = 10.0, k_tallest = 62.0, k_column = 74.0, k_around = 16.0;
    return k_caption + std::min(k_tallest, k_around + k_column * pattern.board.y / pattern.board.x);
  };
  double height = k_checks + k_graph_row * std::ceil(0.5 * static_cast<double>(page.fitting.passages.size()));
  for (const Pattern& pattern : page.patterns)
    height += own_height(pattern) * (pattern.is_blank ? 1.0 : 0.5);  // a blank has a row of its own
  // the first sheet has room for a row where it fits below the steps
  const double first = own_height(page.patterns.front());
  if (k_before + k_piece_row * static_cast<double>(page.fitting.pieces.size()) + first < k_sheet)
    height -= first;
  return height > k_sheet;
}

std::vector<std::string> cutting_steps(const Fitting& fitting) {
  std::string up = face_word(fitting.liner, fitting.liner.face_up);
  for (const LinerSpec& liner : fitting.inner_layers)
    up += fmt::format(" face up, those of layer 2 with the {}", face_word(liner, liner.face_up));
  return {"Measure the check line on the first sheet: it must be as long as it says.",
          fmt::format("Cut with the {} face up, along the knife line; lean the knife as the combs show, or "
                      "cut square and "
                      "accept the gap and the overlap stated beside the pattern.",
                      up),
          "Turn a pattern by half a turn if that saves board, never by less, and never over: the board bends "
          "only around the duct.",
          "Cut and try one piece before the rest; write the tag, the piece and the seam mark on each."};
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
  return filled(
      web_text("fitting.html"),
      {{"tag", html_text(fitting.tag)},
       {"kind", html_text(fitting.kind)},
       {"what", html_text(fmt::format("{}, {} to make", fitting.kind, fitting.count))},
       {"style", std::string(web_text("page.css")) + std::string(web_text("pattern.css")) +
                     std::string(web_text("fitting.css"))},
       {"unpack", web_text("bundle/unpack.js")},
       {"unpack_hash", web_text("bundle/unpack.hash")},
       {"packed", web_text("bundle/view.js.gz64")},
       {"script_hash", web_text("bundle/view.hash")},
       {"figures", key_figures(fitting)},
       {"warnings", fitting.warnings.empty() ? ""
                                             : "<section class=\"warnings\"><h2>Notes</h2>" +
                                                   html_list(fitting.warnings, false) + "</section>\n"},
       {"model_link", seen ? "<a href=\"#model\">3D</a>" : ""},
       {"model", seen ? filled(web_text("model.html"), {{"layers", layer_boxes(page)},
                                                        {"coarser", coarser_note(page)},
                                                        {"cut_open", web_text("cut_open.html")}})
                      : ""},
       {"still", !page.picture.empty() ? page.picture
                 : seen                ? "<img id=\"still\" alt=\"the fitting, cut open\">"
                                       : ""},
       {"pieces", pieces_table(page)},
       {"cautions", web_text("cautions.html")},
       {"cutting", html_list(cutting_steps(fitting), true)},
       {"steps", html_list(fitting.steps, true)},
       {"patterns_class", many_patterns(page) ? "patterns many" : "patterns"},
       {"patterns", pattern_figures(page)},
       {"ordinates", ordinate_tables(page)},
       {"graphs", bore_graphs(fitting)},
       {"bore", bore_table_of(fitting)},
       {"checks", checks_table(page)},
       {"facts", facts_table(fitting)},
       {"asked", asked_table(fitting)},
       {"files", file_links(page.files)},
       {"scene", seen ? scene_element(scene_json(page)) : ""}});
}

}  // namespace linerwright
