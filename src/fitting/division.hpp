// How a piece that is larger than its board may be divided.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "common.hpp"
#include "stated_division.hpp"

namespace linerwright {

// What a board leaves for a piece: along the duct, around it, and the least size worth handling.
struct BoardRoom {
  double along, around, least;
  std::vector<double> other_joints{};  // of another layer or the duct, along the wall: cuts keep `least` off
  bool full_rings = false;  // of a cylinder: as long as the board, so that what is left of boards is in one
  double off_middle = 0.0;  // mm on along the wall of the cuts between even rings
};

constexpr double k_cut_clear = 25.0;   // mm of board between a cut and a hole beside it
constexpr double k_seam_clear = 25.0;  // mm of board between a seam and a hole or a seam beside it

// One way to divide a wall: cuts square to the board at these heights along the rulings, and equal panels in
// every ring between them, the first of which begins at the ring's seam.
struct Division {
  std::vector<double> cuts;
  int panels = 1;
  std::vector<double> seams;
  // Where panels are uneven: shares of a turn from the ring's seam at which each begins, by ring.
  std::vector<std::vector<double>> edges{};
  // The cuts are planes square to the axis of a taper, at these shares of its length.
  bool level = false;
  // Panels of each ring, where they are not as many in all.
  std::vector<int> around{};

  std::size_t rings() const { return cuts.size() + 1; }
  int panels_in(std::size_t ring) const { return around.empty() ? panels : around[ring]; }
  bool in_panels() const { return most_panels() > 1; }
  int most_panels() const {
    return around.empty() ? panels : *std::max_element(around.begin(), around.end());
  }
  double span(std::size_t ring) const { return k_two_pi / panels_in(ring); }
  double begin_of(std::size_t ring, int panel) const {
    return edges.empty() ? span(ring) * panel : k_two_pi * edges[ring][static_cast<std::size_t>(panel)];
  }
  double span_of(std::size_t ring, int panel) const {
    if (edges.empty()) return span(ring);
    return (panel + 1 < panels_in(ring) ? begin_of(ring, panel + 1) : k_two_pi) - begin_of(ring, panel);
  }
};

constexpr int k_most_rings = 26;  // named a to z
constexpr int k_most_panels = 99;

class Divider {
 public:
  Divider(const Fitting& fitting, const Piece& piece, const BoardRoom& room);

  bool fits(const Division& division) const;
  bool fits_whole() const { return fits(whole()); }
  // The division into the fewest pieces that fit, the fewest rings among equals; with `panels` into so many
  // around. Nothing if there is none.
  std::optional<Division> find(std::optional<int> panels) const;
  // The division that a request states; nothing, and the reason in `why`, where it cannot be had.
  std::optional<Division> stated(const std::vector<StatedRing>& rings, const Reasons& reasons,
                                 std::string* why) const;
  // Size on the board of the undivided piece: around, along.
  Vec2 size() const { return size_of(whole(), 0, 0); }
  // Heights of a division's rings' upper ends over the piece's lower one, means around.
  std::vector<double> heights(const Division& division) const;
  // A cylinder between ends square to its axis.
  bool has_square_ends() const;
  // What its holes take of such a cylinder.
  std::vector<StretchOfHole> hole_stretches() const;
  // Between the two ends, mean around and of both faces.
  double mean_length() const { return high_mean_ - low_mean_; }
  // Way around between a seam of the undivided piece and the nearest hole, mm.
  double seam_room(double seam) const;
  // Width on the board of the narrowest of so many panels of the whole wall.
  double narrowest_panel(int panels) const;
  // The wall's holes that lie in one ring of a division.
  std::vector<std::size_t> holes_in(const Division& division, std::size_t ring) const;

 private:
  // Where a hole lies on its wall: around, of both faces of the liner; along, so that a cut at the usual
  // distance is clear of the metal's hole as well.
  struct HoleExtent {
    double middle;      // ruling
    double half_width;  // radians
    double low, high;   // along the rulings
  };
  // Level cuts are shares of every ruling, and clear of the holes.
  bool level_between(const HoleExtent& hole, double low, double high) const {
    const double share = 0.5 * (hole.low + hole.high) / wall_.sheet.ruling(hole.middle).length;
    return share > low && share < high;
  }
  // Where a ring's first panel may begin, and how good that is: the room it leaves to the nearest hole, mm,
  // and more where the seam usually lies.
  struct Start {
    double at, room;
    bool usual;
  };
  // The best choice of starts up to one ring, and the start of the ring before it.
  struct Way {
    double score;
    std::size_t before;
  };
  struct Stretch {
    double low, high;  // heights
  };
  std::vector<Stretch> where_cuts_may_lie(std::vector<Stretch> stretches) const;
  Division whole() const { return {{}, 1, {piece_.seam}}; }
  double end(End end, double theta, double w) const;
  HoleExtent extent_of(const JointUse& use) const;
  bool place_cuts(int rings, int spread, Division* division) const;
  bool place_full_rings(int rings, Division* division) const;
  bool clears_other_joints(double& cut, int spread) const;
  bool is_clear_of_joints(double cut) const;
  double clearance(const Division& division, std::size_t ring, double start) const;
  bool cut_is_clear(double cut) const;
  std::vector<Start> starts_of(const Division& division, std::size_t ring) const;
  double stagger(const Division& division, std::size_t ring, double before, double start) const;
  bool place_seams(Division* division) const;
  // Cuts between rings of different heights, clear of holes, for each number of rings that fit the board so:
  // of all those cuts the ones whose lowest ring is highest.
  std::vector<std::vector<double>> uneven_cuts() const;
  std::vector<double> places_of_cuts(double furthest, double nearest, double longest, double shortest) const;
  // Such rings in equal panels where that can be, else in panels of different widths.
  std::optional<Division> find_uneven(std::optional<int> panels) const;
  // As many panels of different widths in each ring as it takes, seams clear of holes and of the ring before.
  bool place_uneven(Division* division) const;
  double extra_board(std::size_t rings, std::size_t ring, End end) const;
  Vec2 size_of(const Division& division, std::size_t ring, int panel) const;
  // Quickly, and before its seams are placed: no where it surely does not.
  bool may_fit_along(const Division& division) const;

  const Fitting& fitting_;
  const Piece& piece_;
  const Wall& wall_;
  BoardRoom room_;
  Development flat_;  // of the whole wall
  std::vector<HoleExtent> holes_;
  // Heights between which every ruling has board, and the ends' means around.
  double low_most_, high_least_, low_mean_ = 0.0, high_mean_ = 0.0;
  // The ends' outermost reach.
  double low_least_, high_most_;
};

}  // namespace linerwright
