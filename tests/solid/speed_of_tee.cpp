// A tee by construction beside the same tee by booleans of plain cylinders, in turn, on one core.
//   speed_of_tee [REPEATS]
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <sstream>
#include <string>
#include <vector>

#include "boolean_tee.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/solid/solid.hpp"
#include "support/requests.hpp"

namespace {

using namespace linerwright;
using support::Flags;

template <class F>
double cpu_ms(F&& work) {
  const std::clock_t start = std::clock();
  work();
  return 1e3 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

// "31 (30 to 35)": median, least and most.
std::string spread(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return fmt::format("{:.1f} ({:.1f} to {:.1f})", times[times.size() / 2], times.front(), times.back());
}

// Solids with their gate, patterns and STL, as make does them.
void everything(const Flags& flags) {
  const Fitting fitting = support::fitting_from("tee", flags);
  const Model model = build_model(fitting);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const double thinnest = std::min(fitting.liner.gauge, fitting.liner.thickness);
  for (const PartRole role : {PartRole::metal, PartRole::liner, PartRole::bore}) {
    std::vector<Mesh> meshes;
    for (const Part& part : model.parts)
      if (part.role == role) meshes.push_back(mesh_of(part.solid, {}, thinnest));
    std::ostringstream stl;
    write_stl(stl, meshes, "speed");
  }
}

void compare(const std::string& name, const Flags& flags, int repeats) {
  std::vector<double> constructed, carved, all;
  double apart = 0.0;
  for (int i = 0; i < repeats; ++i) {
    const Fitting fitting = support::fitting_from("tee", flags);
    Model model;
    support::BooleanTee tee;
    constructed.push_back(cpu_ms([&] { model = build_model(fitting); }));
    carved.push_back(cpu_ms([&] { tee = support::boolean_tee(fitting, 3000.0, 1400.0); }));
    all.push_back(cpu_ms([&] { everything(flags); }));
    const double volume = support::kernel_volume_of(tee.liner);
    apart = std::max(apart, std::fabs(model.liner_volume / volume - 1.0));
  }
  fmt::print("| {} | {} | {} | {} | {:.0e} |\n", name, spread(constructed), spread(carved), spread(all),
             apart);
}

}  // namespace

int main(int argc, char** argv) {
  const int repeats = argc > 1 ? std::atoi(argv[1]) : 25;
  if (argc > 2 || repeats < 1) {
    fmt::print(stderr, "usage: speed_of_tee [REPEATS]\n");
    return 2;
  }
  try {
    const Flags tee{{"diameter", "600"},
                    {"branch_diameter", "400"},
                    {"thickness", "25"},
                    {"length", "3000"},
                    {"branch_length", "1400"}};
    fmt::print(
        "| tee, CPU ms: median of {} (least to most) | solids by construction | solids by booleans | solids, "
        "patterns and STL "
        "| liner volumes apart, relative |\n| --- | --- | --- | --- | --- |\n",
        repeats);
    compare("400 on 600", tee, repeats);
    compare("600 on 600", support::with(tee, {{"branch_diameter", "600"}}), repeats);
    compare("300 on 600 at 45 degrees", support::with(tee, {{"branch_diameter", "300"}, {"angle", "45"}}),
            repeats);
    compare("300 on 600, 100 off centre", support::with(tee, {{"branch_diameter", "300"}, {"offset", "100"}}),
            repeats);
  } catch (const std::exception& error) {
    fmt::print(stderr, "speed_of_tee: {}\n", error.what());
    return 1;
  }
  return 0;
}
