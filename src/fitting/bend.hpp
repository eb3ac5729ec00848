// A gored bend: what its keys say, and what its gores must have left.
#pragma once

#include "common.hpp"

namespace linerwright {

constexpr double k_steepest_mitre = 60.0 / 180.0 * k_pi;

struct Bend {
  double radius;      // of the cylinders the liner lies on
  double centreline;  // of those cylinders
  double angle;
  int pieces;
  double collar;
  double mitre() const { return angle / (2.0 * (pieces - 1)); }
};

// radius_ratio and centreline_radius.
std::vector<KeySpec> bend_keys();

// From diameter, pieces, collar and the two of bend_keys; adds a reason where both of those are given.
Bend read_bend(const FittingRequest& request, double angle, Reasons& reasons);

// Adds the reason why the mitres are too steep or a piece has no length left in the throat.
void require_throat(Reasons& reasons, const Fitting& fitting, const Bend& bend);

// form and gap_limit.
// Where the seams of gores lie.
KeySpec seam_key();
std::vector<KeySpec> form_keys();
// Adds the reasons why gores (of a smooth form; else null) cannot line their pressed metal, or keys say
// nothing of the form asked for.
void require_form(Reasons& reasons, const Fitting& fitting, const Bend* gores);

// How gores lie in a pressed bend.
struct InsideBend {
  double radius;               // of the gores
  double (*gap)(const Bend&);  // widest behind the liner, of any such metal
  double exposed;              // step at an open end against a lined neighbour's bore
  const char* where;           // of that: "at the heel of"
};
// Adds what the shop wants to know of them, and the warnings.
void add_smooth_facts(Fitting& fitting, const Reasons& reasons, const Bend& metal, const InsideBend& inside);

}  // namespace linerwright
