// Proofs that two pieces do not overlap, from the faces of the joint that they share.
#pragma once

#include <TopoDS_Shape.hxx>

namespace linerwright {

// Do the faces that the two bodies share, and others that go on from them, lie between the two like ground
// between below and above, as a taper's joint with its collar does? Seen along the axis of a round face, the
// joint is a height over the plane, and it rises less than what would let a ruling of either body through it.
// False where that cannot be shown.
bool joint_between(const TopoDS_Shape& a, const TopoDS_Shape& b);

// Is one of the bodies a straight branch that stands on the faces it shares with the other, a round body, and
// reaches that one nowhere else? False where that cannot be shown.
bool saddle_between(const TopoDS_Shape& a, const TopoDS_Shape& b);

// Does one of the bodies, a round one, lie within its widest wall, and the other, a straight branch, stand on
// that wall from outside? False where that cannot be shown.
bool wall_between(const TopoDS_Shape& a, const TopoDS_Shape& b);

}  // namespace linerwright
