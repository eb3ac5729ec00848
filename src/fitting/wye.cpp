// Wyes and breeches: legs that part from one inlet, all walls about one sphere.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hold_back.hpp"
#include "linerwright/units/error.hpp"
#include "sphere.hpp"

namespace linerwright {

namespace {

constexpr int k_samples = 720;  // around a wall, for limits and figures
constexpr int k_most_legs = 6;

double ruling_at(int i) {
  return k_two_pi * i / k_samples;
}

struct Leg {
  std::string name;  // "leg1"
  double radius;     // of its open end
  double length;     // from where the axes meet
  double angle;      // from the inlet's way on
  double around;     // direction of its plane about the inlet's axis
  Vec3 axis;
};

// The fitting while it is made: its first wall is the inlet, then one for each leg.
struct Wye {
  Fitting fitting;
  double radius;  // of the inlet and of the sphere
  double inlet_length;
  std::vector<Leg> legs;
  std::vector<SphereWall> walls;
  std::vector<SphereCorner> corners;
};

Vec3 axis_of(double angle, double around) {
  return {std::sin(angle) * std::cos(around), std::sin(angle) * std::sin(around), std::cos(angle)};
}

std::vector<Leg> read_legs(const FittingRequest& request, double radius, Reasons& reasons) {
  const Values& values = request.values;
  const auto count = static_cast<std::size_t>(values.integer("legs"));
  // One value serves all legs; otherwise there is one for each.
  const auto value_of = [&](const std::string& key, std::size_t i, double otherwise) {
    if (!values.has(key)) return otherwise;
    const std::vector<double> all = values.list(key);
    if (all.size() == count) return all[i];
    if (all.size() != 1 && i == 0)
      reasons.add(key, fmt::format("one value, or {}", count),
                  fmt::format("{} values for {} legs (legs gives their number)", all.size(), count));
    return all.front();
  };
  std::vector<Leg> legs;
  for (std::size_t i = 0; i < count; ++i) {
    Leg leg{};
    leg.name = fmt::format("leg{}", i + 1);
    leg.radius = 0.5 * value_of("leg_diameter", i, 2.0 * radius);
    if (std::fabs(leg.radius - radius) < 1e-7 * radius) leg.radius = radius;
    leg.length = value_of("leg_length", i, 0.0);
    leg.angle = value_of("angle", i, 0.0);
    leg.around = value_of("around", i, k_two_pi * static_cast<double>(i) / static_cast<double>(count));
    leg.axis = axis_of(leg.angle, leg.around);
    legs.push_back(std::move(leg));
  }
  return legs;
}

std::string called(const Wye& wye, int wall) {
  return wall == 0 ? "the inlet" : wye.legs[static_cast<std::size_t>(wall) - 1].name;
}

const char* length_key_of(int wall) {
  return wall == 0 ? "inlet_length" : "leg_length";
}

// A leg's ruling 0, its heel, lies away from the other legs; of one with legs evenly about it, in its plane.
Vec3 heel_of(const Wye& wye, std::size_t index) {
  const Leg& leg = wye.legs[index];
  Vec3 others{};
  for (std::size_t i = 0; i < wye.legs.size(); ++i)
    if (i != index) others = others + wye.legs[i].axis;
  const Vec3 beside = others - dot(others, leg.axis) * leg.axis;
  if (norm(beside) > 1e-9) return -beside;
  return {std::cos(leg.angle) * std::cos(leg.around), std::cos(leg.angle) * std::sin(leg.around),
          -std::sin(leg.angle)};
}

void add_walls(Wye& wye, Reasons& reasons) {
  const double bore = wye.fitting.liner.bore_depth();
  wye.walls.push_back(sphere_wall(wye.radius, {0, 0, -1}, {1, 0, 0}, 0.0, wye.inlet_length, true));
  for (std::size_t i = 0; i < wye.legs.size(); ++i) {
    const Leg& leg = wye.legs[i];
    const std::optional<double> half = half_angle_to(wye.radius, leg.radius, leg.length);
    if (!half || leg.length <= wye.radius * std::sin(*half)) {
      reasons.add("leg_length", "longer",
                  fmt::format("{} would end within the {} sphere in which inlet and legs meet", leg.name,
                              reasons.length(2.0 * wye.radius)));
      continue;
    }
    wye.walls.push_back(sphere_wall(wye.radius, leg.axis, heel_of(wye, i), *half, leg.length, false));
    require_bore(reasons, wye.fitting, 2.0 * leg.radius, "leg_diameter");
    if (reasons.none() && leg.radius - bore / std::cos(*half) < 0.5 * k_smallest_bore)
      reasons.add("thickness", "thinner",
                  fmt::format("the liner closes the end of {}, whose walls lean by {} degrees", leg.name,
                              trimmed(*half * 180.0 / k_pi, 2)));
  }
}

// Two walls that widen so fast, or lie so near each other, that they stay one.
void require_parting(const Wye& wye, Reasons& reasons) {
  for (std::size_t i = 0; i < wye.walls.size(); ++i)
    for (std::size_t k = i + 1; k < wye.walls.size(); ++k) {
      const SphereWall& a = wye.walls[i];
      const SphereWall& b = wye.walls[k];
      const double between = std::atan2(norm(cross(a.axis, b.axis)), dot(a.axis, b.axis));
      if (between + a.half_angle + b.half_angle > 1e-6) continue;
      reasons.add("angle", "legs farther apart, or with smaller ends",
                  fmt::format("{} and {} never part: {} degrees lie between their axes, and they widen by {}",
                              called(wye, static_cast<int>(i)), called(wye, static_cast<int>(k)),
                              trimmed(between * 180.0 / k_pi, 2),
                              trimmed(-(a.half_angle + b.half_angle) * 180.0 / k_pi, 2)));
    }
}

// The greatest start of a wall's rulings, for each millimetre of the sphere's radius: from the best of many
// on by thirds. Between corners starts have one top.
struct Top {
  double v, theta;
};
Top top_of(const Wye& wye, int wall) {
  const auto start = [&](double theta) { return start_of(wye.walls, wall, theta).v; };
  double best = 0.0;
  for (int i = 1; i < k_samples; ++i)
    if (start(ruling_at(i)) > start(best) + 1e-12) best = ruling_at(i);
  double low = best - ruling_at(1);
  double high = best + ruling_at(1);
  while (high - low > 1e-9) {
    const double first = low + (high - low) / 3.0;
    const double second = high - (high - low) / 3.0;
    (start(first) < start(second) ? low : high) = start(first) < start(second) ? first : second;
  }
  const double middle = 0.5 * (low + high);
  return start(middle) > start(best) + 1e-12 ? Top{start(middle), middle} : Top{start(best), best};
}

// Every wall's end lies beyond what it meets, on both faces; and nothing comes back to it before its end.
void require_free_ends(const Wye& wye, Reasons& reasons) {
  const double bore = wye.fitting.liner.bore_depth();
  const double gauge = wye.fitting.liner.gauge;
  for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w) {
    const SphereWall& wall = wye.walls[static_cast<std::size_t>(w)];
    const Top top = top_of(wye, w);
    double missing = -1e300;
    double again = 1e300;
    for (const double depth : {-gauge, 0.0, bore}) {
      const double end = open_end(wall, wye.radius, depth);
      missing = std::max(missing, top.v * (wye.radius - depth) - end + k_shortest_piece);
      for (int i = 0; i < k_samples; ++i)
        again = std::min(again, meets_again(wye.walls, w, ruling_at(i)) * (wye.radius - depth) - end);
    }
    if (missing > 0.0)
      reasons.add(length_key_of(w), "longer",
                  fmt::format("the end of {} would lie {} inside what it meets", called(wye, w),
                              reasons.length(missing * std::cos(wall.half_angle))));
    else if (again < 0.0)
      reasons.add(length_key_of(w), "shorter",
                  fmt::format("{} runs into another wall again before its end", called(wye, w)));
  }
}

void require_corners(const Wye& wye, Reasons& reasons) {
  for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w) {
    if (!arcs_on(wye.walls, wye.corners, w).empty()) continue;
    const int other = start_of(wye.walls, w, 0.0).neighbour.value();
    reasons.add("angle", "legs that part from the inlet",
                fmt::format("{} meets {} alone, all around: it is a branch of it, which a tee says",
                            called(wye, w), called(wye, other)));
  }
}

