// Paths: straights, gored bends and tapers in a row, in one fitting: rolling offsets, double elbows,
// goosenecks.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hold_back.hpp"
#include "linerwright/error.hpp"
#include "path_parts.hpp"
#include "row_clear.hpp"
#include "row_order.hpp"

namespace linerwright {

namespace {

constexpr double k_steepest_mitre = 60.0 / 180.0 * k_pi;

struct BendMark {
  int bend;       // counted from 1
  double throat;  // ruling
};

// A cylinder between two cuts, or a taper; its frame runs along its axis, ruling 0 carried on from wall to
// wall.
struct PathWall {
  Frame frame;
  double radius;
  double to_radius;  // of a taper
  double low = 0.0;  // of its axis
  double high = 0.0;
  bool taper = false;
  PlaneTarget mitre{};  // at its high end, against the next; of a cylinder beside a taper none
  bool mitred = false;
  std::vector<BendMark> bends{};
};

struct Path {
  std::vector<PathWall> walls;
  Frame end;
  double centreline = 0.0;  // length of the walls' axes
  int bends = 0;
  std::vector<AirTurn> turns{};
};

Vec3 rotated(Vec3 v, Vec3 axis, double angle) {
  return std::cos(angle) * v + std::sin(angle) * cross(axis, v) +
         ((1.0 - std::cos(angle)) * dot(axis, v)) * axis;
}

// Lays walls one behind the other. The one that is being laid is a cylinder from `low_` to where the way
// stands.
class Layer {
 public:
  explicit Layer(double radius) : radius_(radius) {}

  void straight(double length) { at_ += length; }

  // Each gore's throat lies on the same ruling as that of the one before it, mitre by mitre.
  void bend(const PathPart& part) {
    turn_ += part.turn;
    ++path_.bends;
    path_.turns.push_back({part.angle, part.centreline, part.pieces - 1, part.pieces - 1});
    const double a = part.mitre();
    const double reach = part.centreline * std::tan(a);
    for (int k = 1; k < part.pieces; ++k) {
      const Vec3 toward = frame_.direction({std::cos(turn_), std::sin(turn_), 0.0});
      const Vec3 about = cross(frame_.z, toward);
      at_ += reach;
      marks_.push_back({path_.bends, turn_});
      const Vec3 corner = frame_.point({0.0, 0.0, at_});
      end_cylinder(true, {corner, rotated(frame_.z, about, a)});
      Frame next = frame_;
      next.origin = corner;
      for (Vec3* way : {&next.x, &next.y, &next.z}) *way = rotated(*way, about, 2.0 * a);
      frame_ = next;
      at_ = reach;
      marks_ = {{path_.bends, turn_}};
    }
  }

  void taper(const PathPart& part) {
    if (at_ > 0.0 || mitred_before()) end_cylinder(false, {});
    Frame frame = frame_;
    frame.origin = frame_.point({0.0, 0.0, at_});
    path_.walls.push_back({frame, radius_, 0.5 * part.to_diameter, 0.0, part.length, true});
    path_.centreline += part.length;
    frame_ = frame;
    frame_.origin = frame.point({0.0, 0.0, part.length});
    radius_ = 0.5 * part.to_diameter;
    at_ = 0.0;
    marks_.clear();
  }

  Path finish() {
    if (at_ > 0.0 || mitred_before()) end_cylinder(false, {});
    path_.end = frame_;
    path_.end.origin = frame_.point({0.0, 0.0, at_});
    return std::move(path_);
  }

 private:
  bool mitred_before() const { return !path_.walls.empty() && path_.walls.back().mitred; }

  void end_cylinder(bool mitred, const PlaneTarget& mitre) {
    path_.walls.push_back({frame_, radius_, radius_, 0.0, at_, false, mitre, mitred, marks_});
    path_.centreline += at_;
    marks_.clear();
  }

