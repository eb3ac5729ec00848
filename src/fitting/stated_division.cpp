#include "stated_division.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "division.hpp"

namespace linerwright {

namespace {

constexpr const char* k_form = "PIECE: HEIGHT + HEIGHT / PANELS; PIECE: ..., as 1: 44in + 4in / 2";
constexpr int k_most_stated_panels = 99;
constexpr std::size_t k_most_stated_rings = 26;  // named a to z

std::vector<std::string> parts_of(const std::string& text, char separator) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == separator)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  for (std::string& part : parts) {
    part.erase(0, part.find_first_not_of(" \t"));
    part.erase(part.find_last_not_of(" \t") + 1);
  }
  return parts;
}

StatedRing ring_of(const std::string& text) {
  const std::vector<std::string> parts = parts_of(text, '/');
  if (parts.size() > 2) throw std::invalid_argument("'" + text + "' has more than one number of panels");
  StatedRing ring;
  ring.height = parse_quantity(Quantity::length, parts[0], Units::metric);
  if (ring.height != parse_quantity(Quantity::length, parts[0], Units::inch))
    throw std::invalid_argument("'" + parts[0] + "' names no unit");
  if (!(ring.height > 0.0)) throw std::invalid_argument("a ring of " + parts[0] + " has no height");
  if (parts.size() == 1) return ring;
  const double panels = parse_quantity(Quantity::number, parts[1], Units::metric);
  ring.panels = static_cast<int>(panels);
  if (!(panels >= 1.0 && panels <= k_most_stated_panels) || ring.panels != panels)
    throw std::invalid_argument(fmt::format("panels are a whole number from 1 to {}", k_most_stated_panels));
  return ring;
}

}  // namespace

StatedDivisions stated_divisions(const FittingRequest& request, Reasons& reasons) {
  StatedDivisions stated;
  if (request.layer != 0 || !request.values.has("division")) return stated;
  try {
    for (const std::string& text : parts_of(request.values.text("division"), ';')) {
      const std::size_t colon = text.find(':');
      if (colon == std::string::npos) throw std::invalid_argument("'" + text + "' names no piece");
      std::vector<StatedRing> rings;
      for (const std::string& ring : parts_of(text.substr(colon + 1), '+')) rings.push_back(ring_of(ring));
      if (rings.size() > k_most_stated_rings)
        throw std::invalid_argument(fmt::format("more than {} rings", k_most_stated_rings));
      const std::string piece = parts_of(text.substr(0, colon), ';').front();
      if (!stated.emplace(piece, std::move(rings)).second)
        throw std::invalid_argument("piece " + piece + " stands in it twice");
    }
  } catch (const std::invalid_argument& error) {
    reasons.add("division", k_form, error.what());
    stated.clear();
  }
  return stated;
}

std::optional<Division> Divider::stated(const std::vector<StatedRing>& rings, const Reasons& reasons,
                                        std::string* why) const {
  constexpr double k_same = 0.1;  // mm: heights are written in sixteenths and in millimetres
  double sum = 0.0;
  for (const StatedRing& ring : rings) sum += ring.height;
  if (std::fabs(sum - mean_length()) > k_same) {
    *why = fmt::format("its rings are {} together, the piece is {} long", reasons.length(sum),
                       reasons.length(mean_length()));
    return std::nullopt;
  }
  Division division;
  const double shortest = std::max(room_.least, k_shortest_piece) - 1e-6;
  double cut = low_mean_;
  double before = low_most_;
  for (std::size_t i = 0; i + 1 < rings.size(); ++i) {
    cut += rings[i].height;
    const bool short_of = cut - before < shortest || high_least_ - cut < shortest;
    if (short_of || !cut_is_clear(cut)) {
      *why =
          fmt::format("the cut {} on {}", reasons.length(cut - low_mean_),
                      short_of ? "leaves a ring under " + reasons.length(room_.least) + " (min_panel)"
                               : "meets a hole, or comes within " + reasons.length(k_cut_clear) + " of it");
      return std::nullopt;
    }
    for (const double joint : room_.other_joints)
      if (std::fabs(cut - joint) < shortest) {
        *why = fmt::format("the cut {} on comes within {} of a joint at {}", reasons.length(cut - low_mean_),
                           reasons.length(room_.least), reasons.length(joint - low_mean_));
        return std::nullopt;
      }
    division.cuts.push_back(cut);
    before = cut;
  }
  division.panels = rings.front().panels;
  for (const StatedRing& ring : rings) division.around.push_back(ring.panels);
  if (std::all_of(rings.begin(), rings.end(),
                  [&](const auto& ring) { return ring.panels == division.panels; }))
    division.around.clear();
  if (!place_seams(&division)) {
    *why = "its seams have no place clear of the holes and of each other";
  } else if (!fits(division)) {
    *why = fmt::format("a ring or panel is larger than the board, or narrower than {} (min_panel)",
                       reasons.length(room_.least));
  } else {
    return division;
  }
  return std::nullopt;
}

std::string division_text(const StatedDivisions& divisions) {
  std::string text;
  for (const auto& [piece, rings] : divisions) {
    text += (text.empty() ? "" : "; ") + piece + ": ";
    for (std::size_t i = 0; i < rings.size(); ++i) {
      text += fmt::format("{}{}mm", i == 0 ? "" : " + ", trimmed(rings[i].height, 3));
      if (rings[i].panels > 1) text += fmt::format(" / {}", rings[i].panels);
    }
  }
  return text;
}

}  // namespace linerwright
