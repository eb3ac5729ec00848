// A branch of a tee: what is asked of it, where it stands, and what it must keep clear of.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "bend.hpp"

namespace linerwright {

// Holes keep this distance from the body's ends and from each other, millimetres.
constexpr double k_margin = 5.0;

struct Branch {
  double radius;       // at its square end
  double base;         // radius where it stands on the body; equal to `radius` for a straight branch
  double length;       // from the body's axis along the branch's axis, to where a bend begins
  double position;     // of the axes' crossing, from the body's first end
  double angle;        // between the branch's axis and the body's
  double around;       // direction of the branch around the body
  double offset;       // of the branch's axis from the body's
  std::string name;    // "branch", or "branch1" and on
  std::string called;  // in a message: empty for the only one, else "branch 2: "
  std::optional<int> wall{}, joint{};  // once it is built
  std::optional<Bend> bend{};          // behind it
  bool toward_far = false;             // which way it bends

  bool is_conical() const { return base > radius; }
  // Where its axis leaves a body of this radius, along it from the axes' crossing.
  double enters(double body_radius) const;
};

// The branches asked for on a body of this radius and length; one value of a key serves all.
std::vector<Branch> read_branches(const FittingRequest& request, double radius, double length,
                                  Reasons& reasons);
// Adds the reasons why a branch cannot stand on the body; true where there are none.
bool check_branch(const Branch& b, double radius, double thickness, JointStyle style, Reasons& reasons);

// Sizes that differ from the body's by rounding are meant equal to it, or tangent to its side.
void make_equal(Branch& b, double radius);

// The branch's wall; theta = 0 faces the body's far end.
Sheet branch_sheet(const Branch& b, double radius);
// Local height of its square end on that wall, or of where its bend begins.
double end_of(const Branch& b, const Sheet& sheet);

// A key that a branch is asked for by, of a tee's body or of a duct.
KeySpec branch_key(const std::string& name);
// Its piece, with the letters that stand on branch and hole alike; `next` is what it meets.
Piece branch_piece(const Branch& b, const Values& values, std::vector<std::string> next);
// Adds its passage: from above the crotch, where its bore is whole, to its square end.
void add_branch_bore(Fitting& fitting, const Branch& b, const Joint& joint);
// How far its saddle reaches along the branch.
double saddle_depth(const Joint& joint);

// What a hole covers of its body, at any of the depths it is cut at.
struct HoleBox {
  double z_low = std::numeric_limits<double>::infinity();
  double z_high = -std::numeric_limits<double>::infinity();
  double theta_low = 0.0, theta_high = 0.0;  // continued around the branch's direction
};
// Widens it to what the joint's curve at these depths covers.
void take_in(HoleBox& box, const Joint& joint, DepthPair depths, double around);
// All that it covers at the depths it is cut at.
HoleBox box_of(const Joint& joint, const LinerSpec& liner, double around);
// The same of a branch. Throws InputError where the branch does not stand on the body at one of the depths.
HoleBox hole_of(const Branch& b, const Joint& joint, const LinerSpec& liner, Reasons& reasons);

// The ruling of the body nearest to the preferred one that no hole comes within `margin_angle` of; else the
// one that is clearest. `width` is its clearance, radians.
double free_ruling(const std::vector<HoleBox>& boxes, double preferred, double margin_angle, double* width);

// A branch's metal outside the body: its wall, the joint it stands on, and where it ends.
struct BranchMetal {
  const Sheet& sheet;
  const Joint& joint;
  double from;      // local height of the axes' crossing
  PlaneTarget end;  // the square end, or the mitre that its bend begins with
};
// The least distance, mm, of one branch's metal from the other's outside the body, measured from the surface
// of either to the other's square to its axis; negative where they run into each other.
double metals_apart(const BranchMetal& a, const BranchMetal& b, double gauge);

}  // namespace linerwright
