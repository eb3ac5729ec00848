#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "pdf_pages.hpp"
#include "sheets.hpp"

namespace linerwright {

namespace {

void add_page(PdfPages& pages, const SheetPlan& plan, const Picture* pattern, const std::string& name) {
  pages.begin(plan.size, name);
  cairo_t* context = pages.context();
  paint(context, plan.frame);
  if (pattern != nullptr) {
    cairo_save(context);
    const Vec2 window = plan.window.high - plan.window.low;
    cairo_rectangle(context, plan.window.low.x, plan.window.low.y, window.x, window.y);
    cairo_clip(context);
    cairo_translate(context, plan.shift.x, plan.shift.y);
    paint(context, within(*pattern, {plan.window.low - plan.shift, plan.window.high - plan.shift}));
    cairo_restore(context);
  }
  pages.end();
}

}  // namespace

std::string templates_pdf(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper) {
  std::vector<PaperPattern> on;
  std::size_t sheets = 0;
  const std::vector<Pattern> of_holes = site_templates(fitting);
  const auto add = [&](const Pattern& pattern) {
    on.push_back(on_paper(fitting, pattern, paper));
    sheets += on.back().tiling.tiles.size();
  };
  for (const std::size_t i : patterns_to_cut(patterns, true)) add(patterns[i]);
  for (const Pattern& pattern : of_holes) add(pattern);
  if (sheets > k_most_sheets)
    throw InputError(
        {Problem{{},
                 0,
                 fitting.tag,
                 "--templates",
                 paper.name,
                 fmt::format("at most {} sheets a fitting", k_most_sheets),
                 fmt::format("its patterns take {} sheets; a larger paper or a roll takes fewer", sheets)}});
  PdfPages pages(fitting.tag);
  add_page(pages, map_sheet(fitting, on, paper), nullptr, "map of the sheets");
  int number = 0;
  for (const PaperPattern& pattern : on)
    for (const Tile& tile : pattern.tiling.tiles)
      add_page(pages, tile_sheet(fitting, pattern, tile, ++number, static_cast<int>(sheets)),
               &pattern.picture, pattern.pattern->id + ", sheet " + tile.name);
  return pages.finish();
}

}  // namespace linerwright
