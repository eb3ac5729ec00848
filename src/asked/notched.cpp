// Notched blanks. Each is a rectangle as long as the girth at its bend line, its notches as deep as the
// slant, their mouths together as wide as the girths at its two ends differ; a taper too long for the board
// is two or more such rings between planes square to the axis, one too large around comes in panels.
#include <algorithm>
#include <map>

#include "flat.hpp"
#include "notched.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

double mouth_of(const MadeNotch& notch) {
  return std::abs(notch.duct_right[0] - notch.duct_left[0]);
}

bool is_half(const MadeNotch& notch) {
  return std::abs(notch.duct_left[0] - notch.tip[0]) < 1e-9 ||
         std::abs(notch.duct_right[0] - notch.tip[0]) < 1e-9;
}

std::vector<NotchedPart> blanks_of(const Case& asked) {
  std::vector<NotchedPart> blanks;
  for (const MadePiece& piece : asked.made.pieces) {
    if (!belongs(piece.id, "notched")) continue;
    if (piece.ordinates.size() < 2) throw Unreadable(piece.id + " has no ordinates");
    NotchedPart blank;
    blank.made = &piece;
    // a ring's letter may be a p, too; a panel's stands before a number
    const std::size_t panel = piece.id.rfind('p');
    const bool numbered = panel != std::string::npos && panel + 1 < piece.id.size();
    blank.ring = numbered ? piece.id.substr(0, panel) : piece.id;
    blank.collar = piece.holds.size() > 1;
    blank.start = piece.ordinates.front().angle;
    blank.span = piece.ordinates.back().angle - blank.start;
    blanks.push_back(blank);
  }
  return blanks;
}

// Two an inch of difference (common practice), no tab narrower than 10 mm at the small end; four at least.
double default_notches(const NotchedReducer& reducer) {
  const double rule = std::round(4.0 * (reducer.large - reducer.small) / 25.4);
  return std::max(4.0, std::min(rule, std::floor(reducer.girth(reducer.small) / 10.0)));
}

// Rings follow one another from the large end on; each closes by its mouths to the next one's girth.
void prove_rings(const NotchedReducer& reducer, std::vector<NotchedPart>& blanks, Worst& lines) {
  std::vector<std::string> names;
  for (const NotchedPart& blank : blanks)
    if (std::find(names.begin(), names.end(), blank.ring) == names.end()) names.push_back(blank.ring);
  std::sort(names.begin(), names.end());
  // letters run from the first end on
  if (reducer.grows) std::reverse(names.begin(), names.end());
  const double wanted =
      reducer.request.stated("notches") ? reducer.request.value("notches") : default_notches(reducer);
  // narrow rings take fewer, and so do kerfs where nobody stated how many
  const bool kerfs = reducer.request.stated("kerf_pitch") && !reducer.request.stated("notches");
  const bool fixed = names.size() == 1 && !kerfs;
  // the first ring begins at the large end, the others where their girths say
  std::vector<double> radii{reducer.large};
  std::vector<double> blurs{0.0};
  for (std::size_t k = 1; k < names.size(); ++k) {
    double girth = 0.0;
    std::size_t panels = 0;
    for (const NotchedPart& blank : blanks) {
      if (blank.ring != names[k]) continue;
      girth += blank.made->stretch_out;
      ++panels;
    }
    radii.push_back((girth + reducer.allowance) / k_turn + reducer.keeps);
    blurs.push_back(reducer.blur(panels));
  }
  radii.push_back(reducer.small);
  blurs.push_back(0.0);
  for (std::size_t k = 0; k < names.size(); ++k) {
    const std::string& name = names[k];
    double around = 0.0;
    double mouths = 0.0;
    double notches = 0.0;
    for (NotchedPart& blank : blanks) {
      if (blank.ring != name) continue;
      around += blank.span;
      for (const MadeNotch& notch : blank.made->notches) {
        mouths += mouth_of(notch);
        notches += is_half(notch) ? 0.5 : 1.0;
      }
      blank.large = radii[k];
      blank.small = radii[k + 1];
      blank.blur = std::max(blurs[k], blurs[k + 1]);
      lines.off(blank.made->stretch_out - reducer.girth(radii[k]) * blank.span / k_turn,
                blank.made->id + " girth");
    }
    lines.off(mouths - k_turn * (radii[k] - radii[k + 1]), name + " mouths");
    lines.off((around - k_turn) * radii[k], name + " does not close around");
    lines.expect(fixed ? notches == wanted : notches >= 2.0 && notches <= wanted,
                 name + " has " + std::to_string(static_cast<int>(notches)) + " notches");
  }
}

