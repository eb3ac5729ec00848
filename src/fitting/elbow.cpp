// Elbows: cylinders on the tangents of the centreline, mitred where neighbours meet.
#include <fmt/format.h>

#include <algorithm>

#include "common.hpp"

namespace linerwright {

namespace {

constexpr double k_steepest_mitre = 60.0 / 180.0 * k_pi;

struct Bend {
  double radius;      // of the cylinders the liner lies on
  double centreline;  // of those cylinders
  double angle;
  int pieces;
  double collar;
  double mitre() const { return angle / (2.0 * (pieces - 1)); }
};

// The largest gores inside a pressed bend of section radius R on the centreline radius rho. In a plane
// through the bend's centre at the angle psi from a gore's middle, the gore's section is ((rho' + R' c) / cos
// psi, R' s) with c, s the cosine and sine around. Its squared distance from the section's centre, ((rho' +
// R' c)/cos psi - rho)^2
// + R'^2 s^2, is convex in c, so it is largest at heel (c = 1) or throat (c = -1): at the heel on the mitre
// plane (psi = a), at the throat in the middle (psi = 0). Both on the wall:
//   (rho' + R') / cos a = rho + R,   rho' - R' = rho - R.
Bend inside_pressed(const Bend& metal) {
  Bend gores = metal;
  const double heel = (metal.centreline + metal.radius) * std::cos(metal.mitre());
  const double throat = metal.centreline - metal.radius;
  gores.radius = 0.5 * (heel - throat);
  gores.centreline = 0.5 * (heel + throat);
  return gores;
}

// The gap is widest at the heel in the middle of a gore: (rho + R)(1 - cos a).
double gap_behind(const Bend& metal) {
  return (metal.centreline + metal.radius) * (1.0 - std::cos(metal.mitre()));
}

Bend read_bend(const FittingRequest& request, Reasons& reasons) {
  const Values& values = request.values;
  const double diameter = values.quantity("diameter");
  Bend bend;
  bend.radius = 0.5 * diameter;
  bend.angle = values.quantity("angle");
  bend.pieces = static_cast<int>(values.integer("pieces"));
  bend.collar = values.quantity("collar");
  bend.centreline = values.quantity("radius_ratio") * diameter;
  if (const auto radius = values.maybe("centreline_radius")) {
    if (values.given("radius_ratio"))
      reasons.add("centreline_radius", "one of the two", "radius_ratio says the same thing; give only one");
    bend.centreline = *radius;
  }
  return bend;
}

void require_throat(Reasons& reasons, const Fitting& fitting, const Bend& bend) {
  const double a = bend.mitre();
  if (a > k_steepest_mitre) {
    reasons.add("pieces",
                fmt::format("at least {}",
                            static_cast<int>(std::ceil(bend.angle / (2.0 * k_steepest_mitre) - 1e-9)) + 1),
                fmt::format("{} pieces would be mitred at {} degrees; the steepest mitre is 60", bend.pieces,
                            trimmed(a * 180.0 / k_pi, 2)));
    return;
  }
  const bool by_ratio = !fitting.request.values.has("centreline_radius");
  const std::string key = by_ratio ? "radius_ratio" : "centreline_radius";
  const double throat = (bend.centreline - bend.radius - fitting.liner.gauge) * std::tan(a);
  const double shortest =
      bend.pieces > 2 ? std::min(2.0 * throat, throat + bend.collar) : throat + bend.collar;
  if (shortest >= k_shortest_piece) return;
  const double needed = bend.radius + fitting.liner.gauge + k_shortest_piece / std::tan(a);
  reasons.add(
      key, "a centreline radius of at least " + reasons.length(needed) + ", or fewer pieces",
      fmt::format("the throat of a piece would be {} long: it has no length", reasons.length(shortest)));
}

void add_gores(Fitting& fitting, const Bend& bend, double metal_centreline, bool seam_in_throat) {
  const double a = bend.mitre();
  const Vec3 centre{metal_centreline, 0.0, 0.0};
  const int n = bend.pieces;
  const double reach = bend.centreline * std::tan(a);
  for (int i = 0; i < n; ++i) {
    const double turn = 2.0 * a * i;
    const Vec3 along{std::sin(turn), 0.0, std::cos(turn)};
    const Vec3 inward{std::cos(turn), 0.0, -std::sin(turn)};
    const int wall = add_wall(
        fitting, Sheet::cylinder(frame_along(centre - bend.centreline * inward, along, inward), bend.radius));
    if (i == 0) {
      add_open_end(fitting, wall, false, -bend.collar);
    } else {
      const double at = turn - a;
      add_joint(fitting, wall - 1, wall, Side::lead, PlaneTarget{centre, {std::sin(at), 0.0, std::cos(at)}},
                {0.0});
    }
    const bool throat = (i % 2 == 0) == seam_in_throat;
    Piece piece{std::to_string(i + 1),
                i == 0 || i == n - 1 ? "end piece" : "middle piece",
                wall,
                throat ? 0.0 : k_pi,
                k_two_pi,
                throat ? "throat" : "heel",
                {{0.0, "throat"}, {k_pi, "heel"}},
                {}};
    if (i > 0) piece.next.push_back(std::to_string(i));
    if (i + 1 < n) piece.next.push_back(std::to_string(i + 2));
    fitting.pieces.push_back(std::move(piece));
  }
  add_open_end(fitting, n - 1, true, bend.collar);

  Blank blank{"blank", {}};
  for (int i = 0; i < n; ++i) blank.pieces.push_back(i);
  fitting.blanks.push_back(blank);

  // The middle piece first, then outward on both sides.
  const int middle = (n - 1) / 2;
  fitting.insertion.push_back(middle);
  for (int step = 1; step < n; ++step) {
    if (middle + step < n) fitting.insertion.push_back(middle + step);
    if (middle - step >= 0) fitting.insertion.push_back(middle - step);
  }

  const double bare = fitting.request.values.quantity("diameter");
  const double bore = 2.0 * (bend.radius - fitting.liner.thickness);
  Passage passage{"through", {}};
  double distance = 0.0;
  const auto place = [&](int i, double v, const char* name) {
    const Frame& frame = fitting.walls[static_cast<std::size_t>(i)].sheet.frame();
    passage.stations.push_back(round_station(distance, bare, bore, frame.point({0, 0, v}), frame.z, name));
  };
  place(0, -bend.collar, "one end");
  distance = bend.collar + reach;
  for (int i = 1; i + 1 < n; ++i) {
    distance += reach;
    place(i, 0.0, "");
    distance += reach;
  }
  distance += reach + bend.collar;
  place(n - 1, bend.collar, "other end");
  fitting.passages.push_back(passage);
}

}  // namespace

KindSchema elbow_schema() {
  KindSchema schema;
  schema.kind = "elbow";
  schema.summary = "a bend, of mitred gores or pressed smooth, lined with gores";
  KeySpec angle = length_key("angle", "angle of the bend", "90", 1.0 / 180.0 * k_pi, k_pi);
  angle.quantity = Quantity::angle;
  KeySpec ratio = with_default(
      length_key("radius_ratio", "centreline radius as a multiple of the diameter (usual: 1 and 1.5)", "1.5",
                 0.5, 20.0),
      "1.5");
  ratio.quantity = Quantity::number;
  schema.keys = {
      length_key("diameter", "inside diameter of the metal", "24in", 25.0, 5000.0),
      angle,
      integer_key("pieces", "pieces of the bend, both end pieces counted", "5", 2, 12),
      ratio,
      optional_key(
          length_key("centreline_radius", "centreline radius, instead of radius_ratio", {}, 12.0, 50000.0)),
      with_default(
          length_key("collar", "straight collar at either end, part of the end piece", {}, 0.0, 5000.0),
          "0mm"),
      choice_key("form", "gored: the metal is mitred too; smooth: the metal is a pressed bend",
                 {"gored", "smooth"}, "gored"),
      choice_key("seam", "where the first piece's seam lies; the next ones alternate", {"throat", "heel"},
                 "throat"),
      optional_key(
          length_key("gap_limit", "smooth form: widest gap you accept behind the liner", {}, 0.01, 500.0)),
  };
  return schema;
}

Fitting make_elbow(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const Bend metal = read_bend(request, reasons);
  const bool smooth = request.values.text("form") == "smooth";
  require_bore(reasons, fitting, 2.0 * metal.radius, "diameter");
  require_throat(reasons, fitting, metal);
  if (!smooth && request.values.has("gap_limit"))
    reasons.add("gap_limit", "with form = \"smooth\"", "a gored bend leaves no gap behind its liner");
  const Bend gores = smooth && reasons.none() ? inside_pressed(metal) : metal;
  if (smooth && reasons.none() && gores.radius - fitting.liner.thickness < 0.5 * k_smallest_bore)
    reasons.add("pieces", "more pieces or a thinner liner",
                fmt::format("the largest gores that fit inside have a diameter of {}; liner {} closes them",
                            reasons.length(2.0 * gores.radius), reasons.length(fitting.liner.thickness)));
  reasons.throw_if_any();

  add_gores(fitting, gores, metal.centreline, request.values.text("seam") == "throat");
  fitting.facts.push_back({"mitre_angle", "mitre angle", Quantity::angle, metal.mitre()});
  fitting.facts.push_back({"centreline_radius", "centreline radius", Quantity::length, metal.centreline});
  for (int k = 1; k < metal.pieces; ++k)
    fitting.facts.push_back({fmt::format("rise_{}", k), fmt::format("rise of mitre line {}", k),
                             Quantity::angle, metal.mitre() * (2 * k - 1)});
  if (smooth) {
    fitting.pressed =
        PressedBend{metal.radius, metal.centreline, metal.angle, metal.collar, metal.collar, Frame{}};
    fitting.facts.push_back(
        {"gore_diameter", "diameter of the gores inside the bend", Quantity::length, 2.0 * gores.radius});
    fitting.facts.push_back(
        {"gap_behind_liner", "widest gap behind the liner", Quantity::length, gap_behind(metal)});
    if (const auto limit = request.values.maybe("gap_limit")) {
      Bend finer = metal;
      constexpr int k_most = 1000;
      while (gap_behind(finer) > *limit && finer.pieces < k_most) ++finer.pieces;
      Fact fact{"pieces_for_gap_limit", "pieces that keep the gap under the limit", Quantity::number,
                static_cast<double>(finer.pieces)};
      fitting.facts.push_back(fact);
      if (finer.pieces > metal.pieces)
        fitting.warnings.push_back(
            fmt::format("the gap behind the liner is {}, over the limit of {}: {} pieces would keep it",
                        reasons.length(gap_behind(metal)), reasons.length(*limit), finer.pieces));
    }
  }
  note_fasteners(fitting, 2.0 * metal.radius);
  fitting.steps = {
      "Roll each piece with the duct face out and tape its seam on the air face; seams alternate between "
      "throat and heel.",
      "Slide the middle piece in first, then the others outward from both ends, in the order given.",
      "Turn each piece until its heel mark meets the heel mark of its neighbour and the mitres close."};
  return fitting;
}

}  // namespace linerwright