void add_ends(Wye& wye) {
  for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w) {
    const SphereWall& wall = wye.walls[static_cast<std::size_t>(w)];
    const double end = wall.length - wye.radius * std::sin(wall.half_angle);
    add_open_end(wye.fitting, w, wall.toward ? End::low : End::high, wall.toward ? -end : end);
  }
}

std::vector<RulingMark> marks_on(const Wye& wye, int wall) {
  std::vector<RulingMark> marks;
  if (wall == 0) {
    for (std::size_t i = 0; i < wye.legs.size(); ++i)
      if (std::sin(wye.legs[i].angle) > 1e-9)
        marks.push_back({wye.legs[i].around, wye.legs[i].name + " side"});
  } else {
    marks.push_back({0.0, "heel"});
    marks.push_back({top_of(wye, wall).theta, "crotch"});
  }
  for (const SphereArc& arc : arcs_on(wye.walls, wye.corners, wall))
    marks.push_back({arc.from, fmt::format("corner {}", arc.from_corner + 1)});
  return marks;
}

void add_pieces(Wye& wye) {
  Fitting& fitting = wye.fitting;
  const Values& values = fitting.request.values;
  const auto name_of = [&](int wall) {
    return wall == 0 ? std::string("main") : wye.legs[static_cast<std::size_t>(wall) - 1].name;
  };
  for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w) {
    const bool inlet = w == 0;
    const char* key = inlet ? "inlet_seam" : "leg_seam";
    Piece piece{name_of(w),
                inlet ? "inlet" : "leg",
                w,
                values.quantity(key),
                k_two_pi,
                !inlet && !values.given(key)
                    ? "heel"
                    : fmt::format("{} degrees from {}", trimmed(values.quantity(key) * 180.0 / k_pi, 1),
                                  inlet ? "the direction 0" : "the heel"),
                marks_on(wye, w),
                {}};
    for (int other = 0; other < static_cast<int>(wye.walls.size()); ++other)
      if (other != w && share_a_joint(fitting.wall(w), fitting.wall(other)))
        piece.next.push_back(name_of(other));
    fitting.pieces.push_back(std::move(piece));
  }
  // a leg that is narrower at its end than at the crotch reaches its place through the inlet alone
  const auto narrows = [&](int w) {
    return w > 0 && wye.walls[static_cast<std::size_t>(w)].half_angle > 0.0;
  };
  for (const bool first : {true, false})
    for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w)
      if (narrows(w) == first) fitting.insertion.push_back(w);
}