  Path path_;
  Frame frame_;
  double radius_;
  double at_ = 0.0;    // of the wall's axis from its frame's origin
  double turn_ = 0.0;  // ruling of the last throat
  std::vector<BendMark> marks_;
};

Path laid(const std::vector<PathPart>& parts, double diameter) {
  Layer layer(0.5 * diameter);
  for (const PathPart& part : parts) {
    if (part.form == PathPart::Form::straight) layer.straight(part.length);
    if (part.form == PathPart::Form::bend) layer.bend(part);
    if (part.form == PathPart::Form::taper) layer.taper(part);
  }
  return layer.finish();
}

void require_parts(const Fitting& fitting, const std::vector<PathPart>& parts, Reasons& reasons) {
  double diameter = fitting.request.values.quantity("diameter");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const PathPart& part = parts[i];
    const auto add = [&](const std::string& allowed, const std::string& why) {
      reasons.add("parts", allowed, fmt::format("part {}: {}", i + 1, why));
    };
    if (part.form == PathPart::Form::taper) {
      if (std::fabs(part.to_diameter - diameter) < 1e-7 * diameter)
        add("another diameter, or a straight", "the taper ends as wide as it begins");
      const double lean = std::hypot(1.0, 0.5 * (part.to_diameter - diameter) / part.length);
      const double small = std::min(diameter, part.to_diameter);
      diameter = part.to_diameter;
      require_bore(reasons, fitting, diameter, "parts");
      if (reasons.none() && 0.5 * small - fitting.liner.bore_depth() * lean < 0.5 * k_smallest_bore)
        add("a longer taper", "the liner closes its small end");
    }
    if (part.form != PathPart::Form::bend) continue;
    if (part.mitre() > k_steepest_mitre)
      add("more pieces", fmt::format("{} pieces would be mitred at {} degrees; the steepest mitre is 60",
                                     part.pieces, trimmed(part.mitre() * 180.0 / k_pi, 2)));
  }
}

double half_angle(const PathWall& wall) {
  return std::atan2(wall.radius - wall.to_radius, wall.high);
}

// Two tapers on one circle: at depth w their corner lies on the line half way between the two normals,
// w (sin p + sin q) / (1 + cos(p - q)) before the seam.
Target corner_of(const PathWall& before, const PathWall& after) {
  const double p = half_angle(before);
  const double q = half_angle(after);
  const double walk = (std::sin(p) + std::sin(q)) / (1.0 + std::cos(p - q));
  const Vec3 along = after.frame.z;
  return SphereTarget{after.frame.origin - (walk * after.radius) * along, after.radius, along,
                      walk * after.radius};
}

void add_walls(Fitting& fitting, const Path& path) {
  for (std::size_t i = 0; i < path.walls.size(); ++i) {
    const PathWall& wall = path.walls[i];
    const Sheet sheet = wall.taper ? Sheet::cone(wall.frame, wall.radius, wall.to_radius, wall.high)
                                   : Sheet::cylinder(wall.frame, wall.radius);
    const int index = add_wall(fitting, sheet);
    if (i == 0) {
      add_open_end(fitting, index, false, 0.0);
    } else {
      const PathWall& before = path.walls[i - 1];
      if (before.mitred)
        add_joint(fitting, index - 1, index, Side::lead, before.mitre, {0.0});
      else if (wall.taper && before.taper)
        add_joint(fitting, index - 1, index, Side::lead, corner_of(before, wall), {0.0, k_pi});
      else if (wall.taper)
        add_joint(fitting, index - 1, index, Side::follow, CollarTarget{false}, {0.0, k_pi});
      else
        add_joint(fitting, index - 1, index, Side::lead, CollarTarget{true}, {0.0, k_pi});
    }
    if (i + 1 == path.walls.size()) add_open_end(fitting, index, true, wall.high);
  }
}

std::string seam_words(double seam, double throat, int bends) {
  if (bends == 0) return "ruling 0";
  if (std::fabs(std::remainder(seam - throat, k_two_pi)) < 1e-9) return "throat of the first bend";
  return "heel of the first bend";
}

// Seams alternate, so that cuts are shared at any turn of the bends.
void add_pieces(Fitting& fitting, const Path& path, double throat) {
  const bool at_throat = fitting.request.values.text("seam") == "throat";
  const std::size_t n = path.walls.size();
  for (std::size_t i = 0; i < n; ++i) {
    const PathWall& wall = path.walls[i];
    const double seam = std::remainder(throat + ((i % 2 == 0) == at_throat ? 0.0 : k_pi), k_two_pi);
    const bool end = i == 0 || i + 1 == n;
    Piece piece{std::to_string(i + 1),
                wall.taper ? "taper"
                : end      ? "end piece"
                           : "middle piece",
                static_cast<int>(i),
                seam,
                k_two_pi,
                seam_words(seam, throat, path.bends),
                {},
                {}};
    for (const BendMark& mark : wall.bends) {
      piece.marks.push_back({mark.throat, fmt::format("throat {}", mark.bend)});
      piece.marks.push_back({mark.throat + k_pi, fmt::format("heel {}", mark.bend)});
    }
    if (i > 0) piece.next.push_back(std::to_string(i));
    if (i + 1 < n) piece.next.push_back(std::to_string(i + 2));
    fitting.pieces.push_back(std::move(piece));
  }
  std::vector<RowRadii> radii;
  for (const PathWall& wall : path.walls)
    radii.push_back({wall.radius, wall.taper ? wall.to_radius : wall.radius});
  fitting.insertion = row_order(radii);
  const bool gores_alone =
      std::none_of(path.walls.begin(), path.walls.end(), [](const PathWall& wall) { return wall.taper; });
  if (!gores_alone || n < 2) return;
  Blank blank{"blank", {}};
  for (std::size_t i = 0; i < n; ++i) blank.pieces.push_back(static_cast<int>(i));
  fitting.blanks.push_back(std::move(blank));
}

// The largest value around, which has one peak within the steps that are looked at first.
template <class Height>
double furthest(const Height& height) {
  constexpr int k_steps = 72;
  constexpr int k_halvings = 60;
  int best = 0;
  for (int k = 1; k < k_steps; ++k)
    if (height(k_two_pi * k / k_steps) > height(k_two_pi * best / k_steps)) best = k;
  double from = k_two_pi * (best - 1) / k_steps;
  double to = k_two_pi * (best + 1) / k_steps;
  for (int i = 0; i < k_halvings; ++i) {
    const double third = (to - from) / 3.0;
    if (height(from + third) < height(to - third))
      from += third;
    else
      to -= third;
  }
  return height(0.5 * (from + to));
}

// Stations at both ends and in the middle of every cylinder's whole section; where a taper begins or ends, at
// both ends of the whole sections beside it and of its own.
void add_way(Fitting& fitting, const Path& path) {
  const double t = fitting.liner.bore_depth();
  Passage passage{"through", {}};
  double distance = 0.0;
  for (std::size_t i = 0; i < path.walls.size(); ++i) {
    const PathWall& wall = path.walls[i];
    const auto place = [&](double v, const char* name) {
      if (!passage.stations.empty() && distance + v - passage.stations.back().distance < 1e-6) return;
      // the air face's corners lie a little beside the metal's
      const double grows = wall.taper ? (wall.to_radius - wall.radius) / wall.high : 0.0;
      const double bare = wall.radius + grows * std::clamp(v, 0.0, wall.high);
      const double radius = wall.radius + grows * v;
      const double lean = wall.taper ? std::hypot(1.0, (wall.to_radius - wall.radius) / wall.high) : 1.0;
      passage.stations.push_back(round_station(distance + v, 2.0 * bare, 2.0 * (radius - t * lean),
                                               wall.frame.point({0.0, 0.0, v}), wall.frame.z, name));
    };
    // along the axis, where a taper's own rulings are longer
    const auto end = [&](bool upper, double theta) {
      const double v = end_height(fitting, static_cast<int>(i), upper, theta, t, true);
      const Sheet& sheet = fitting.walls[i].sheet;
      return wall.taper ? wall.frame.local_point(sheet.point(theta, v, t)).z : v;
    };
    const double low = furthest([&](double theta) { return end(false, theta); });
    const double high = -furthest([&](double theta) { return -end(true, theta); });
    if (i == 0) place(0.0, "one end");
    const bool last = i + 1 == path.walls.size();
    const bool beside_taper =
        wall.taper || (i > 0 && path.walls[i - 1].taper) || (!last && path.walls[i + 1].taper);
    if (beside_taper && high - low > 1.0) {
      if (i > 0) place(low, wall.taper ? "taper" : "");
      if (!last) place(high, wall.taper ? "taper" : "");
    } else if (i > 0 && !last && high - low > 1.0) {
      place(0.5 * (low + high), "");
    }
    if (last) place(wall.high, "other end");
    passage.metal.push_back({distance, 2.0 * wall.radius});
    distance += wall.high;
    if (last) passage.metal.push_back({distance, 2.0 * (wall.taper ? wall.to_radius : wall.radius)});
  }
  passage.turns = path.turns;
  fitting.passages.push_back(std::move(passage));
}

void add_facts(Fitting& fitting, const Path& path) {
  const auto add = [&](const char* key, const char* label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  add("gored_centreline", "length of the pieces' centreline", Quantity::length, path.centreline);
  add("end_toward_zero", "far end from the first, toward the first bend's plane at turn 0", Quantity::length,
      path.end.origin.x);
  add("end_aside", "far end from the first, square to that", Quantity::length, path.end.origin.y);
  add("end_along", "far end from the first, along the first end's axis", Quantity::length, path.end.origin.z);
  add("whole_turn", "whole change of direction", Quantity::angle,
      std::atan2(std::hypot(path.end.z.x, path.end.z.y), path.end.z.z));
}

void require_clear(Reasons& reasons, const Fitting& fitting) {
  if (const auto pair = walls_that_meet(fitting, fitting.liner.gauge))
    reasons.add("parts", "a path that keeps clear of itself",
                fmt::format("pieces {} and {} would run into each other", pair->first + 1, pair->second + 1));
}

}  // namespace

KindSchema path_schema() {
  KindSchema schema;
  schema.kind = "path";
  schema.summary =
      "straights, gored bends and tapers in a row, in one fitting: double elbows, rolling offsets";
  KeySpec parts;
  parts.name = "parts";
  parts.type = ValueType::text;
  parts.help =
      "in order, a comma between them: straight LENGTH; bend ANGLE, turn ANGLE of its plane from the bend "
      "before, "
      "pieces N, radius LENGTH; taper to DIAMETER over LENGTH; each length with its unit; or tables "
      "[[fitting.part]] in a job file";
  parts.sample =
      "straight 12in, bend 45, straight 18in, bend 45 turn 180, taper to 18in over 20in, straight 6in";
  KeySpec ratio = with_default(
      length_key("radius_ratio", "of bends that state no radius: centreline radius over the diameter", {},
                 0.5, 20.0),
      "1.5");
  ratio.quantity = Quantity::number;
  schema.keys = {
      length_key("diameter", "inside diameter of the metal at the first end", "24in", 25.0, 5000.0),
      parts,
      with_default(integer_key("pieces", "of bends that state none, both end pieces counted", {}, 2, 12),
                   "3"),
      ratio,
      optional_key(
          length_key("centreline_radius", "centreline radius, instead of radius_ratio", {}, 12.0, 50000.0)),
      choice_key("seam", "where the first piece's seam lies; the next ones alternate", {"throat", "heel"},
                 "throat")};
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_path(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  require_bore(reasons, fitting, diameter, "diameter");
  const std::vector<PathPart> parts = read_parts(request, reasons);
  reasons.throw_if_any();
  require_parts(fitting, parts, reasons);
  reasons.throw_if_any();
  const Path path = laid(parts, diameter);
  add_walls(fitting, path);
  const auto first = std::find_if(parts.begin(), parts.end(),
                                  [](const PathPart& part) { return part.form == PathPart::Form::bend; });
  add_pieces(fitting, path, first == parts.end() ? 0.0 : first->turn);
  require_lengths(reasons, fitting, "parts");
  reasons.throw_if_any();
  require_clear(reasons, fitting);
  require_allowances(reasons, fitting);
  hold_back(fitting, reasons);
  reasons.throw_if_any();
  add_way(fitting, path);
  add_facts(fitting, path);
  note_fasteners(fitting, diameter);
  return fitting;
}

}  // namespace linerwright
