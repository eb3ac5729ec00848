// Where everything of a notched blank lies before it is laid down: x along the bend line from the first edge,
// the bend line at y = 0, the small end up where `away` is 1 and down where it is -1.
#pragma once

#include "linerwright/fitting/notched_places.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "sampling.hpp"

namespace linerwright {

class NotchedPlan {
 public:
  NotchedPlan(const Fitting& fitting, const NotchedBlank& blank);

  const Fitting& fitting() const { return fitting_; }
  const NotchedBlank& blank() const { return blank_; }
  const Piece& taper() const { return taper_; }
  const NotchedLayout& layout() const { return places_.layout(); }
  double width() const { return layout().width; }
  double away() const { return places_.away(); }
  bool eccentric() const { return eccentric_; }
  double theta_at(double x) const { return places_.theta_at(x); }
  const NotchedPlaces& places() const { return places_; }
  double thickness() const { return fitting_.liner.thickness; }
  // Of the large edge above the bend line and of the small edge above it, at the liner's depth w.
  double large_height(double x, double w) const {
    return -blank_reach(fitting_, blank_, true, theta_at(x), w);
  }
  double small_height(double theta, double w) const { return blank_reach(fitting_, blank_, false, theta, w); }
  Vec2 up(double x, double height) const { return {x, away() * height}; }
  FacePair large_edge(double x, double trim) const;
  // Where the ruling that goes from `foot` on the bend line to `top` at the duct face's small end meets the
  // small edges of both faces.
  FacePair small_edge(double foot, double top) const;
  // On the ruling whose foot on the bend line is x, so high above that: inside the tab, beside any notch.
  Vec2 on_ruling(double x, double height) const;

  // A tab: its foot on the bend line and its top at the small end, from left to right.
  struct Tab {
    double foot_left, foot_right, top_left, top_right;
  };
  std::vector<Tab> tabs() const;

 private:
  const Fitting& fitting_;
  const NotchedBlank& blank_;
  const Piece& taper_;
  bool eccentric_;
  NotchedPlaces places_;
};

// Outlines of a face of a blank without a collar: of what the trim leaves, which is one part for each tab,
// unless the face reaches beyond the notches' points. Counter-clockwise where `away` is 1.
std::vector<Ring> tab_outlines(const NotchedPlan& plan, double w);

// Ordinates at stations around, and the notches' corners; marks; what stays of each piece once the trim is
// off.
void add_notched_ordinates(Pattern& pattern, const NotchedPlan& plan);
void add_notched_marks(Pattern& pattern, const NotchedPlan& plan);
std::vector<Region> notched_parts(const Pattern& pattern, const NotchedPlan& plan);

}  // namespace linerwright