// Stations and notches' corners by closed forms, on the board.
void prove_stations(const NotchedReducer& reducer, const NotchedPart& blank, Worst& heights,
                    Worst& stations) {
  const auto& rows = blank.made->ordinates;
  const double t = reducer.request.value("thickness");
  const bool mirrored = reducer.request.word("face_up") == "air";
  const auto height_off = [&](double difference, const std::string& at) {
    heights.off(std::max(0.0, std::abs(difference) - blank.blur), at);
  };
  const double width = blank.made->stretch_out;
  const double bend = rows.front().y - rows.front().duct_low;
  stations.expect(static_cast<double>(rows.size()) == reducer.request.value("stations") + 1.0,
                  blank.made->id + " has " + std::to_string(rows.size()) + " ordinates");
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const MadeOrdinate& row = rows[i];
    const std::string at = blank.made->id + " station " + std::to_string(i);
    const double share = static_cast<double>(i) / static_cast<double>(rows.size() - 1);
    stations.expect(std::abs(row.angle - blank.start - blank.span * share) < 2e-8, at + " stands elsewhere");
    const double made[4] = {row.duct_low, row.duct_high, row.air_low, row.air_high};
    for (std::size_t k = 0; k < 4; ++k) {
      const bool large = (k % 2 == 0) != reducer.grows;
      const double w = k < 2 ? 0.0 : t;
      height_off(made[k] - (large ? reducer.large_height(blank, row.angle, w)
                                  : reducer.small_height(blank, row.angle, w)),
                 at);
    }
    heights.off(row.x - width * (mirrored ? 1.0 - share : share), at + " x");
    heights.off(row.y - bend - row.duct_low, at + " y");
  }
  for (const MadeNotch& notch : blank.made->notches) {
    const std::string at = blank.made->id + ", the notch at " + std::to_string(notch.tip[0]);
    const double x = mirrored ? width - notch.tip[0] : notch.tip[0];
    heights.off((notch.angle - blank.start) / blank.span * width - x, at + " angle");
    heights.off(notch.tip[1] - bend, at + " point");
    const double theta = blank.start + blank.span * x / width;  // finer than the angle's own decimals
    for (const auto* corner : {&notch.duct_left, &notch.duct_right})
      if ((*corner)[1] != notch.tip[1])
        height_off((*corner)[1] - bend - reducer.small_height(blank, theta, 0.0), at + ", duct face");
    for (const auto* corner : {&notch.air_left, &notch.air_right})
      if ((*corner)[1] != notch.tip[1])
        height_off((*corner)[1] - bend - reducer.small_height(blank, theta, t), at + ", air face");
    if (!is_half(notch))
      heights.off(notch.duct_left[0] + notch.duct_right[0] - 2.0 * notch.tip[0], at + " leans");
  }
  // evenly around, unless kerfs move them
  if (!reducer.request.stated("kerf_pitch") || reducer.request.value("kerf_pitch") <= 0.0)
    for (std::size_t i = 0; i + 1 < blank.made->notches.size(); ++i)
      heights.off(std::abs(blank.made->notches[i + 1].tip[0] - blank.made->notches[i].tip[0]) -
                      std::abs(blank.made->notches[1].tip[0] - blank.made->notches[0].tip[0]),
                  blank.made->id + " notches stand unevenly");
}

