// Meshes and solids spoilt on disk, or of another fitting: each is caught by the check that is meant to.
#include "written.hpp"

namespace linerwright {
namespace {

using support::failed;
using support::has;
using support::listed;
using support::with;
using support::Written;

const support::Flags k_tee{{"diameter", "300"},      {"length", "900"}, {"branch_diameter", "150"},
                           {"branch_length", "400"}, {"offset", "40"},  {"thickness", "25"}};

const Written& tee() {
  static const Written written("tee", k_tee);
  return written;
}

std::vector<std::string> with_meshes(PartRole role, const std::string& name,
                                     const std::function<void(std::vector<Mesh>&)>& spoil) {
  std::vector<Mesh> meshes = tee().meshes(role);
  const std::vector<Mesh> good = meshes;
  spoil(meshes);
  tee().write_meshes(name, meshes);
  const auto names = failed(tee().check_meshes());
  tee().write_meshes(name, good);
  return names;
}

TEST(CorruptStl, FacetsMissingOrTurned) {
  for (const auto& [role, name] : {std::pair<PartRole, std::string>{PartRole::metal, "metal"},
                                   {PartRole::liner, "liner"},
                                   {PartRole::bore, "bore"}}) {
    EXPECT_TRUE(with_meshes(role, name, [](auto&) {}).empty()) << name;
    EXPECT_TRUE(
        has(with_meshes(role, name, [](auto& all) { all.back().triangles.pop_back(); }), "closed " + name));
    EXPECT_TRUE(has(
        with_meshes(role, name, [](auto& all) { std::swap(all[0].triangles[7][0], all[0].triangles[7][1]); }),
        "closed " + name));
    EXPECT_TRUE(has(with_meshes(role, name,
                                [](auto& all) {
                                  for (auto& facet : all.back().triangles) std::swap(facet[0], facet[1]);
                                }),
                    "stl volume " + name));
  }
  EXPECT_TRUE(has(with_meshes(PartRole::liner, "liner", [](auto& all) { all.pop_back(); }), "closed liner"));
  EXPECT_TRUE(has(with_meshes(PartRole::liner, "liner", [](auto& all) { all.push_back(all.front()); }),
                  "closed liner"));
}

// A corner of an edge pulled along it, off it into a face, or off everything.
TEST(CorruptStl, ACornerMoved) {
  int moved = 0;
  for (const std::size_t corner : {std::size_t{0}, std::size_t{5}, std::size_t{17}, std::size_t{60}})
    for (const Vec3 by : {Vec3{3.0, 0.0, 0.0}, Vec3{0.0, -3.0, 0.0}, Vec3{0.0, 0.0, 3.0}}) {
      const auto names = with_meshes(PartRole::liner, "liner",
                                     [&](auto& all) { all[0].points[corner] = all[0].points[corner] + by; });
      EXPECT_TRUE(has(names, "stl edges liner") || has(names, "stl corners liner")) << corner;
      ++moved;
    }
  EXPECT_EQ(moved, 12);
  // two facets with the other diagonal, across an edge of the solid: every corner in its place, the edge gone
  const auto names = with_meshes(PartRole::metal, "metal", [&](auto& all) {
    Mesh& mesh = all[0];
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
      for (std::size_t k = i + 1; k < mesh.triangles.size(); ++k)
        for (std::size_t a = 0; a < 3; ++a)
          for (std::size_t b = 0; b < 3; ++b) {
            auto& first = mesh.triangles[i];
            auto& second = mesh.triangles[k];
            if (first[a] != second[(b + 1) % 3] || first[(a + 1) % 3] != second[b]) continue;
            const auto normal = [&](const std::array<int, 3>& facet) {
              const auto at = [&](std::size_t c) { return mesh.points[static_cast<std::size_t>(facet[c])]; };
              const Vec3 area = cross(at(1) - at(0), at(2) - at(0));
              return (1.0 / norm(area)) * area;
            };
            if (dot(normal(first), normal(second)) > 0.5) continue;
            const int p = first[(a + 2) % 3];
            const int q = second[(b + 2) % 3];
            const int from = first[a];
            const int to = first[(a + 1) % 3];
            first = {p, from, q};
            second = {q, to, p};
            return;
          }
  });
  EXPECT_TRUE(has(names, "stl edges metal"));
}

TEST(CorruptStl, ScaledMirroredOrMoved) {
  const auto each = [](const std::function<Vec3(Vec3)>& move, bool mirrors = false) {
    return [=](std::vector<Mesh>& all) {
      for (Mesh& mesh : all) {
        for (Vec3& p : mesh.points) p = move(p);
        if (mirrors)
          for (auto& facet : mesh.triangles) std::swap(facet[0], facet[1]);
      }
    };
  };
  for (const auto& [role, name] : {std::pair<PartRole, std::string>{PartRole::metal, "metal"},
                                   {PartRole::liner, "liner"},
                                   {PartRole::bore, "bore"}}) {
    for (const double factor : {1.001, 1.0 / 25.4, 1000.0})
      EXPECT_TRUE(has(with_meshes(role, name, each([=](Vec3 p) { return factor * p; })), "stl edges " + name))
          << name << " " << factor;
    EXPECT_TRUE(has(with_meshes(role, name, each([](Vec3 p) {
                                  return p + Vec3{0.0, 0.0, 0.5};
                                })),
                    "stl edges " + name));
    EXPECT_TRUE(has(with_meshes(role, name,
                                each(
                                    [](Vec3 p) {
                                      return Vec3{p.x, -p.y, p.z};
                                    },
                                    true)),
                    "stl edges " + name));
  }
}

TEST(CorruptStl, FilesMissingOrCutShort) {
  const auto path = tee().file("f-liner.stl");
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  std::filesystem::remove(path);
  EXPECT_EQ(failed(tee().check()), std::vector<std::string>{"stl liner"});
  for (const std::string& broken : {std::string(), text.str().substr(0, text.str().size() - 10)}) {
    std::ofstream(path, std::ios::binary) << broken;
    EXPECT_EQ(failed(tee().check_meshes()), std::vector<std::string>{"stl liner"}) << broken.size();
  }
  std::ofstream(path, std::ios::binary) << text.str();
}

// The STEP of another fitting in place of this one's.
std::vector<std::string> with_step(const std::function<void(const std::filesystem::path&)>& write) {
  write(tee().file("f.step"));
  const auto names = failed(tee().check());
  write_step(tee().file("f.step"), tee().fitting, tee().model);
  return names;
}

std::vector<std::string> with_step_of(const support::Flags& flags) {
  return with_step([&](const std::filesystem::path& path) {
    const Fitting other = support::fitting_from("tee", flags);
    write_step(path, other, build_model(other));
  });
}

TEST(CorruptStep, OfAnotherFitting) {
  EXPECT_EQ(with_step_of(k_tee), std::vector<std::string>{});
  const auto wide = with_step_of(with(k_tee, {{"diameter", "301"}}));
  for (const char* name : {"re-roll body", "re-roll branch", "step volumes", "step places", "step edges",
                           "bore slices", "stl edges bore"})
    EXPECT_TRUE(has(wide, name)) << name;
  // the branch on the other side: every volume is the same
  const auto mirrored = with_step_of(with(k_tee, {{"offset", "-40"}}));
  for (const char* name : {"re-roll body", "cover body", "step places", "step edges", "stl edges liner"})
    EXPECT_TRUE(has(mirrored, name)) << name;
  EXPECT_FALSE(has(mirrored, "step volumes"));
  const auto thin = with_step_of(with(k_tee, {{"thickness", "24"}}));
  for (const char* name : {"re-roll body", "step volumes", "step places", "bore slices"})
    EXPECT_TRUE(has(thin, name)) << name;
  // metal alone is thicker: liner and bore are as they should be
  const auto heavy = with_step_of(with(k_tee, {{"gauge", "1.1"}}));
  for (const char* name : {"step volumes", "step edges"}) EXPECT_TRUE(has(heavy, name)) << name;
  EXPECT_FALSE(has(heavy, "re-roll body"));
}

TEST(CorruptStep, PartsMissingOrRenamed) {
  const auto with_parts = [&](const std::function<void(std::vector<Part>&)>& change) {
    return with_step([&](const std::filesystem::path& path) {
      Model model = tee().model;
      change(model.parts);
      write_step(path, tee().fitting, model);
    });
  };
  for (std::size_t gone = 0; gone < tee().model.parts.size(); ++gone)
    EXPECT_TRUE(
        has(with_parts([&](auto& parts) { parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(gone)); }),
            "step parts"));
  const auto swapped = with_parts([](auto& parts) { std::swap(parts[1].name, parts[2].name); });
  EXPECT_TRUE(has(swapped, "re-roll body") && has(swapped, "step volumes"));
}

TEST(CorruptStep, FilesMissingOrBroken) {
  for (const std::string& content :
       {std::string("-"), std::string(), std::string("ISO-10303-21;\nHEADER;\n")}) {
    const auto names = with_step([&](const std::filesystem::path& path) {
      std::filesystem::remove(path);
      if (content != "-") std::ofstream(path, std::ios::binary) << content;
    });
    // patterns can no longer be rolled onto anything: they say so
    EXPECT_TRUE(has(names, "step") && has(names, "re-roll body") && has(names, "re-roll branch"));
  }
}

}  // namespace
}  // namespace linerwright
