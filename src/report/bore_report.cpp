#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <iterator>
#include <stdexcept>
#include <utility>

#include "bore_air.hpp"
#include "bore_flows.hpp"
#include "bore_loss.hpp"
#include "bore_steps.hpp"
#include "linerwright/fitting/choices.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

constexpr double k_equal = 1e-9;  // areas and diameters that differ by no more are one

// Speed of sound in dry air at 20 C: sqrt(1.4 R T), R = 287.05 J/(kg K), T = 293.15 K.
constexpr double k_speed_of_sound = 343.2;  // m/s

bool equal(double a, double b) {
  return std::fabs(a - b) <= k_equal * std::max(std::fabs(a), std::fabs(b));
}

void add_notes(BoreRow& row, const std::vector<std::string>& notes, const std::string& before = {}) {
  for (const std::string& note : notes) add_note(row, before + note);
}

// The smallest free area; where a seam lies within the bore of a collar, the collar is the place, because its
// metal is the narrower.
std::size_t narrowest_of(const std::vector<BorePlace>& places) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < places.size(); ++i) {
    const bool same = equal(places[i].free_area, places[best].free_area);
    const bool less_metal = places[i].bare_diameter < places[best].bare_diameter * (1.0 - k_equal);
    if (same ? less_metal : places[i].free_area < places[best].free_area) best = i;
  }
  return best;
}

BoreRow row_of(const Fitting& fitting, const Passage& passage) {
  BoreRow row;
  row.tag = fitting.tag;
  row.kind = fitting.kind;
  row.passage = passage.name;
  row.thickness = fitting.liner.bore_depth();
  row.conductivity = fitting.liner.conductivity;
  row.count = fitting.count;
  for (const Station& station : passage.stations)
    row.places.push_back({station.distance, station.place, station.bare_diameter, station.lined_area,
                          share_of_bare(station.lined_area, circle_area(station.bare_diameter)),
                          equivalent_diameter(station.lined_area), std::nullopt});
  row.length = row.places.back().distance - row.places.front().distance;
  row.narrowest = narrowest_of(row.places);
  const BorePlace& at = row.narrowest_place();
  row.even = std::all_of(row.places.begin(), row.places.end(), [&](const BorePlace& place) {
    return equal(place.free_area, at.free_area) && equal(place.bare_diameter, at.bare_diameter);
  });
  row.velocity_factor = velocity_factor(at.free_area, circle_area(at.bare_diameter));
  return row;
}

// Makes the report of one fitting; what is wrong with its numbers goes to the report's problems.
class FittingReport {
 public:
  FittingReport(BoreReport& report, const Fitting& fitting, const BoreOptions& options)
      : report_(report), fitting_(fitting), values_(fitting.request.values), options_(options) {}

  void add(std::optional<double> job_flow) {
    if (fitting_.passages.empty()) return;  // a disc alone has no bore
    const FittingFlows flows = flows_of(fitting_, job_flow, report_.problems);
    const LinedRoughness rough = lined_roughness(fitting_, report_.problems);
    report_.contradicts = !report_.problems.empty();
    for (std::size_t i = 0; i < fitting_.passages.size(); ++i) {
      BoreRow row = row_of(fitting_, fitting_.passages[i]);
      row.metal_roughness = values_.quantity("metal_roughness");
      row.roughness = rough.value;
      row.surface = rough.basis;
      if (i == 0) row.as_written = written_otherwise(fitting_);
      add_flows(row, i, flows);
      note_share(row);
      if (row.places[row.fastest].flow.value_or(0.0) != 0.0)
        add_air(row, i, flows);
      else
        note_stillness(row, i, flows);
      row.nosing = nosing_note(before(row, i),
                               row.lined_air ? std::optional<double>(row.lined_air->velocity) : std::nullopt,
                               fitting_.units);
      if (!row.nosing.empty()) add_note(row, row.nosing);
      if (const auto metal = rectangle_of(fitting_, 0.0)) {
        const Vec2 clear = *rectangle_of(fitting_, row.thickness);
        add_note(row,
                 fmt::format("one end is a rectangle of {}, {} clear: its diameters are those of circles of "
                             "the same areas",
                             shop_rectangle(fitting_, *metal), shop_rectangle(fitting_, clear)));
      }
      if (options_.step_up) add_steps(report_, row, fitting_, i, options_);
      if (options_.heat_and_sound) add_heat_and_sound(row);
      if (i == 0) add_exposed_step(row);
      report_.rows.push_back(std::move(row));
    }
    add_openings();
  }

