// What the kernel throws is no std::exception: it must never reach a caller as such.
#include <gtest/gtest.h>

#include <BRep_Builder.hxx>
#include <Standard_OutOfRange.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <regex>
#include <sstream>

#include "guard.hpp"
#include "shape.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

std::string read(const std::filesystem::path& file) {
  std::ifstream in(file);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string without_comments(const std::string& text) {
  return std::regex_replace(text, std::regex("//[^\n]*"), "");
}

// The functions that the public header declares.
std::vector<std::string> declared_functions() {
  const std::filesystem::path headers = std::filesystem::path(LINERWRIGHT_SOURCE_DIR) / "include/linerwright";
  const std::string header =
      without_comments(read(headers / "solid/solid.hpp") + read(headers / "solid/mesh_fit.hpp"));
  std::vector<std::string> names;
  const std::regex declaration(R"((?:^|\n)[A-Za-z][A-Za-z0-9_:<>]* (\w+)\([^;]*\);)");
  for (std::sregex_iterator it(header.begin(), header.end(), declaration), end; it != end; ++it)
    names.push_back((*it)[1]);
  return names;
}

TEST(Guard, StandsAroundEveryPublicFunctionThatUsesTheKernel) {
  const std::string entrances = read(std::filesystem::path(LINERWRIGHT_SOURCE_DIR) / "src/solid/public.cpp");
  int guarded_ones = 0;
  for (const std::string& name : declared_functions()) {
    SCOPED_TRACE(name);
    const std::regex wrapped(R"(\n[A-Za-z][A-Za-z0-9_:<>]* )" + name +
                             R"(\([^;{]*\) \{\n  return guarded\("[a-z ]+", \[&\] \{ return kernel::)" +
                             name + R"(\([^;]*\); \}\);\n\})");
    EXPECT_TRUE(std::regex_search(entrances, wrapped));
    ++guarded_ones;
  }
  EXPECT_GE(guarded_ones, 10);
}

TEST(Guard, TurnsWhatTheKernelThrowsIntoAnErrorThatNamesTheOperation) {
  try {
    guarded("slice", []() -> int { throw Standard_OutOfRange("index\nof 7"); });
    FAIL() << "nothing was thrown";
  } catch (const GeometryError& error) {
    EXPECT_STREQ(error.what(), "slice: the kernel stopped with Standard_OutOfRange (index of 7)");
  }
  try {
    guarded("mesh", [] { throw Standard_OutOfRange(); });
    FAIL() << "nothing was thrown";
  } catch (const GeometryError& error) {
    EXPECT_STREQ(error.what(), "mesh: the kernel stopped with Standard_OutOfRange");
  }
  EXPECT_EQ(guarded("nothing", [] { return 3; }), 3);
  EXPECT_THROW(guarded("ours", [] { throw InputError({}); }), InputError);
}

// Shapes at which the kernel throws: an edge without a curve, and nothing at all.
Solid edge_without_curve() {
  BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  TopoDS_Edge edge;
  builder.MakeEdge(edge);
  builder.Add(all, edge);
  return make_solid(all);
}

TEST(Guard, KernelFailuresArriveAsGeometryErrors) {
  const Solid bare = edge_without_curve();
  const Solid nothing = make_solid(TopoDS_Shape());
  const std::vector<std::pair<std::string, std::function<void()>>> calls{
      {"points of edges", [&] { edge_points(bare, 5.0); }},
      {"distance to edges", [&] { distance_to_edges(bare, {Vec3{}}); }},
      {"slice",
       [&] {
         slice_area(nothing, {{0, 0, 0}, {0, 0, 1}});
       }},
      {"slice",
       [&] {
         slice_area_at(nothing, {{0, 0, 0}, {0, 0, 1}});
       }},
      {"slice",
       [&] {
         slice_area(bare, {{0, 0, 0}, {0, 0, 0}});
       }},
      {"line drawing",
       [&] {
         seen_lines({}, {{0, 0, 0}, {0, 0, 0}}, {});
       }},
      {"solids", [&] {
         Fitting fitting =
             support::fitting_from("straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}});
         // an end's plane without a direction
         for (Joint& joint : fitting.joints) joint.target = PlaneTarget{{0, 0, 0}, {0, 0, std::nan("")}};
         build_model(fitting);
       }}};
  for (const auto& [name, call] : calls) {
    try {
      call();
      ADD_FAILURE() << name << ": nothing was thrown";
    } catch (const GeometryError& error) {
      EXPECT_NE(std::string(error.what()), "");
    }
  }
}

}  // namespace
}  // namespace linerwright
