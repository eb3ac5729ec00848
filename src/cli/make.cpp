#include <algorithm>
#include <cstdio>
#include <memory>

#include <fmt/format.h>

#include "band_flags.hpp"
#include "board_flags.hpp"
#include "commands.hpp"
#include "dxf_flags.hpp"
#include "inputs.hpp"
#include "job_messages.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"
#include "progress.hpp"

namespace linerwright {

namespace {

struct MakeOptions {
  Inputs inputs;
  DxfFlags dxf;
  BoardFlags setup;
  bool nest = false;
  std::string out = "models-out";
  std::string mesh = "0.1mm";
  bool patterns_only = false;
  bool no_pages = false;
  std::string pages = "whole";
  bool png = false;
  bool glb = false;
  bool bands = false;
  BandFlags band_sheet{"band-"};
  std::string templates;
  bool half_templates = false;
  std::string sheet_paper;
  std::string sheet_units;
  bool verbose = false;
  bool json = false;
  bool csv = false;
  bool force = false;
  bool no_sync = false;
  std::string shard;
  int jobs = 0;
};

// Paper of that name, but no roll.
Paper sheet_paper(const std::string& name) {
  std::string why = "sheets are printed on paper of a size, not on a roll";
  try {
    Paper paper = paper_named(name);
    if (!paper.roll) return paper;
  } catch (const std::invalid_argument& error) {
    why = error.what();
  }
  throw InputError({Problem{{}, 0, {}, "--sheet-paper", name, "a4, a3, letter or tabloid", why}});
}

OutputOptions output_options(const MakeOptions& made, Units units) {
  OutputOptions options;
  options.patterns_only = made.patterns_only;
  options.pages = !made.no_pages;
  options.png = made.png;
  options.glb = made.glb;
  if (made.bands) options.bands = made.band_sheet.sheet(units);
  options.shared_script = made.pages == "shared";
  options.force = made.force;
  options.half_templates = made.half_templates;
  try {
    if (!made.templates.empty()) options.templates = paper_named(made.templates);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{},
                              0,
                              {},
                              "--templates",
                              made.templates,
                              "a4, a3, letter, tabloid, roll=36in or another width",
                              error.what()}});
  }
  try {
    options.mesh.deflection = parse_quantity(Quantity::length, made.mesh, Units::metric);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{}, 0, {}, "--mesh", made.mesh, "0.001 mm to 10 mm", error.what()}});
  }
  if (options.mesh.deflection < 0.001 || options.mesh.deflection > 10.0)
    throw InputError({Problem{{},
                              0,
                              {},
                              "--mesh",
                              made.mesh,
                              "0.001 mm to 10 mm",
                              "finer than can be meshed or too coarse to show the fit"}});
  return options;
}

JobShare share_named(const std::string& shard) {
  JobShare share;
  char rest = 0;
  if (!shard.empty() && (std::sscanf(shard.c_str(), "%4zu/%4zu%c", &share.i, &share.n, &rest) != 2 ||
                         share.i < 1 || share.n < 1 || share.i > share.n))
    throw InputError(
        {Problem{{}, 0, {}, "--shard", shard, "i/n with i from 1 to n", "names no share of the job"}});
  return share;
}

// A line for each fitting if asked for, and progress on a terminal.
class Teller : public FolderListener {
 public:
  Teller(std::size_t all, bool verbose) : progress_(all), verbose_(verbose) {}
  void finished(const Made& made) override {
    if (verbose_) {
      progress_.clear();
      fmt::print("{}: {}\n", made.tag,
                 !made.failure.empty() ? "not made"
                 : made.unchanged      ? "unchanged"
                                       : made.folder.string());
      std::fflush(stdout);
    }
    progress_.one_finished();
  }
  void clear() { progress_.clear(); }

 private:
  Progress progress_;
  bool verbose_;
};

void print_figures(const WrittenJob& result, const MakeOptions& made) {
  if (result.well() == 0) return;
  if (made.json || made.csv) {
    fmt::print("{}", made.json ? bore_json(result.bore) : bore_csv(result.bore));
    return;
  }
  fmt::print("{}\n", bore_table(result.bore));
  if (!result.boards.plan.boards.empty()) fmt::print("{}\n", boards_table(result.boards.plan));
  fmt::print("{}", totals_table(result.totals));
  fmt::print("\n{} made, {} unchanged in {}\n", result.well() - result.unchanged, result.unchanged, made.out);
  fmt::print("Gloves, eye protection and a dust mask with fibrous board; cut away from the body.\n");
}

