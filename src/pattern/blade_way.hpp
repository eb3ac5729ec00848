// The way of a blade's lower end between rows, and what it leaves of the lower contour.
#pragma once

#include <optional>
#include <vector>

#include "blade_curves.hpp"

namespace linerwright {

// Looks at rows in the making; holds neither these nor the curves.
class BladeWay {
 public:
  BladeWay(const BladeCurves& curves, const std::vector<BladePlace>& places, double thickness)
      : curves_(curves), places_(places), thickness_(thickness) {}

  // Rows that one leads on from, and the one it leads to.
  std::size_t stretches() const { return places_.size() - (curves_.closed() ? 0 : 1); }
  std::size_t after(std::size_t i) const { return (i + 1) % places_.size(); }

  // The row to add between this one and the next, where the lower end would leave its contour on the way;
  // else whether it stays there.
  struct Look {
    bool stays;
    std::optional<BladePlace> wanted;
  };
  Look look(std::size_t i) const;
  // For each row, how far the lower end's way and the lower contour lie apart there, mm; 0 where no more than
  // k_reached.
  std::vector<double> left() const;

 private:
  // The blade half way between two rows, and how far its lower end strays from the lower contour between
  // them.
  struct Halfway {
    BladePlace place;
    double off;
  };
  double round_of(std::size_t i) const;
  double foot_after(std::size_t i) const { return places_[after(i)].foot + round_of(i); }
  bool on_the_spot(std::size_t i) const;  // the blade turns from this row to the next
  static BladePlace half_turn(const BladePlace& a, const BladePlace& b);  // at one place, without lean
  double lean(const BladePlace& place) const;
  Vec2 end_between(const BladeRow& a, const BladeRow& b, double share) const;
  bool plain(std::size_t i) const;
  std::optional<Halfway> halfway(std::size_t i) const;
  // Whether the lower end stays on its contour from this row to the next.
  bool follows(std::size_t i) const;
  std::vector<Vec2> way(std::size_t i, int steps) const;
  double away_from_lower(Vec2 p, double k) const;
  std::vector<bool> reached() const;

  const BladeCurves& curves_;
  const std::vector<BladePlace>& places_;
  double thickness_;
};

}  // namespace linerwright
