// Where places of a taper's wall, or its collar's, lie on a notched blank.
#pragma once

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

class NotchedPlaces {
 public:
  NotchedPlaces(const Fitting& fitting, const NotchedBlank& blank);

  // Of ruling theta (from the piece's seam on) of the piece, at height v on it: x along the bend line from
  // the panel's first edge, and how high above the bend line toward the small end. A tab's rulings are
  // straight from the bend line to the small end and share both evenly; heights stay as they are.
  Vec2 place(int piece, double theta, double v) const;
  // The ruling whose foot lies there on the bend line; and so high on it: inside its tab, beside any notch.
  double theta_at(double x) const { return taper_.seam + taper_.span * x / layout_.width; }
  Vec2 on_ruling(double x, double height) const;
  // The same on the board before the pattern is laid down: the bend line at y = 0, the small end up where
  // `away` is 1 and down where it is -1.
  double away() const { return away_; }
  Vec2 flat(int piece, double theta, double v) const;

  const NotchedLayout& layout() const { return layout_; }

 private:
  const Fitting& fitting_;
  NotchedBlank blank_;
  const Piece& taper_;
  NotchedLayout layout_;
  double away_;
};

}  // namespace linerwright
