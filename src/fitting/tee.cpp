// Tees and laterals: branches on a body, joined where layers of equal depth meet.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "branch_turn.hpp"
#include "clearance.hpp"
#include "gores.hpp"
#include "hold_back.hpp"
#include "row_clear.hpp"

namespace linerwright {

namespace {

// The fitting while it is made: its first wall is the body.
struct Tee {
  Fitting fitting;
  double radius;
  double length;
  std::vector<Branch> branches;
  std::vector<HoleBox> boxes;
  std::vector<Path> paths{};  // of each branch; empty of one that does not turn

  const Joint& joint(const Branch& b) const { return fitting.joint(b.joint.value()); }
  Wall& body() { return fitting.walls.front(); }
};

Tee read_tee(const FittingRequest& request, Reasons& reasons) {
  Tee tee{begin_fitting(request),
          0.5 * request.values.quantity("diameter"),
          request.values.quantity("length"),
          {},
          {}};
  require_bore(reasons, tee.fitting, 2.0 * tee.radius, "diameter");
  tee.branches = read_branches(request, tee.radius, tee.length, reasons);
  read_turns(request, tee.branches, reasons);
  return tee;
}

// Between branches apart from each other nobody can say which way two opposite flows go.
void require_one_meeting(const Tee& tee, Reasons& reasons) {
  const Flow flow = tee.fitting.liner.flow;
  if (flow != Flow::to_branch && flow != Flow::from_branch) return;
  const double first = tee.branches.front().position;
  for (const Branch& b : tee.branches)
    if (std::fabs(b.position - first) > 1e-6 * tee.radius)
      return reasons.add("flow_arrow", "along, against or unmarked",
                         "between branches at different positions it says no way of the air");
}

void require_branches(const Tee& tee, Reasons& reasons) {
  const LinerSpec& liner = tee.fitting.liner;
  for (const Branch& b : tee.branches) {
    if (check_branch(b, tee.radius, liner.bore_depth(), liner.joint, reasons))
      require_bore(reasons, tee.fitting, 2.0 * b.radius, "branch_diameter");
    const double needed = b.enters(tee.radius) + 10.0;
    if (b.is_conical() && b.length < needed)
      reasons.add("branch_length", "at least " + reasons.length(needed),
                  b.called + "a conical branch needs a length outside the body");
    require_turn(reasons, tee.fitting, b);
  }
}

void add_branch(Tee& tee, Branch& b, Reasons& reasons) {
  Fitting& fitting = tee.fitting;
  const Sheet body = tee.body().sheet;
  const Sheet sheet = branch_sheet(b, tee.radius);
  b.wall = add_wall(fitting, sheet, 0.5 * k_pi);
  fitting.joints.push_back({sheet, {body}, BodyTarget{body}, fitting.liner.joint, {0.5 * k_pi, 1.5 * k_pi}});
  b.joint = static_cast<int>(fitting.joints.size()) - 1;
  fitting.wall(*b.wall).low = {*b.joint, Side::lead};
  tee.body().holes.push_back({*b.joint, Side::follow});
  tee.paths.push_back(b.bend ? path_of(b, sheet) : Path{});
  if (b.bend)
    go_on(fitting, tee.paths.back(), *b.wall, 0.5 * k_pi);
  else
    add_open_end(fitting, *b.wall, End::high, end_of(b, sheet));
  tee.boxes.push_back(hole_of(b, tee.joint(b), fitting.liner, reasons));
  const HoleBox& box = tee.boxes.back();
  if (std::min(box.z_low, tee.length - box.z_high) < k_margin)
    reasons.add(
        "length", fmt::format("{} between hole and ends", reasons.length(k_margin)),
        fmt::format("{}the hole reaches from {} to {} of the body's {}", b.called, reasons.length(box.z_low),
                    reasons.length(box.z_high), reasons.length(tee.length)));
}

// The branch's wall on the body, to its end or to the first mitre of its bend.
BranchMetal metal_of(const Tee& tee, std::size_t index) {
  const Branch& b = tee.branches[index];
  const Joint& joint = tee.joint(b);
  const Frame& frame = joint.lead.frame();
  const Path& path = tee.paths[index];
  PlaneTarget end{frame.point({0, 0, end_of(b, joint.lead)}), frame.z};
  if (!path.walls.empty() && path.walls.front().mitred) end = path.walls.front().mitre;
  return {joint.lead, joint, frame.local_point({0, 0, b.position}).z, end};
}

// Whether what lies behind one branch's wall on the body meets the other branch.
bool turns_meet(const Tee& tee, std::size_t i, std::size_t k) {
  const auto walls = [&](std::size_t branch) {
    return static_cast<int>(std::max<std::size_t>(1, tee.paths[branch].walls.size()));
  };
  for (int one = 0; one < walls(i); ++one)
    for (int other = 0; other < walls(k); ++other)
      if (one + other > 0 && !walls_apart(tee.fitting, tee.branches[i].wall.value() + one,
                                          tee.branches[k].wall.value() + other, tee.fitting.liner.gauge))
        return true;
  return false;
}

// Holes keep a margin on the body, and the metal of two branches may not meet outside it.
void require_apart(const Tee& tee, Reasons& reasons) {
  const LinerSpec& liner = tee.fitting.liner;
  for (std::size_t i = 0; i < tee.branches.size(); ++i)
    for (std::size_t k = i + 1; k < tee.branches.size(); ++k) {
      const Branch& a = tee.branches[i];
      const Branch& b = tee.branches[k];
      const double apart = holes_apart({tee.joint(a), a.around}, {tee.joint(b), b.around}, liner);
      if (apart < k_margin)
        reasons.add("position", "holes at least " + reasons.length(k_margin) + " apart",
                    apart > 0.0 ? fmt::format("the holes of branches {} and {} are {} apart", i + 1, k + 1,
                                              reasons.length(apart))
                                : fmt::format("the holes of branches {} and {} overlap", i + 1, k + 1));
      else if (const double gap = metals_apart(metal_of(tee, i), metal_of(tee, k), liner.gauge); gap < 0.0)
        reasons.add(
            "around", "branches that keep clear of each other outside the body",
            fmt::format("branches {} and {} run into each other by {}", i + 1, k + 1, reasons.length(-gap)));
      else if (turns_meet(tee, i, k))
        reasons.add("turn_to", "branches that keep clear of each other outside the body",
                    fmt::format("branches {} and {} run into each other where they turn", i + 1, k + 1));
    }
}

// Ends the body, its faces beginning at its seam.
void place_seam(Tee& tee, Reasons& reasons) {
  const Values& values = tee.fitting.request.values;
  double clearance = 0.0;
  const double margin_angle = k_margin / tee.radius;
  const double wanted = tee.branches.front().around + values.quantity("body_seam");
  const double seam = free_ruling(tee.boxes, wanted, margin_angle, &clearance);
  if (clearance < margin_angle || (values.given("body_seam") && seam != wanted))
    reasons.add("body_seam", "a ruling at least " + reasons.length(k_margin) + " from every hole",
                clearance < margin_angle ? "no straight seam passes between the holes"
                                         : "the body's seam would run through a hole");
  reasons.throw_if_any();
  tee.body().face_start = std::remainder(seam, k_two_pi);
  add_open_end(tee.fitting, 0, End::low, 0.0);
  add_open_end(tee.fitting, 0, End::high, tee.length);
}

void add_pieces(Tee& tee) {
  Fitting& fitting = tee.fitting;
  const Values& values = fitting.request.values;
  // the ends' circles have their vertex where the body's faces begin
  Piece body{"body", "body", 0, tee.body().face_start, k_two_pi, "clear of the branches", {}, {}};
  if (tee.branches.size() == 1 && !values.given("body_seam")) body.seam_place = "opposite the branch";
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < tee.branches.size(); ++i) {
    const Branch& b = tee.branches[i];
    body.marks.push_back({b.around, b.name + " centre line"});
    body.next.push_back(b.name);
    pieces.push_back(branch_piece(b, values, {"body"}));
    for (const RulingMark& mark : pieces.back().marks) body.hole_marks.push_back({i, mark.theta, mark.name});
    if (!b.bend) continue;
    const std::vector<Piece> turned = turned_pieces(tee.paths[i], b, pieces.back());
    pieces.back().next.push_back(turned.front().id);
    pieces.insert(pieces.end(), turned.begin(), turned.end());
  }
  fitting.pieces = {std::move(body)};
  fitting.pieces.insert(fitting.pieces.end(), pieces.begin(), pieces.end());
  add_blanks(fitting, 1);
  for (int i = 0; i < static_cast<int>(fitting.pieces.size()); ++i) fitting.insertion.push_back(i);
}

// Where the body is whole again behind its holes, half way to the next one or to its end, and the branches
// that lie before it.
std::vector<std::pair<double, std::string>> places_behind_holes(const Tee& tee) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < tee.branches.size(); ++i) order.push_back(i);
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return tee.boxes[a].z_high < tee.boxes[b].z_high; });
  std::vector<std::pair<double, std::string>> places;
  std::string names;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const HoleBox& box = tee.boxes[order[k]];
    names += (names.empty() ? "after " : " and ") + tee.branches[order[k]].name;
    double next = liner_end(tee.fitting, 0, End::high, 0.0, 0.0);  // of the lining
    for (std::size_t later = k + 1; later < order.size(); ++later)
      next = std::min(next, tee.boxes[order[later]].z_low);
    if (next - box.z_high < 0.5 * k_margin) continue;  // a hole beside this one reaches further
    places.emplace_back(0.5 * (box.z_high + next), names);
    names.clear();
  }
  return places;
}

