// Guide bands: read from their files and rolled around the liner.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/pattern/guide_band.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"
#include "read_table.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

Vec2 middle_of(const Ring& ring) {
  const Box box = bounding_box(ring).value();
  return 0.5 * (box.low + box.high);
}

// Every cell against the table made again: words alike, numbers within the last decimal.
CheckResult prove_table(const TableFile& found, const TableFile& made) {
  constexpr double k_rounding = 0.0011;  // mm, degrees
  Tally tally("bands.csv");
  tally.require(
      found.heads == made.heads && found.rows.size() == made.rows.size(),
      fmt::format("has {} rows instead of {}, or other columns", found.rows.size(), made.rows.size()));
  for (std::size_t row = 0; row < std::min(found.rows.size(), made.rows.size()); ++row)
    for (const std::string& head : made.heads) {
      const std::string& cell = made.text(row, head);
      const bool words = head == "band" || head == "what" || head == "serves";
      const bool same = words ? found.text(row, head) == cell
                              : std::fabs(found.number(row, head) - made.number(row, head)) <= k_rounding;
      tally.require(same,
                    fmt::format("{} of row {} is {}, not {}", head, row + 1, found.text(row, head), cell));
    }
  return tally.result("stations of the bands");
}

}  // namespace

std::vector<CheckResult> prove_band(const GuideBand& band, const Fitting& fitting, const BoardLines& cut) {
  constexpr double k_decimals = 1e-3;  // mm, of a file
  GuideBand read = band;
  read.pattern.cut = {};
  std::vector<Ring> rings;
  for (const BoardLine& line : cut)
    if (line.closed && line.points.size() > 2) rings.push_back(line.points);
  const auto outline = std::max_element(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) {
    return std::fabs(signed_area(a)) < std::fabs(signed_area(b));
  });
  if (outline == rings.end()) return {undone("band " + band.id, "its drawing has no closed cut")};
  read.pattern.cut.outer = *outline;
  rings.erase(outline);
  if (band.uses.front().hole) {  // its window is the largest of its holes
    const auto window = std::max_element(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) {
      return std::fabs(signed_area(a)) < std::fabs(signed_area(b));
    });
    if (window == rings.end()) return {undone("band " + band.id, "its drawing has no window")};
    read.pattern.cut.holes = {*window};
    rings.erase(window);
  }
  std::vector<CheckResult> results{within(
      "band " + band.id, edge_error(read, {fitting}), k_chord_error + k_decimals, "mm",
      fmt::format("{} points of its edge, rolled around the liner, to the liner's edge",
                  (read.pattern.cut.holes.empty() ? read.pattern.cut.outer : read.pattern.cut.holes.front())
                      .size()))};
  // clamped, each hole of one end lies on one of the other
  constexpr std::size_t k_holes = 4;
  double apart = rings.size() == k_holes ? 0.0 : 1e300;
  std::vector<Sheet::Place> holes;
  for (const Ring& ring : rings) holes.push_back(rolled(band, middle_of(ring)));
  for (const Sheet::Place& one : holes) {
    double nearest = 1e300;
    for (const Sheet::Place& other : holes) {
      const double turn = std::fabs(other.theta - one.theta) - k_two_pi;
      nearest = std::min(nearest, std::hypot(turn * 0.5 * band.outside, other.v - one.v));
    }
    apart = std::max(apart, nearest);
  }
  results.push_back(within("clamp " + band.id, apart, 10.0 * k_decimals, "mm",
                           fmt::format("{} bolt holes, each on its fellow once around", rings.size())));
  return results;
}

std::vector<CheckResult> prove_bands(const Fitting& fitting, const CheckFiles& files,
                                     const DxfOptions& options) {
  const std::vector<Fitting> fittings{fitting};
  const std::vector<GuideBand> bands = guide_bands(fittings, *files.bands);
  if (bands.empty()) return {};
  std::vector<CheckResult> results;
  for (const GuideBand& band : bands)
    for (CheckResult& result :
         prove_dxf(fitting, band.pattern, files.folder / band_file(files.stem, band), options, {}, &band))
      results.push_back(std::move(result));
  try {
    results.push_back(prove_table(read_table(files.folder / (files.stem + "-bands.csv")),
                                  read_table(bands_csv(bands, fittings), "bands.csv")));
  } catch (const InputError& error) {
    results.push_back(undone("figures of bands.csv", error.what()));
  }
  return results;
}

}  // namespace linerwright
