// Lengths, angles and areas that a fitting's table of facts gives, by handbook formulas from the request
// alone: bends and offsets (as bends.cpp has them), right cones (a sector of radius R / sin p over 360 sin p
// degrees: any book on pattern drafting), notched blanks (the difference of two circumferences), and by
// sums over the closed forms of walls where branches and legs join.
#include <algorithm>
#include <limits>
#include <optional>

#include "branch.hpp"
#include "kinds.hpp"
#include "proofs.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_degrees = 180.0 / k_pi;
constexpr int k_steps = 23040;  // around a joint

class Facts {
 public:
  explicit Facts(const Case& asked) : asked_(asked) {}

  // Closed forms.
  void exact(const std::string& key, double wanted) { compare(exact_, key, wanted); }
  // Lengths and areas summed along a joint.
  void summed(const std::string& key, double wanted) { compare(summed_, key, wanted); }
  // Of a hole or saddle; the share is of the branch's radius over the sine of its angle.
  void extent(const std::string& key, double wanted, const Request& request, std::size_t i) {
    const double radius =
        request.value(request.stated("branch_base", i) ? "branch_base" : "branch_diameter", i) / 2.0;
    if (stated(key))
      extents_.off((made(key) - wanted) * std::sin(request.value("angle", i)) / radius, key);
    else
      extents_.wrong("no fact " + key);
  }
  bool stated(const std::string& key) const { return asked_.made.facts.count(key) > 0; }
  double made(const std::string& key) const { return asked_.made.facts.at(key); }

  void into(std::vector<Finding>& findings) const {
    exact_.into(findings);
    summed_.into(findings);
    extents_.into(findings);
  }

 private:
  void compare(Worst& line, const std::string& key, double wanted) const {
    if (!stated(key))
      line.wrong("no fact " + key);
    else
      line.off((made(key) - wanted) / std::max(1.0, std::abs(wanted)), key);
  }

  const Case& asked_;
  Worst exact_{"facts", 1e-8, "", "bends, cones and notches by their closed forms"};
  Worst summed_{"facts of joints", 2e-6, "", "sums along the joints' closed forms"};
  Worst extents_{"extents of joints", 1e-6, "", "extremes of the joints' closed forms"};
};

// Between the metal and gores of this radius: at the heel in the middle of a gore, at the throat on a mitre.
struct Gores {
  double radius = 0.0;
  double gap = 0.0;
};

// Gores that touch the heel on their mitres and the throat at their middles.
Gores gores_of_elbow(double centre, double metal, double mitre) {
  const double heel = (centre + metal) * (1.0 - std::cos(mitre));
  const double throat = (centre - metal) * (1.0 / std::cos(mitre) - 1.0);
  return {metal - 0.5 * heel, std::max(heel, throat)};
}

// Gores about the metal's own axis, which touch the heels on their mitres.
Gores gores_of_offset(double centre, double metal, double mitre) {
  const double radius = (centre + metal) * std::cos(mitre) - centre;
  return {radius, std::max(metal - radius, (centre - radius) / std::cos(mitre) - (centre - metal))};
}

void smooth_facts(Facts& facts, const Request& request, double bend, Gores (*gores)(double, double, double)) {
  const double centre = centreline_of(request);
  const double metal = request.value("diameter") / 2.0;
  const auto with = [&](double pieces) { return gores(centre, metal, bend / (2.0 * (pieces - 1.0))); };
  const Gores made = with(request.value("pieces"));
  facts.exact("gore_diameter", 2.0 * made.radius);
  facts.exact("gap_behind_liner", made.gap);
  facts.exact("exposed_step", request.kind == "offset" ? metal - made.radius : 2.0 * (metal - made.radius));
  if (!request.stated("gap_limit")) return;
  double pieces = request.value("pieces");
  while (with(pieces).gap > request.value("gap_limit") && pieces < 1000.0) ++pieces;
  facts.exact("pieces_for_gap_limit", pieces);
}

