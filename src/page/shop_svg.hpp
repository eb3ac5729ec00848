// A shop drawing as SVG inside a page, as large on paper as it states.
#pragma once

#include <string>
#include <vector>

#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

std::string shop_svg(const ShopDrawing& drawing);
// The sheet's pages one after the other, as they are printed.
std::string shop_page_figures(const ShopSheet& sheet);
// A figure for each drawing, as large on paper as its letters ask for.
std::string shop_figures(const std::vector<ShopDrawing>& drawings);
// What is asked on site, with its answers.
std::string shop_answers(const ShopSheet& sheet);

}  // namespace linerwright
