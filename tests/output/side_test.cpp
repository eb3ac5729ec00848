// The mirror trap: whichever face is up on the table, a branch on the left comes out on the left.
#include <gtest/gtest.h>

#include "made_files.hpp"

namespace linerwright {
namespace {

// Standing before a lateral that comes toward us, its body upright: whether its axis is to the right of the
// body's. Right of somebody who looks along -x with z up is +y.
bool branch_is_right(const Fitting& fitting) {
  for (const Passage& passage : fitting.passages)
    if (passage.name == "branch") return passage.stations.back().plane.point.y > 0.0;
  throw std::runtime_error("no branch");
}

// The same from the file of the body's board alone, put to the body by hand: the duct face toward us, the
// nearer end of the board's hole below. A board that lies with its air face up is turned over first.
bool hole_is_right(const DxfFile& file, Face up) {
  std::vector<Vec2> outline;
  std::vector<Vec2> hole;
  for (const DxfPolyline& line : file.lines) {
    if (line.layer != "CUT" || !line.closed) continue;
    const bool larger =
        outline.empty() || std::fabs(signed_area(line.points)) > std::fabs(signed_area(outline));
    if (larger) std::swap(outline, hole);
    (larger ? outline : hole) = line.points;
  }
  if (hole.empty()) throw std::runtime_error("no hole");
  const Box board = bounding_box(outline).value();
  const Box opening = bounding_box(hole).value();
  double right = 0.5 * (opening.low.x + opening.high.x) - 0.5 * (board.low.x + board.high.x);
  if (up == Face::air) right = -right;
  const bool upright = opening.low.y - board.low.y < board.high.y - opening.high.y;
  if (!upright) right = -right;  // turned half around in its plane
  return right > 0.0;
}

TEST(Side, OfABranchIsTheSameWhicheverFaceIsUp) {
  int right = 0;
  for (const char* offset : {"60", "-60"})
    for (const char* face : {"duct", "air"})
      for (const char* angle : {"60", "90"}) {
        const Flags flags{{"diameter", "300"},      {"length", "1400"},  {"branch_diameter", "140"},
                          {"branch_length", "520"}, {"angle", angle},    {"offset", offset},
                          {"position", "400"},      {"thickness", "25"}, {"face_up", face}};
        SCOPED_TRACE(support::written("tee", flags));
        OutputOptions patterns_only;
        patterns_only.patterns_only = true;
        const MadeFiles made("tee", flags, patterns_only);
        std::istringstream in(bytes_of(made.file("-body.dxf")));
        EXPECT_EQ(hole_is_right(read_dxf(in, "body.dxf"), made.fitting.liner.face_up),
                  branch_is_right(made.fitting));
        right += branch_is_right(made.fitting) ? 1 : 0;
      }
  EXPECT_EQ(right, 4) << "both sides were tried";
}

}  // namespace
}  // namespace linerwright