void elbow_facts(Facts& facts, const Request& request) {
  const double pieces = request.value("pieces");
  const double mitre = request.value("angle") / (2.0 * (pieces - 1.0));
  facts.exact("mitre_angle", mitre * k_degrees);
  facts.exact("centreline_radius", centreline_of(request));
  for (int k = 1; k < static_cast<int>(pieces); ++k)
    facts.exact("rise_" + std::to_string(k), (2.0 * k - 1.0) * mitre * k_degrees);
  if (request.word("form") == "smooth") smooth_facts(facts, request, request.value("angle"), gores_of_elbow);
}

// Of any row of pieces about one line: how long that line is. Mitres rise and fall by as much around it.
double length_of_line(const std::vector<Wall>& walls) {
  double sum = 0.0;
  for (const Wall& wall : walls) {
    if (wall.taper > 0.0) {
      sum += wall.taper;
      continue;
    }
    constexpr int k_around = 360;
    for (int i = 0; i < k_around; ++i) {
      const double theta = k_turn * i / k_around;
      sum += (wall.high(theta, 0.0) - wall.low(theta, 0.0)) / k_around;
    }
  }
  return sum;
}

// The bend's angle is that between the ways in and between the bends; the rest by the places of the ends.
void offset_facts(Facts& facts, const Request& request, const Wanted& wanted) {
  const double turns = request.value("pieces") - 1.0;
  const Wall& between = wanted.walls[wanted.walls.size() / 2];
  const double bend = std::atan2(between.axis[0], between.axis[2]);
  const double centre = centreline_of(request);
  const Wall& last = wanted.walls.back();
  facts.exact("bend_angle", bend * k_degrees);
  facts.exact("mitre_angle", bend / (2.0 * turns) * k_degrees);
  facts.exact("centreline_radius", centre);
  facts.exact("true_offset", last.origin[0]);
  facts.exact("overall_length", last.origin[2]);
  facts.summed("between_bends", length_of_line({between}) - 2.0 * centre * std::tan(bend / (2.0 * turns)));
  facts.exact("gored_centreline", length_of_line(wanted.walls));
  const double rise = request.stated("rise") ? request.value("rise") : 0.0;
  const double roll = request.stated("roll") ? request.value("roll") : 0.0;
  if (rise != 0.0 || roll != 0.0) facts.exact("roll_angle", std::atan2(roll, rise) * k_degrees);
  if (request.word("form") == "smooth") smooth_facts(facts, request, bend, gores_of_offset);
}

void cone_facts(Facts& facts, const Request& request) {
  const double first = request.value("diameter") / 2.0;
  const double second = request.value("to_diameter") / 2.0;
  const double large = std::max(first, second);
  const double small = std::min(first, second);
  const double slant = std::hypot(request.value("length"), large - small);
  const double sine = (large - small) / slant;
  const double half = std::asin(sine);
  const double depth = request.bore_depth();
  facts.exact("half_angle", half * k_degrees);
  facts.exact("slant", slant);
  facts.exact("sector_outer_radius", large / sine);
  facts.exact("sector_inner_radius", small / sine);
  facts.exact("sector_angle", 360.0 * sine);
  facts.exact("corner_walk", depth * std::tan(0.5 * half));
  facts.exact("radius_lost", depth / std::cos(half));
  if (request.word("pattern") != "notched") return;
  if (!facts.stated("notches")) {
    facts.exact("notches", 0.0);
    return;
  }
  const double notches = facts.made("notches");
  const double closing = k_turn * (large - small);
  if (request.stated("notches")) facts.exact("notches", request.value("notches"));
  facts.exact("closing_width", closing);
  facts.exact("mouth_width", closing / notches);
  facts.exact("rule_of_thumb_width", 38.1 * notches);
  facts.exact(38.1 * notches <= closing ? "rule_of_thumb_leaves" : "rule_of_thumb_takes",
              std::abs(38.1 * notches - closing));
}

