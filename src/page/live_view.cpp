#include "linerwright/live_view.hpp"

#include "fitting_parts.hpp"
#include "fitting_tables.hpp"
#include "html.hpp"
#include "scene.hpp"

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

}  // namespace linerwright
