// How a notched blank that is larger than its board may be divided.
#pragma once

#include <optional>

#include "division.hpp"

namespace linerwright {

// Rings between planes square to the axis, each a notched blank of its own with a strip to trim, the large
// collar on the one it meets or apart; panels that begin in the middle of tabs, or, where there are more of
// them than notches, in notches.
struct NotchedDivision {
  Division division;
  bool collar = false;       // on the blank of the ring that it meets
  std::vector<int> notches;  // of each ring, all around
};

class NotchedDivider {
 public:
  NotchedDivider(const Fitting& fitting, const NotchedBlank& blank, const BoardRoom& room);

  // Size on the board of the undivided blank: around, along.
  Vec2 size() const { return size_; }
  bool fits_whole() const;
  // Into the fewest pieces that fit, fewest rings among equals and the collar on its blank where it can be;
  // with `panels` into so many around. Nothing if there is none.
  std::optional<NotchedDivision> find(std::optional<int> panels) const;
  // Width of the narrowest of so many panels of the undivided blank.
  double narrowest_panel(int panels) const;
  // One ring's blank of a division, without its pieces.
  NotchedBlank ring_blank(const NotchedDivision& division, std::size_t ring) const;

 private:
  bool large_ring(std::size_t ring, std::size_t rings) const {
    return grows_ ? ring + 1 == rings : ring == 0;
  }
  double height(double share, double theta, double w) const;
  std::optional<Vec2> ring_size(const NotchedDivision& division, std::size_t ring) const;
  int notches_for(const NotchedDivision& division, std::size_t ring) const;
  std::vector<double> edges(const NotchedDivision& division, std::size_t ring) const;
  std::optional<NotchedDivision> divided(int rings, int panels, bool collar) const;
  // A share of the axis near this one whose plane keeps clear of all openings; nothing if there is none
  // between the two others.
  std::optional<double> clear_share(double wanted, double low, double high) const;
  std::size_t collar_pieces() const;
  bool seams_run_on(const NotchedDivision& division) const;

  const Fitting& fitting_;
  const NotchedBlank& blank_;
  const Piece& taper_;
  const Sheet& sheet_;
  BoardRoom room_;
  bool grows_;
  // Shares of the axis that openings take, ascending and apart.
  struct Taken {
    double from, to;
  };
  Taken taken_by(const Joint& hole) const;
  std::vector<Taken> taken_{};
  Vec2 size_{};
};

}  // namespace linerwright
