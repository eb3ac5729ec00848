#include <fmt/format.h>

#include <algorithm>

#include "linerwright/report/shop_sheet.hpp"
#include "linerwright/units/error.hpp"
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

namespace {

std::vector<PaperPattern> all_on_paper(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const std::vector<Pattern>& of_holes, const Paper& paper, bool half) {
  std::vector<std::vector<const Pattern*>> groups;
  for (const std::size_t i : patterns_to_cut(patterns, true)) {
    const auto same = std::find_if(groups.begin(), groups.end(),
                                   [&](const auto& group) { return cut_alike(*group.front(), patterns[i]); });
    if (same == groups.end())
      groups.push_back({&patterns[i]});
    else
      same->push_back(&patterns[i]);
  }
  for (const Pattern& pattern : of_holes) groups.push_back({&pattern});
  std::vector<PaperPattern> on;
  for (const auto& group : groups)
    on.push_back(on_paper(fitting, *group.front(), {group.begin() + 1, group.end()}, paper, half));
  return on;
}

std::size_t sheets_of(const std::vector<PaperPattern>& on) {
  std::size_t sheets = 0;
  for (const PaperPattern& pattern : on) sheets += pattern.tiling.tiles.size();
  return sheets;
}

}  // namespace

std::size_t template_sheets(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper,
                            bool half) {
  return sheets_of(all_on_paper(fitting, patterns, site_templates(fitting), paper, half));
}

std::optional<std::string> template_advice(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                           const Paper& paper, bool half) {
  constexpr std::size_t k_many = 24;  // sheets that are still laid together without losing heart
  const std::size_t sheets = template_sheets(fitting, patterns, paper, half);
  if (sheets <= k_many || sheets > k_most_sheets) return std::nullopt;
  std::string others;
  for (const char* name : {"tabloid", "a3", "roll=36in"}) {
    const Paper other = paper_named(name);
    const std::size_t fewer = template_sheets(fitting, patterns, other, half);
    if (fewer < sheets) others += fmt::format("{}{} of {}", others.empty() ? "" : ", ", fewer, other.title);
  }
  if (!half) {
    const std::size_t fewer = template_sheets(fitting, patterns, paper, true);
    if (fewer < sheets) others += fmt::format("{}{} as half patterns", others.empty() ? "" : ", ", fewer);
  }
  return fmt::format("its templates take {} sheets of {}{}", sheets, paper.title,
                     others.empty() ? "" : "; it would be " + others);
}

std::string templates_pdf(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper,
                          bool half) {
  const std::vector<Pattern> of_holes = site_templates(fitting);
  return patterns_pdf(fitting, all_on_paper(fitting, patterns, of_holes, paper, half), paper);
}

std::string patterns_pdf(const Fitting& fitting, const std::vector<PaperPattern>& on, const Paper& paper) {
  const std::size_t sheets = sheets_of(on);
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
