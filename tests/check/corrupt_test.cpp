// The proof passes what was made, and catches what was spoilt, by the check that should.
#include <gtest/gtest.h>

#include "made.hpp"

namespace linerwright {
namespace {

using testing::Flags;
using testing::MadeFitting;

// Off-centre, leaning: no symmetry for a mirrored file to hide in.
Flags tee(Flags more = {}) {
  Flags flags{{"tag", "T"},
              {"diameter", "400mm"},
              {"length", "900mm"},
              {"branch_diameter", "200mm"},
              {"branch_length", "450mm"},
              {"angle", "65"},
              {"offset", "70mm"},
              {"thickness", "25mm"}};
  for (const auto& [key, value] : more) flags[key] = value;
  return flags;
}

TEST(Proof, PassesEveryKind) {
  const std::pair<std::string, Flags> cases[] = {
      {"straight", {{"diameter", "300mm"}, {"length", "1m"}, {"thickness", "25mm"}}},
      {"elbow",
       {{"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}, {"collar", "40mm"}}},
      {"elbow",
       {{"diameter", "315mm"},
        {"angle", "60"},
        {"pieces", "4"},
        {"thickness", "25mm"},
        {"form", "smooth"},
        {"face_up", "air"}}},
      {"reducer",
       {{"diameter", "500mm"},
        {"to_diameter", "350mm"},
        {"length", "400mm"},
        {"collar", "80mm"},
        {"to_collar", "60mm"},
        {"thickness", "25mm"},
        {"flat", "true"},
        {"neutral_factor", "0.4"}}},
      {"reducer",
       {{"diameter", "350mm"},
        {"to_diameter", "500mm"},
        {"length", "400mm"},
        {"collar", "80mm"},
        {"to_collar", "60mm"},
        {"thickness", "25mm"},
        {"pattern", "notched"}}},
      {"tee", tee()},
      {"tee", tee({{"face_up", "air"}, {"cut", "tilt"}})},
      {"tee", tee({{"joint", "over"}})},
      {"tee", tee({{"joint", "through"}, {"branch_diameter", "150mm"}})},
  };
  for (const auto& [kind, flags] : cases) {
    ProduceOptions options;
    options.dxf.version = flags.size() % 2 == 0 ? DxfVersion::r2000 : DxfVersion::r12;
    options.dxf.units = flags.count("collar") != 0 ? DxfUnits::inch : DxfUnits::millimetre;
    const MadeFitting made(kind, flags, options);
    EXPECT_EQ(made.made().failure, "") << kind;
    EXPECT_EQ(made.failing(), "") << kind;
    EXPECT_GT(made.check().size(), 12u) << kind;
  }
}

TEST(Proof, PassesReducedFiles) {
  for (const bool single : {false, true}) {
    ProduceOptions options;
    options.dxf.cut_only = !single;
    options.dxf.single_layer = single;
    const MadeFitting made("tee", tee(), options);
    EXPECT_EQ(made.failing(), "");
  }
}

struct Spoil {
  const char* name;
  std::function<void(const MadeFitting&)> how;
  const char* caught_by;  // a failing check's name begins so
};

void each_point(DxfFile& file, const std::function<Vec2(Vec2)>& move) {
  for (DxfPolyline& line : file.lines)
    for (Vec2& p : line.points) p = move(p);
}

class Spoilt : public ::testing::TestWithParam<Spoil> {};

TEST_P(Spoilt, IsCaught) {
  const MadeFitting made("tee", tee());
  ASSERT_EQ(made.failing(), "");
  GetParam().how(made);
  const std::string failing = made.failing();
  EXPECT_NE((", " + failing).find(std::string(", ") + GetParam().caught_by), std::string::npos)
      << "failing: " << failing;
}

const char* const k_body = "-body.dxf";

std::vector<Spoil> spoils() {
  const auto moved = [](const std::function<Vec2(Vec2)>& move) {
    return [move](const MadeFitting& made) {
      made.redraw(k_body, [&](DxfFile& file) { each_point(file, move); });
    };
  };
  // Each geometric spoiling must be seen by the re-roll itself, not only by the comparison with the pattern.
  return {
      {"mirrored",
       [](const MadeFitting& made) {
         made.redraw(k_body, [](DxfFile& file) {
           double width = 0.0;
           for (const DxfPolyline& line : file.lines)
             for (const Vec2 p : line.points) width = std::max(width, p.x);
           each_point(file, [&](Vec2 p) { return Vec2{width - p.x, p.y}; });
         });
       },
       "re-roll body"},
      {"scaled_by_an_inch", moved([](Vec2 p) { return 25.4 * p; }), "re-roll body"},
      {"scaled_by_a_thousandth", moved([](Vec2 p) { return 1.001 * p; }), "re-roll body"},
      {"shifted", moved([](Vec2 p) {
         return p + Vec2{0.0, 0.5};
       }),
       "re-roll body"},
      {"wrong_units",
       [](const MadeFitting& made) {
         made.change(k_body, [](std::string text) {
           const std::size_t at = text.find("$INSUNITS");
           const std::size_t four = text.find("4\n", text.find("70", at) + 2);
           return text.replace(four, 1, "1");
         });
       },
       "re-roll body"},
      {"wrong_units_in_the_audit",
       [](const MadeFitting& made) {
         made.redraw(
             k_body, [](DxfFile&) {},
             [] {
               DxfOptions dxf;
               dxf.units = DxfUnits::inch;
               return dxf;
             }());
       },
       "audit body"},
      {"faces_swapped",
       [](const MadeFitting& made) {
         made.redraw(k_body, [](DxfFile& file) {
           for (DxfPolyline& line : file.lines) {
             if (line.layer == "DUCT_FACE")
               line.layer = "AIR_FACE";
             else if (line.layer == "AIR_FACE")
               line.layer = "DUCT_FACE";
           }
         });
       },
       "re-roll body"},
      {"one_vertex_moved",
       [](const MadeFitting& made) {
         made.redraw(k_body, [](DxfFile& file) {
           for (DxfPolyline& line : file.lines)
             if (line.layer == "DUCT_FACE" && line.points.size() > 10)
               line.points[5] = line.points[5] + Vec2{0.5, 0.5};
         });
       },
       "re-roll body"},
      {"hole_missing",
       [](const MadeFitting& made) {
         made.redraw(k_body, [](DxfFile& file) {
           file.lines.erase(std::remove_if(file.lines.begin(), file.lines.end(),
                                           [](const DxfPolyline& line) {
                                             return line.layer == "DUCT_FACE" && line.points.size() > 10;
                                           }),
                            file.lines.end());
         });
       },
       "duct face body"},
      {"line_doubled",
       [](const MadeFitting& made) {
         made.redraw(k_body, [](DxfFile& file) {
           const auto cut = std::find_if(file.lines.begin(), file.lines.end(),
                                         [](const DxfPolyline& line) { return line.layer == "CUT"; });
           const DxfPolyline copy = *cut;
           file.lines.push_back(copy);
         });
       },
       "audit body"},
      {"dxf_cut_short",
       [](const MadeFitting& made) {
         made.change(k_body, [](std::string text) { return text.substr(0, text.size() / 2); });
       },
       "dxf body"},
      {"dxf_missing", [](const MadeFitting& made) { std::filesystem::remove(made.file(k_body)); },
       "dxf body"},
      {"step_missing", [](const MadeFitting& made) { std::filesystem::remove(made.file(".step")); }, "step"},
      {"step_cut_short",
       [](const MadeFitting& made) {
         made.change(".step", [](std::string text) { return text.substr(0, text.size() / 3); });
       },
       "step"},
      {"step_of_another_size",
       [](const MadeFitting& made) {
         const MadeFitting other("tee", tee({{"diameter", "402mm"}}));
         std::filesystem::copy_file(other.file(".step"), made.file(".step"),
                                    std::filesystem::copy_options::overwrite_existing);
       },
       "step volumes"},
      {"stl_missing", [](const MadeFitting& made) { std::filesystem::remove(made.file("-liner.stl")); },
       "stl liner"},
      {"stl_facet_missing",
       [](const MadeFitting& made) {
         made.change("-bore.stl", [](std::string bytes) {
           bytes.resize(bytes.size() - 50);
           bytes[80] = static_cast<char>(static_cast<unsigned char>(bytes[80]) -
                                         1);  // one facet fewer, as the header counts
           return bytes;
         });
       },
       "closed bore"},
      {"stl_facet_turned",
       [](const MadeFitting& made) {
         made.change("-metal.stl", [](std::string bytes) {
           for (std::size_t i = 0; i < 12; ++i) std::swap(bytes[84 + 12 + i], bytes[84 + 24 + i]);
           return bytes;
         });
       },
       "closed metal"},
  };
}

INSTANTIATE_TEST_SUITE_P(Files, Spoilt, ::testing::ValuesIn(spoils()),
                         [](const ::testing::TestParamInfo<Spoil>& spoil) {
                           return std::string(spoil.param.name);
                         });

TEST(Proof, ABranchOnTheOtherSideIsCaughtForEitherFaceUp) {
  for (const char* face : {"duct", "air"}) {
    const MadeFitting left("tee", tee({{"face_up", face}}));
    const MadeFitting right("tee", tee({{"face_up", face}, {"offset", "-70mm"}}));
    std::filesystem::copy_file(right.file(k_body), left.file(k_body),
                               std::filesystem::copy_options::overwrite_existing);
    EXPECT_NE(left.failing().find("re-roll body"), std::string::npos) << face;
  }
}

}  // namespace
}  // namespace linerwright