struct Span {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void take(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
};

// The least and greatest value around a joint: beside the best of all steps it is looked for in much smaller
// ones, for beside a tangent it comes to a point.
template <class F>
Span span_around(const F& f) {
  constexpr int k_finer = 200;
  Span span;
  double lowest = 0.0;
  double highest = 0.0;
  for (int i = 0; i < k_steps; ++i) {
    const double psi = k_turn * i / k_steps;
    const double value = f(psi);
    if (value < span.low) lowest = psi;
    if (value > span.high) highest = psi;
    span.take(value);
  }
  for (const double middle : {lowest, highest})
    for (int i = -k_finer; i <= k_finer; ++i) span.take(f(middle + k_turn * i / (k_steps * k_finer)));
  return span;
}

// How far along its own lines the branch's end on the body reaches, on the duct face.
double saddle_depth(const Wall& branch) {
  const Span reach = span_around([&](double psi) { return branch.low(psi, 0.0); });
  return reach.high - reach.low;
}

double joint_length(const Wall& branch, double w) {
  const auto at = [&](int i) {
    const double psi = k_turn * i / k_steps;
    return branch.at(psi, branch.low(psi, w), w);
  };
  double sum = 0.0;
  for (int i = 0; i < k_steps; ++i) sum += size(at(i + 1) - at(i));
  return sum;
}

void tee_facts(Facts& facts, const Case& asked) {
  const Request& request = asked.made.request;
  const Wall& shell = asked.shells.walls.front();
  const double length = request.value("length");
  const double depth = request.bore_depth();
  const std::size_t count = shell.holes.size();
  for (std::size_t i = 0; i < count; ++i) {
    const std::string id = count == 1 ? "branch" : "branch" + std::to_string(i + 1);
    const std::string before = count == 1 ? "" : id + "_";
    const auto branch = std::find_if(asked.wanted.walls.begin(), asked.wanted.walls.end(),
                                     [&](const Wall& wall) { return wall.id == id; });
    const auto bare = std::find_if(asked.shells.walls.begin(), asked.shells.walls.end(),
                                   [&](const Wall& wall) { return wall.id == id; });
    if (branch == asked.wanted.walls.end() || bare == asked.shells.walls.end()) continue;
    facts.extent(before + "saddle_depth", saddle_depth(*bare), request, i);
    facts.summed(before + "sealant_length", joint_length(*branch, depth));
    facts.summed(before + "hole_area", opening_area(shell, shell.holes[i], 0.0));
    facts.summed(before + "opening_area", opening_area(shell, shell.holes[i], depth));
    // the liner's own is another than the shells' where the branch goes over its body or through
    const Wall& body = asked.wanted.walls.front();
    Span hole;
    for (const auto& [wall, w] :
         {std::make_pair(&shell, -request.value("gauge")), std::make_pair(&shell, 0.0),
          std::make_pair(&shell, depth), std::make_pair(&body, 0.0), std::make_pair(&body, depth)}) {
      const Rim& rim = wall->holes[i];
      const double at = w;
      const Span here = span_around([&](double psi) { return rim(psi, at)[1]; });
      hole.take(here.low);
      hole.take(here.high);
    }
    facts.extent(before + "hole_to_end", std::min(hole.low, length - hole.high), request, i);
  }
}

// The hole in the duct's metal as its template shows it: as wide as the branch's inside, on the outside.
void tap_facts(Facts& facts, const Case& asked) {
  const Request& request = asked.made.request;
  const Wall& branch = asked.wanted.walls.front();
  const double inside = request.value("diameter") / 2.0;
  const double outside = inside + request.value("gauge");
  // the metal's edge is told on the duct's inside, as a tee's is
  Wall on_duct = branch;
  on_duct.low = [branch, inside](double psi, double w) { return leaves_body(branch, {}, inside, psi, w); };
  const auto edge = [&](double psi) {
    return branch.at(psi, leaves_body(branch, {}, outside, psi, 0.0), 0.0);
  };
  const Span around = span_around([&](double psi) { return std::atan2(edge(psi)[1], edge(psi)[0]); });
  const Span along_duct = span_around([&](double psi) { return edge(psi)[2]; });
  facts.extent("hole_along", along_duct.high - along_duct.low, request, 0);
  facts.extent("hole_around", outside * (around.high - around.low), request, 0);
  facts.extent("saddle_depth", saddle_depth(on_duct), request, 0);
  facts.summed("sealant_length", joint_length(branch, request.bore_depth()));
}

// A leg's crotch is the end of its longest line's lack: where its wall begins last.
void wye_facts(Facts& facts, const Case& asked) {
  const double depth = asked.made.request.bore_depth();
  for (const Wall& wall : asked.shells.walls) {
    if (wall.id.compare(0, 3, "leg") != 0) continue;
    facts.exact(wall.id + "_half_angle", std::atan(wall.lean(0.0)) * k_degrees);
    Span free;
    Span crotch;
    Span crotch_of_bore;
    for (int i = 0; i < k_steps; ++i) {
      const double psi = k_turn * i / k_steps;
      free.take(wall.high(psi, 0.0) - wall.low(psi, 0.0));
      crotch.take(size(wall.at(psi, wall.low(psi, 0.0), 0.0)));
      crotch_of_bore.take(size(wall.at(psi, wall.low(psi, depth), depth)));
    }
    facts.summed(wall.id + "_crotch", crotch.high);
    facts.summed(wall.id + "_crotch_of_bore", crotch_of_bore.high);
    facts.summed(wall.id + "_free", free.low);
  }
}

void path_facts(Facts& facts, const Case& asked) {
  const OpenEnd& first = asked.shells.ends.front();
  const OpenEnd& last = asked.shells.ends.back();
  const Place way = last.centre - first.centre;
  facts.exact("gored_centreline", length_of_line(asked.shells.walls));
  facts.exact("end_toward_zero", way[0]);
  facts.exact("end_aside", way[1]);
  facts.exact("end_along", way[2]);
  const Place in = -1.0 * first.outward;
  facts.exact("whole_turn",
              std::atan2(size(square_to(in, last.outward)), along(in, last.outward)) * k_degrees);
}

// By how much the taper's second circle is moved aside.
Point shift_of(const Wanted& wanted) {
  for (const Wall& wall : wanted.walls)
    if (wall.taper > 0.0) return wall.shift;
  return {};
}

// How far the last place along a way through the bore is from the first end, along the middle of the walls.
std::optional<double> way_to_end(const Case& asked, const std::string& passage) {
  const Request& request = asked.made.request;
  if (request.kind == "elbow" || request.kind == "offset" || request.kind == "path" ||
      request.kind == "straight")
    return length_of_line(asked.shells.walls);
  const Point moved = shift_of(asked.shells);
  if (request.kind == "reducer")
    return request.value("collar") + std::hypot(request.value("length"), std::hypot(moved[0], moved[1])) +
           request.value("to_collar");
  if (request.kind == "tee" && passage == "body") return request.value("length");
  return std::nullopt;
}

bool held_back(const Request& request) {
  for (const char* key : {"hold_back_start", "hold_back_end", "hold_back_branch", "hold_back_leg"})
    for (std::size_t i = 0; meanings(request.kind).count(key) > 0 && i < request.count(key); ++i)
      if (request.value(key, i) != 0.0) return true;
  return false;
}

void prove_lengths(Case& asked) {
  const Request& request = asked.made.request;
  if (held_back(request)) return;
  Worst lengths("ways to the ends", 1e-6, "mm", "lengths asked for, and sums along the middle of the walls");
  for (std::size_t i = 0; i < asked.made.bore.size(); ++i) {
    const MadeStation& station = asked.made.bore[i];
    if (i + 1 < asked.made.bore.size() && asked.made.bore[i + 1].passage == station.passage) {
      lengths.expect(asked.made.bore[i + 1].distance >= station.distance,
                     station.passage + ", " + station.place + ": places go back");
      continue;
    }
    const auto wanted = way_to_end(asked, station.passage);
    if (wanted) lengths.off(station.distance - *wanted, station.passage + ", " + station.place);
  }
  lengths.into(asked.findings);
}

}  // namespace

void prove_facts(Case& asked) {
  const Request& request = asked.made.request;
  if (request.outer > 0.0) return;
  prove_lengths(asked);
  Facts facts(asked);
  if (request.kind == "elbow") elbow_facts(facts, request);
  if (request.kind == "offset") offset_facts(facts, request, asked.shells);
  if (request.kind == "reducer" && shift_of(asked.shells) == Point{}) cone_facts(facts, request);
  if (request.kind == "tee") tee_facts(facts, asked);
  if (request.kind == "tap") tap_facts(facts, asked);
  if (request.kind == "wye") wye_facts(facts, asked);
  if (request.kind == "path") path_facts(facts, asked);
  facts.into(asked.findings);
}

}  // namespace linerwright::asked
