// One thing wrong in a STEP or STL at a time: the check that should notice it does.
#include <gtest/gtest.h>

#include <cstring>

#include "made_files.hpp"

namespace linerwright {
namespace {

const Flags k_tee{{"diameter", "300"},      {"length", "900"}, {"branch_diameter", "160"},
                  {"branch_length", "400"}, {"offset", "50"},  {"position", "400"},
                  {"thickness", "25"}};

const MadeFiles& tee() {
  static const MadeFiles made("tee", k_tee);
  return made;
}

// A copy of the tee's files to do harm to.
struct Copy {
  Copy() {
    std::filesystem::copy(tee().files.folder, folder.path() / "T-1");
    files = {folder.path() / "T-1", tee().files.stem};
  }
  std::filesystem::path file(const std::string& end) const { return files.folder / (files.stem + end); }
  std::vector<CheckResult> proved() const {
    return check_fitting(tee().fitting, make_patterns(tee().fitting), files, tee().options.dxf,
                         tee().options.mesh);
  }
  Folder folder;
  CheckFiles files;
};

// Binary STL: 80 bytes, a count, and 50 bytes a facet: a normal, three corners, two bytes.
constexpr std::size_t k_first_facet = 84;
constexpr std::size_t k_facet = 50;

std::uint32_t facets_in(const std::string& stl) {
  std::uint32_t count = 0;
  std::memcpy(&count, stl.data() + 80, sizeof count);
  return count;
}

void scale_corners(std::string& stl, float factor) {
  for (std::uint32_t i = 0; i < facets_in(stl); ++i)
    for (std::size_t k = 3; k < 12; ++k) {
      char* at = stl.data() + k_first_facet + k_facet * i + 4 * k;
      float value = 0.0F;
      std::memcpy(&value, at, sizeof value);
      value *= factor;
      std::memcpy(at, &value, sizeof value);
    }
}

TEST(Solids, PassAsTheyAre) {
  EXPECT_EQ(listed(Copy().proved()), "");
}

TEST(Stl, LackingAFacetOrWithOneTurnedOverOrCutShort) {
  const Copy copy;
  std::string stl = bytes_of(copy.file("-metal.stl"));
  const std::uint32_t fewer = facets_in(stl) - 1;
  std::memcpy(stl.data() + 80, &fewer, sizeof fewer);
  put_bytes(copy.file("-metal.stl"), stl.substr(0, stl.size() - k_facet));
  stl = bytes_of(copy.file("-liner.stl"));
  std::swap_ranges(stl.begin() + k_first_facet + 12, stl.begin() + k_first_facet + 24,
                   stl.begin() + k_first_facet + 24);
  put_bytes(copy.file("-liner.stl"), stl);
  stl = bytes_of(copy.file("-bore.stl"));
  put_bytes(copy.file("-bore.stl"), stl.substr(0, stl.size() / 2 + 7));

  const std::vector<CheckResult> results = copy.proved();
  for (const char* check : {"closed metal", "closed liner", "stl bore"})
    EXPECT_TRUE(fails(results, check)) << check;
  for (const char* check : {"re-roll", "audit", "cut", "step", "bore slices", "interference"})
    EXPECT_FALSE(fails(results, check)) << check;
}

TEST(Stl, OfAnotherSize) {
  const Copy copy;
  for (const auto& [end, factor] :
       {std::pair<const char*, float>{"-metal.stl", 25.4F}, {"-liner.stl", 1.001F}, {"-bore.stl", 1.0001F}}) {
    std::string stl = bytes_of(copy.file(end));
    scale_corners(stl, factor);
    put_bytes(copy.file(end), stl);
  }
  const std::vector<CheckResult> results = copy.proved();
  EXPECT_TRUE(fails(results, "stl volume metal"));
  for (const char* name : {"metal", "liner", "bore"}) {
    EXPECT_TRUE(fails(results, std::string("stl edges ") + name)) << name;
    EXPECT_FALSE(fails(results, std::string("closed ") + name)) << name;
  }
}

TEST(Stl, SwappedOrMissing) {
  const Copy copy;
  const std::string metal = bytes_of(copy.file("-metal.stl"));
  put_bytes(copy.file("-metal.stl"), bytes_of(copy.file("-bore.stl")));
  put_bytes(copy.file("-liner.stl"), metal);
  std::filesystem::remove(copy.file("-bore.stl"));
  const std::vector<CheckResult> results = copy.proved();
  for (const char* check : {"stl edges metal", "closed liner", "stl bore"})
    EXPECT_TRUE(fails(results, check)) << check;
}

// The mirror image, and one with its branch moved, have the same volumes to the last digit.
TEST(Solids, OfTheMirrorImageOrWithTheBranchMoved) {
  for (const Flags& other : {with(k_tee, {{"offset", "-50"}}), with(k_tee, {{"position", "400.5"}})}) {
    SCOPED_TRACE(support::written("tee", other));
    const MadeFiles wrong("tee", other);
    // all from the other one, or only the meshes
    const Copy all;
    const Copy meshes;
    for (const char* end : {"-metal.stl", "-liner.stl", "-bore.stl"}) {
      put_bytes(all.file(end), bytes_of(wrong.file(end)));
      put_bytes(meshes.file(end), bytes_of(wrong.file(end)));
    }
    put_bytes(all.file(".step"), bytes_of(wrong.file(".step")));
    std::vector<CheckResult> results = all.proved();
    for (const char* check : {"re-roll body", "step places"}) EXPECT_TRUE(fails(results, check)) << check;
    EXPECT_FALSE(fails(results, "step volumes"));
    results = meshes.proved();
    for (const char* name : {"metal", "liner", "bore"}) {
      EXPECT_TRUE(fails(results, std::string("stl edges ") + name)) << name;
      EXPECT_FALSE(fails(results, std::string("closed ") + name)) << name;
    }
  }
}

TEST(Step, OfAnotherDiameterOrKind) {
  const MadeFiles wider("tee", with(k_tee, {{"diameter", "300.5"}}));
  const Copy copy;
  put_bytes(copy.file(".step"), bytes_of(wider.file(".step")));
  const std::vector<CheckResult> results = copy.proved();
  for (const char* check : {"step volumes", "step fill", "step places", "cover body"})
    EXPECT_TRUE(fails(results, check)) << check;
  const MadeFiles elbow("elbow",
                        {{"diameter", "300"}, {"angle", "90"}, {"pieces", "3"}, {"thickness", "25"}});
  put_bytes(copy.file(".step"), bytes_of(elbow.file(".step")));
  EXPECT_TRUE(fails(copy.proved(), "step parts"));
}

TEST(Step, CutShortOrMissing) {
  const Copy copy;
  const std::string step = bytes_of(copy.file(".step"));
  for (const double share : {0.0, 0.3, 0.8}) {
    put_bytes(copy.file(".step"),
              step.substr(0, static_cast<std::size_t>(share * static_cast<double>(step.size()))));
    EXPECT_TRUE(fails(copy.proved(), "step")) << share;
  }
  std::filesystem::remove(copy.file(".step"));
  EXPECT_TRUE(fails(copy.proved(), "step"));
}

TEST(Files, MissingOrOfAnotherFitting) {
  const Copy copy;
  std::filesystem::remove(copy.file("-body.dxf"));
  const MadeFiles wrong("tee", with(k_tee, {{"branch_diameter", "160.5"}}));
  put_bytes(copy.file("-branch.dxf"), bytes_of(wrong.file("-branch.dxf")));
  const std::vector<CheckResult> results = copy.proved();
  for (const char* check : {"dxf body", "cut branch", "re-roll branch"})
    EXPECT_TRUE(fails(results, check)) << check;
}

}  // namespace
}  // namespace linerwright