// The bore of a wall from its last whole section, beside what it meets, to its open end.
void add_way(Wye& wye, int w) {
  const SphereWall& wall = wye.walls[static_cast<std::size_t>(w)];
  const double s = std::sin(wall.half_angle);
  const double c = std::cos(wall.half_angle);
  const double t = wye.fitting.liner.bore_depth();
  // along the axis: the ruling's foot stands (R - w) sin p from the centre
  const double inner = (wye.radius - t) * (s + c * top_of(wye, w).v);
  const auto station = [&](double along, double distance, const char* place) {
    const double bare = 2.0 * (wye.radius - along * s) / c;
    return round_station(distance, bare, bare - 2.0 * t / c, along * wall.axis, wall.sheet.frame().z, place);
  };
  Passage passage{w == 0 ? "inlet" : wye.legs[static_cast<std::size_t>(w) - 1].name, {}};
  if (w == 0) {
    passage.stations = {station(wall.length, 0.0, "open end"),
                        station(inner, wall.length - inner, "before the crotch")};
    // all leave where the axes meet, beyond the inlet's last station
    for (const Leg& leg : wye.legs) passage.branches.push_back({leg.name, wall.length, leg.angle});
  } else {
    passage.stations = {station(inner, inner, "above the crotch"),
                        station(wall.length, wall.length, "leg end")};
  }
  wye.fitting.passages.push_back(std::move(passage));
}

