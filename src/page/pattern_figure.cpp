#include "pattern_figure.hpp"

#include "linerwright/draw.hpp"
#include "words.hpp"

namespace linerwright {

std::string pattern_figure(const Fitting& fitting, const Pattern& pattern) {
  return svg_of(drawing_of(pattern, fitting.units), {});
}

}  // namespace linerwright
