#include <fmt/format.h>

#include <algorithm>

#include "bore_graph.hpp"
#include "fitting_tables.hpp"
#include "html.hpp"
#include "linerwright/page.hpp"
#include "pattern_figure.hpp"
#include "scene.hpp"
#include "web_text.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

std::string figure(const std::string& name, const std::string& value, const std::string& note) {
  return fmt::format("<div><dt>{}</dt><dd>{}<small>{}</small></dd></div>\n", html_text(name),
                     html_text(value), html_text(note));
}

// What a person with a piece in hand asks first.
std::string key_figures(const Fitting& fitting) {
  const auto shown = [&](double mm) { return length_text(fitting, mm); };
  std::string out =
      figure("liner", shown(fitting.liner.thickness),
             fitting.liner.face_up == Face::air ? "cut with the air face up" : "cut with the duct face up");
  for (const Passage& passage : fitting.passages) {
    const Station& first = passage.stations.front();
    const Station& last = passage.stations.back();
    const std::string to =
        first.bare_diameter == last.bare_diameter ? "" : " to " + shown(last.bare_diameter);
    const Station& tight = narrowest(passage);
    const bool several = fitting.passages.size() > 1;
    out += figure(several ? passage.name + ", bare" : "duct, bare", shown(first.bare_diameter) + to,
                  "inside diameter");
    out += figure(several ? passage.name + ", clear" : "bore, clear", shown(tight.lined_diameter),
                  fmt::format("{} % of the area", fixed(100.0 * free_share(tight), 1)));
  }
  std::string order;
  for (const int piece : fitting.insertion)
    order += (order.empty() ? "" : " \u2192 ") + fitting.pieces[static_cast<std::size_t>(piece)].id;
  return out + figure("pieces go in", order, fmt::format("{} to a fitting", fitting.pieces.size()));
}

std::string layer_boxes(const FittingPage& page) {
  std::string out;
  for (std::size_t i = 0; i < page.parts.size(); ++i) {
    const PagePart& part = page.parts[i];
    const std::string order =
        part.role == PartRole::liner
            ? fmt::format(" <small>{}</small>", insertion_rank(page.fitting, part.piece))
            : "";
    out += fmt::format("<label><input type=\"checkbox\" data-part=\"{}\"{}> {}{}</label>\n", i,
                       part.role == PartRole::bore ? "" : " checked",
                       html_text(part_title(page.fitting, part)), order);
  }
  return out;
}

std::string pattern_figures(const FittingPage& page) {
  std::string out;
  for (const Pattern& pattern : page.patterns)
    out += fmt::format("<figure><figcaption>{}</figcaption>{}</figure>\n", html_text(pattern.id),
                       pattern_figure(page.fitting, pattern));
  return out;
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
  std::string graphs;
  for (const Passage& passage : fitting.passages)
    graphs += fmt::format("<figure><figcaption>{}</figcaption>{}</figure>\n", html_text(passage.name),
                          bore_graph(fitting, passage));
  const std::string script(web_text("bundle/fitting.js"));
  return filled(web_text("fitting.html"),
                {{"tag", html_text(fitting.tag)},
                 {"kind", html_text(fitting.kind)},
                 {"count", std::to_string(fitting.count)},
                 {"style", std::string(web_text("page.css")) + std::string(web_text("fitting.css"))},
                 {"script", script},
                 {"script_hash", std::string(web_text("bundle/fitting.hash"))},
                 {"figures", key_figures(fitting)},
                 {"warnings", html_list(fitting.warnings, false)},
                 {"layers", layer_boxes(page)},
                 {"still", page.picture.empty() ? "<img id=\"still\" alt=\"the fitting\">" : page.picture},
                 {"pieces", pieces_table(page)},
                 {"steps", html_list(fitting.steps, true)},
                 {"patterns", pattern_figures(page)},
                 {"ordinates", ordinate_tables(page)},
                 {"graphs", graphs},
                 {"bore", bore_table_of(fitting)},
                 {"checks", checks_table(page)},
                 {"facts", facts_table(fitting)},
                 {"files", file_links(page.files)},
                 {"scene", page.parts.empty() ? "" : json_for_script(scene_json(page))}});
}

}  // namespace linerwright