void add_facts(Wye& wye) {
  const double bore = wye.fitting.liner.bore_depth();
  const auto add = [&](const std::string& key, const std::string& label, Quantity quantity, double value) {
    wye.fitting.facts.push_back({key, label, quantity, value});
  };
  for (int w = 1; w < static_cast<int>(wye.walls.size()); ++w) {
    const SphereWall& wall = wye.walls[static_cast<std::size_t>(w)];
    const std::string& name = wye.legs[static_cast<std::size_t>(w) - 1].name;
    const double top = top_of(wye, w).v;
    // |x|^2 = R^2 + v^2
    const double away = std::sqrt(1.0 + top * top);
    add(name + "_half_angle", "half angle of " + name + "'s taper (0: a cylinder)", Quantity::angle,
        wall.half_angle);
    add(name + "_crotch", "from where the axes meet to the crotch of " + name + ", on the duct face",
        Quantity::length, wye.radius * away);
    add(name + "_crotch_of_bore", "the same in the bore", Quantity::length, (wye.radius - bore) * away);
    add(name + "_free", "length of " + name + " beyond its crotch, on the duct face", Quantity::length,
        open_end(wall, wye.radius, 0.0) - wye.radius * top);
  }
}

KeySpec angle_key(const char* name, const char* help, const char* sample, double min, double max) {
  KeySpec key = length_key(name, help, sample, min, max);
  key.quantity = Quantity::angle;
  return key;
}

}  // namespace

KindSchema wye_schema() {
  KindSchema schema;
  schema.kind = "wye";
  schema.summary =
      "legs that part from one inlet: wyes, breeches; ends of any size, all walls about one sphere";
  const auto per_leg = [](KeySpec key) {
    key.many = true;
    return key;
  };
  schema.keys = {
      length_key("diameter", "inside diameter of the inlet", "24in", 25.0, 5000.0),
      length_key("inlet_length", "of the inlet, from its end to the point where all axes meet", "20in", 5.0,
                 30000.0),
      with_default(integer_key("legs", "how many legs part from the inlet", "2", 2, k_most_legs), "2"),
      per_leg(optional_key(length_key("leg_diameter", "inside diameter of a leg's end (default: the inlet's)",
                                      "18in", 25.0, 5000.0))),
      per_leg(length_key("leg_length", "of a leg, from the point where all axes meet to its end", "32in",
                         20.0, 30000.0)),
      per_leg(angle_key("angle", "between a leg and the inlet's way straight on", "30", 0.0,
                        165.0 / 180.0 * k_pi)),
      per_leg(optional_key(angle_key("around",
                                     "direction of a leg about the inlet's axis (default: evenly around; two "
                                     "legs part to opposite sides)",
                                     "", -k_two_pi, k_two_pi))),
      with_default(
          angle_key("leg_seam", "where each leg's seam lies, counted from its heel", "", -k_two_pi, k_two_pi),
          "0"),
      with_default(angle_key("inlet_seam", "where the inlet's seam lies, counted as around is", "", -k_two_pi,
                             k_two_pi),
                   "45"),
  };
  for (KeySpec& key : hold_back_keys({"start", "leg"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_wye(const FittingRequest& request) {
  Reasons reasons(request);
  const Values& values = request.values;
  Wye wye{
      begin_fitting(request), 0.5 * values.quantity("diameter"), values.quantity("inlet_length"), {}, {}, {}};
  Fitting& fitting = wye.fitting;
  wye.legs = read_legs(request, wye.radius, reasons);
  require_bore(reasons, fitting, 2.0 * wye.radius, "diameter");
  reasons.throw_if_any();
  add_walls(wye, reasons);
  reasons.throw_if_any();
  require_parting(wye, reasons);
  reasons.throw_if_any();
  require_free_ends(wye, reasons);
  reasons.throw_if_any();
  wye.corners = corners_of(wye.walls, wye.radius);
  require_corners(wye, reasons);
  reasons.throw_if_any();

  for (const SphereWall& wall : wye.walls) add_wall(fitting, wall.sheet);
  join_walls(fitting, wye.walls, wye.corners, wye.radius);
  add_ends(wye);
  add_pieces(wye);
  require_lengths(reasons, fitting, "leg_length");
  reasons.throw_if_any();
  require_allowances(reasons, fitting);
  hold_back(fitting, reasons);
  reasons.throw_if_any();
  for (int w = 0; w < static_cast<int>(wye.walls.size()); ++w) add_way(wye, w);
  add_facts(wye);
  note_fasteners(fitting, 2.0 * wye.radius);
  return fitting;
}

}  // namespace linerwright
