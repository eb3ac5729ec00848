#include "linerwright/paper/guide_bands_pdf.hpp"

#include <fmt/format.h>

#include "linerwright/fitting/shop_words.hpp"
#include "sheets.hpp"

namespace linerwright {

std::string guide_bands_pdf(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings,
                            const Paper& paper) {
  Fitting of;  // for the sheets' heads
  of.tag = "bands";
  of.kind = "guide bands of thin sheet";
  of.units = fittings.front().units;
  std::vector<PaperPattern> on;
  for (const GuideBand& band : bands) {
    on.push_back(on_paper(of, band.pattern, {}, paper, false));
    on.back().facts = fmt::format("{}, {} x {}", band.words, shop_length(of, band.pattern.board.x),
                                  shop_length(of, band.pattern.board.y));
    on.back().edges = fmt::format("the {} is cut along; its ends lap up to the line, bolt through bolt",
                                  band.uses.front().hole ? "window's edge" : "curved edge");
  }
  return patterns_pdf(of, on, paper);
}

}  // namespace linerwright