void add_body_bore(Tee& tee) {
  const double bare = 2.0 * tee.radius;
  const double bore = bare - 2.0 * tee.fitting.liner.bore_depth();
  Passage body{"body", {}};
  const auto add = [&](double z, const std::string& place) {
    body.stations.push_back(round_station(z, bare, bore, {0, 0, z}, {0, 0, 1}, place));
  };
  add(0.0, "first end");
  for (const auto& [z, place] : places_behind_holes(tee)) add(z, place);
  add(tee.length, "far end");
  for (std::size_t i = 0; i < tee.branches.size(); ++i)
    body.branches.push_back(
        {tee.branches[i].name, 0.5 * (tee.boxes[i].z_low + tee.boxes[i].z_high), tee.branches[i].angle});
  tee.fitting.passages.push_back(std::move(body));
}

void add_branch_facts(Tee& tee, std::size_t index) {
  Fitting& fitting = tee.fitting;
  const Branch& b = tee.branches[index];
  const Joint& joint = tee.joint(b);
  const double t = fitting.liner.bore_depth();
  const std::string prefix = tee.branches.size() == 1 ? "" : b.name + "_";
  const std::string of = tee.branches.size() == 1 ? "" : " of " + b.name;
  const auto add = [&](const char* key, const char* label, Quantity quantity, double value) {
    fitting.facts.push_back({prefix + key, label + of, quantity, value});
  };
  add("saddle_depth", "depth of the saddle", Quantity::length, saddle_depth(joint));
  add("hole_area", "area of the hole in the body's duct face, developed", Quantity::area,
      hole_area(fitting, 0, index, 0.0));
  add("opening_area", "opening of the branch's bore into the body's, developed", Quantity::area,
      hole_area(fitting, 0, index, t));
  LinerSpec whole =
      fitting.liner;  // all layers: where the liner goes through, the hole moves on with the depth
  whole.thickness += whole.inside;
  whole.inside = 0.0;
  const HoleBox box = box_of(joint, whole, b.around);
  add("hole_to_end", "narrowest distance from the hole to an end of the body", Quantity::length,
      std::min(box.z_low, tee.length - box.z_high));
  add("sealant_length", "sealant along the joint", Quantity::length,
      joint_length(joint, liner_depths(joint.style, Side::lead, t, t)));
  if (!b.bend) return;
  const Path& path = tee.paths[index];
  add("bend_angle", "angle of the bend", Quantity::angle, b.bend->angle);
  add("mitre_angle", "mitre angle of the bend", Quantity::angle, b.bend->mitre());
  add("bend_radius", "centreline radius of the bend", Quantity::length, b.bend->centreline);
  const Vec3 out{std::cos(b.around), std::sin(b.around), 0.0};
  add("end_from_axis", "from the body's axis to the middle of the end", Quantity::length,
      dot(path.end.origin, out));
  add("end_along", "from the body's first end along it to the middle of the end", Quantity::length,
      path.end.origin.z);
}

}  // namespace

