#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/making/run_air.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

// The passage that leads to this port: a branch's or a leg's own, or the body's, which is the first.
std::size_t passage_of(const Port& in, const Port& out) {
  for (const Port* port : {&out, &in})
    for (const std::string_view kind : {"branch", "leg"}) {
      if (port->name.compare(0, kind.size(), kind) != 0) continue;
      std::size_t number = 0;
      for (const char c : port->name.substr(kind.size()))
        if (c >= '0' && c <= '9') number = 10 * number + static_cast<std::size_t>(c - '0');
      return number;
    }
  return 0;
}

const Values* air_of(const Job& job) {
  const auto table = job.tables.find("air");
  return table == job.tables.end() ? nullptr : &table->second;
}

// The job's air without its flow: in a run the air is what was carried there.
Values without_flow(const Values* air) {
  Values values;
  if (air != nullptr)
    for (const auto& [key, value] : air->all())
      if (key != "flow") values.set(key, value);
  return values;
}

std::vector<BoreRow> rows_in_its_air(const Placed& placed, const Values* air) {
  const Values own = without_flow(air);
  return bore_report({in_its_air(placed)}, air == nullptr ? nullptr : &own, {}).rows;
}

// Each is made when it is asked for first; none where it cannot be made, which is told where it is made for
// its own sake.
FittingWithTag makes_once(const Job& job) {
  struct Made {
    const FittingRequest* request;
    std::shared_ptr<const Fitting> fitting;
  };
  auto all = std::make_shared<std::map<std::string, Made>>();
  for (const FittingRequest& request : job.fittings) all->emplace(request.tag, Made{&request, nullptr});
  return [all](const std::string& tag) -> std::shared_ptr<const Fitting> {
    const auto found = all->find(tag);
    if (found == all->end()) return nullptr;
    Made& made = found->second;
    if (made.request != nullptr) try {
        made.fitting = std::make_shared<const Fitting>(make_fitting(*made.request));
      } catch (const std::exception&) {
        // it is told elsewhere
      }
    made.request = nullptr;
    return made.fitting;
  };
}

// An air face that steps at the joint before a fitting takes pressure that no fitting's own passage holds.
void note_steps(const LaidRun& run, BoreRun& losses) {
  for (const RunJoint& joint : run.joints)
    if (std::fabs(joint.step) > 1e-6)
      losses.parts[joint.after].left_out.push_back(fmt::format(
          "the step of {} mm in the air face where it begins", trimmed(std::fabs(joint.step), 3)));
}

}  // namespace

namespace {

// A passage more on the way; what one of them does not know the whole does not.
void add_row(BoreRunPart& part, const BoreRow& row, bool first) {
  part.passage += (first ? "" : " and ") + row.passage;
  part.metal_roughness = row.metal_roughness;
  part.roughness = row.roughness;
  if (row.flow && (!part.flow || *row.flow > *part.flow)) part.flow = row.flow;
  if (!row.bare_loss || !row.lined_loss || (!first && !part.lined)) {
    part.bare.reset();
    part.lined.reset();
    return;
  }
  part.bare = part.bare.value_or(0.0) + row.bare_loss->total;
  part.lined = part.lined.value_or(0.0) + row.lined_loss->total;
  part.by_default = part.by_default || row.lined_loss->by_default() || row.bare_loss->by_default();
  for (const std::string& each : row.lined_loss->left_out)
    if (std::find(part.left_out.begin(), part.left_out.end(), each) == part.left_out.end())
      part.left_out.push_back(each);
}

// What a fitting takes from one of its ports to another.
BoreRunPart part_of(const Placed& placed, std::optional<std::size_t> in, std::optional<std::size_t> out,
                    const Values* air) {
  BoreRunPart part;
  part.fitting = shown(placed.part);
  if (!in || !out) {
    part.left_out.emplace_back("the run begins or ends inside it");
    return part;
  }
  const Port& from = placed.ports[*in];
  const Port& to = placed.ports[*out];
  const std::vector<BoreRow> rows = rows_in_its_air(placed, air);
  const std::size_t index = passage_of(from, to);
  if (index >= rows.size()) return part;
  // a leg begins where the inlet ends, a branch somewhere along the body
  const bool leg = from.name.rfind("leg", 0) == 0 || to.name.rfind("leg", 0) == 0;
  const bool inlet = leg && (from.name == "start" || to.name == "start");
  if (inlet) add_row(part, rows.front(), true);
  add_row(part, rows[index], !inlet);
  if (part.lined && index > 0 && !inlet)
    part.left_out.emplace_back(leg ? "the leg that it comes from"
                                   : "friction on the way to where it leaves the others");
  return part;
}

BoreRun own_losses(const LaidRun& run, const Values* air) {
  BoreRun losses;
  losses.name = run.run.name;
  losses.length = run.length;
  losses.air = bore_report({}, air, {}).air;
  for (const Placed& placed : run.fittings) {
    losses.parts.push_back(part_of(placed, placed.in, placed.out, air));
    const BoreRunPart& part = losses.parts.back();
    losses.bare += part.bare.value_or(0.0);
    losses.lined += part.lined.value_or(0.0);
    losses.without += !part.lined && placed.in && placed.out ? 1 : 0;
  }
  note_steps(run, losses);
  return losses;
}

}  // namespace

