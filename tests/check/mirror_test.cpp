// The mirror trap: an off-centre branch on the left comes out on the left, whichever face is up on the table.
#include "written.hpp"

namespace linerwright {
namespace {

using support::Written;

// How far the hole in the body's board, as the table shows it, lies to the right of the board's middle.
double hole_right_of_middle(const Written& written) {
  std::ifstream in(written.file("f-body.dxf"), std::ios::binary);
  const DxfFile file = read_dxf(in, "body");
  std::vector<Box> boxes;
  for (const DxfPolyline& line : file.lines)
    if (line.layer == "CUT" && line.closed) boxes.push_back(bounding_box(line.points).value());
  if (boxes.size() != 2) throw std::runtime_error("not one hole in one board");
  std::sort(boxes.begin(), boxes.end(),
            [](const Box& a, const Box& b) { return a.high.x - a.low.x > b.high.x - b.low.x; });
  const auto middle = [](const Box& box) { return 0.5 * (box.low.x + box.high.x); };
  return middle(boxes[1]) - middle(boxes[0]);
}

// How far the branch's axis passes to the right of the body's for somebody who stands outside, looks at the
// branch's mouth, and holds the body's first end down.
double branch_right_of_body(const Fitting& fitting) {
  const Wall& body = fitting.wall(fitting.pieces.front().wall);
  const Sheet& branch = fitting.joint(body.holes.at(0).joint).lead;
  const Vec3 right = cross(body.sheet.frame().z, branch.frame().z);
  return dot(branch.frame().origin - body.sheet.frame().origin, right);
}

TEST(Mirror, ABranchOnTheLeftStaysOnTheLeft) {
  for (const char* around : {"0", "100"})
    for (const double offset : {60.0, -60.0})
      for (const bool air_up : {false, true}) {
        DxfOptions dxf;
        dxf.version = air_up == (offset > 0.0) ? DxfVersion::r12 : DxfVersion::r2000;
        const Written written("tee",
                              {{"diameter", "300"},
                               {"length", "900"},
                               {"branch_diameter", "140"},
                               {"branch_length", "400"},
                               {"offset", fixed(offset, 1)},
                               {"around", around},
                               {"thickness", "25"},
                               {"face_up", air_up ? "air" : "duct"}},
                              dxf);
        SCOPED_TRACE(support::written("tee", {{"around", around}, {"offset", fixed(offset, 1)}}) +
                     (air_up ? " air" : " duct") + " face up");
        const double right = branch_right_of_body(written.fitting);
        EXPECT_NEAR(std::fabs(right), 60.0, 1e-6);
        // the duct face is what somebody outside sees; with the air face up the board is seen from behind
        const double shown = hole_right_of_middle(written);
        EXPECT_GT(std::fabs(shown), 40.0) << "the seam is opposite the branch";
        EXPECT_EQ(shown > 0.0, (right > 0.0) != air_up);
      }
}

}  // namespace
}  // namespace linerwright
