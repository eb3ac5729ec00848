// What a pattern's file says in words, spoilt; and changes by other programs that harm nothing.
#include <random>
#include <sstream>

#include "written.hpp"

namespace linerwright {
namespace {

using support::failed;
using support::listed;
using support::Written;

const Written& tee() {
  static const Written written("tee", {{"diameter", "300"},
                                       {"length", "900"},
                                       {"branch_diameter", "150"},
                                       {"branch_length", "400"},
                                       {"offset", "40"},
                                       {"position", "350"},
                                       {"thickness", "25"}});
  return written;
}
const Written& elbow() {
  static const Written written(
      "elbow",
      {{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"collar", "50"}, {"thickness", "25"}});
  return written;
}
const Written& reducer() {
  static const Written written("reducer", {{"diameter", "320"},
                                           {"to_diameter", "250"},
                                           {"length", "350"},
                                           {"collar", "80"},
                                           {"pattern", "notched"},
                                           {"thickness", "25"}});
  return written;
}

using Results = std::vector<CheckResult>;

Results after(const Written& written, const std::string& id, const std::function<void(Drawing&)>& spoil,
              const DxfOptions& options = {}) {
  Drawing drawing = drawing_of(written.pattern(id), written.fitting.units);
  spoil(drawing);
  written.write(id, drawing, options);
  Results results = written.check_pattern(id);
  written.write_pattern(written.pattern(id));
  return results;
}

Results after_text(const Written& written, const std::string& id,
                   const std::function<void(std::string&)>& spoil) {
  const auto path = written.file("f-" + id + ".dxf");
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  std::string spoilt = text.str();
  spoil(spoilt);
  EXPECT_NE(spoilt, text.str());
  std::ofstream(path, std::ios::binary) << spoilt;
  Results results = written.check_pattern(id);
  std::ofstream(path, std::ios::binary) << text.str();
  return results;
}

std::string notes(const Results& results) {
  std::string all;
  for (const CheckResult& each : results)
    if (each.note) all += each.name + ": " + each.detail + "\n";
  return all;
}

using Names = std::vector<std::string>;

TEST(Words, LabelsMissingMovedOrChanged) {
  const auto texts = [](const std::function<void(std::vector<Text>&)>& change) {
    return failed(after(tee(), "body", [&](Drawing& drawing) { change(drawing.texts); }));
  };
  EXPECT_EQ(texts([](auto& all) { all.erase(all.begin(), all.end() - 1); }), Names{"labels body"});
  EXPECT_EQ(texts([](auto& all) { all.front().text.back() = 'x'; }), Names{"labels body"});
  EXPECT_EQ(texts([](auto& all) { all.front().at.x += 1.0; }), Names{"labels body"});
  EXPECT_EQ(texts([](auto& all) { all.push_back(all.front()); }), Names{"labels body"});
  EXPECT_EQ(texts([](auto& all) { all.back().text = "this line is 4 in long"; }), Names{"labels body"});
}

// Stroke by stroke: each is drawn as a line of its own, and one of them is left out, or all mirrored.
TEST(Words, StrokesMissingOrMirrored) {
  const Drawing drawn = drawing_of(tee().pattern("body"), tee().fitting.units);
  std::vector<Polyline> strokes;
  for (const Text& text : drawn.texts)
    for (const auto& stroke : stroke_text(text)) strokes.push_back({text.layer, false, stroke});
  const auto with = [&](const std::vector<Polyline>& lines) {
    return failed(after(tee(), "body", [&](Drawing& drawing) {
      drawing.texts.clear();
      drawing.lines.insert(drawing.lines.end(), lines.begin(), lines.end());
    }));
  };
  EXPECT_EQ(with(strokes), Names{});
  ASSERT_GT(strokes.size(), 50U);
  for (std::size_t i = 0; i < strokes.size(); i += 17) {
    std::vector<Polyline> fewer = strokes;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    EXPECT_EQ(with(fewer), Names{"labels body"}) << i;
  }
  std::vector<Polyline> mirrored = strokes;
  const double width = tee().pattern("body").board.x;
  for (Polyline& line : mirrored)
    for (Vec2& p : line.points)
      if (line.layer == Layer::label) p.x = width - p.x;
  EXPECT_TRUE(support::has(with(mirrored), "labels body"));
}

TEST(Words, TextAsEntities) {
  DxfOptions options;
  options.text = TextStyle::entities;
  EXPECT_EQ(failed(after(
                tee(), "body", [](Drawing&) {}, options)),
            Names{});
  EXPECT_EQ(failed(after(
                tee(), "body", [](Drawing& drawing) { drawing.texts.front().text += "x"; }, options)),
            Names{"labels body"});
  EXPECT_EQ(failed(after(
                tee(), "body", [](Drawing& drawing) { drawing.texts.front().angle = 3.1; }, options)),
            Names{"labels body"});
  EXPECT_EQ(
      failed(after(
          tee(), "body", [](Drawing& drawing) { drawing.texts.erase(drawing.texts.begin()); }, options)),
      Names{"labels body"});
}

// A comment that contradicts fails, one that is missing is told.
TEST(Words, Comments) {
  const auto with = [](const std::vector<std::string>& comments) {
    DxfOptions options;
    options.chord_error = k_chord_error;
    options.comments = comments;
    return after(
        tee(), "body", [](Drawing&) {}, options);
  };
  const double gap = tee().pattern("body").gap_square;
  const std::string square =
      "cut square to the board: gap " + format_quantity(Quantity::length, gap, Units::metric) + ", overlap " +
      format_quantity(Quantity::length, tee().pattern("body").overlap_square, Units::metric);
  EXPECT_EQ(failed(with({"liner 25 mm, duct face up", square})), Names{});
  EXPECT_EQ(notes(with({"liner 25 mm, duct face up", square})), "");
  EXPECT_NE(notes(with({square})), "");
  EXPECT_EQ(failed(with({square})), Names{});
  for (const char* wrong : {"liner 50 mm, duct face up", "liner 25 mm, air face up",
                            "liner 25.002 mm, duct face up", "liner 25 in, duct face up", "liner thick",
                            "chord error: at most 0.5 mm", "cut square to the board: gap 0 mm, overlap 0 mm"})
    EXPECT_EQ(failed(with({wrong})), Names{"comments body"}) << wrong;
  EXPECT_EQ(failed(with({"units: inches"})), Names{"audit body"});
}

TEST(Harmless, ContoursBegunElsewhereOrTheOtherWayRound) {
  for (const auto& [written, id] : {std::pair<const Written*, std::string>{&tee(), "body"},
                                    {&tee(), "branch"},
                                    {&elbow(), "blank"},
                                    {&reducer(), "notched"}}) {
    const Results results = after(*written, id, [](Drawing& drawing) {
      std::reverse(drawing.lines.begin(), drawing.lines.end());
      for (Polyline& line : drawing.lines) {
        std::reverse(line.points.begin(), line.points.end());
        if (line.closed) std::rotate(line.points.begin(), line.points.begin() + 2, line.points.end());
      }
    });
    EXPECT_EQ(failed(results), Names{}) << id << "\n" << listed(results);
    EXPECT_NE(notes(results).find("changed by another program, same contours"), std::string::npos) << id;
    EXPECT_EQ(notes(after(*written, id, [](Drawing&) {})).find("another program"), std::string::npos) << id;
  }
}

// Only what is the same otherwise: a hole that runs the wrong way in our own file stays a finding.
TEST(Harmless, IsNoExcuseForAnythingElse) {
  const Results results = after(tee(), "body", [](Drawing& drawing) {
    for (Polyline& line : drawing.lines)
      if (line.layer == Layer::cut) {
        std::reverse(line.points.begin(), line.points.end());
        line.points.front().x += 0.3;
      }
  });
  EXPECT_FALSE(failed(results).empty());
  EXPECT_EQ(notes(results).find("another program"), std::string::npos);
}

TEST(Harmless, LayerOfAnotherProgram) {
  const Results results = after_text(tee(), "body", [](std::string& text) {
    text.insert(text.find("  0\nLAYER\n"), "  0\nLAYER\n  5\nFFFF\n  2\nDefpoints\n 70\n0\n 62\n7\n");
  });
  EXPECT_EQ(failed(results), Names{});
  EXPECT_NE(notes(results).find("Defpoints"), std::string::npos);
}

// Bodies touch, so that their facets are told apart by what they enclose and not by their order.
TEST(Harmless, FacetsInAnotherOrder) {
  for (const Written* written : {&tee(), &elbow()})
    for (unsigned seed = 1; seed <= 3; ++seed) {
      for (const char* name : {"metal", "liner", "bore"}) {
        std::ifstream in(written->file(std::string("f-") + name + ".stl"), std::ios::binary);
        Mesh mesh = read_stl(in, name);
        std::mt19937 random(seed);
        std::shuffle(mesh.triangles.begin(), mesh.triangles.end(), random);
        for (auto& facet : mesh.triangles)
          std::rotate(facet.begin(), facet.begin() + static_cast<std::ptrdiff_t>(random() % 3), facet.end());
        written->write_meshes(name, {mesh});
      }
      EXPECT_EQ(listed(written->check_meshes()), "") << seed;
      written->write_meshes("metal", written->meshes(PartRole::metal));
      written->write_meshes("liner", written->meshes(PartRole::liner));
      written->write_meshes("bore", written->meshes(PartRole::bore));
    }
}

}  // namespace
}  // namespace linerwright
