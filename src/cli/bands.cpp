#include <algorithm>
#include <exception>
#include <filesystem>
#include <memory>
#include <sstream>

#include <fmt/format.h>

#include "commands.hpp"
#include "dxf_flags.hpp"
#include "inputs.hpp"
#include "linerwright/error.hpp"
#include "linerwright/guide_bands_pdf.hpp"
#include "linerwright/shop_words.hpp"
#include "text_out.hpp"

namespace linerwright {

namespace {

struct BandArguments {
  Inputs inputs;
  DxfFlags dxf;
  std::string sheet = "0.8mm", width = "60mm", lap = "40mm", bolt = "7mm";
  std::string paper = "a4";
  std::string out = "bands";
  bool force = false;
};

double length_of(const char* flag, const std::string& text, Units units, double least, double most) {
  const auto shown = [&](double mm) { return format_quantity(Quantity::length, mm, units); };
  const std::string allowed = fmt::format("{} to {}", shown(least), shown(most));
  double value = 0.0;
  try {
    value = parse_quantity(Quantity::length, text, units);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{}, 0, {}, flag, text, allowed, error.what()}});
  }
  if (!(value >= least && value <= most))
    throw InputError({Problem{{}, 0, {}, flag, text, allowed, "lies outside what a band can be made with"}});
  return value;
}

BandSheet sheet_of(const BandArguments& arguments, Units units) {
  BandSheet sheet;
  sheet.thickness = length_of("--sheet", arguments.sheet, units, 0.2, 5.0);
  sheet.width = length_of("--width", arguments.width, units, 20.0, 500.0);
  sheet.lap = length_of("--lap", arguments.lap, units, 15.0, 300.0);
  sheet.bolt = length_of("--bolt", arguments.bolt, units, 2.0, 20.0);
  if (2.0 * sheet.bolt > std::min(sheet.lap, 0.5 * sheet.width))
    throw InputError({Problem{{},
                              0,
                              {},
                              "--bolt",
                              arguments.bolt,
                              "at most half of the lap and a quarter of the width",
                              "two holes have to find room in the lap"}});
  return sheet;
}

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

std::string served(const GuideBand& band, const std::vector<Fitting>& fittings) {
  std::string out;
  for (const BandUse& use : band.uses)
    out += fmt::format("{}{}/{} {} end", out.empty() ? "" : "; ", fittings[use.fitting].tag, use.piece,
                       use.high ? "upper" : "lower");
  return out;
}

std::string quoted(const std::string& text) {
  return text.find_first_of(",\"\n") == std::string::npos ? text : fmt::format("\"{}\"", text);
}

std::string table_of(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings) {
  constexpr double k_degrees = 180.0 / k_pi;
  std::string out = "band,what,liner_outside_mm,around_mm,along_mm,serves,around_deg,x_mm,y_mm,lean_deg\n";
  for (const GuideBand& band : bands)
    for (const BandStation& station : band.stations)
      out +=
          fmt::format("{},{},{},{},{},{},{},{},{},{}\n", quoted(band.id), quoted(band.words),
                      fixed(band.outside, 3), fixed(band.pattern.board.x, 3), fixed(band.pattern.board.y, 3),
                      quoted(served(band, fittings)), fixed(station.around * k_degrees, 3),
                      fixed(station.at.x, 3), fixed(station.at.y, 3), fixed(station.lean * k_degrees, 3));
  return out;
}

void print_bands(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings) {
  for (const GuideBand& band : bands) {
    double clear = 1e300;
    for (const BandUse& use : band.uses) clear = std::min(clear, use.from_seam);
    const auto shown = [&](double mm) { return shop_length(fittings.front(), mm); };
    fmt::print(
        "{}: {}, {} x {}\n  serves {}\n  lap {} from the nearest seam; rolled, its edge lies within "
        "{} mm of the liner's\n",
        band.id, band.words, shown(band.pattern.board.x), shown(band.pattern.board.y), served(band, fittings),
        shown(clear), fixed(edge_error(band, fittings), 3));
  }
}

int run(const BandArguments& arguments) {
  const Job job = arguments.inputs.job();
  const BandSheet sheet = sheet_of(arguments, job.units);
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
  add("bands.csv", table_of(bands, made.fittings));
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
  command->add_option("--sheet", arguments->sheet, "thickness of the bands' sheet [0.8mm]");
  command->add_option("--width", arguments->width, "width of a band where it is narrowest [60mm]");
  command->add_option("--lap", arguments->lap, "lap of its ends, where it is clamped [40mm]");
  command->add_option("--bolt", arguments->bolt, "diameter of the bolt holes in the lap [7mm]");
  command->add_option("--paper", arguments->paper,
                      "paper of bands.pdf: a4, a3, letter, tabloid or a roll as roll=36in [a4]");
  command->add_option("--out", arguments->out, "folder for them [bands]");
  command->add_flag("--force", arguments->force, "write over files that are there");
}

}  // namespace linerwright