 private:
  // The flow at each place, and where the air is fastest: the narrowest place, unless less air goes through
  // it.
  void add_flows(BoreRow& row, std::size_t passage, const FittingFlows& flows) const {
    row.fastest = row.narrowest;
    const auto speed = [&](const BorePlace& place) {
      return std::fabs(place.flow.value_or(0.0)) / place.free_area;
    };
    for (BorePlace& place : row.places) place.flow = flows.at(fitting_, passage, place.distance);
    for (std::size_t i = 0; i < row.places.size(); ++i)
      if (speed(row.places[i]) > speed(row.places[row.fastest]) * (1.0 + k_equal)) row.fastest = i;
  }

  void add_exposed_step(BoreRow& row) const {
    const auto fact = std::find_if(fitting_.facts.begin(), fitting_.facts.end(),
                                   [](const Fact& each) { return each.key == "exposed_step"; });
    if (fact == fitting_.facts.end()) return;
    row.exposed_step = fact->value;
    // the neighbours' bores stand before the first place and behind the last
    for (const bool behind : {false, true}) {
      BorePlace beside = behind ? row.places.back() : row.places.front();
      beside.place = "lined neighbour";
      beside.lined_diameter = lined_diameter(beside.bare_diameter, row.thickness);
      beside.free_area = circle_area(beside.lined_diameter);
      beside.share = share_of_bare(beside.free_area, circle_area(beside.bare_diameter));
      row.places.insert(behind ? row.places.end() : row.places.begin(), beside);
    }
    ++row.narrowest;
    ++row.fastest;
    row.even = false;
    add_note(row,
             fmt::format("the liner stands {} inside a lined neighbour's bore at the heel of either end{}",
                         shown_quantity(Quantity::length, fact->value, fitting_.units, 2),
                         fact->value > row.thickness
                             ? ", more than its own thickness: the space behind it is open to the air"
                             : ""));
  }

  void note_share(BoreRow& row) const {
    const double share = row.narrowest_place().share;
    if (report_.least_share && share < *report_.least_share * (1.0 - k_equal))
      add_note(row, fmt::format("{} % of the bare area are left, under the least of {} %",
                                fixed(100.0 * share, 1), trimmed(100.0 * *report_.least_share, 1)));
  }

  void note_stillness(BoreRow& row, std::size_t passage, const FittingFlows& flows) const {
    if (row.places[row.fastest].flow)
      add_note(row, "no air figures: no air goes this way");
    else if (passage > 0 && flows.start)
      add_note(row, "no air figures: the flow that goes this way is not stated (branch_flow)");
    else if (passage == 0 && !flows.branches.empty())
      add_note(row, "no air figures: branch_flow alone does not say what goes through the body (flow)");
    else if (values_.has("loss_coefficient"))
      add_note(row, "the loss coefficient needs a flow to act on");
  }

  bool air_is_sound(const BoreRow& row, const BorePlace& at, double flow) {
    const std::size_t before = report_.problems.size();
    const auto rough = [&](const char* key, double roughness, double bore, const char* which) {
      if (roughness < 0.5 * bore) return;
      report_.problems.push_back(problem_of(
          fitting_.request, key, "under " + format_quantity(Quantity::length, 0.5 * bore, fitting_.units),
          fmt::format("no friction can be given: the roughness is half the {} bore or more", which)));
    };
    rough("metal_roughness", row.metal_roughness, at.bare_diameter, "bare");
    const BorePlace& tight = row.narrowest_place();
    rough(values_.given("roughness") || !values_.has("surface") ? "roughness" : "surface", row.roughness,
          std::min(at.lined_diameter, tight.lined_diameter), "lined");
    const double fastest = flow / (at.free_area * 1e-6);
    if (fastest > k_speed_of_sound)
      report_.problems.push_back(problem_of(
          fitting_.request, values_.has("flow") || !values_.has("branch_flow") ? "flow" : "branch_flow",
          "under " + shown_quantity(Quantity::flow, k_speed_of_sound * at.free_area * 1e-6, fitting_.units),
          fmt::format("{} through the lined bore would be faster than sound",
                      shown_quantity(Quantity::flow, flow, fitting_.units))));
    return report_.problems.size() == before;
  }

