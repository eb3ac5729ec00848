// A shop drawing as SVG inside a page, as large on paper as it states.
#pragma once

#include <string>

#include "linerwright/shop_sheet.hpp"

namespace linerwright {

std::string shop_svg(const ShopDrawing& drawing);

}  // namespace linerwright