std::vector<BoreRun> losses_of(const std::vector<LaidRun>& runs, const Values* air) {
  struct Place {
    std::size_t run, fitting;
  };
  std::map<RunPart, Place> places;
  std::vector<BoreRun> losses;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    const LaidRun& run = runs[r];
    losses.push_back(own_losses(run, air));
    for (std::size_t i = 0; i < run.fittings.size(); ++i) places[run.fittings[i].part] = {r, i};
    if (!run.run.from) continue;
    // runs that others start from lie before them
    const auto from = places.find(run.run.from->part);
    if (from == places.end()) continue;
    const BoreRun& other = losses[from->second.run];
    const Placed& placed = runs[from->second.run].fittings[from->second.fitting];
    std::vector<BoreRunPart>& before = losses.back().before;
    before = other.before;
    before.insert(before.end(), other.parts.begin(),
                  other.parts.begin() + static_cast<std::ptrdiff_t>(from->second.fitting));
    for (std::size_t i = 0; i < placed.ports.size(); ++i)
      if (placed.ports[i].name == run.run.from->port && placed.in)
        before.push_back(part_of(placed, placed.in, i, air));
  }
  return losses;
}

bool RunAir::asked_for(const Job& job) {
  const auto runs = job.lists.find("run");
  return (runs != job.lists.end() && !runs->second.empty()) ||
         std::any_of(job.fittings.begin(), job.fittings.end(),
                     [](const FittingRequest& request) { return request.joining.has("joins"); });
}

RunAir::RunAir(const Job& job, const FittingWithTag& fitting_with_tag, std::vector<Problem>& problems)
    : air_(air_of(job)) {
  const auto drop = [this] {
    laid_.clear();
    losses_.clear();
  };
  try {
    laid_ = lay_runs(read_runs(job, problems), fitting_with_tag, problems);
    carry_air(laid_, air_ == nullptr ? std::nullopt : air_->maybe("flow"), problems);
    losses_ = losses_of(laid_, air_);
  } catch (const InputError& error) {
    problems.insert(problems.end(), error.problems().begin(), error.problems().end());
    drop();
  } catch (const std::exception& error) {
    problems.push_back({{}, 0, {}, {}, {}, {}, fmt::format("the runs cannot be laid: {}", error.what())});
    drop();
  }
  for (const LaidRun& run : laid_)
    for (const Placed& placed : run.fittings) places_[placed.part.tag].push_back(&placed);
}

RunAir::RunAir(const Job& job, std::vector<Problem>& problems) : RunAir(job, makes_once(job), problems) {}

BoreReport RunAir::report(const Fitting& fitting, const BoreOptions& options) const {
  const auto found = places_.find(fitting.tag);
  const std::optional<AirOfTag> in_air = found == places_.end() ? std::nullopt : most_air(found->second);
  if (!in_air) return bore_report({fitting}, air_, options);
  const Values own = without_flow(air_);
  BoreReport report = bore_report({in_air->fitting}, air_ == nullptr ? nullptr : &own, options);
  report.flow = air_ == nullptr ? std::nullopt : air_->maybe("flow");
  if (!in_air->note.empty())
    for (BoreRow& row : report.rows) row.notes.push_back(in_air->note);
  return report;
}

}  // namespace linerwright
