// Pictures put on a surface of cairo: pixels or a page.
#pragma once

#include <cairo.h>

#include <memory>
#include <string>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

struct CairoEnd {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
using Context = std::unique_ptr<cairo_t, CairoEnd>;
using Surface = std::unique_ptr<cairo_surface_t, CairoEnd>;

// From now on lengths are mm, y up, from `low` in the lower left corner of a surface `height` units high of
// which `scale` make a millimetre.
void use_millimetres(cairo_t* context, Vec2 low, double height, double scale);
// The picture in its colours for white, texts drawn with the pen (so that no font is needed): letters the pen
// lacks by their numbers. `thinnest` is the least width of a line.
void paint(cairo_t* context, const Picture& picture, double thinnest = 0.0);
// What of the picture may show in the box: lines in the stretches that reach into it, texts whole.
Picture within(const Picture& picture, const Box& box);
// Throws WriteError naming `what` if anything went wrong so far.
void require_good(cairo_status_t status, const std::string& what);
// Takes what cairo writes into a std::string behind `closure`.
cairo_status_t take_bytes(void* closure, const unsigned char* bytes, unsigned length);

}  // namespace linerwright