KindSchema tee_schema() {
  KindSchema schema;
  schema.kind = "tee";
  schema.summary =
      "a body with one or more branches: tees, laterals, also turned square or parallel, crosses";
  const auto per_branch = [](KeySpec key) {
    key.many = true;
    return key;
  };
  KeySpec around = with_default(
      length_key("around", "direction of the branch around the body", {}, -k_two_pi, k_two_pi), "0");
  around.quantity = Quantity::angle;
  KeySpec body_seam = with_default(
      length_key("body_seam", "where the body's seam lies, counted from the first branch's direction", {},
                 -k_two_pi, k_two_pi),
      "180");
  body_seam.quantity = Quantity::angle;
  KeySpec branch_length = per_branch(branch_key("branch_length"));
  branch_length.help += ", or to where its bend begins";
  schema.keys = {
      length_key("diameter", "inside diameter of the body", "24in", 25.0, 5000.0),
      length_key("length", "length of the body", "48in", 20.0, 30000.0),
      per_branch(branch_key("branch_diameter")),
      branch_length,
      per_branch(branch_key("angle")),
      per_branch(optional_key(
          length_key("position", "where the axes cross, from the body's first end (default: the middle)", {},
                     -30000.0, 60000.0))),
      per_branch(around),
      per_branch(branch_key("offset")),
      per_branch(branch_key("branch_base")),
      body_seam,
      branch_key("branch_seam"),
  };
  for (KeySpec& key : branch_turn_keys()) schema.keys.push_back(std::move(key));
  for (KeySpec& key : hold_back_keys({"start", "end", "branch"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_tee(const FittingRequest& request) {
  Reasons reasons(request);
  Tee tee = read_tee(request, reasons);
  Fitting& fitting = tee.fitting;
  reasons.throw_if_any();
  require_branches(tee, reasons);
  require_one_meeting(tee, reasons);
  reasons.throw_if_any();

  add_wall(fitting, Sheet::cylinder(Frame{}, tee.radius));
  for (Branch& b : tee.branches) add_branch(tee, b, reasons);
  reasons.throw_if_any();
  require_apart(tee, reasons);
  reasons.throw_if_any();
  place_seam(tee, reasons);
  add_pieces(tee);
  require_lengths(reasons, fitting, "branch_length");
  reasons.throw_if_any();
  for (const Branch& b : tee.branches)
    require_common_opening(reasons, {tee.joint(b), b.around}, fitting.liner,
                           tee.branches.size() == 1 ? "the branch" : b.name);
  reasons.throw_if_any();
  require_allowances(reasons, fitting);
  hold_back(fitting, reasons);
  reasons.throw_if_any();

  add_body_bore(tee);
  for (std::size_t i = 0; i < tee.branches.size(); ++i) {
    const Branch& b = tee.branches[i];
    if (b.bend)
      fitting.passages.push_back(way_along(fitting, tee.paths[i],
                                           {b.name, b.wall.value(), b.length - end_of(b, tee.joint(b).lead),
                                            true, "above the crotch", "branch end"}));
    else
      add_branch_bore(fitting, b, tee.joint(b));
    add_branch_facts(tee, i);
  }
  note_fasteners(fitting, 2.0 * tee.radius);
  return fitting;
}

}  // namespace linerwright
