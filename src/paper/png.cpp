#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ink.hpp"
#include "linerwright/paper/paper.hpp"

namespace linerwright {

std::string png_of(const Picture& picture, int pixels, double margin) {
  if (pixels < 16 || pixels > 16000) throw std::invalid_argument("a PNG is 16 to 16000 pixels wide or high");
  Box box = extents(picture).value_or(Box{});
  box = {box.low - Vec2{margin, margin}, box.high + Vec2{margin, margin}};
  const Vec2 size = box.high - box.low;
  const double scale = pixels / std::max(size.x, size.y);
  const int width = std::max(1, static_cast<int>(std::ceil(scale * size.x - 1e-6)));
  const int height = std::max(1, static_cast<int>(std::ceil(scale * size.y - 1e-6)));
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  const Context context(cairo_create(surface.get()));
  cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
  cairo_paint(context.get());
  use_millimetres(context.get(), box.low, height, scale);
  paint(context.get(), picture, 1.0 / scale);
  require_good(cairo_status(context.get()), "PNG");
  std::string bytes;
  require_good(cairo_surface_write_to_png_stream(surface.get(), take_bytes, &bytes), "PNG");
  return bytes;
}

}  // namespace linerwright
