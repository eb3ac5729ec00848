// One thing wrong in a DXF at a time: the check that should notice it does, and rolling the faces back onto
// the solids notices it without the pattern's help.
#include <gtest/gtest.h>

#include <functional>

#include "made_files.hpp"
#include "proof.hpp"

namespace linerwright {
namespace {

// An off-centre lateral: nothing about its body is its own mirror image.
const Flags k_lateral{{"diameter", "300"},      {"length", "1200"}, {"branch_diameter", "140"},
                      {"branch_length", "520"}, {"angle", "60"},    {"offset", "60"},
                      {"position", "500"},      {"thickness", "25"}};

// What every test here starts from, made once.
struct Sound {
  Sound()
      : made("tee", k_lateral), parts(read_step(made.file(".step"))), text(bytes_of(made.file("-body.dxf"))) {
    for (const Pattern& each : make_patterns(made.fitting))
      if (each.id == "body") pattern = each;
    for (const Piece& piece : made.fitting.pieces)
      for (const Part& part : parts)
        if (part.name == "liner " + piece.id) liners.push_back(&part);
  }
  MadeFiles made;
  std::vector<Part> parts;
  std::string text;
  Pattern pattern;
  std::vector<const Part*> liners;
};

const Sound& sound() {
  static const Sound all;
  return all;
}

std::vector<CheckResult> proved(const std::string& text, const DxfOptions& promised = {}) {
  const Folder folder;
  const std::filesystem::path file = folder.path() / "body.dxf";
  put_bytes(file, text);
  return prove_dxf(sound().made.fitting, sound().pattern, file, promised, sound().liners);
}

// The drawing of the body's file, changed and written again.
std::string redrawn(const std::function<void(Drawing&)>& change, const DxfOptions& options = {}) {
  std::istringstream in(sound().text);
  Drawing drawing;
  for (const DxfPolyline& line : read_dxf(in, "body.dxf").lines)
    drawing.lines.push_back({layer_named(line.layer).value(), line.closed, line.points});
  change(drawing);
  std::ostringstream out;
  write_dxf(out, drawing, options);
  return out.str();
}

// The outline or the hole of a layer.
Polyline& contour(Drawing& drawing, Layer layer, bool outline) {
  Polyline* found = nullptr;
  for (Polyline& line : drawing.lines) {
    if (line.layer != layer || !line.closed) continue;
    if (found == nullptr ||
        (std::fabs(signed_area(line.points)) > std::fabs(signed_area(found->points))) == outline)
      found = &line;
  }
  if (found == nullptr) throw std::runtime_error("no contour on the layer");
  return *found;
}

constexpr Layer k_contours[] = {Layer::cut, Layer::duct_face, Layer::air_face};

std::string check_of(Layer layer) {
  return layer == Layer::cut ? "cut body" : layer == Layer::air_face ? "air face body" : "duct face body";
}

TEST(Dxf, PassesAsItIsAndRedrawn) {
  ASSERT_EQ(sound().liners.size(), 2U);
  EXPECT_EQ(listed(proved(sound().text)), "");
  EXPECT_EQ(listed(proved(redrawn([](Drawing&) {}))), "");
}

// What a whole drawing may suffer.
struct Whole {
  const char* name;
  Vec2 (*move)(Vec2, Vec2);  // a point, on a board of this size
};
void PrintTo(const Whole& each, std::ostream* out) {
  *out << each.name;
}
class WholeDrawing : public ::testing::TestWithParam<Whole> {};

TEST_P(WholeDrawing, IsSeenWrong) {
  const std::vector<CheckResult> results = proved(redrawn([](Drawing& drawing) {
    for (Polyline& line : drawing.lines)
      for (Vec2& p : line.points) p = GetParam().move(p, sound().pattern.board);
  }));
  for (const char* check : {"re-roll body", "knife body", "cut body", "duct face body", "air face body"})
    EXPECT_TRUE(fails(results, check)) << check << "\n" << listed(results);
}

INSTANTIATE_TEST_SUITE_P(
    Dxf, WholeDrawing,
    ::testing::Values(Whole{"mirrored",
                            [](Vec2 p, Vec2 board) {
                              return Vec2{board.x - p.x, p.y};
                            }},
                      Whole{"mirrored_top_to_bottom",
                            [](Vec2 p, Vec2 board) {
                              return Vec2{p.x, board.y - p.y};
                            }},
                      Whole{"turned", [](Vec2 p, Vec2 board) { return board - p; }},
                      Whole{"as_inches", [](Vec2 p, Vec2) { return 25.4 * p; }},
                      Whole{"shrunk_to_inches", [](Vec2 p, Vec2) { return (1.0 / 25.4) * p; }},
                      Whole{"a_thousandth_larger", [](Vec2 p, Vec2) { return 1.001 * p; }},
                      Whole{"a_thousandth_smaller", [](Vec2 p, Vec2) { return 0.999 * p; }},
                      Whole{"stretched",
                            [](Vec2 p, Vec2) {
                              return Vec2{1.001 * p.x, p.y};
                            }},
                      Whole{"moved_right",
                            [](Vec2 p, Vec2) {
                              return Vec2{p.x + 0.5, p.y};
                            }},
                      Whole{"moved_left",
                            [](Vec2 p, Vec2) {
                              return Vec2{p.x - 0.5, p.y};
                            }},
                      Whole{"moved_up",
                            [](Vec2 p, Vec2) {
                              return Vec2{p.x, p.y + 0.5};
                            }}),
    [](const ::testing::TestParamInfo<Whole>& each) { return std::string(each.param.name); });

TEST(Dxf, StatingOtherUnits) {
  std::string text = sound().text;
  const std::size_t at = text.find("$INSUNITS");
  ASSERT_NE(at, std::string::npos);
  const std::size_t value = text.find('4', text.find("70", at) + 2);
  ASSERT_LT(value, at + 30);
  text[value] = '1';
  const std::vector<CheckResult> results = proved(text);
  for (const char* check : {"audit body", "cut body", "re-roll body"})
    EXPECT_TRUE(fails(results, check)) << check;
  DxfOptions inches;
  inches.units = DxfUnits::inch;
  EXPECT_TRUE(fails(proved(sound().text, inches), "audit body")) << "millimetres where inches were promised";
}

TEST(Dxf, WithItsFacesSwapped) {
  const std::vector<CheckResult> results = proved(redrawn([](Drawing& drawing) {
    for (Polyline& line : drawing.lines)
      line.layer = line.layer == Layer::duct_face  ? Layer::air_face
                   : line.layer == Layer::air_face ? Layer::duct_face
                                                   : line.layer;
  }));
  for (const char* check : {"re-roll body", "duct face body", "air face body"})
    EXPECT_TRUE(fails(results, check)) << check;
  EXPECT_FALSE(fails(results, "cut body"));
}

TEST(Dxf, WithOneVertexMoved) {
  for (const Layer layer : k_contours)
    for (const bool outline : {true, false})
      for (const Vec2 by : {Vec2{0.5, 0.0}, Vec2{0.0, 0.5}}) {
        const std::vector<CheckResult> results = proved(redrawn([&](Drawing& drawing) {
          std::vector<Vec2>& points = contour(drawing, layer, outline).points;
          const std::size_t n = points.size();
          // one that does not merely slide along its line
          const auto off = [&](std::size_t i) {
            const Vec2 along = points[(i + 1) % n] - points[(i + n - 1) % n];
            return std::fabs(cross(by, along)) / norm(along);
          };
          std::size_t at = 0;
          for (std::size_t i = 1; i < n; ++i)
            if (off(i) > off(at)) at = i;
          points[at] = points[at] + by;
        }));
        SCOPED_TRACE(
            fmt::format("{}, {} moved by {}, {}", check_of(layer), outline ? "outline" : "hole", by.x, by.y));
        EXPECT_TRUE(fails(results, check_of(layer)));
        // a corner may slide along the seam or the end: then an edge of the solid lies bare
        if (layer == Layer::cut)
          EXPECT_TRUE(fails(results, "knife body"));
        else
          EXPECT_TRUE(fails(results, "re-roll body") || fails(results, "cover body"));
      }
}

TEST(Dxf, WithoutItsHole) {
  for (const Layer layer : k_contours) {
    const std::vector<CheckResult> results = proved(redrawn([&](Drawing& drawing) {
      drawing.lines.erase(drawing.lines.begin() + (&contour(drawing, layer, false) - drawing.lines.data()));
    }));
    SCOPED_TRACE(check_of(layer));
    EXPECT_TRUE(fails(results, check_of(layer)));
    EXPECT_TRUE(fails(results, layer == Layer::cut ? "knife body" : "cover body") ||
                fails(results, "re-roll body"));
  }
}

TEST(Dxf, WithItsHoleOnTheOtherSide) {
  const std::vector<CheckResult> results = proved(redrawn([](Drawing& drawing) {
    drawing.lines.erase(std::remove_if(drawing.lines.begin(), drawing.lines.end(),
                                       [](const Polyline& line) { return line.layer == Layer::label; }),
                        drawing.lines.end());  // they would lie in the hole
    for (const Layer layer : k_contours) {
      const Box box = bounding_box(contour(drawing, layer, true).points).value();
      std::vector<Vec2>& hole = contour(drawing, layer, false).points;
      for (Vec2& p : hole) p.x = box.low.x + box.high.x - p.x;
      std::reverse(hole.begin(), hole.end());
    }
  }));
  for (const char* check : {"re-roll body", "knife body", "cut body", "duct face body", "air face body"})
    EXPECT_TRUE(fails(results, check)) << check;
  EXPECT_FALSE(fails(results, "audit body")) << "a sound drawing of the wrong piece: " << listed(results);
}

TEST(Dxf, WithALineDoubledOrOpen) {
  const std::vector<CheckResult> doubled =
      proved(redrawn([](Drawing& drawing) { drawing.lines.push_back(contour(drawing, Layer::cut, true)); }));
  EXPECT_TRUE(fails(doubled, "audit body"));
  EXPECT_TRUE(fails(doubled, "cut body"));
  const std::vector<CheckResult> open =
      proved(redrawn([](Drawing& drawing) { contour(drawing, Layer::cut, false).closed = false; }));
  EXPECT_TRUE(fails(open, "audit body"));
  EXPECT_TRUE(fails(open, "cut body"));
}

TEST(Dxf, OfAnotherVersion) {
  DxfOptions old;
  old.version = DxfVersion::r12;
  const std::string text = redrawn([](Drawing&) {}, old);
  EXPECT_TRUE(fails(proved(text), "audit body"));
  EXPECT_FALSE(fails(proved(text, old), "cut body"));
  EXPECT_FALSE(fails(proved(text, old), "re-roll body"));
}

TEST(Dxf, CutShortEmptyOrMissing) {
  for (const double share : {0.0, 0.02, 0.3, 0.6, 0.9, 0.9999}) {
    const auto size = static_cast<std::size_t>(share * static_cast<double>(sound().text.size()));
    EXPECT_TRUE(fails(proved(sound().text.substr(0, size)), "dxf body")) << share;
  }
  EXPECT_TRUE(
      fails(prove_dxf(sound().made.fitting, sound().pattern, "no-such-folder/body.dxf", {}, sound().liners),
            "dxf body"));
}

}  // namespace
}  // namespace linerwright
