#include "board_flags.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "linerwright/output/output.hpp"
#include "linerwright/output/remnants.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr const char* k_prefix = "stock_";
constexpr const char* k_boards = "The boards";  // heads the flags that say how to search

// The stock's keys under the names of their flags.
std::vector<KeySpec> flag_keys() {
  std::vector<KeySpec> keys = job_schema().lists.at("stock");
  for (KeySpec& key : keys) key.name = k_prefix + key.name;
  return keys;
}

double length_of(const char* flag, const std::string& written, std::optional<Units> units, double most) {
  // a bare length means nothing without units
  const KeySpec key = [&] {
    KeySpec made;
    made.name = flag;
    made.min = 0.0;
    made.max = most;
    return made;
  }();
  return table_from_flags({key}, {{flag, written}}, units).quantity(flag);
}

double effort_of(const std::string& written) {
  if (const std::optional<double> effort = effort_named(written)) return *effort;
  KeySpec key;
  key.name = "effort";
  key.quantity = Quantity::number;
  key.min = 0.0;
  key.max = 1000.0;
  return table_from_flags({key}, {{"effort", written}}, Units::metric).quantity("effort");
}

}  // namespace

void BoardFlags::add_to(CLI::App& command) {
  for (const KeySpec& key : job_schema().lists.at("stock")) {
    std::string flag = "--stock-" + key.name;
    std::replace(flag.begin(), flag.end(), '_', '-');
    command
        .add_option_function<std::string>(
            flag, [this, name = key.name](const std::string& value) { stock_[k_prefix + name] = value; },
            key.help + (key.default_value ? " [" + *key.default_value + "]" : ""))
        ->group("The stock, in the place of the job's");
  }
  const char* group = k_boards;
  command
      .add_option("--effort", effort_,
                  "how long to search: fill, quick (1), thorough (18), or a number up to 1000 [quick]")
      ->group(group);
  command.add_option("--seed", seed_, "another one gives other boards; the same one the same [1]")
      ->group(group);
  command.add_option("--gap", gap_, "least distance between pieces [the stock's]")->group(group);
  command.add_option("--min-offcut", min_offcut_, "shorter side of offcuts worth listing [150mm]")
      ->group(group);
  command.add_flag("--use-holes", use_holes_, "put small pieces into the holes of large ones")->group(group);
  command.add_flag("--scatter", scatter_, "an elbow's pieces one by one instead of in one blank")
      ->group(group);
  command
      .add_option(
          "--remnants", remnants_,
          "a list of offcuts of an earlier job, its boards/remnants.json, that are used before new boards; "
          "what this job takes is noted in it; may be repeated")
      ->allow_extra_args(false)
      ->group(group);
  command.add_flag("--qr", codes_, "a QR code with tag and piece on each piece")->group(group);
}

void BoardFlags::need(CLI::App& command, CLI::Option* nest) const {
  for (CLI::Option* option : command.get_options())
    if (option->get_group() == k_boards) option->needs(nest);
}

void BoardFlags::put_stock(Job& job, std::optional<Units> units) const {
  if (stock_.empty()) return;
  const Values flags = table_from_flags(flag_keys(), stock_, units);
  Values values;
  for (const auto& [key, value] : flags.all()) values.set(key.substr(std::string(k_prefix).size()), value);
  job.lists["stock"] = {values};
  apply_stock(job);
}

BoardSetup BoardFlags::setup(Job& job, const std::string& file, std::optional<Units> units, int threads,
                             const std::string& purpose) const {
  put_stock(job, units);
  BoardSetup setup;
  JobBoards& boards = setup.boards;
  static_cast<JobStock&>(boards) = job_stock(job, file, stock_.empty() ? file : "");
  boards.pieces.scatter = scatter_;
  boards.pieces.division = division_rules(table_of(job, "boards"), {}, {});
  BoardOptions& options = boards.options;
  options.effort = effort_of(effort_);
  options.seed = seed_;
  options.use_holes = use_holes_;
  options.codes = codes_;
  options.threads = threads;
  if (!gap_.empty()) {
    options.gap = length_of("gap", gap_, units, 200.0);
    options.words.push_back({"flags", 0, "gap", fmt::format("{}mm", *options.gap)});
  }
  options.job = job_key(job, file) + purpose;
  setup.files.stickers = sticker_sheet(table_of(job, "stickers"), job.units, file);
  setup.files.remnants.assign(remnants_.begin(), remnants_.end());
  const bool priced = std::all_of(boards.stock.begin(), boards.stock.end(),
                                  [](const BoardStock& stock) { return stock.cost.has_value(); });
  for (BoardStock& remnant : remnant_stock(setup.files.remnants, options.job)) {
    if (priced) remnant.cost = 0.0;
    boards.stock.push_back(std::move(remnant));
  }
  require_room_past(boards.knife, boards.stock, options, job.units, file);
  options.min_offcut = std::max(1.0, length_of("min_offcut", min_offcut_, units, 5000.0));
  return setup;
}

}  // namespace linerwright