  // What the air comes out of where it enters this passage at an open end; from another passage: lined.
  Before before(const BoreRow& row, std::size_t passage) const {
    const bool one_open_end = passage > 0 || parts_into_legs(fitting_);
    const double inward = passage > 0              ? -row.places.back().flow.value_or(0.0)
                          : runs_against(fitting_) ? -row.places.front().flow.value_or(-1.0)
                                                   : row.places.front().flow.value_or(1.0);
    if (one_open_end && inward <= 0.0) return Before::lined;
    if (!values_.has("upstream")) return Before::unknown;
    return chosen(values_, "upstream", k_beside_choices) == DuctBeside::metal ? Before::metal : Before::lined;
  }

  void add_air(BoreRow& row, std::size_t passage, const FittingFlows& flows) {
    const BorePlace& at = row.places[row.fastest];
    const double flow = std::fabs(*at.flow);
    if (!air_is_sound(row, at, flow)) return;
    row.flow = flow;
    row.bare_air = bore_flow(at.bare_diameter, flow, row.metal_roughness, report_.air);
    row.lined_air = bore_flow(at.lined_diameter, flow, row.roughness, report_.air);
    row.velocity_limit = values_.quantity("max_velocity");
    const VelocityCheck check =
        check_velocity(row.lined_air->velocity, *row.velocity_limit, before(row, passage), fitting_.units);
    row.over_limit = check.over_limit;
    add_notes(row, check.warnings);
    add_notes(row, row.bare_air->doubts, "bare: ");
    add_notes(row, row.lined_air->doubts, "lined: ");
    add_losses(row, fitting_, passage, flows, report_.air);
  }

  void add_heat_and_sound(BoreRow& row) const {
    const double diameter = row.narrowest_place().bare_diameter;
    const LinerSpec& first = fitting_.liner;
    row.heat = lining_resistance(diameter, first.thickness, values_.quantity("conductivity"));
    for (const LinerSpec& layer : fitting_.inner_layers)
      row.heat = in_series(*row.heat, lining_resistance(diameter - 2.0 * layer.outer_depth, layer.thickness,
                                                        layer.conductivity));
    if (has_bare_ends(fitting_)) {
      add_note(row, "no heat and no sound: they are of metal that is lined from end to end");
      return;
    }
    if (report_.room && row.lined_air) add_gain(row);
    if (!fitting_.straight_run) return;
    row.sound = insertion_loss(diameter, first.bore_depth(), row.length);
    if (diameter <= 60.0 * 25.4) row.bare_sound = bare_attenuation(diameter, row.length);
    if (row.lined_air) add_air_noise(row);
    if (fitting_.inner_layers.empty()) return;
    row.sound->bands.reset();
    row.sound->notes.clear();
    row.sound->out_of_range = {
        "the lining is in two layers; the regression was made on linings of one board"};
  }

  void add_air_noise(BoreRow& row) const {
    const double velocity = row.lined_air->velocity;
    if (velocity >= k_least_noise_velocity && velocity <= k_most_noise_velocity)
      row.air_noise = flow_noise(velocity, row.places[row.fastest].free_area);
    else
      add_note(row, fmt::format("no noise of the air: its formula is charted from {} to {}",
                                shown_quantity(Quantity::velocity, k_least_noise_velocity, fitting_.units),
                                shown_quantity(Quantity::velocity, k_most_noise_velocity, fitting_.units)));
  }

  void add_gain(BoreRow& row) const {
    const BorePlace& at = row.places[row.fastest];
    const BoreRoom& room = *report_.room;
    DuctInRoom duct{
        at.bare_diameter, fitting_.liner.gauge, 0.0,        at.bare_diameter, *row.flow, room.air_temperature,
        room.temperature, room.emissivity,      report_.air};
    row.bare_gain = duct_heat(duct);
    duct.bore = at.lined_diameter;
    duct.lining_resistance = row.heat->per_length;
    row.lined_gain = duct_heat(duct);
    if (!room.dew_point || room.air_temperature >= *room.dew_point) return;
    row.least_dry = least_dry_thickness(duct, values_.quantity("conductivity"), *room.dew_point);
    row.never_dry = !row.least_dry;
    if (row.lined_gain->surface_temperature < *room.dew_point)
      add_note(row,
               fmt::format("water may settle on the metal: its outside is at {}, the room's dew point at {}",
                           shown_quantity(Quantity::temperature, row.lined_gain->surface_temperature,
                                          fitting_.units, 1),
                           shown_quantity(Quantity::temperature, *room.dew_point, fitting_.units, 1)));
  }

  // The branch that stands in this hole, by its passage's name, which begins the names of all its pieces.
  std::string branch_at(int joint) const {
    for (const Piece& piece : fitting_.pieces) {
      if (!ends_in(fitting_.wall_of(piece), joint)) continue;
      std::string name;
      for (const Passage& passage : fitting_.passages)
        if (piece.id.compare(0, passage.name.size(), passage.name) == 0 && passage.name.size() > name.size())
          name = passage.name;
      return name.empty() ? piece.id : name;
    }
    return "opening";
  }