int run(const MakeOptions& made) {
  WriteOptions options;
  options.share = share_named(made.shard);
  Job whole;
  Job job = share_of(made.inputs.job(&whole), options.share);
  whole = share_of(std::move(whole), options.share);
  options.output = output_options(made, job.units);
  options.output.dxf = made.dxf.options(job, made.inputs.file());
  const std::size_t left_out = report_left_out(job);
  options.out = made.out;
  options.file = made.inputs.file();
  options.pieces = made.inputs.pieces();
  options.threads = made.jobs > 0 ? made.jobs : all_cores();
  options.sync = !made.no_sync;
  if (!made.sheet_paper.empty()) options.sheet_paper = sheet_paper(made.sheet_paper);
  if (!made.sheet_units.empty()) options.sheet_units = made.sheet_units == "in" ? Units::inch : Units::metric;
  options.version = LINERWRIGHT_VERSION;
  for (Job* each : {&job, &whole}) made.setup.put_stock(*each, made.inputs.units());
  if (made.nest) {
    BoardSetup setup = made.setup.setup(job, made.inputs.file(), made.inputs.units(), options.threads);
    options.boards = std::move(setup.boards);
    options.board_files = std::move(setup.files);
  }
  for (const std::string& advice : template_advice(job, options.output, options.threads))
    fmt::print(stderr, "linerwright: {}\n", advice);
  Teller teller(job.fittings.size(), made.verbose && !made.json && !made.csv);
  const WrittenJob result = write_job(job, whole, options, teller);
  teller.clear();
  const std::size_t failed = print_problems(result);
  for (const Problem& problem : result.bore.problems)
    fmt::print(stderr, "linerwright: {}\n", one_line(problem));
  print_figures(result, made);
  print_not_made(left_out + failed);
  // what was asked for is made; what contradicts itself in the job's air is bad input all the same
  return std::max(result.exit_code, left_out > 0 || result.bore.contradicts ? 2 : 0);
}

}  // namespace

void add_make(CLI::App& command, Program& program) {
  auto made = std::make_shared<MakeOptions>();
  made->inputs.add_to(program, command, [&program, made] { program.action = [made] { return run(*made); }; });
  command.add_option("--out", made->out, "folder for the results [models-out]");
  made->dxf.add_to(command);
  command.add_option("--mesh", made->mesh, "how far a facet of an STL may lie from the surface [0.1mm]");
  command.add_flag("--patterns-only", made->patterns_only, "no solids: DXF and tables alone");
  CLI::Option* none =
      command.add_flag("--no-pages", made->no_pages, "no pages for a browser and no pictures");
  command
      .add_option("--pages", made->pages,
                  "whole pages, each for itself, or shared: smaller ones that load the folder's one script "
                  "[whole]")
      ->check(CLI::IsMember({"whole", "shared"}))
      ->excludes(none);
  command.add_option("--templates", made->templates,
                     "patterns at full size as a PDF for this paper: a4, a3, letter, tabloid or roll=36in");
  command.add_option(
      "--sheet-paper", made->sheet_paper,
      "paper of sheets.pdf, the sheets of all fittings: a4, a3, letter or tabloid [a4; letter where "
      "the job is in inches]");
  command.add_flag("--templates-half", made->half_templates,
                   "of templates that are their own mirror images one half, with the line to fold along");
  command.add_option("--sheet-units", made->sheet_units, "what its sheets are in: mm or in [the job's]")
      ->check(CLI::IsMember({"mm", "in"}));
  command.add_flag("--png", made->png, "pictures as PNG, too");
  command.add_flag("--glb", made->glb, "the bodies as binary glTF, too, which phones open");
  CLI::Option* bands = command.add_flag(
      "--bands", made->bands,
      "guide bands of thin sheet for cutting mitres and saddles by hand, too, as bands makes them");
  for (CLI::Option* flag : made->band_sheet.add_to(command)) flag->needs(bands);
  command.add_option("--jobs", made->jobs, "fittings made at the same time [all cores]")
      ->check(CLI::Range(1, 256));
  command.add_flag("--force", made->force, "make again what has not changed");
  command.add_flag(
      "--no-sync", made->no_sync,
      "do not wait for the disk: for scratch runs, whose results may be lost if the power fails");
  CLI::Option* shard =
      command.add_option("--shard", made->shard, "i/n: only every n-th fitting, beginning with the i-th");
  CLI::Option* nest =
      command.add_flag("--nest", made->nest, "place all pieces on boards too, as nest does")->excludes(shard);
  made->setup.add_to(command);
  made->setup.need(command, nest);
  CLI::Option* json =
      command.add_flag("--json", made->json, "the bore table as JSON, and nothing else on standard output");
  command.add_flag("--csv", made->csv, "the bore table as comma-separated values, and nothing else")
      ->excludes(json);
  command.add_flag("--verbose", made->verbose, "a line per fitting");
}

}  // namespace linerwright
