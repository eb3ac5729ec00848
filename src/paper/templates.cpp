#include <cairo-pdf.h>

#include <fmt/format.h>

#include "ink.hpp"
#include "linerwright/error.hpp"
#include "sheets.hpp"

namespace linerwright {

namespace {

constexpr double k_points = 72.0 / 25.4;  // of PDF to a millimetre

class Pages {
 public:
  explicit Pages(const std::string& title)
      : surface_(cairo_pdf_surface_create_for_stream(take_bytes, &bytes_, 1.0, 1.0)) {
    cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_5);
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    // without a date of its own the file would differ from run to run
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    context_.reset(cairo_create(surface_.get()));
  }

  void add(const SheetPlan& plan, const Picture* pattern, const std::string& name) {
    const Vec2 size = k_points * plan.size;
    cairo_pdf_surface_set_size(surface_.get(), size.x, size.y);
    ++count_;
    cairo_pdf_surface_add_outline(surface_.get(), CAIRO_PDF_OUTLINE_ROOT, name.c_str(),
                                  fmt::format("page={} pos=[0 0]", count_).c_str(),
                                  static_cast<cairo_pdf_outline_flags_t>(0));
    cairo_t* context = context_.get();
    cairo_identity_matrix(context);
    use_millimetres(context, {0.0, 0.0}, size.y, k_points);
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
    cairo_show_page(context);
  }

  std::string finish() {
    require_good(cairo_status(context_.get()), "PDF");
    context_.reset();
    cairo_surface_finish(surface_.get());
    require_good(cairo_surface_status(surface_.get()), "PDF");
    return std::move(bytes_);
  }

 private:
  std::string bytes_;
  Surface surface_;
  Context context_;
  int count_ = 0;
};

}  // namespace

std::string templates_pdf(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper) {
  std::vector<PaperPattern> on;
  std::size_t sheets = 0;
  for (const std::size_t i : patterns_to_cut(patterns, true)) {
    on.push_back(on_paper(fitting, patterns[i], paper));
    sheets += on.back().tiling.tiles.size();
  }
  if (sheets > k_most_sheets)
    throw InputError(
        {Problem{{},
                 0,
                 fitting.tag,
                 "--templates",
                 paper.name,
                 fmt::format("at most {} sheets a fitting", k_most_sheets),
                 fmt::format("its patterns take {} sheets; a larger paper or a roll takes fewer", sheets)}});
  Pages pages(fitting.tag);
  pages.add(map_sheet(fitting, on, paper), nullptr, "map of the sheets");
  int number = 0;
  for (const PaperPattern& pattern : on)
    for (const Tile& tile : pattern.tiling.tiles)
      pages.add(tile_sheet(fitting, pattern, tile, ++number, static_cast<int>(sheets)), &pattern.picture,
                pattern.pattern->id + ", sheet " + tile.name);
  return pages.finish();
}

}  // namespace linerwright
