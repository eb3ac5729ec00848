// What is seen of solids, against closed forms of their projections.
#include <gtest/gtest.h>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <cmath>
#include <thread>

#include "cases.hpp"
#include "shape.hpp"
#include "support/cases.hpp"
#include "support/elliptic.hpp"

namespace linerwright {
namespace {

using support::fitting_from;

Eye isometric_eye() {
  Eye eye{normalised({1.0, -1.0, 1.0}), {}};
  eye.right = normalised(cross(Vec3{0.0, 0.0, 1.0}, eye.toward));
  return eye;
}

const Solid& part_of(const Model& model, PartRole role) {
  for (const Part& part : model.parts)
    if (part.role == role) return part.solid;
  throw std::logic_error("no such part");
}

double length_of(const SeenLines& lines) {
  double sum = 0.0;
  for (const auto& [from, to] : lines) sum += distance(from, to);
  return sum;
}

Model cylinder(const char* diameter, const char* length) {
  return build_model(fitting_from(
      "straight", {{"diameter", diameter}, {"length", length}, {"thickness", "25"}, {"gauge", "0.8"}}));
}

// The perimeter of an ellipse: 4 a E(e), complete elliptic integral of the second kind.
double ellipse_perimeter(double a, double b) {
  return 4.0 * a * support::elliptic_e(std::sqrt(1.0 - b * b / (a * a)));
}

// The bore of a straight length is a cylinder of radius r and length l. Seen along a cube's diagonal a circle
// square to z is an ellipse of half axes r and r / sqrt 3, and lengths along z are shown sqrt(2/3) long. To
// see are all of the upper circle, the nearer half of the lower one and the two outlines. Chords of steps s
// are shorter than their arcs by s^2 / 24, and each outline stands at a corner up to s / 2 away from its
// place, where the half circle, seen from its side there, gains or loses r / sqrt 3 times as much.
TEST(LineDrawing, ACylinderShowsItsUpperEndHalfOfTheLowerAndTwoOutlines) {
  const Model model = cylinder("250", "600");
  const double r = 100.0;
  constexpr double k_step = 0.1;
  const auto seen = seen_lines({{part_of(model, PartRole::bore), {}}}, isometric_eye(), {1000.0, k_step});
  ASSERT_EQ(seen.size(), 1U);
  const double exact = 1.5 * ellipse_perimeter(r, r / std::sqrt(3.0)) + 2.0 * 600.0 * std::sqrt(2.0 / 3.0);
  EXPECT_NEAR(length_of(seen[0]), exact,
              exact * k_step * k_step / 24.0 + 2.0 * r / std::sqrt(3.0) * 0.5 * k_step);
}

// Nothing of a cylinder is seen further out than its radius, however its facets stand to the eye: for some
// steps the kernel alone puts an outline three hundredths of the radius outside.
TEST(LineDrawing, OutlinesLieOnTheFaces) {
  int lines = 0;
  for (const char* diameter : {"137", "211", "359", "609.6"}) {
    const Model model = cylinder(diameter, "1200");
    for (const double azimuth : {45.0, 43.77, 41.3})
      for (const double step : {0.1, 0.09, 0.07, 0.05}) {
        const double angle = azimuth / 180.0 * k_pi;
        Eye eye{normalised({std::cos(angle), -std::sin(angle), std::sqrt(0.5)}), {}};
        eye.right = normalised(cross(Vec3{0.0, 0.0, 1.0}, eye.toward));
        const double radius = 0.5 * std::stod(diameter) + 0.8;
        const auto seen = seen_lines({{part_of(model, PartRole::metal), {}}}, eye, {1e4, step});
        for (const auto& line : seen[0])
          for (const Vec2 p : line) {
            EXPECT_LE(std::fabs(p.x), radius * 1.0001) << diameter << " from " << azimuth << " by " << step;
            ++lines;
          }
      }
  }
  EXPECT_GT(lines, 5000);
}

// Moved 1000 mm away from the eye, a thinner and shorter cylinder disappears behind the thicker one; beside
// it, it is seen as if alone; before it, it takes what it covers.
TEST(LineDrawing, SolidsHideOneAnother) {
  const Model large = cylinder("600", "600");
  const Model small = cylinder("150", "100");
  const Eye eye = isometric_eye();
  const Solid& back = part_of(large, PartRole::bore);
  const Solid& front = part_of(small, PartRole::bore);
  const MeshOptions options{1000.0, 0.1};
  const Vec3 middle{0.0, 0.0, 250.0};
  const auto seen_at = [&](Vec3 shift) {
    return seen_lines({{back, {}}, {front, middle + shift}}, eye, options);
  };
  const double alone_back = length_of(seen_lines({{back, {}}}, eye, options)[0]);
  const double alone_front = length_of(seen_lines({{front, {}}}, eye, options)[0]);

  const auto behind = seen_at(-1000.0 * eye.toward);
  EXPECT_NEAR(length_of(behind[0]), alone_back, 1e-6);
  EXPECT_EQ(length_of(behind[1]), 0.0);
  const auto beside = seen_at(1000.0 * eye.right);
  EXPECT_NEAR(length_of(beside[0]), alone_back, 1e-6);
  EXPECT_NEAR(length_of(beside[1]), alone_front, 1e-6);
  const auto before = seen_at(1000.0 * eye.toward);
  EXPECT_NEAR(length_of(before[1]), alone_front, 1e-6);
  // in the middle of the large one's side there is no line to cover
  EXPECT_NEAR(length_of(before[0]), alone_back, 1e-6);
}

// Every kind of body is drawn, without a second mesh left on it.
TEST(LineDrawing, EveryFittingIsDrawnAndLeftAsItWas) {
  const auto& all = support::solid_cases();
  const auto taken = support::drawn("solids", all, [](const support::Case& each) { return each.kind; });
  std::size_t drawn = 0;
  for (const support::Case& each : taken) {
    const Fitting fitting = fitting_from(each.kind, each.flags);
    const Model model = build_model(fitting);
    std::vector<PlacedSolid> solids;
    double shift = 0.0;
    for (const Part& part : model.parts) solids.push_back({part.solid, {0.0, shift += 1e4, 0.0}});
    const auto seen = seen_lines(solids, isometric_eye(), {10.0, 0.2});
    ASSERT_EQ(seen.size(), model.parts.size()) << each.name;
    for (std::size_t i = 0; i < seen.size(); ++i) {
      EXPECT_GT(length_of(seen[i]), 0.0) << each.name << " " << model.parts[i].name;
      for (TopExp_Explorer faces(model.parts[i].solid.shape().shape, TopAbs_FACE); faces.More();
           faces.Next()) {
        TopLoc_Location place;
        ASSERT_TRUE(BRep_Tool::Triangulation(TopoDS::Face(faces.Current()), place).IsNull()) << each.name;
      }
      ++drawn;
    }
  }
  EXPECT_GT(drawn, 150 * taken.size() / all.size());
}

TEST(LineDrawing, ThreadsDrawTheirOwnModelsAlike) {
  const Fitting fitting = fitting_from(
      "elbow",
      {{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}, {"form", "smooth"}});
  const auto draw = [&] {
    const Model model = build_model(fitting);
    std::vector<PlacedSolid> solids;
    for (const Part& part : model.parts) solids.push_back({part.solid, {}});
    return seen_lines(solids, isometric_eye(), {1.0, 0.1});
  };
  const auto alone = draw();
  std::vector<std::vector<SeenLines>> together(4);
  std::vector<std::thread> threads;
  for (auto& each : together)
    threads.emplace_back([&] {
      for (int i = 0; i < 5; ++i) each = draw();
    });
  for (std::thread& thread : threads) thread.join();
  for (const auto& each : together) EXPECT_EQ(each, alone);
}

}  // namespace
}  // namespace linerwright
