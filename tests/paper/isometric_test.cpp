#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/paper/paper.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::Flags;

struct Kind {
  const char* name;
  Flags flags;
};

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all{
      {"straight", {{"diameter", "600"}, {"length", "1200"}, {"thickness", "25"}}},
      {"elbow", {{"diameter", "600"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}}},
      {"elbow",
       {{"diameter", "300"}, {"angle", "60"}, {"pieces", "5"}, {"form", "smooth"}, {"thickness", "25"}}},
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "500"},
        {"length", "450"},
        {"flat", "yes"},
        {"thickness", "25"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1200"},
        {"branch_diameter", "300"},
        {"branch_length", "700"},
        {"angle", "45"},
        {"thickness", "25"}}}};
  return all;
}

bool on_liner_fill(const Picture& picture, Vec2 p) {
  constexpr double k_beside = 0.3;  // mm on the page
  for (const InkedGroup& group : picture)
    for (const InkedLine& line : group.lines) {
      if (group.ink.name != "liner-solid" && group.ink.name != "liner-inside") continue;
      if (point_in_polygon(p, line.points)) return true;
      for (std::size_t i = 0; i < line.points.size(); ++i)
        if (distance_to_segment(p, line.points[i], line.points[(i + 1) % line.points.size()]) < k_beside)
          return true;
    }
  return false;
}

// Fills the page one way, is small, has no line without length and is the same every time.
TEST(Isometric, FillsThePageInBothInks) {
  for (const Kind& kind : kinds()) {
    const Fitting fitting = support::fitting_from(kind.name, kind.flags);
    const Picture picture = isometric_picture(build_model(fitting), fitting);
    ASSERT_GE(picture.size(), 4U);
    EXPECT_EQ(picture.front().ink.name, "duct-tint");
    EXPECT_EQ(picture[picture.size() - 2].ink.name, "duct");
    EXPECT_EQ(picture.back().ink.name, "liner");
    const Box box = extents(picture).value();
    const Vec2 size = box.high - box.low;
    EXPECT_LE(size.x, 160.0 + 1e-6) << kind.name;
    EXPECT_LE(size.y, 120.0 + 1e-6) << kind.name;
    EXPECT_TRUE(size.x > 159.0 || size.y > 119.0) << kind.name;
    for (const InkedGroup& group : picture) {
      EXPECT_GT(group.lines.size(), group.ink.width > 0.0 ? 2U : 0U) << kind.name;
      for (const InkedLine& line : group.lines) EXPECT_GT(polyline_length(line.points, line.closed), 0.01);
    }
    const std::string svg = svg_of(picture);
    EXPECT_LT(svg.size(), 40'000U) << kind.name;
    EXPECT_EQ(svg, svg_of(isometric_picture(build_model(fitting), fitting)));
  }
}

// What is filled is what the lines stand around, to within the metal and facets of 96 to a turn; the inside
// of the liner lies within it.
TEST(Isometric, FillsWhatTheLinesEnclose) {
  for (const Kind& kind : kinds()) {
    const Fitting fitting = support::fitting_from(kind.name, kind.flags);
    const Picture picture = isometric_picture(build_model(fitting), fitting);
    const auto box = [&](const char* ink) {
      Picture all;
      for (const InkedGroup& group : picture)
        if (group.ink.name == ink) all.push_back(group);
      return extents(all).value();
    };
    for (const auto& [fill, lines] : {std::pair{"duct-tint", "duct"}, std::pair{"liner-solid", "liner"}}) {
      const Box a = box(fill), b = box(lines);
      // pressed metal is round where the walls of its liner are straight
      EXPECT_LT(distance(a.low, b.low) + distance(a.high, b.high), fitting.pressed ? 2.0 : 1.0)
          << kind.name << ' ' << fill;
    }
    const Box all = box("liner-solid"), inside = box("liner-inside");
    EXPECT_TRUE(inside.low.x >= all.low.x - 0.2 && inside.low.y >= all.low.y - 0.2 &&
                inside.high.x <= all.high.x + 0.2 && inside.high.y <= all.high.y + 0.2)
        << kind.name;
  }
}

// Whatever is drawn of panels, their thickness at ends and seams too, lies on or beside a fill.
TEST(Isometric, PanelsAreFilledToTheirLines) {
  const Flags transition{{"width", "600"},  {"height", "400"},   {"diameter", "400"},
                         {"length", "400"}, {"thickness", "25"}, {"pieces", "2"}};
  // the flat panels of a collar as well; widening, all four have ears or lie beside some
  const Flags widens{{"width", "400"}, {"height", "300"}, {"diameter", "500"}, {"square_collar", "150"}};
  for (const Flags& changes : {Flags{}, Flags{{"square_collar", "150"}}, widens}) {
    const Fitting fitting = support::fitting_from("square_to_round", support::with(transition, changes));
    const Picture picture = isometric_picture(build_model(fitting), fitting);
    std::size_t points = 0;
    for (const InkedLine& line : picture.back().lines)
      for (std::size_t i = 0; i + 1 < line.points.size(); ++i)
        for (const double share : {0.0, 0.5}) {
          const Vec2 p = line.points[i] + share * (line.points[i + 1] - line.points[i]);
          EXPECT_TRUE(on_liner_fill(picture, p)) << p.x << ' ' << p.y;
          ++points;
        }
    EXPECT_GT(points, 100U);
  }
}

// The upright edges of a rectangular collar's metal, whose outside is rounded there by its own thickness:
// both outlines and the one that stands nearest, between them.
TEST(Isometric, TightBendsAreLines) {
  const Fitting fitting = support::fitting_from("square_to_round", {{"width", "600"},
                                                                    {"height", "400"},
                                                                    {"diameter", "400"},
                                                                    {"length", "400"},
                                                                    {"thickness", "25"},
                                                                    {"square_collar", "150"}});
  const Picture picture = isometric_picture(build_model(fitting), fitting);
  std::vector<double> upright;
  for (const InkedLine& line : picture[picture.size() - 2].lines)
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < line.points.size(); ++i) {
      const Vec2 way = line.points[(i + 1) % line.points.size()] - line.points[i];
      if (std::fabs(way.x) < 0.01 && std::fabs(way.y) > 5.0) upright.push_back(line.points[i].x);
    }
  std::sort(upright.begin(), upright.end());
  ASSERT_EQ(upright.size(), 3U);
  // as far to the right as its sides are long: 600 against 400
  EXPECT_NEAR((upright[1] - upright[0]) / (upright[2] - upright[0]), 0.6, 0.005);
}

