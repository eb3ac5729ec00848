#include <algorithm>
#include <cstdio>
#include <memory>
#include <mutex>
#include <thread>

#include <fmt/format.h>

#include "commands.hpp"
#include "dxf_flags.hpp"
#include "floor_flags.hpp"
#include "inputs.hpp"
#include "job_totals.hpp"
#include "linerwright/bore.hpp"
#include "linerwright/error.hpp"
#include "linerwright/page.hpp"
#include "linerwright/produce.hpp"
#include "progress.hpp"

namespace linerwright {

namespace {

struct MakeOptions {
  Inputs inputs;
  DxfFlags dxf;
  FloorFlags floor;
  bool nest = false;
  std::string out = "models-out";
  std::string mesh = "0.1mm";
  bool patterns_only = false;
  bool no_pages = false;
  bool png = false;
  std::string templates;
  bool verbose = false;
  bool json = false;
  bool csv = false;
  bool force = false;
  std::string shard;
  int jobs = 0;
};

ProduceOptions produce_options(const MakeOptions& made) {
  ProduceOptions options;
  options.dxf = made.dxf.options();
  options.patterns_only = made.patterns_only;
  options.pages = !made.no_pages;
  options.png = made.png;
  options.force = made.force;
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

struct Share {
  std::size_t i = 1;
  std::size_t n = 1;
};

Share share_of(const std::string& shard) {
  Share share;
  char rest = 0;
  if (!shard.empty() && (std::sscanf(shard.c_str(), "%4zu/%4zu%c", &share.i, &share.n, &rest) != 2 ||
                         share.i < 1 || share.n < 1 || share.i > share.n))
    throw InputError(
        {Problem{{}, 0, {}, "--shard", shard, "i/n with i from 1 to n", "names no share of the job"}});
  return share;
}

// Keeps every n-th fitting, beginning with the i-th.
void take_share(Job& job, Share share) {
  std::vector<FittingRequest> kept;
  for (std::size_t k = share.i - 1; k < job.fittings.size(); k += share.n)
    kept.push_back(std::move(job.fittings[k]));
  job.fittings = std::move(kept);
}

// A share of a job has a page of its own beside those of the others.
std::string index_name(Share share) {
  return share.n == 1 ? "index.html" : fmt::format("index-{}-{}.html", share.i, share.n);
}

// The job page's line of a fitting; null: it was not made.
JobRow page_row(const Made& made, const FittingRequest& request, const Shaped* shaped) {
  if (shaped != nullptr)
    return job_row(shaped->fitting, shaped->patterns, made.folder.filename().string(), made.files);
  JobRow row;
  row.tag = request.tag;
  row.kind = request.kind;
  row.count = request.count;
  row.failure = made.failure;
  return row;
}

// Lines of the fittings that the reader left out.
std::vector<JobRow> left_out_rows(const Job& job) {
  std::vector<JobRow> rows;
  for (const Problem& problem : job.problems) {
    if (rows.empty() || rows.back().tag != problem.tag) {
      rows.emplace_back();
      rows.back().tag = problem.tag;
    }
    std::string& why = rows.back().failure;
    why += (why.empty() ? "" : "; ") + one_line(problem);
  }
  return rows;
}

// The boards as the job page draws them.
std::vector<PageBoard> page_boards(const FloorPlan& plan) {
  std::vector<PageBoard> boards;
  for (std::size_t i = 0; i < plan.boards.size(); ++i) {
    PageBoard board{board_title(plan, i),
                    fixed(100.0 * plan.boards[i].yield, 1) + " % used",
                    std::string(k_boards_folder) + "/" + board_file(plan, i),
                    board_drawing(plan, i, TextStyle::entities),
                    {}};
    for (const FloorPiece& piece : plan.boards[i].pieces)
      board.pieces.push_back({plan.parts[piece.part].tag + " " + plan.parts[piece.part].piece, piece.box});
    boards.push_back(std::move(board));
  }
  return boards;
}

int run(const MakeOptions& made) {
  const ProduceOptions options = produce_options(made);
  Job job = made.inputs.job();
  const Share share = share_of(made.shard);
  take_share(job, share);
  std::size_t bad = report_left_out(job);
  int worst = bad > 0 ? 2 : 0;
  const int threads =
      made.jobs > 0 ? made.jobs : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  FloorSetup setup;
  if (made.nest) setup = made.floor.setup(job, made.inputs.file(), made.inputs.units(), threads);
  const auto air = job.tables.find("air");
  // of each fitting only what is printed at the end, in the job's order
  struct Kept {
    Made made;
    BoreReport bore;
    TotalsRow needs;
    JobRow row;
    std::vector<FloorPart> parts;
  };
  std::vector<Kept> all(job.fittings.size());
  JobTotals totals = begin_totals(job, share.i);
  const bool verbose = made.verbose && !made.json && !made.csv;
  Progress progress(job.fittings.size());
  std::mutex telling;
  produce_all(job.fittings, made.out, options, threads, [&](std::size_t i, Made&& one, const Shaped* shaped) {
    if (shaped != nullptr) {
      all[i].bore = bore_report({shaped->fitting}, air == job.tables.end() ? nullptr : &air->second, {});
      all[i].needs = totals_row(shaped->fitting, shaped->patterns, totals.rules);
      if (made.nest) all[i].parts = floor_parts(shaped->fitting, shaped->patterns, made.floor.scatter());
    }
    all[i].row = page_row(one, job.fittings[i], shaped);
    const std::lock_guard<std::mutex> lock(telling);
    if (verbose) {
      progress.clear();
      fmt::print("{}: {}\n", one.tag,
                 !one.failure.empty() ? "not made"
                 : one.unchanged      ? "unchanged"
                                      : one.folder.string());
      std::fflush(stdout);
    }
    progress.one_finished();
    all[i].made = {std::move(one.tag),     {},           {}, std::move(one.warnings), {}, one.unchanged,
                   std::move(one.failure), one.exit_code};
  });
  progress.clear();

  BoreReport report;
  JobPage page{job.name, {}, {}, {}};
  std::size_t well = 0;
  std::size_t unchanged = 0;
  std::vector<FloorPart> parts;
  for (auto& [one, bore, needs, row, cut] : all) {
    page.rows.push_back(std::move(row));
    for (const std::string& warning : one.warnings)
      fmt::print(stderr, "linerwright: {}: note: {}\n", one.tag, warning);
    if (one.failure.empty()) {
      ++well;
      unchanged += one.unchanged ? 1 : 0;
      append(report, std::move(bore));
      totals.rows.push_back(std::move(needs));
      std::move(cut.begin(), cut.end(), std::back_inserter(parts));
      continue;
    }
    ++bad;
    ++totals.left_out;
    // one line a problem, each with its own prefix
    for (std::size_t from = 0; from <= one.failure.size();) {
      const std::size_t to = std::min(one.failure.find('\n', from), one.failure.size());
      fmt::print(stderr, "linerwright: {}\n", one.failure.substr(from, to - from));
      from = to + 1;
    }
    worst = std::max(worst, one.exit_code);
  }
  FloorPlan plan;
  if (made.nest && well > 0) {
    try {
      plan = plan_floor(std::move(parts), setup.stock, setup.knife, setup.options, job.units);
    } catch (const InputError& error) {  // too many pieces for one nest, say: what was made stands
      for (const Problem& problem : error.problems())
        fmt::print(stderr, "linerwright: {}\n", one_line(problem));
      worst = std::max(worst, 2);
    }
    worst = std::max(worst, write_floor(plan, made.out, options.dxf, threads));
    totals.stock = stock_totals(plan);
  }
  if (well > 0 || share.n > 1) {
    write_totals(totals, made.out, totals_stem(share.i, share.n));
    if (options.pages) {
      for (TotalsCells& cells : totals_cells(totals))
        page.totals.push_back({"", std::move(cells.heads), 1, std::move(cells.rows)});
      for (JobRow& row : left_out_rows(job)) page.rows.push_back(std::move(row));
      page.boards = page_boards(plan);
      write_beside(made.out, index_name(share), job_page(page));
    }
  }
  if (well > 0) {
    if (made.json || made.csv) {
      fmt::print("{}", made.json ? bore_json(report) : bore_csv(report));
    } else {
      fmt::print("{}\n", bore_table(report));
      if (!plan.boards.empty()) fmt::print("{}\n", boards_table(plan));
      fmt::print("{}", totals_table(totals));
      fmt::print("\n{} made, {} unchanged in {}\n", well - unchanged, unchanged, made.out);
      fmt::print("Gloves, eye protection and a dust mask with fibrous board; cut away from the body.\n");
    }
  }
  if (bad > 0) fmt::print(stderr, "linerwright: {} not made\n", bad);
  return worst;
}

}  // namespace

void add_make(CLI::App& program, Action& action) {
  CLI::App* command =
      program.add_subcommand("make", "make solids, patterns and figures of a job, or of one fitting");
  auto made = std::make_shared<MakeOptions>();
  made->inputs.add_to(*command, [&action, made] { action = [made] { return run(*made); }; });
  command->add_option("--out", made->out, "folder for the results [models-out]");
  made->dxf.add_to(*command);
  command->add_option("--mesh", made->mesh, "how far a facet of an STL may lie from the surface [0.1mm]");
  command->add_flag("--patterns-only", made->patterns_only, "no solids: DXF and tables alone");
  command->add_flag("--no-pages", made->no_pages, "no pages for a browser and no pictures");
  command->add_option("--templates", made->templates,
                      "patterns at full size as a PDF for this paper: a4, a3, letter, tabloid or roll=36in");
  command->add_flag("--png", made->png, "pictures as PNG, too");
  command->add_option("--jobs", made->jobs, "fittings made at the same time [all cores]")
      ->check(CLI::Range(1, 256));
  command->add_flag("--force", made->force, "make again what has not changed");
  CLI::Option* shard =
      command->add_option("--shard", made->shard, "i/n: only every n-th fitting, beginning with the i-th");
  command->add_flag("--nest", made->nest, "place all pieces on boards too, as nest does")->excludes(shard);
  made->floor.add_to(*command);
  CLI::Option* json =
      command->add_flag("--json", made->json, "the bore table as JSON, and nothing else on standard output");
  command->add_flag("--csv", made->csv, "the bore table as comma-separated values, and nothing else")
      ->excludes(json);
  command->add_flag("--verbose", made->verbose, "a line per fitting");
}

}  // namespace linerwright
