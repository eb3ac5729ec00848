// The division that is stated: how high each ring is and how many panels it comes in.
#include <algorithm>
#include <sstream>

#include "proofs.hpp"

namespace linerwright::asked {

namespace {

struct Ring {
  double height = 0.0;
  int panels = 1;
};

std::string without_blanks(const std::string& text) {
  std::string kept;
  for (const char c : text)
    if (c != ' ' && c != '\t') kept += c;
  return kept;
}

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> parts;
  std::istringstream in(text);
  for (std::string part; std::getline(in, part, at);) parts.push_back(part);
  return parts;
}

// "44in+4in/2" after the piece's name.
std::vector<Ring> rings_of(const std::string& text, bool inches) {
  std::vector<Ring> rings;
  for (const std::string& written : split(text, '+')) {
    const std::vector<std::string> parts = split(written, '/');
    if (parts.empty() || parts.size() > 2) throw Unreadable("division: " + text);
    rings.push_back({value_of(parts[0], What::length, inches), 1});
    if (parts.size() == 2) rings.back().panels = static_cast<int>(value_of(parts[1], What::number, inches));
  }
  return rings;
}

}  // namespace

void prove_division(Case& asked) {
  const Request& request = asked.made.request;
  if (!request.stated("division") || request.outer > 0.0) return;
  constexpr double k_heights = 3e-6;  // mm: heights in the table of ordinates are rounded
  Worst heights("division", k_heights, "mm", "rings as high and in as many panels as the request states");
  for (const std::string& one : split(without_blanks(request.word("division")), ';')) {
    const std::size_t colon = one.find(':');
    if (colon == std::string::npos) throw Unreadable("division: " + one);
    const std::string piece = one.substr(0, colon);
    const std::vector<Ring> rings = rings_of(one.substr(colon + 1), request.inches);
    std::vector<int> panels(rings.size(), 0);
    for (const Cut& cut : asked.cuts) {
      if (cut.part.wall->id != piece) continue;
      const std::size_t ring = ring_of(cut.made->id, piece).value_or(0);
      if (ring >= rings.size()) {
        heights.wrong(cut.made->id + " is one ring more than stated");
        continue;
      }
      ++panels[ring];
      // a straight duct begins at 0, other walls where their own edge lies; the last ring is what is left
      std::optional<double> low = cut.part.low;
      if (!low && request.kind == "straight") low = 0.0;
      if (low && cut.part.high) heights.off(*cut.part.high - *low - rings[ring].height, cut.made->id);
    }
    for (std::size_t ring = 0; ring < rings.size(); ++ring)
      heights.expect(panels[ring] == rings[ring].panels,
                     piece + " has " + std::to_string(panels[ring]) + " panels in ring " +
                         std::to_string(ring + 1) + " instead of " + std::to_string(rings[ring].panels));
  }
  heights.into(asked.findings, true);
}

}  // namespace linerwright::asked
