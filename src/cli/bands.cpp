#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>
#include <sstream>

#include <fmt/format.h>

#include "band_flags.hpp"
#include "commands.hpp"
#include "dxf_flags.hpp"
#include "inputs.hpp"
#include "job_messages.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/making/shape_job.hpp"
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

// The fittings of a job without their patterns, and how many of them there are not.
struct Fittings : Shaping {
  explicit Fittings(std::size_t count) : made(count), why(count) {}
  std::vector<std::optional<Fitting>> made;
  std::vector<std::optional<MakingFailed>> why;

  void shaped(std::size_t i, Shaped&& shaped) override { made[i] = std::move(shaped.fitting); }
  void failed(std::size_t i, MakingFailed&& not_made) override { why[i] = std::move(not_made); }
};

struct Made {
  std::vector<Fitting> fittings;
  int code = 0;
};

Made made_of(const Job& job) {
  Made made;
  if (report_left_out(job) > 0) made.code = 2;
  Fittings all(job.fittings.size());
  shape_all(job.fittings, all_cores(), all, false);
  for (std::size_t i = 0; i < job.fittings.size(); ++i) {
    if (all.made[i]) made.fittings.push_back(std::move(*all.made[i]));
    if (!all.why[i]) continue;
    for (const std::string& line : all.why[i]->lines) fmt::print(stderr, "linerwright: {}\n", line);
    made.code = std::max(made.code, all.why[i]->exit_code);
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
  const std::vector<GuideBand> bands = guide_bands(made.fittings, sheet);
  if (bands.empty()) {
    fmt::print("no band is needed: all ends of these pieces are square\n");
    return made.code;
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
  return made.code;
}

}  // namespace

void add_bands(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<BandArguments>();
  arguments->inputs.add_to(
      program, command, [&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
  arguments->dxf.add_to(command);
  arguments->bands.add_to(command);
  command.add_option("--paper", arguments->paper,
                     "paper of bands.pdf: a4, a3, letter, tabloid or a roll as roll=36in [a4]");
  command.add_option("--out", arguments->out, "folder for them [bands]");
  command.add_flag("--force", arguments->force, "write over files that are there");
}

}  // namespace linerwright
