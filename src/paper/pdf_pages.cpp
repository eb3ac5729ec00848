#include "pdf_pages.hpp"

#include <cairo-pdf.h>

#include <fmt/format.h>

namespace linerwright {

namespace {

constexpr double k_points = 72.0 / 25.4;  // of PDF to a millimetre

}  // namespace

PdfPages::PdfPages(const std::string& title)
    : surface_(cairo_pdf_surface_create_for_stream(take_bytes, &bytes_, 1.0, 1.0)) {
  cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_5);
  cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  // without a date of its own the file would differ from run to run
  cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  context_.reset(cairo_create(surface_.get()));
}

void PdfPages::begin(Vec2 size, const std::string& name) {
  const Vec2 points = k_points * size;
  cairo_pdf_surface_set_size(surface_.get(), points.x, points.y);
  ++count_;
  cairo_pdf_surface_add_outline(surface_.get(), CAIRO_PDF_OUTLINE_ROOT, name.c_str(),
                                fmt::format("page={} pos=[0 0]", count_).c_str(),
                                static_cast<cairo_pdf_outline_flags_t>(0));
  cairo_identity_matrix(context_.get());
  use_millimetres(context_.get(), {0.0, 0.0}, points.y, k_points);
}

void PdfPages::end() {
  cairo_show_page(context_.get());
}

std::string PdfPages::finish() {
  require_good(cairo_status(context_.get()), "PDF");
  context_.reset();
  cairo_surface_finish(surface_.get());
  require_good(cairo_surface_status(surface_.get()), "PDF");
  return std::move(bytes_);
}

}  // namespace linerwright