  void add_openings() {
    for (std::size_t w = 0; w < fitting_.walls.size(); ++w)
      for (std::size_t h = 0; fitting_.walls[w].layer == 0 && h < fitting_.walls[w].holes.size(); ++h) {
        if (opening_at(fitting_, fitting_.walls[w].holes[h].joint) != nullptr)
          continue;  // no air goes through
        BoreOpening opening{fitting_.tag, branch_at(fitting_.walls[w].holes[h].joint), fitting_.count};
        opening.bare_area = hole_area(fitting_, static_cast<int>(w), h, 0.0);
        opening.free_area = hole_area(fitting_, static_cast<int>(w), h, fitting_.liner.bore_depth());
        opening.share = opening.free_area / opening.bare_area;
        report_.openings.push_back(std::move(opening));
      }
  }

  BoreReport& report_;
  const Fitting& fitting_;
  const Values& values_;
  const BoreOptions& options_;
};

}  // namespace

bool BoreReport::over_limit() const {
  return std::any_of(rows.begin(), rows.end(), [](const BoreRow& row) { return row.over_limit; });
}

BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air, const BoreOptions& options) {
  const JobAir job = read_air(air, fittings.empty() ? Units::metric : fittings.front().units);
  // no figure of air that nobody stated
  BoreReport report = bore_report(job.known ? fittings : std::vector<Fitting>{}, job.basis, options);
  report.problems.insert(report.problems.begin(), job.problems.begin(), job.problems.end());
  report.contradicts = report.contradicts || !job.problems.empty();
  if (!fittings.empty()) report.units = fittings.front().units;
  return report;
}

BoreReport bore_report(const std::vector<Fitting>& fittings, const BoreBasis& basis,
                       const BoreOptions& options) {
  BoreReport report;
  static_cast<BoreBasis&>(report) = basis;
  if (!fittings.empty()) report.units = fittings.front().units;
  report.step_up = options.step_up;
  report.step_limit = options.limit;
  report.series =
      options.series.value_or(report.units == Units::inch ? DiameterSeries::inch : DiameterSeries::en1506);
  report.along = options.along;
  const BoreReport empty = report;
  for (const Fitting& fitting : fittings) {
    BoreReport one = empty;
    try {
      FittingReport(one, fitting, options).add(basis.flow);
    } catch (const std::exception& error) {  // nothing that one fitting does ends the report of the others
      one = empty;
      one.problems.push_back({fitting.request.file,
                              fitting.request.line,
                              fitting.tag,
                              {},
                              {},
                              {},
                              fmt::format("its bore cannot be told: {}", error.what())});
    }
    append(report, std::move(one));
  }
  return report;
}

BoreReport without_steps(BoreReport report) {
  report.step_up.reset();
  report.step_limit.reset();
  report.added_metal = report.added_mass = 0.0;
  report.without_size = 0;
  for (BoreRow& row : report.rows) {
    row.steps.clear();
    row.passed_over.clear();
    row.added_metal.reset();
    row.added_mass.reset();
    row.notes.erase(std::remove_if(row.notes.begin(), row.notes.end(),
                                   [](const std::string& note) {
                                     return note.rfind("step up:", 0) == 0 ||
                                            note.rfind("no step up", 0) == 0;
                                   }),
                    row.notes.end());
  }
  return report;
}

void append(BoreReport& report, BoreReport&& more) {
  const auto take = [](auto& all, auto& from) {
    all.insert(all.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  };
  // what is wrong with the job's air is said once
  std::vector<Problem> problems = std::move(report.problems);
  for (Problem& problem : more.problems)
    if (std::none_of(problems.begin(), problems.end(),
                     [&](const Problem& known) { return one_line(known) == one_line(problem); }))
      problems.push_back(std::move(problem));
  more.problems.clear();
  const bool contradicts = report.contradicts || more.contradicts;
  if (report.rows.empty()) {
    report = std::move(more);
    report.problems = std::move(problems);
    report.contradicts = contradicts;
    return;
  }
  report.contradicts = contradicts;
  report.problems = std::move(problems);
  take(report.rows, more.rows);
  take(report.openings, more.openings);
  report.added_metal += more.added_metal;
  report.added_mass += more.added_mass;
  report.without_size += more.without_size;
}

}  // namespace linerwright
