#include <fmt/format.h>

#include "linerwright/pattern/guide_band.hpp"

namespace linerwright {

namespace {

std::string quoted(const std::string& text) {
  return text.find_first_of(",\"\n") == std::string::npos ? text : fmt::format("\"{}\"", text);
}

}  // namespace

std::string band_file(const std::string& stem, const GuideBand& band) {
  return fmt::format("{}-band-{}.dxf", stem, band.id);
}

std::string served_by(const GuideBand& band, const std::vector<Fitting>& fittings) {
  std::string out;
  for (const BandUse& use : band.uses)
    out += fmt::format("{}{}/{} {}", out.empty() ? "" : "; ", fittings[use.fitting].tag, use.piece,
                       use.hole               ? fmt::format("hole {}", *use.hole + 1)
                       : use.end == End::high ? "upper end"
                                              : "lower end");
  return out;
}

std::string bands_csv(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings) {
  constexpr double k_degrees = 180.0 / k_pi;
  std::string out = "band,what,liner_outside_mm,around_mm,along_mm,serves,around_deg,x_mm,y_mm,lean_deg\n";
  for (const GuideBand& band : bands)
    for (const BandStation& station : band.stations)
      out +=
          fmt::format("{},{},{},{},{},{},{},{},{},{}\n", quoted(band.id), quoted(band.words),
                      fixed(band.outside, 3), fixed(band.pattern.board.x, 3), fixed(band.pattern.board.y, 3),
                      quoted(served_by(band, fittings)), fixed(station.around * k_degrees, 3),
                      fixed(station.at.x, 3), fixed(station.at.y, 3), fixed(station.lean * k_degrees, 3));
  return out;
}

}  // namespace linerwright