// Of a straight length's liner there are to see: the inner circle of the upper end, the outer one in the two
// halves between the outlines, and the outlines with the half circle below as one line.
TEST(Isometric, LinesAreJoined) {
  const Fitting fitting = support::fitting_from(kinds()[0].name, kinds()[0].flags);
  const Picture picture = isometric_picture(build_model(fitting), fitting);
  int closed = 0;
  for (const InkedLine& line : picture.back().lines) closed += line.closed ? 1 : 0;
  EXPECT_EQ(closed, 1);
  EXPECT_EQ(picture.back().lines.size(), 4U);
}

// The two edges of thin metal print as one line: of a bare duct's upper end one ellipse is left, in the two
// halves between the outlines, beside the outlines with the half circle below.
TEST(Isometric, ThinMetalIsOneLine) {
  const Fitting fitting = support::fitting_from(kinds()[0].name, kinds()[0].flags);
  const Picture picture = isometric_picture(build_model(fitting), fitting);
  EXPECT_LE(picture[picture.size() - 2].lines.size(), 4U);
  for (const char* offset : {"0", "40", "75"}) {
    const Fitting taper = support::fitting_from("reducer", {{"diameter", "250"},
                                                            {"to_diameter", "400"},
                                                            {"length", "400"},
                                                            {"offset", offset},
                                                            {"thickness", "25"}});
    const Picture drawn = isometric_picture(build_model(taper), taper);
    EXPECT_LE(drawn[drawn.size() - 2].lines.size(), 5U) << offset;
  }
}

}  // namespace
}  // namespace linerwright
