// Reducers: a taper between two collars, concentric or eccentric. The liner's layers meet at equal depth at
// both seams, so for a half angle phi the corner of the air face walks along the axis by t tan(phi/2), and in
// the taper the bore shrinks by t / cos(phi) in radius: the thickness is measured along the wall's normal.
#include <fmt/format.h>

#include <algorithm>

#include "common.hpp"
#include "hold_back.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/error.hpp"
#include "taper_bore.hpp"

namespace linerwright {

namespace {

Taper read_taper(const FittingRequest& request, Reasons& reasons) {
  const Values& values = request.values;
  Taper taper{};
  taper.r1 = 0.5 * values.quantity("diameter");
  taper.r2 = 0.5 * values.quantity("to_diameter");
  taper.length = values.quantity("length");
  taper.collar = values.quantity("collar");
  taper.to_collar = values.quantity("to_collar");
  taper.offset = values.quantity("offset");
  taper.toward = values.quantity("flat_at");
  if (values.flag("flat")) {
    if (values.given("offset"))
      reasons.add("offset", "offset or flat",
                  "flat = true already says how far the small end is moved; give only one");
    taper.offset = taper.r1 - taper.r2;  // the ruling at `toward` runs parallel to the axis
  }
  if (taper.r1 == taper.r2 && taper.offset == 0.0)
    reasons.add("to_diameter", "another than diameter", "both ends are the same: that is a straight length");
  return taper;
}

// What the notches close, beside the rule of thumb of 1.5 in a notch (common practice, no source), and how
// far the liner strays from the cone when each tab bends on parallel lines, the only way a board bends: at
// the small end the tab then keeps the large end's radius over the chord of its own arc.
void add_notch_facts(Fitting& fitting, const Taper& taper, int notches) {
  const double large = std::max(taper.r1, taper.r2);
  const double small = std::min(taper.r1, taper.r2);
  const double closing = k_two_pi * (large - small);
  const double rule = 1.5 * 25.4 * notches;
  const double chord = 2.0 * small * std::sin(k_pi / notches);
  const double flat_sagitta = large - std::sqrt(large * large - 0.25 * chord * chord);
  const double round_sagitta = small * (1.0 - std::cos(k_pi / notches));
  fitting.facts.push_back({"notches", "notches", Quantity::number, static_cast<double>(notches)});
  fitting.facts.push_back(
      {"closing_width", "width that the notches close in all", Quantity::length, closing});
  fitting.facts.push_back({"mouth_width", "mean mouth of a notch", Quantity::length, closing / notches});
  fitting.facts.push_back(
      {"rule_of_thumb_width", "width that mouths of 1.5 in would close", Quantity::length, rule});
  if (rule <= closing)
    fitting.facts.push_back({"rule_of_thumb_leaves", "width that the rule of thumb would leave open",
                             Quantity::length, closing - rule});
  else
    fitting.facts.push_back({"rule_of_thumb_takes", "width that the rule of thumb would cut away too much",
                             Quantity::length, rule - closing});
  fitting.facts.push_back({"facet_distance", "largest distance of the notched liner from the true cone",
                           Quantity::length, round_sagitta - flat_sagitta});
}

constexpr double k_least_strip = 10.0;  // mm

// Board beyond the notches' points without the trim: the strip along the large edge holds the tabs together
// until the notches are taped.
double least_strip(const Fitting& fitting, const NotchedBlank& blank) {
  double strip = 1e300;
  for (int i = 0; i < 72; ++i)
    for (const double w : fitting.liner.faces())
      strip = std::min(strip, blank_reach(fitting, blank, true, k_two_pi * i / 72, w));
  return strip;
}

// Where nobody stated the trim it is as large as the tabs need.
void widen_trim(Fitting& fitting, NotchedBlank& blank) {
  if (fitting.request.values.given("trim")) return;
  const double needed = std::ceil(k_least_strip - least_strip(fitting, blank));
  if (needed <= blank.trim) return;
  blank.trim = needed;
  fitting.warnings.push_back(
      fmt::format("the notched blank has {} of board to trim instead of the usual {}: less would not hold "
                  "its tabs together",
                  format_quantity(Quantity::length, needed, fitting.units),
                  format_quantity(Quantity::length, fitting.request.values.quantity("trim"), fitting.units)));
}

// Kerfs move notches: where nobody stated how many, no more than the kerfs leave tabs between.
void thin_out(const Fitting& fitting, NotchedBlank& blank) {
  if (fitting.request.values.has("notches") || blank.kerf_pitch <= 0.0) return;
  const int usual = blank.notches;
  while (blank.notches > 2 && narrowest_tab(fitting, blank) < k_least_tab) --blank.notches;
  if (narrowest_tab(fitting, blank) < k_least_tab) blank.notches = usual;
}

// What a knife can cut and a hand can close.
void check_notched(Reasons& reasons, const Fitting& fitting, const NotchedBlank& blank) {
  constexpr double k_least_mouth = 1.0;
  const std::vector<Notch> notches = notches_of(fitting, blank);
  const double narrowest =
      std::min_element(notches.begin(), notches.end(), [](const Notch& a, const Notch& b) {
        return a.mouth < b.mouth;
      })->mouth;
  const double tab = narrowest_tab(fitting, blank);
  if (narrowest < k_least_mouth)
    reasons.add("notches", "fewer notches, or pattern = \"sector\"",
                fmt::format("the mouth of a notch would be {} wide", reasons.length(narrowest)));
  if (tab < k_least_tab)
    reasons.add(blank.kerf_pitch > 0.0 ? "kerf_pitch" : "notches",
                "tabs at least " + reasons.length(k_least_tab) + " wide, or pattern = \"sector\"",
                tab > 0.0
                    ? fmt::format("a tab between notches would be {} wide where it ends", reasons.length(tab))
                    : "the notches run into each other or off the board before the tabs end");
  const double strip = least_strip(fitting, blank);
  if (strip + blank.trim < k_least_strip)
    reasons.add("trim", "at least " + reasons.length(std::ceil(k_least_strip - strip)),
                fmt::format("only {} of board would hold the tabs together",
                            reasons.length(std::max(0.0, strip + blank.trim))));
}

// A board rolls to a taper while its wall runs more along the duct than across it; a steeper one lies rather
// flat.
void note_short_taper(Fitting& fitting, const Taper& taper, const Reasons& reasons) {
  const double least = fitting.request.values.quantity("min_taper");
  const double across = std::fabs(taper.r1 - taper.r2) + std::fabs(taper.offset);  // where it leans most
  std::string limits;
  if (taper.length < across)
    limits = fmt::format("under {} (a slope of 45 degrees) it cannot be rolled", reasons.length(across));
  if (taper.length < least)
    limits += fmt::format("{}under {} it is hard to close by hand", limits.empty() ? "" : ", ",
                          reasons.length(least));
  if (!limits.empty())
    fitting.warnings.push_back(
        fmt::format("the taper is {} long; {} ({})", reasons.length(taper.length), limits, k_usual));
}

// Twice the difference of the diameters in inches (common practice, no source), but no tabs narrower than
// 10 mm at the small end; at least 4.
int default_notches(const Fitting& fitting, const Taper& taper) {
  constexpr double k_usual_tab = 10.0;
  const int rule = static_cast<int>(std::lround(4.0 * std::fabs(taper.r1 - taper.r2) / 25.4));
  const double small = k_two_pi * (std::min(taper.r1, taper.r2) - fitting.liner.reference_depth()) -
                       fitting.liner.fit_allowance;
  return std::max(4, std::min(rule, static_cast<int>(std::floor(small / k_usual_tab))));
}

}  // namespace

KindSchema reducer_schema() {
  KindSchema schema;
  schema.kind = "reducer";
  schema.summary = "a taper between two diameters, concentric or eccentric, with or without collars";
  KeySpec flat;
  flat.name = "flat";
  flat.type = ValueType::flag;
  flat.help = "flat on one side: the wall runs straight at flat_at";
  flat.default_value = "false";
  KeySpec flat_at = with_default(
      length_key("flat_at", "side of the flat, or toward which the second end is moved, around the axis", {},
                 -k_two_pi, k_two_pi),
      "0");
  flat_at.quantity = Quantity::angle;
  const KeySpec seam_at =
      quantity_key("seam_at", Quantity::angle,
                   "where the seams of all pieces lie, around from the line-up mark, or from the "
                   "side toward which the second end is moved",
                   "180", -k_two_pi, k_two_pi);
  schema.keys = {
      length_key("diameter", "inside diameter of the metal at the first end", "24in", 25.0, 5000.0),
      length_key("to_diameter", "inside diameter at the second end", "20in", 25.0, 5000.0),
      length_key("length", "length of the taper along the axis", "18in", 5.0, 20000.0),
      with_default(length_key("collar", "straight collar at the first end", "4in", 0.0, 5000.0), "0mm"),
      with_default(length_key("to_collar", "straight collar at the second end", "4in", 0.0, 5000.0), "0mm"),
      with_default(length_key("offset", "how far the second end's centre is moved sideways", {}, 0.0, 5000.0),
                   "0mm"),
      flat,
      flat_at,
      seam_at,
      choice_key(
          "pattern",
          "sector: the exact development; notched: a rectangle closed by V notches, a second layer as a "
          "sector",
          k_pattern_choices, TaperPattern::sector),
      optional_key(
          integer_key("panels",
                      "the taper, or its notched blank, in so many panels, seams between them (default: as "
                      "the stock asks for)",
                      {}, 1, 24)),
      choice_key("split", "notched: large collar and taper from one blank (none) or apart (seam)",
                 k_split_choices, TaperSplit::none),
      optional_key(
          integer_key("notches",
                      "notched blank: how many notches (default: twice the difference of the diameters "
                      "in inches, at least 4)",
                      {}, 2, 400)),
      optional_key(length_key("kerf_pitch",
                              "notched: spacing of the board's kerfs, onto which notches are moved", {}, 1.0,
                              500.0)),
      with_default(length_key("trim", "notched: extra board at the large edge", {}, 0.0, 500.0), "4in"),
  };
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

namespace {

// Indices of the walls; collars where they are asked for.
struct ReducerWalls {
  std::optional<int> first;
  int cone;
  std::optional<int> second;
};

ReducerWalls add_walls(Fitting& fitting, const Taper& taper) {
  const Vec3 toward{std::cos(taper.toward), std::sin(taper.toward), 0.0};
  const Frame base = frame_along({}, {0, 0, 1}, toward);
  Frame top = base;
  top.origin = base.point({taper.offset, 0.0, taper.length});
  ReducerWalls walls{};
  if (taper.collar > 0.0) {
    walls.first = add_wall(fitting, Sheet::cylinder(base, taper.r1));
    add_open_end(fitting, *walls.first, End::low, -taper.collar);
  }
  walls.cone = add_wall(fitting, Sheet::cone(base, taper.r1, taper.r2, taper.length, taper.offset));
  if (walls.first)
    add_joint(fitting, *walls.first, walls.cone, Side::follow, CollarTarget{End::low}, {0.0, k_pi});
  else
    add_open_end(fitting, walls.cone, End::low, 0.0);
  if (taper.to_collar > 0.0) {
    walls.second = add_wall(fitting, Sheet::cylinder(top, taper.r2));
    add_joint(fitting, walls.cone, *walls.second, Side::lead, CollarTarget{End::high}, {0.0, k_pi});
    add_open_end(fitting, *walls.second, End::high, taper.to_collar);
  } else {
    add_open_end(fitting, walls.cone, End::high, taper.length);
  }
  return walls;
}

// Of every piece of a reducer.
double seam_of(const FittingRequest& request) {
  return std::remainder(request.values.quantity("seam_at"), k_two_pi);
}

std::string seam_words(double seam, bool moved) {
  if (std::fabs(seam) == k_pi) return moved ? "far side" : "opposite the line-up mark";
  const std::string from = moved ? "offset side" : "line-up mark";
  return seam == 0.0 ? from : fmt::format("{} degrees on from the {}", degrees_in_words(seam), from);
}

// Returns the taper's index.
int add_pieces(Fitting& fitting, const Taper& taper, const ReducerWalls& walls) {
  const bool even = taper.r1 == taper.r2;
  const bool moved = taper.offset != 0.0;
  const std::vector<RulingMark> marks =
      moved ? std::vector<RulingMark>{{0.0, "offset side"}, {k_pi, "far side"}}
            : std::vector<RulingMark>{{0.0, "line up"}};
  const double seam = seam_of(fitting.request);
  const auto add = [&](const char* id, const std::string& role, int wall, std::vector<std::string> next) {
    fitting.pieces.push_back(
        {id, role, wall, seam, k_two_pi, seam_words(seam, moved), marks, std::move(next)});
  };
  std::vector<std::string> beside_taper;
  if (walls.first) {
    add("collar",
        even              ? "first collar"
        : taper.reduces() ? "large collar"
                          : "small collar",
        *walls.first, {"taper"});
    beside_taper.push_back("collar");
  }
  if (walls.second) beside_taper.push_back("tocollar");
  add("taper", "taper", walls.cone, beside_taper);
  const int index = static_cast<int>(fitting.pieces.size()) - 1;
  if (walls.second)
    add("tocollar",
        even              ? "second collar"
        : taper.reduces() ? "small collar"
                          : "large collar",
        *walls.second, {"taper"});
  return index;
}

// Of a right cone.
void add_cone_facts(Fitting& fitting, const Taper& taper) {
  const double phi = std::atan2(std::fabs(taper.r1 - taper.r2), taper.length);
  const double slant = std::hypot(taper.length, taper.r1 - taper.r2);
  const double r_large = std::max(taper.r1, taper.r2);
  const double r_small = std::min(taper.r1, taper.r2);
  const double t = fitting.liner.bore_depth();
  const std::vector<Fact> facts{
      {"half_angle", "half angle of the taper", Quantity::angle, phi},
      {"slant", "slant of the taper", Quantity::length, slant},
      {"sector_outer_radius", "outer radius of the sector", Quantity::length,
       slant * r_large / (r_large - r_small)},
      {"sector_inner_radius", "inner radius of the sector", Quantity::length,
       slant * r_small / (r_large - r_small)},
      {"sector_angle", "angle of the sector", Quantity::angle, k_two_pi * (r_large - r_small) / slant},
      {"corner_walk", "way the air face's corner walks along the axis at each seam", Quantity::length,
       t * std::tan(0.5 * phi)},
      {"radius_lost", "radius lost in the taper (thickness / cos half angle)", Quantity::length,
       t / std::cos(phi)}};
  fitting.facts.insert(fitting.facts.end(), facts.begin(), facts.end());
}

// The taper, and its large collar unless a seam is asked for between them, from one rectangle.
void add_notched_blank(Fitting& fitting, const Taper& taper, const ReducerWalls& walls, int piece,
                       Reasons& reasons) {
  if (taper.r1 == taper.r2) {
    reasons.add("pattern", "sector", "ends of the same diameter leave nothing for notches to close");
    reasons.throw_if_any();
  }
  const Values& values = fitting.request.values;
  NotchedBlank blank;
  blank.id = "notched";
  blank.taper = piece;
  const bool large_first = taper.reduces();
  if (chosen(values, "split", k_split_choices) == TaperSplit::none &&
      (large_first ? walls.first : walls.second))
    blank.collar = large_first ? 0 : piece + 1;
  blank.notches =
      values.has("notches") ? static_cast<int>(values.integer("notches")) : default_notches(fitting, taper);
  blank.trim = values.quantity("trim");
  blank.kerf_pitch = values.maybe("kerf_pitch").value_or(0.0);
  blank.seam = seam_of(fitting.request);
  thin_out(fitting, blank);
  widen_trim(fitting, blank);
  check_notched(reasons, fitting, blank);
  fitting.notched.push_back(blank);
  add_notch_facts(fitting, taper, blank.notches);
}

}  // namespace

Fitting make_reducer(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const Taper taper = read_taper(request, reasons);
  require_bore(reasons, fitting, 2.0 * taper.r1, "diameter");
  require_bore(reasons, fitting, 2.0 * taper.r2, "to_diameter");
  reasons.throw_if_any();

  const ReducerWalls walls = add_walls(fitting, taper);
  const int taper_piece = add_pieces(fitting, taper, walls);
  require_lengths(reasons, fitting, "length");
  reasons.throw_if_any();
  hold_back(fitting, reasons);
  reasons.throw_if_any();

  // all go in from the large end, so the small end's piece first
  for (int i = 0; i < static_cast<int>(fitting.pieces.size()); ++i) fitting.insertion.push_back(i);
  if (taper.reduces()) std::reverse(fitting.insertion.begin(), fitting.insertion.end());
  add_taper_passage(fitting, taper, walls.cone);
  if (taper.offset == 0.0) add_cone_facts(fitting, taper);
  // inside a notched layer lies a whole cone: a second one is cut as its development
  if (chosen(request.values, "pattern", k_pattern_choices) == TaperPattern::notched && request.layer == 0)
    add_notched_blank(fitting, taper, walls, taper_piece, reasons);
  require_allowances(reasons, fitting);
  reasons.throw_if_any();
  note_short_taper(fitting, taper, reasons);
  note_fasteners(fitting, 2.0 * std::max(taper.r1, taper.r2));
  return fitting;
}

}  // namespace linerwright
