// Parts of a fitting's page that the bench shows, too.
#pragma once

#include <string>

#include "linerwright/page/page.hpp"
#include "packed.hpp"

namespace linerwright {

// What a person with a piece in hand asks first, as figures.
std::string key_figures(const Fitting& fitting);
// A box for each body: the metal, the liner as it goes in, the bore.
std::string layer_boxes(const FittingPage& page);
// Every pattern to scale, site templates last; the drawings packed where they may be.
std::string pattern_figures(const FittingPage& page, PackedParts* packed = nullptr);
// The bore along every passage.
std::string bore_graphs(const Fitting& fitting);

}  // namespace linerwright
