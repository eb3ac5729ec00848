#include "stated_division.hpp"

#include <fmt/format.h>

#include <stdexcept>

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

std::map<std::string, std::vector<StatedRing>> stated_divisions(const FittingRequest& request,
                                                                Reasons& reasons) {
  std::map<std::string, std::vector<StatedRing>> stated;
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

std::string division_text(const std::map<std::string, std::vector<StatedRing>>& divisions) {
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
