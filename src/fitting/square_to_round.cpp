// Square-to-rounds: four flat triangles and four parts of oblique cones from a rectangle to a circle,
// unrolled as one sheet. Near the rectangle's corners the liner would cross itself; what is trimmed there
// follows from the planes that touch the wall (src/joint/README.md), and no through-cut on the flat board
// makes it: it is carved by hand.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "common.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "round_collar.hpp"
#include "square_collar.hpp"
#include "square_to_round.hpp"

namespace linerwright {

namespace {

// A side that leans less than a micrometre out of upright stands upright: no metal tells them apart, and the
// mitre at its tip would be shorter than a kernel's points are apart.
void stand_upright(double& side, double radius, double moved) {
  constexpr double k_upright = 1e-3;  // mm
  const double upright = radius + std::fabs(moved);
  if (std::fabs(0.5 * side - upright) < k_upright) side = 2.0 * upright;
}

SquareEnd read_ends(const FittingRequest& request, Reasons& reasons) {
  const Values& values = request.values;
  SquareEnd ends{};
  ends.width = values.quantity("width");
  ends.height = values.quantity("height");
  ends.radius = 0.5 * values.quantity("diameter");
  ends.length = values.quantity("length");
  ends.collar = values.quantity("round_collar");
  ends.square_collar = values.has("square_collar") ? values.quantity("square_collar") : 0.0;
  ends.centre = {values.quantity("shift_right"), values.quantity("shift_up")};
  ends.pieces = static_cast<int>(values.integer("pieces"));
  stand_upright(ends.width, ends.radius, ends.centre.x);
  stand_upright(ends.height, ends.radius, ends.centre.y);
  if (ends.pieces == 3)
    reasons.add("pieces", "1, 2 or 4",
                "seams lie on the middle lines of the four flat sides, as far from each other as they may");
  return ends;
}

// What the liner's thickness must leave.
void require_room(Reasons& reasons, const Fitting& fitting, const SquareEnd& ends) {
  require_bore(reasons, fitting, 2.0 * ends.radius, "diameter");
  require_bore(reasons, fitting, ends.width, "width");
  require_bore(reasons, fitting, ends.height, "height");
  if (fitting.liner.cut != CutPolicy::outer && fitting.liner.cut != CutPolicy::duct)
    reasons.add(
        "cut", "outer, duct",
        "at the rectangle's corners the air face ends in mitres that are carved by hand: a knife along its "
        "line would cut the duct face away there");
  if (fitting.request.values.has("second_layer"))
    reasons.add("second_layer", "none: one thicker board",
                "at the rectangle's corners both faces of a second layer end in a mitre: no one outline of a "
                "board holds it");
  if (fitting.liner.neutral_factor > 0.0)
    reasons.add(
        "neutral_factor", "0",
        "at the rectangle's corners all normals of the duct face leave one point: no fibre inside the "
        "board can keep its length there");
}

// In the rectangle's plane a board on a wall that leans takes more than its thickness off: t sqrt(1 + k^2).
void require_open_rectangle(Reasons& reasons, const Fitting& fitting, const Sheet& sheet) {
  const double depth = fitting.liner.bore_depth();
  const bool collared = sheet.square_collar() > 0.0;
  const auto taken = [&](int flat) {
    const double lean = sheet.ruling(0.5 * k_pi * flat).lean;
    // a collar's panel, where that reaches above the plane
    return collared && lean < 0.0 ? 1.0 : std::hypot(1.0, lean);
  };
  for (const bool across : {true, false}) {
    const double whole = 2.0 * (across ? sheet.half_sides().x : sheet.half_sides().y);
    const double each = across ? taken(0) + taken(2) : taken(1) + taken(3);
    if (whole - depth * each > 0.0) continue;
    reasons.add("thickness", "under " + reasons.length(whole / each),
                fmt::format("the {} sides lean so far that across the rectangular end their liner takes {} "
                            "from {}: it closes it",
                            across ? "left and right" : "top and bottom", reasons.length(depth * each),
                            reasons.length(whole)));
  }
}

// Two sides beside a corner that lean in have mitres at their tips, which take more of its cone the deeper
// they lie.
void require_round_end(Reasons& reasons, const Sheet& sheet, double depth, RoundEnd round) {
  if (tip_mitres_part(sheet, depth, round)) return;
  double part = 0.0;
  double meet = depth;
  constexpr int k_halvings = 24;
  for (int i = 0; i < k_halvings; ++i) {
    const double middle = 0.5 * (part + meet);
    (tip_mitres_part(sheet, middle, round) ? part : meet) = middle;
  }
  reasons.add("thickness", "under " + reasons.length(part),
              "two sides beside a corner lean in so far that the mitres at their tips would meet below the "
              "round end: nothing of the air face of the rounded corner between them is left there");
}

void require_layers(Reasons& reasons, const Fitting& fitting, const Sheet& sheet, RoundEnd round) {
  const double depth = fitting.liner.bore_depth();
  require_open_rectangle(reasons, fitting, sheet);
  if (!folds_as_y(sheet))
    reasons.add(
        "length", "another, or the circle nearer the middle",
        "within a rounded corner the liner would fold over itself before it meets the flats: its mitre would "
        "end inside the corner, where the air face is pressed together to nothing");
  // the tip of a flat that leans in, moved in along its normal: H - w k / S
  double flat = std::numeric_limits<double>::infinity();
  const bool collared = sheet.square_collar() > 0.0;
  for (int side = 0; side < 4; ++side)
    if (const double lean = sheet.ruling(0.5 * k_pi * side).lean; lean > 0.0) {
      const double size = std::hypot(1.0, lean);
      // over the plane, or over the flat's joint with a collar
      flat = std::min(flat, sheet.height() * size / lean * (collared ? 1.0 + size : 1.0));
    }
  if (!(depth < flat)) {
    reasons.add("thickness", "under " + reasons.length(flat),
                fmt::format("a side leans in so far that the tip of its air face would lie below the {}: "
                            "nothing of that side's air face is left",
                            collared ? "joint with the rectangular collar" : "rectangular end"));
    return;
  }
  if (collared && !panels_clear_of_cones(sheet))
    reasons.add("square_collar", "none",
                "on so short a transition the collar's lining would meet a rounded corner's, not the flats' "
                "alone: we do not make that joint yet");
  if (collared) require_square_collar(reasons, fitting, sheet);
  if (const double deepest = deepest_layer(sheet, round); !(depth < deepest)) {
    reasons.add("thickness", "under " + reasons.length(deepest),
                "the mitres at the rectangle's corners would reach the round end: nothing of the rounded "
                "corners' air face is left");
    return;
  }
  require_round_end(reasons, sheet, depth, round);
}

void add_pieces(Fitting& fitting, const SquareEnd& ends, int wall) {
  const double span = k_two_pi / ends.pieces;
  const char* role = ends.pieces == 1 ? "all four corners" : ends.pieces == 2 ? "two corners" : "one corner";
  for (int i = 0; i < ends.pieces; ++i) {
    Piece piece;
    piece.id = std::to_string(i + 1);
    piece.role = ends.pieces == 1 ? std::string("square-to-round")
                                  : fmt::format("part {} of {}, {}", i + 1, ends.pieces, role);
    piece.wall = wall;
    piece.seam = span * i;
    piece.span = span;
    const int side = 4 / ends.pieces * i;
    piece.seam_place = fmt::format("middle of the {} side", k_square_sides[side]);
    for (int bend = 0; bend < 8 / ends.pieces; ++bend) {
      const int number = 8 / ends.pieces * i + bend;
      piece.marks.push_back({k_part_span * (number + 0.5), fmt::format("bend {}", number + 1)});
    }
    for (const int other : {(i + 1) % ends.pieces, (i + ends.pieces - 1) % ends.pieces})
      if (other != i &&
          std::find(piece.next.begin(), piece.next.end(), std::to_string(other + 1)) == piece.next.end())
        piece.next.push_back(std::to_string(other + 1));
    fitting.insertion.push_back(static_cast<int>(fitting.pieces.size()));
    fitting.pieces.push_back(std::move(piece));
  }
}

// Area of the bare section at a share of the length: the rectangle and the circle in proportion, and what
// lies between them (Steiner's formula for a rectangle and a circle).
double bare_area(const SquareEnd& ends, double share) {
  const double left = 1.0 - share;
  return left * left * ends.width * ends.height +
         2.0 * left * share * (ends.width + ends.height) * ends.radius +
         share * share * k_pi * ends.radius * ends.radius;
}

double equal_circle(double area) {
  return std::sqrt(4.0 * area / k_pi);
}

// Along a rectangular collar, up to where its joint begins; the share of the length where that ends.
double add_collar_stations(Passage& passage, const SquareEnd& ends, const Sheet& sheet, double t) {
  if (!(ends.square_collar > 0.0)) return 0.0;
  const SquareCollarReach joint = square_collar_reach(sheet, t);
  const double lined = (ends.width - 2.0 * t) * (ends.height - 2.0 * t);
  for (const auto& [z, place] :
       {std::pair<double, const char*>{-ends.square_collar, "rectangular end"},
        std::pair<double, const char*>{std::min(0.0, joint.least), "rectangular collar"}})
    passage.stations.push_back({ends.square_collar + z,
                                equal_circle(ends.width * ends.height),
                                equal_circle(lined),
                                lined,
                                {{0.0, 0.0, z}, {0, 0, 1}},
                                place});
  return std::max(0.0, joint.most) / ends.length;
}

// Through the transition; between the lowest and the highest place of its joint with a collar a section is of
// both, so stations stand below and beyond.
void add_passage(Fitting& fitting, const SquareEnd& ends, const Sheet& sheet) {
  const double t = fitting.liner.bore_depth();
  const double way = std::hypot(ends.length, ends.centre.x, ends.centre.y);
  const double first = ends.square_collar;  // the way to the rectangle's plane
  Passage passage{"through", {}};
  const double bottom = add_collar_stations(passage, ends, sheet, t);
  CollarReach joint{};
  if (ends.collar > 0.0) joint = collar_reach(sheet, t);
  const double top = 1.0 + std::min(0.0, joint.least) / ends.length;  // as a share of the length
  const auto lined = [&](double share) { return section_area(sheet, share * ends.length, t); };
  const auto add = [&](double share, const std::string& place) {
    const double area = lined(share);
    passage.stations.push_back(
        {first + way * share,
         equal_circle(bare_area(ends, share)),
         equal_circle(area),
         area,
         {{share * ends.centre.x, share * ends.centre.y, share * ends.length}, {0, 0, 1}},
         place});
  };
  constexpr int k_steps = 8;
  constexpr int k_fine = 8;  // to look between them for the narrowest place
  const auto at = [&](int i, int steps) { return bottom + (top - bottom) * i / steps; };
  double least = bottom;
  for (int i = 1; i <= k_steps * k_fine; ++i)
    if (lined(at(i, k_steps * k_fine)) < lined(least)) least = at(i, k_steps * k_fine);
  const bool inside = least > bottom && least < top;
  for (int i = 0; i <= k_steps; ++i) {
    const double share = at(i, k_steps);
    if (inside && i > 0 && least > at(i - 1, k_steps) && least < share) add(least, "narrowest place");
    const bool here = inside && least == share;
    const bool end = i == k_steps && ends.collar == 0.0;
    const bool rectangle = i == 0 && !(ends.square_collar > 0.0);
    add(share, rectangle ? "rectangular end" : end ? "round end" : here ? "narrowest place" : "");
  }
  if (ends.collar > 0.0)
    for (const auto& [up, place] : {std::pair<double, const char*>{std::max(0.0, joint.most), "round collar"},
                                    {ends.collar, "round end"}})
      passage.stations.push_back(round_station(first + way + up, 2.0 * ends.radius, 2.0 * (ends.radius - t),
                                               {ends.centre.x, ends.centre.y, ends.length + up}, {0, 0, 1},
                                               place));
  fitting.passages.push_back(std::move(passage));
}

// Its flats lie on the metal from edge to edge, and at the tips of the flats the extra board of two corners
// would lie over each other: of what is asked the transition takes none, its collar all.
void note_allowances(Fitting& fitting) {
  const Values& values = fitting.request.values;
  const bool collar = values.quantity("round_collar") > 0.0;
  if (values.has("square_collar"))
    for (const char* key : {"fit_allowance", "end_allowance", "butt_allowance"})
      if (const Value* value = values.find(key);
          value != nullptr && value->given && values.quantity(key) > 0.0)
        fitting.warnings.push_back(
            fmt::format("{}: none is taken on the rectangular collar's panels: they lie on flat metal, each "
                        "between two others",
                        key));
  for (const std::string key : {"fit_allowance", "end_allowance"}) {
    const Value* value = values.find(key);
    if (value == nullptr || !value->given || !(values.quantity(key) > 0.0)) continue;
    fitting.warnings.push_back(fmt::format(
        "{}: {}: {}", key, collar ? "of the collar alone, none is taken on the transition" : "none is taken",
        key == "fit_allowance"
            ? "its flats lie on the metal from bend line to bend line"
            : "about the rectangle's corners its ends are carved by hand, and at the tips of "
              "its flats the extra board of two rounded corners would lie over each other"));
  }
}

}  // namespace

// Both faces lie within the duct face's outline on the board, whose middle ruling stands upright there.
void require_board(Reasons& reasons, const Fitting& fitting, const Piece& piece, Vec2 board) {
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  const Development flat(sheet, 0.0, 1.0, piece.seam);
  const double lean = flat.lean(piece.seam + 0.5 * piece.span);
  Vec2 least{1e300, 1e300};
  Vec2 most{-1e300, -1e300};
  constexpr int k_rulings = 256;
  for (int i = 0; i <= k_rulings; ++i) {
    const double theta = piece.seam + piece.span * i / k_rulings;
    for (const double v : {0.0, sheet.ruling(theta).length}) {
      const Vec2 p = flat.point(theta, v);
      const Vec2 turned{std::cos(lean) * p.x - std::sin(lean) * p.y,
                        std::sin(lean) * p.x + std::cos(lean) * p.y};
      least = {std::min(least.x, turned.x), std::min(least.y, turned.y)};
      most = {std::max(most.x, turned.x), std::max(most.y, turned.y)};
    }
  }
  const Vec2 size = most - least;
  if (size.x <= board.x && size.y <= board.y) return;
  const bool last = fitting.pieces.size() == 4;
  reasons.add(last ? (size.y > board.y ? "board_width" : "board_length") : "pieces",
              last ? "a larger board" : "more of them (1, 2 or 4), or a larger board",
              fmt::format("piece {} is {} along and {} around; its board leaves {} by {}", piece.id,
                          reasons.length(size.y), reasons.length(size.x), reasons.length(board.y),
                          reasons.length(board.x)));
}

KindSchema square_to_round_schema() {
  KindSchema schema;
  schema.kind = "square_to_round";
  schema.summary = "a transition from a rectangle to a circle, concentric or with the circle moved";
  const auto moved = [](const char* name, const char* help) {
    return with_default(length_key(name, help, {}, -5000.0, 5000.0), "0mm");
  };
  schema.keys = {
      length_key("width", "inside width of the rectangular end, left to right", "24in", 25.0, 5000.0),
      length_key("height", "inside height of the rectangular end", "16in", 25.0, 5000.0),
      length_key("diameter", "inside diameter of the round end", "16in", 25.0, 5000.0),
      length_key("length", "length between the two ends", "16in", 10.0, 20000.0),
      moved("shift_right", "how far the circle's centre is moved to the right of the rectangle's"),
      moved("shift_up", "how far it is moved up"),
      with_default(length_key("round_collar", "straight collar at the round end", {}, 0.0, 5000.0), "0mm"),
      optional_key(length_key("square_collar",
                              "straight rectangular collar below the rectangular end, lined with four flat "
                              "panels; left out: none",
                              {}, 10.0, 5000.0)),
      with_default(
          integer_key("pieces", "pieces of board, 1, 2 or 4, seams on the middle lines of flat sides", {}, 1,
                      4),
          "2"),
      with_default(
          length_key("least_bend",
                     "least radius the board bends to without kerfs; nearer the corners it is kerfed", {},
                     1.0, 5000.0),
          "6in"),
  };
  return schema;
}

Fitting make_square_to_round(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const SquareEnd ends = read_ends(request, reasons);
  require_room(reasons, fitting, ends);
  reasons.throw_if_any();
  const Sheet sheet = Sheet::square_to_round(Frame{}, 0.5 * ends.width, 0.5 * ends.height, ends.radius,
                                             ends.length, ends.centre, ends.square_collar);
  require_layers(reasons, fitting, sheet, ends.collar > 0.0 ? RoundEnd::collar : RoundEnd::open);
  reasons.throw_if_any();

  const int wall = add_wall(fitting, sheet);
  add_open_end(fitting, wall, End::low, -ends.square_collar);
  add_pieces(fitting, ends, wall);
  if (ends.collar > 0.0)
    add_round_collar(reasons, fitting, wall, ends.collar);
  else
    add_open_end(fitting, wall, End::high, ends.length);
  if (ends.square_collar > 0.0) add_square_collar(fitting, wall);
  reasons.throw_if_any();
  if (ends.pieces > 1)
    for (const End end : k_both_ends) fitting.joint(fitting.wall(wall).use(end).joint).in_panels = true;
  if (!(ends.collar > 0.0)) fitting.liner.end_allowance = 0.0;
  add_passage(fitting, ends, sheet);
  const double kerfed = kerfed_length(sheet, request.values.quantity("least_bend"));
  add_square_facts(fitting, ends, sheet, kerfed);
  note_fasteners(fitting, std::max({ends.width, ends.height, 2.0 * ends.radius}));
  add_square_steps(fitting, ends, kerfed);
  note_allowances(fitting);
  return fitting;
}

}  // namespace linerwright
