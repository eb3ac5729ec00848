// STL and STEP: written, read back, read by a reader that is not ours, and broken.
#include <gtest/gtest.h>

#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "cases.hpp"
#include "kernel.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/folder.hpp"

namespace linerwright {
namespace {

using support::bytes_of;
using support::Case;
using support::fitting_from;
using support::Flags;
using support::Folder;

const Flags k_tee{{"diameter", "300"},
                  {"length", "900"},
                  {"branch_diameter", "200"},
                  {"branch_length", "400"},
                  {"thickness", "25"}};

std::vector<Mesh> meshes_of(const Fitting& fitting, const Model& model) {
  std::vector<Mesh> meshes;
  for (const Part& part : model.parts)
    meshes.push_back(mesh_of(part.solid, MeshOptions{}, support::thinnest(fitting)));
  return meshes;
}

std::string stl_of(const std::vector<Mesh>& meshes, const std::string& title) {
  std::ostringstream out;
  write_stl(out, meshes, title);
  return out.str();
}

std::string message_of(const std::string& bytes) {
  std::istringstream in(bytes);
  try {
    read_stl(in, "piece.stl");
  } catch (const InputError& error) {
    EXPECT_EQ(error.problems().size(), 1U);
    return one_line(error.problems().front());
  }
  return {};
}

// Layout of a binary STL: 80 bytes, a count, 50 bytes a facet (P. Bourke, paulbourke.net/dataformats/stl).
TEST(Stl, LayoutAndRoundTrip) {
  const Fitting fitting = fitting_from("tee", k_tee);
  const Model model = build_model(fitting);
  const std::vector<Mesh> meshes = meshes_of(fitting, model);
  const std::string bytes = stl_of(meshes, "solid \xC3\xA9\n tee");
  std::size_t facets = 0;
  for (const Mesh& mesh : meshes) facets += mesh.triangles.size();
  EXPECT_EQ(bytes.size(), 84 + 50 * facets);
  EXPECT_NE(bytes.substr(0, 5), "solid");
  for (const char c : bytes.substr(0, 80)) EXPECT_TRUE(c >= ' ' && c <= '~');
  std::istringstream in(bytes);
  const std::vector<Mesh> back = split_bodies(read_stl(in, "tee.stl"));
  ASSERT_EQ(back.size(), meshes.size());
  for (std::size_t i = 0; i < back.size(); ++i) {
    EXPECT_EQ(open_edges(back[i]), 0);
    EXPECT_EQ(back[i].triangles.size(), meshes[i].triangles.size());
    EXPECT_NEAR(mesh_volume(back[i]) / mesh_volume(meshes[i]), 1.0, 1e-5);  // single precision
    const Vec3 p = meshes[i].points[static_cast<std::size_t>(meshes[i].triangles[0][0])];
    const Vec3 q = back[i].points[static_cast<std::size_t>(back[i].triangles[0][0])];
    EXPECT_LE(distance(p, q), 1e-4);
  }
  // normals point as the corners turn
  for (std::size_t f = 0; f < facets; f += 97) {
    float v[12];
    std::memcpy(v, bytes.data() + 84 + 50 * f, sizeof v);
    const auto at = [&](std::size_t k) {
      return Vec3{static_cast<double>(v[k]), static_cast<double>(v[k + 1]), static_cast<double>(v[k + 2])};
    };
    const Vec3 turn = cross(at(6) - at(3), at(9) - at(3));
    EXPECT_NEAR(dot(at(0), normalised(turn)), 1.0, 1e-5);
  }
}

// admesh reads the files: every facet has its three neighbours, nothing has to be mended.
TEST(Stl, AdmeshFindsNothingToMend) {
  Folder folder;
  if (std::system("command -v admesh > /dev/null 2>&1") != 0) GTEST_SKIP() << "admesh is not installed";
  int files = 0;
  for (const char* name : {"elbow_pieces_5", "smooth_collar", "reducer_collars", "reducer_flat", "tee",
                           "tee_equal", "lateral_15", "lateral_near_equal", "tee_over", "conical", "cross"}) {
    const auto& cases = support::solid_cases();
    const auto of =
        std::find_if(cases.begin(), cases.end(), [&](const Case& each) { return each.name == name; });
    ASSERT_NE(of, cases.end()) << name;
    const Fitting fitting = fitting_from(of->kind, of->flags);
    const Model model = build_model(fitting);
    const std::vector<Mesh> meshes = meshes_of(fitting, model);
    for (std::size_t i = 0; i < meshes.size(); ++i) {
      const auto file = (folder.path() / "part.stl");
      std::ofstream(file, std::ios::binary) << stl_of({meshes[i]}, name);
      const auto report = (folder.path() / "report.txt");
      const std::string command = fmt::format("admesh '{}' > '{}' 2>&1", file.string(), report.string());
      ASSERT_EQ(std::system(command.c_str()), 0);
      const std::string text = bytes_of(report);
      const auto number_after = [&](const std::string& label) {
        const std::size_t at = text.find(label);
        if (at == std::string::npos) return -1;
        return std::atoi(text.c_str() + text.find(':', at) + 1);
      };
      SCOPED_TRACE(std::string(name) + ' ' + model.parts[i].name + '\n' + text);
      EXPECT_EQ(number_after("Number of facets"), static_cast<int>(meshes[i].triangles.size()));
      EXPECT_EQ(number_after("Total disconnected facets"), 0);
      EXPECT_EQ(number_after("Number of parts"), 1);
      for (const char* label : {"Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
                                "Facets reversed", "Backwards edges"})
        EXPECT_EQ(number_after(label), 0) << label;
      ++files;
    }
  }
  EXPECT_GT(files, 40);
}

TEST(Stl, ReadsTextFiles) {
  const std::string text =
      "solid a name with words\r\n"
      "  facet normal 0 0 -1\n outer loop\n vertex 0 0 0\n vertex 0 1e0 0\n vertex +1 0 0\n endloop\n "
      "endfacet\n"
      "  facet normal 0 0 0\n outer loop\n vertex 0 0 0\n vertex 1 0 0\n vertex 0 0 1\n endloop\n endfacet\n"
      "  facet normal 0 0 0\n outer loop\n vertex 0 0 0\n vertex 0 0 1\n vertex 0 1 0\n endloop\n endfacet\n"
      "endsolid a name with words\n"
      "solid\n"
      "  facet normal 1 1 1\n outer loop\n vertex 1 0 0\n vertex 0 1 0\n vertex 0 -0 1\n endloop\n endfacet\n"
      "endsolid\n";
  std::istringstream in(text);
  const Mesh mesh = read_stl(in, "t.stl");
  EXPECT_EQ(mesh.points.size(), 4U);
  EXPECT_EQ(mesh.triangles.size(), 4U);
  EXPECT_EQ(open_edges(mesh), 0);
  EXPECT_NEAR(mesh_volume(mesh), 1.0 / 6.0, 1e-7);
  // a text file shorter than a binary header
  EXPECT_EQ(message_of("solid x\nendsolid x\n"), "");
}

TEST(Stl, ReadsABinaryFileThatBeginsWithSolid) {
  Mesh one;
  one.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  one.triangles = {{0, 1, 2}};
  std::string bytes = stl_of({one}, "x");
  bytes.replace(0, 5, "solid");
  std::istringstream in(bytes);
  EXPECT_EQ(read_stl(in, "x.stl").triangles.size(), 1U);
}

TEST(Stl, RefusesBrokenFiles) {
  Mesh one;
  one.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  one.triangles = {{0, 1, 2}, {2, 1, 0}};
  const std::string good = stl_of({one}, "x");
  EXPECT_EQ(message_of(good), "");
  EXPECT_EQ(message_of(""), "piece.stl: too short for an STL file");
  EXPECT_EQ(message_of(good.substr(0, 83)), "piece.stl: too short for an STL file");
  EXPECT_EQ(message_of(good.substr(0, 184 - 1)), "piece.stl: the file ends after 1 of 2 facets");
  EXPECT_EQ(message_of(good.substr(0, 100)), "piece.stl: the file ends after 0 of 2 facets");
  EXPECT_EQ(message_of(good + "x"), "piece.stl: bytes follow after the 2 facets it says it has");
  // a count of four thousand million facets costs no memory
  std::string bold = good;
  bold.replace(80, 4, "\xFF\xFF\xFF\xFF");
  EXPECT_EQ(message_of(bold), "piece.stl: says it has 4294967295 facets, more than any solid");
  std::string nan = good;
  nan.replace(84 + 12, 4, std::string("\x00\x00\xC0\x7F", 4));
  EXPECT_EQ(message_of(nan), "piece.stl: a corner is not a number");
  EXPECT_EQ(message_of("solid x\n facet normal 0 0\n"), "piece.stl:3: '' is not a number");
  EXPECT_EQ(message_of("solid x\n facet normal 0 0 zero\n"), "piece.stl:2: 'zero' is not a number");
  EXPECT_EQ(message_of("solid x\n facet normal 0 0 1e999\n"), "piece.stl:2: '1e999' is not a number");
  EXPECT_EQ(message_of("solid x\n facet normal 0 0 1\nouter lap"), "piece.stl:3: 'lap' instead of 'loop'");
  EXPECT_EQ(message_of("solid x\n"), "piece.stl:2: the file ends without 'endsolid'");
  EXPECT_EQ(message_of("solid x\n" + std::string(1000, 'a')),
            "piece.stl:2: a word is too long for a text STL");
}

TEST(Step, ReadsBackWithNamesAndVolumes) {
  Folder folder;
  int files = 0;
  const std::vector<std::string> names = support::drawn<std::string>(
      "solids", {"straight", "elbow_pieces_5", "smooth_collar", "reducer_collars", "reducer_flat", "tee",
                 "tee_equal", "lateral_near_equal", "tee_through", "conical", "cross"});
  for (const std::string& name : names) {
    const auto& cases = support::solid_cases();
    const auto of =
        std::find_if(cases.begin(), cases.end(), [&](const Case& each) { return each.name == name; });
    ASSERT_NE(of, cases.end()) << name;
    SCOPED_TRACE(name);
    const Fitting fitting = fitting_from(of->kind, of->flags);
    const Model model = build_model(fitting);
    write_step(folder.path() / "a.step", fitting, model);
    const std::vector<Part> parts = read_step(folder.path() / "a.step");
    ASSERT_EQ(parts.size(), model.parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
      EXPECT_EQ(parts[i].name, model.parts[i].name);
      EXPECT_EQ(parts[i].role, model.parts[i].role);
      EXPECT_EQ(parts[i].piece, model.parts[i].piece);
      EXPECT_NEAR(parts[i].volume / model.parts[i].volume, 1.0, 1e-8);
      // The kernel's reader draws an ellipse on its cylinder through 23 places, a few thousandths of a
      // millimetre off; its own integral then follows that. The file's ellipses are exact (cli.step).
      const double reader = name == "elbow_pieces_5" || name == "smooth_collar" ? 1e-5 : 1e-7;
      EXPECT_NEAR(support::kernel_volume_of(parts[i].solid.shape().shape) / model.parts[i].volume, 1.0,
                  reader);
      // what was read meshes like what was written
      const Mesh mesh = mesh_of(parts[i].solid, MeshOptions{}, support::thinnest(fitting));
      EXPECT_EQ(open_edges(mesh), 0);
    }
    ++files;
  }
  EXPECT_EQ(files, static_cast<int>(names.size()));
}

TEST(Step, NamesColoursUnitsAndSchema) {
  Folder folder;
  const Fitting fitting = fitting_from("tee", support::with(k_tee, {{"tag", "T-'1'\xC3\xA9"}}));
  write_step(folder.path() / "a.step", fitting, build_model(fitting));
  const std::string text = bytes_of(folder.path() / "a.step");
  for (const char c : text) ASSERT_TRUE((c >= ' ' && c <= '~') || c == '\n');
  const auto count = [&](const std::string& word) {
    int found = 0;
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
    return found;
  };
  EXPECT_EQ(count("'2000-01-01T00:00:00'"), 1);
  EXPECT_EQ(count("AUTOMOTIVE_DESIGN"), 1);
  EXPECT_GE(count("SI_UNIT(.MILLI.,.METRE.)"), 1);
  EXPECT_EQ(count("MANIFOLD_SOLID_BREP("), 4);
  EXPECT_EQ(count("COLOUR_RGB("), 4);  // metal, two tints of liner, bore
  for (const char* name : {"'metal'", "'liner body'", "'liner branch'", "'bore'"})
    EXPECT_GE(count(name), 2) << name;  // the product and its solid
  EXPECT_GE(count("'T-_1___'"), 1);
}

TEST(Files, SameInputSameBytes) {
  Folder folder;
  std::string stl[2];
  std::string step[2];
  for (const char* name : {"tee", "elbow_collar", "smooth_collar", "reducer_flat"}) {
    const auto& cases = support::solid_cases();
    const auto of =
        std::find_if(cases.begin(), cases.end(), [&](const Case& each) { return each.name == name; });
    ASSERT_NE(of, cases.end());
    for (int run = 0; run < 2; ++run) {
      const Fitting fitting = fitting_from(of->kind, of->flags);
      const Model model = build_model(fitting);
      if (run == 1) meshes_of(fitting, model);  // what was asked before leaves no trace
      stl[run] = stl_of(meshes_of(fitting, model), fitting.tag);
      write_step(folder.path() / "a.step", fitting, model);
      step[run] = bytes_of(folder.path() / "a.step");
    }
    EXPECT_TRUE(stl[0] == stl[1]) << name;
    EXPECT_TRUE(step[0] == step[1]) << name;
    EXPECT_GT(stl[0].size(), 10000U);
    EXPECT_GT(step[0].size(), 10000U);
  }
}

TEST(Step, SaysWhyAFileCannotBeWrittenOrRead) {
  Folder folder;
  const Fitting fitting =
      fitting_from("straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}});
  const Model model = build_model(fitting);
  EXPECT_THROW(write_step(folder.path() / "none" / "a.step", fitting, model), WriteError);
  const auto reason = [&](const std::string& bytes) {
    std::ofstream(folder.path() / "b.step", std::ios::binary) << bytes;
    try {
      read_step(folder.path() / "b.step");
    } catch (const InputError& error) {
      return error.problems().front().reason;
    }
    return std::string("accepted");
  };
  EXPECT_THROW(read_step(folder.path() / "missing.step"), InputError);
  EXPECT_EQ(reason(""), "not a STEP file: it does not begin with ISO-10303-21;");
  EXPECT_EQ(reason("solid x\n endsolid x, and more"),
            "not a STEP file: it does not begin with ISO-10303-21;");
  write_step(folder.path() / "a.step", fitting, model);
  const std::string good = bytes_of(folder.path() / "a.step");
  EXPECT_EQ(reason(good), "accepted");
  EXPECT_NE(reason(good.substr(0, 200)), "accepted");
  EXPECT_NE(reason("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"), "accepted");
}

}  // namespace
}  // namespace linerwright
