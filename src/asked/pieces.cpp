// Which piece lies on which wall. A wall longer than the board is cut into rings, "1a", "1b" from its low end
// on, one larger around into panels, "1p1", "1p2"; their seams are read from the table of ordinates,
// everything else about them is not.
#include <algorithm>
#include <cctype>

#include "proofs.hpp"

namespace linerwright::asked {

namespace {

struct Suffix {
  std::optional<int> ring{};  // none: the wall is whole
  int panel = 0;
};

bool suffix_of(const std::string& piece, const std::string& wall, Suffix& suffix) {
  if (piece.compare(0, wall.size(), wall) != 0) return false;
  std::size_t at = wall.size();
  // letters count a, b ... z, aa, ab; a panel's p stands before a number
  int ring = 0;
  while (at < piece.size() && std::islower(static_cast<unsigned char>(piece[at])) &&
         !(piece[at] == 'p' && at + 1 < piece.size() &&
           std::isdigit(static_cast<unsigned char>(piece[at + 1])))) {
    ring = 26 * ring + (piece[at] - 'a' + 1);
    ++at;
  }
  if (ring > 0) suffix.ring = ring - 1;
  if (at < piece.size() && piece[at] == 'p') {
    ++at;
    if (at == piece.size()) return false;
    for (; at < piece.size() && std::isdigit(static_cast<unsigned char>(piece[at])); ++at)
      suffix.panel = 10 * suffix.panel + (piece[at] - '0');
  }
  return at == piece.size();
}

bool even(const std::vector<MadeOrdinate>& rows, double MadeOrdinate::*duct, double MadeOrdinate::*air) {
  for (const MadeOrdinate& row : rows)
    if (std::abs(row.*duct - rows.front().*duct) > 2e-6 || std::abs(row.*air - rows.front().*duct) > 2e-6)
      return false;
  return true;
}

}  // namespace

bool belongs(const std::string& piece, const std::string& wall) {
  Suffix suffix;
  return suffix_of(piece, wall, suffix);
}

std::optional<std::size_t> ring_of(const std::string& piece, const std::string& wall) {
  Suffix suffix;
  if (!suffix_of(piece, wall, suffix) || !suffix.ring) return std::nullopt;
  return static_cast<std::size_t>(*suffix.ring);
}

namespace {

// Ends of a ring where other rings of its wall follow it.
void take_ring_ends(Cut& cut, const MadeFitting& made, int ring) {
  const std::vector<MadeOrdinate>& rows = cut.made->ordinates;
  const bool last = std::none_of(made.pieces.begin(), made.pieces.end(), [&](const MadePiece& other) {
    Suffix theirs;
    return suffix_of(other.id, cut.part.wall->id, theirs) && theirs.ring == ring + 1;
  });
  if (ring > 0) {
    cut.part.low = rows.front().duct_low;
    cut.known_edges = cut.known_edges && even(rows, &MadeOrdinate::duct_low, &MadeOrdinate::air_low);
  }
  if (!last) {
    cut.part.high = rows.front().duct_high;
    cut.known_edges = cut.known_edges && even(rows, &MadeOrdinate::duct_high, &MadeOrdinate::air_high);
  }
}

struct Rings {
  std::size_t count = 0;
  double around = 0.0;  // turns that their panels make together
};

// The rings of a wall, each of which has to meet the next.
Rings rings_of(const Wall& wall, const std::vector<Cut>& cuts, Worst& pieces) {
  const auto ring_at = [&](const Cut& cut) {
    Suffix suffix;
    suffix_of(cut.made->id, wall.id, suffix);
    return suffix.ring;
  };
  Rings found;
  std::vector<std::optional<int>> rings;
  for (const Cut& cut : cuts) {
    if (cut.part.wall != &wall) continue;
    const std::optional<int> ring = ring_at(cut);
    found.around += cut.part.span / k_turn;
    if (std::find(rings.begin(), rings.end(), ring) == rings.end()) rings.push_back(ring);
    for (const Cut& next : cuts)
      if (next.part.wall == &wall && ring && ring_at(next) == *ring + 1)
        pieces.expect(cut.part.high && next.part.low && std::abs(*cut.part.high - *next.part.low) < 3e-6,
                      "rings " + cut.made->id + " and " + next.made->id + " do not meet");
  }
  found.count = rings.size();
  return found;
}

}  // namespace

std::vector<Cut> cuts_of(const MadeFitting& made, const Wanted& wanted, std::vector<Finding>& findings) {
  Worst pieces("pieces", 0.0, "",
               "names, roles and number of the request's pieces; rings and panels close around");
  std::vector<Cut> cuts;
  const auto in_notched = [&](const std::string& wall) {
    return std::any_of(made.pieces.begin(), made.pieces.end(), [&](const MadePiece& piece) {
      if (!belongs(piece.id, "notched")) return false;
      return piece.holds.empty() ? wall == "taper"
                                 : std::any_of(piece.holds.begin(), piece.holds.end(),
                                               [&](const std::string& held) { return belongs(held, wall); });
    });
  };
  for (const MadePiece& piece : made.pieces) {
    if (!piece.holds.empty() || belongs(piece.id, "notched")) continue;
    const Wall* wall = nullptr;
    Suffix suffix;
    for (const Wall& one : wanted.walls)
      if (suffix_of(piece.id, one.id, suffix)) {
        wall = &one;
        if (piece.id == one.id) break;
      }
    if (wall == nullptr) {
      pieces.wrong("piece " + piece.id + " was not asked for");
      continue;
    }
    suffix_of(piece.id, wall->id, suffix);
    pieces.expect(piece.role.compare(0, wall->role.size(), wall->role) == 0,
                  piece.id + " is called '" + piece.role + "' instead of " + wall->role);
    pieces.expect(piece.count == made.count, piece.id + " is not there as often as the fitting");
    if (piece.ordinates.size() < 2) {
      pieces.wrong(piece.id + " has no ordinates");
      continue;
    }
    Cut cut;
    cut.made = &piece;
    cut.part.wall = wall;
    cut.lift = piece.ordinates.front().y - piece.ordinates.front().duct_low;
    cut.part.start = piece.ordinates.front().angle;
    cut.part.span = piece.ordinates.back().angle - cut.part.start;
    // angles are written to a millionth of a degree, 1.75e-8 radians
    constexpr double k_written = 2e-8;
    if (suffix.panel == 0) {
      pieces.expect(std::abs(cut.part.span - k_turn) < k_written, piece.id + " does not go all around");
      cut.part.span = k_turn;
    }
    if (suffix.ring) take_ring_ends(cut, made, *suffix.ring);
    if (wall->seam && suffix.ring.value_or(0) == 0 && suffix.panel == 0) {
      const double off = std::remainder(cut.part.start - *wall->seam, k_turn);
      pieces.expect(std::abs(off) < k_written || suffix.ring == 0,
                    piece.id + " has its seam elsewhere than asked");
    }
    cuts.push_back(cut);
  }
  for (const Wall& wall : wanted.walls) {
    const auto [rings, around] = rings_of(wall, cuts, pieces);
    if (in_notched(wall.id)) {
      pieces.expect(rings == 0, wall.id + " is there twice");
      continue;
    }
    pieces.expect(rings > 0, wall.id + " has no piece");
    pieces.expect(std::abs(around - static_cast<double>(rings)) < 1e-7,
                  "the panels of " + wall.id + " do not close around");
  }
  pieces.into(findings, true);
  return cuts;
}

}  // namespace linerwright::asked
