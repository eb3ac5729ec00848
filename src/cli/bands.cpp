#include <algorithm>
#include <exception>
#include <filesystem>
#include <memory>
#include <sstream>

#include <fmt/format.h>

#include "band_flags.hpp"
#include "commands.hpp"
#include "dxf_flags.hpp"
#include "inputs.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/paper/guide_bands_pdf.hpp"
#include "linerwright/units/error.hpp"
#include "text_out.hpp"

namespace linerwright {

namespace {

struct BandArguments {
  Inputs inputs;
  DxfFlags dxf;
  BandFlags bands{""};
  std::string paper = "a4";
  std::string out = "bands";
  bool force = false;
};

struct Made {
  std::vector<Fitting> fittings;
  std::size_t not_made = 0;
  bool failed = false;
};

Made made_of(const Job& job) {
  Made made;
  made.not_made = report_left_out(job);
  for (const FittingRequest& request : job.fittings) {
    try {
      made.fittings.push_back(make_fitting(request));
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems())
        fmt::print(stderr, "linerwright: {}\n", one_line(problem));
      ++made.not_made;
    } catch (const std::exception& error) {
      fmt::print(stderr, "linerwright: {}: {}\n", request.tag, error.what());
      made.failed = true;
    }
  }
  return made;
}

void print_bands(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings) {
  for (const GuideBand& band : bands) {
    double clear = 1e300;
    for (const BandUse& use : band.uses) clear = std::min(clear, use.from_seam);
    const auto shown = [&](double mm) { return shop_length(fittings.front(), mm); };
    fmt::print(
        "{}: {}, {} x {}\n  serves {}\n  lap {} from the nearest seam; rolled, its edge lies within "
        "{} mm of the liner's\n",
        band.id, band.words, shown(band.pattern.board.x), shown(band.pattern.board.y),
        served_by(band, fittings), shown(clear), fixed(edge_error(band, fittings), 3));
  }
}

int run(const BandArguments& arguments) {
  const Job job = arguments.inputs.job();
  const BandSheet sheet = arguments.bands.sheet(job.units);
  const DxfOptions dxf = arguments.dxf.options(job, arguments.inputs.file());
  Paper paper;
  try {
    paper = paper_named(arguments.paper);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{}, 0, {}, "--paper", arguments.paper, {}, error.what()}});
  }
  const Made made = made_of(job);
  const int code = made.not_made > 0 ? 2 : made.failed ? 1 : 0;
  const std::vector<GuideBand> bands = guide_bands(made.fittings, sheet);
  if (bands.empty()) {
    fmt::print("no band is needed: all ends of these pieces are square\n");
    return code;
  }
  for (const GuideBand& band : bands)
    if (const double off = edge_error(band, made.fittings); off > k_chord_error + 1e-3)
      throw GeometryError(
          fmt::format("{}: rolled, its edge is {} mm off the liner's", band.id, fixed(off, 3)));
  std::vector<std::pair<std::string, std::string>> files;
  const auto add = [&](const std::string& name, std::string text) {
    const std::string path = arguments.out + "/" + name;
    refuse_existing(path, arguments.force);
    files.emplace_back(path, std::move(text));
  };
  for (const GuideBand& band : bands) {
    std::ostringstream text;
    write_dxf(text, drawing_of(band.pattern, job.units), dxf);
    add(band.id + ".dxf", text.str());
  }
  add("bands.csv", bands_csv(bands, made.fittings));
  add("bands.pdf", guide_bands_pdf(bands, made.fittings, paper));
  std::error_code error;
  std::filesystem::create_directories(arguments.out, error);
  if (error) throw WriteError(arguments.out + ": cannot be made: " + error.message());
  for (const auto& [path, text] : files) write_text_out(path, text);
  print_bands(bands, made.fittings);
  fmt::print(
      "\n{} bands in {}: a band is made once per size and angle, and kept.\nWear gloves and eye protection: "
      "thin sheet and knives cut; take off the burrs before a band is clamped.\n",
      bands.size(), arguments.out);
  return code;
}

}  // namespace

void add_bands(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand(
      "bands", "guide bands of thin sheet for cutting mitres and saddles by hand, as DXF and on paper");
  auto arguments = std::make_shared<BandArguments>();
  arguments->inputs.add_to(*command,
                           [&action, arguments] { action = [arguments] { return run(*arguments); }; });
  arguments->dxf.add_to(*command);
  arguments->bands.add_to(*command);
  command->add_option("--paper", arguments->paper,
                      "paper of bands.pdf: a4, a3, letter, tabloid or a roll as roll=36in [a4]");
  command->add_option("--out", arguments->out, "folder for them [bands]");
  command->add_flag("--force", arguments->force, "write over files that are there");
}

}  // namespace linerwright