NotchedCuts cuts_of(const Case& asked, const NotchedPart& blank) {
  const std::string name = name_ending(asked.files, "-" + blank.made->id + ".dxf");
  if (name.empty()) throw Unreadable("the pattern of " + blank.made->id + " is missing");
  const Drawn drawn = read_drawn(asked.files.at(name), name, asked.made.inch_drawings ? 25.4 : 1.0);
  NotchedCuts cuts;
  for (const Entity& entity : drawn.entities) {
    if (!entity.closed || (entity.layer != "CUT" && !(asked.made.bare_drawings && entity.layer == "0")))
      continue;
    cuts.holes.push_back(entity.points);
    if (std::abs(area_of(cuts.holes.back())) > std::abs(area_of(cuts.outline)))
      std::swap(cuts.outline, cuts.holes.back());
    if (cuts.holes.back().empty()) cuts.holes.pop_back();
  }
  if (cuts.outline.size() < 4) throw Unreadable(name + " has no closed cut");
  return cuts;
}

// The knife goes around each notch that is listed, and around no other.
void prove_cut(const NotchedReducer& reducer, const NotchedPart& blank, const std::vector<Point>& outline,
               Worst& lines) {
  const double bend = blank.made->ordinates.front().y - blank.made->ordinates.front().duct_low;
  double around = 0.0;
  double tips = 0.0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point& before = outline[(i + outline.size() - 1) % outline.size()];
    const Point& after = outline[(i + 1) % outline.size()];
    around = std::max(around, outline[i][0]);
    const double up = reducer.grows ? -1.0 : 1.0;
    const double shallow = 0.5 * std::min(up * (before[1] - bend), up * (after[1] - bend));
    const bool inside = outline[i][0] > 0.01 && outline[i][0] < blank.made->stretch_out - 0.01;
    if (inside && std::abs(outline[i][1] - bend) < 0.01 && shallow > 0.01) tips += 1.0;
  }
  lines.off(around - blank.made->stretch_out, blank.made->id + " width");
  double listed = 0.0;
  for (const MadeNotch& notch : blank.made->notches) {
    const std::string at = blank.made->id + ", the notch at " + std::to_string(notch.tip[0]);
    if (!is_half(notch)) listed += 1.0;
    lines.off(stray({{notch.tip[0], notch.tip[1]}}, outline), at);
    for (const auto* corner : {&notch.duct_left, &notch.duct_right})
      if (std::abs((*corner)[0] - notch.tip[0]) > 1e-9)  // a half notch has one side
        lines.off(
            stray({{0.5 * (notch.tip[0] + (*corner)[0]), 0.5 * (notch.tip[1] + (*corner)[1])}}, outline), at);
  }
  lines.expect(tips == listed, blank.made->id + " is cut with " + std::to_string(static_cast<int>(tips)) +
                                   " notches, its list has " + std::to_string(static_cast<int>(listed)));
}

}  // namespace

void prove_notched(Case& asked) {
  std::vector<NotchedPart> blanks = blanks_of(asked);
  if (asked.made.request.kind != "reducer") return;
  const bool wanted = asked.made.request.word("pattern") == "notched";
  if (blanks.empty() && !wanted) return;
  Worst lines("notched", 0.01, "mm", "girths, slant, trim and mouths of the notches");
  Worst heights("notched heights", 2e-5, "mm",
                "edges and notches at their stations by closed forms, both faces");
  Worst stations("notched stations", 0.0, "", "as many as asked for, evenly around");
  lines.expect(wanted != blanks.empty(), "notched blanks are there exactly where they are asked for");
  HoleLines holes;
  const NotchedReducer reducer(asked);
  prove_rings(reducer, blanks, lines);
  for (const NotchedPart& blank : blanks) {
    prove_stations(reducer, blank, heights, stations);
    const NotchedCuts cuts = cuts_of(asked, blank);
    prove_cut(reducer, blank, cuts.outline, lines);
    prove_openings(reducer, blank, cuts, holes);
  }
  for (const Worst* line : {&lines, &heights, &stations, &holes.cuts, &holes.stations})
    line->into(asked.findings);
}

}  // namespace linerwright::asked
