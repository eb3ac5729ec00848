// Boards: each fitting's pieces are there as often as the fitting is asked for, an elbow's or a notched blank
// in the place of what it holds; they lie inside the board, turned end for end at most, and clear of one
// another.
#include <algorithm>
#include <array>
#include <set>

#include "board_words.hpp"
#include "hull_proofs.hpp"
#include "kinds.hpp"
#include "layers.hpp"
#include "made_boards.hpp"
#include "proofs.hpp"
#include "readers.hpp"
#include "ways.hpp"

namespace linerwright::asked {

namespace {

using Contour = std::vector<Point>;

struct Shop {
  std::map<std::string, MadeFitting> fittings;
  std::map<std::string, const Files*> files;
};

// A piece's own pattern.
Drawn pattern_of(const Shop& shop, const std::string& tag, const std::string& piece) {
  const MadeFitting& made = shop.fittings.at(tag);
  const Files& files = *shop.files.at(tag);
  const std::string name = name_ending(files, "-" + piece + ".dxf");
  if (name.empty()) throw Unreadable("the pattern of " + tag + " " + piece + " is missing");
  return read_drawn(files.at(name), name, made.inch_drawings ? 25.4 : 1.0);
}

// The outer cut of a pattern.
Contour cut_of(const Drawn& drawn, const std::string& where) {
  Contour best;
  for (const Entity& entity : drawn.entities)
    if (entity.closed && (entity.layer == "CUT" || entity.layer == "0") &&
        (best.empty() || std::abs(area_of(entity.points)) > std::abs(area_of(best))))
      best = entity.points;
  if (best.empty()) throw Unreadable(where + " has no closed cut");
  return best;
}

// How many lines of a layer lie in a box, closed and open.
std::array<int, 2> lines_in(const Drawn& drawn, const std::string& layer, const double (&box)[4]) {
  constexpr double k_beyond = 0.2;  // mm
  std::array<int, 2> count{0, 0};
  for (const Entity& entity : drawn.entities) {
    if (entity.layer != layer || entity.points.empty()) continue;
    const bool there = std::all_of(entity.points.begin(), entity.points.end(), [&](const Point& p) {
      return p[0] > box[0] - k_beyond && p[0] < box[2] + k_beyond && p[1] > box[1] - k_beyond &&
             p[1] < box[3] + k_beyond;
    });
    if (there) ++count[entity.closed ? 0 : 1];
  }
  return count;
}

// The contour in its box on the board.
Contour placed(Contour contour, const BoardPiece& piece) {
  Point low{1e300, 1e300};
  for (Point& point : contour) {
    if (piece.turned) point = {-point[0], -point[1]};
    for (std::size_t k = 0; k < 2; ++k) low[k] = std::min(low[k], point[k]);
  }
  for (Point& point : contour) point = {point[0] - low[0] + piece.box[0], point[1] - low[1] + piece.box[1]};
  return contour;
}

// How deep corners and middles of one contour stand inside another.
double overlap(const Contour& a, const Contour& b) {
  double worst = 0.0;
  for (const Point& point : with_middles(a))
    if (inside(b, point)) worst = std::max(worst, stray({point}, b));
  return worst;
}

bool boxes_meet(const BoardPiece& a, const BoardPiece& b) {
  return a.box[0] < b.box[2] && b.box[0] < a.box[2] && a.box[1] < b.box[3] && b.box[1] < a.box[3];
}

// `homeless`: the job says that some pieces are on no board.
void prove_counts(const Shop& shop, const std::vector<MadeBoard>& boards, bool homeless, Worst& counts) {
  std::map<std::pair<std::string, std::string>, std::set<double>> copies;
  for (const MadeBoard& board : boards)
    for (const BoardPiece& piece : board.pieces)
      counts.expect(copies[{piece.tag, piece.piece}].insert(piece.copy).second,
                    piece.tag + "/" + piece.piece + " is there twice");
  for (const auto& [tag, made] : shop.fittings) {
    const std::string& one = tag;
    // of a fitting that is on no board at all the job's own table tells
    if (std::none_of(copies.begin(), copies.end(), [&](const auto& copy) { return copy.first.first == one; }))
      continue;
    std::map<std::string, std::multiset<double>> found;  // copies of each piece, alone or in a blank
    for (const MadePiece& piece : made.pieces) {
      const std::set<double>& there = copies[{one, piece.id}];
      found[piece.id].insert(there.begin(), there.end());
      for (const std::string& held : piece.holds) found[held].insert(there.begin(), there.end());
    }
    for (const MadePiece& piece : made.pieces) {
      if (is_blank(piece)) continue;  // its pieces tell
      const std::multiset<double>& there = found[piece.id];
      const bool twice = std::set<double>(there.begin(), there.end()).size() < there.size();
      const auto times = static_cast<double>(there.size());
      counts.expect(!twice && (times == made.count || (homeless && times < made.count)),
                    tag + "/" + piece.id + " is on the boards " + std::to_string(there.size()) + " times");
    }
  }
  for (const auto& [name, where] : copies)
    counts.expect(shop.fittings.count(name.first) > 0, name.first + " is no fitting of this job");
}

// The boards name the fittings that they were planned for as these are: by that a later change is noticed.
void prove_planned(const Shop& shop, const MadeBoards& all, const Files& above, Worst& counts) {
  for (const auto& [tag, state] : all.of)
    counts.expect(all.of.count(tag) == 1, "boards.json was planned twice for " + tag);
  const auto totals = above.find("totals.json");
  if (totals == above.end() || read_totals(totals->second).boards_older) return;
  for (const auto& [tag, made] : shop.fittings) {
    const auto [from, to] = all.of.equal_range(tag);
    const std::string& state = made.state;
    counts.expect(std::any_of(from, to, [&](const auto& planned) { return planned.second == state; }),
                  "boards.json was not planned for " + tag + " as it is");
  }
}

void prove_board(const Shop& shop, const MadeBoards& all, const MadeBoard& board, const Files& files,
                 std::size_t index, std::size_t digits, Worst& places, Worst& apart, Worst& figures,
                 Worst& lines) {
  const std::string where = "board " + std::to_string(index + 1);
  std::vector<Contour> contours;
  std::vector<Drawn> patterns;
  double area = 0.0;
  double used = 0.0;
  for (const BoardPiece& piece : board.pieces) {
    const auto fitting = shop.fittings.find(piece.tag);
    if (fitting == shop.fittings.end()) return;
    const std::string at = where + ", " + piece.tag + "/" + piece.piece;
    patterns.push_back(pattern_of(shop, piece.tag, piece.piece));
    contours.push_back(placed(cut_of(patterns.back(), at), piece));
    Point high{-1e300, -1e300};
    for (const Point& point : contours.back())
      for (std::size_t k = 0; k < 2; ++k) high[k] = std::max(high[k], point[k]);
    places.off(high[0] - piece.box[2], at + " around");
    places.off(high[1] - piece.box[3], at + " along");
    places.off(std::max({0.0, -piece.box[0], -piece.box[1], piece.box[2] - board.length,
                         piece.box[3] - board.width}),
               at + " beyond the board");
    const Request& request = fitting->second.request;
    const bool second = is_of_second(request, piece.piece);
    const char* own = second ? "second_layer" : "thickness";
    const char* dense = second && request.stated("second_density") ? "second_density" : "density";
    if (const auto mass = mass_asked(all, board, request.value(dense)))
      figures.off(board.mass / *mass - 1.0, at + " mass");
    places.off(std::abs(request.value(own) - board.thickness) > 0.0501 ? 1.0 : 0.0, at + " thickness");
    for (const MadePiece& made : fitting->second.pieces)
      if (made.id == piece.piece) area += made.area;
    used = std::max(used, piece.box[2]);
  }
  for (std::size_t a = 0; a < contours.size(); ++a)
    for (std::size_t b = 0; b < contours.size(); ++b)
      if (a != b && boxes_meet(board.pieces[a], board.pieces[b]))
        apart.off(
            overlap(contours[a], contours[b]),
            where + ", " + board.pieces[a].tag + "/" + board.pieces[a].piece + " in " + board.pieces[b].tag);
  figures.off(board.used / used - 1.0, where + " used length");
  figures.off(board.area / area - 1.0, where + " area of its pieces");
  const auto drawing = files.find(board_file(index, digits));
  if (drawing == files.end()) {
    lines.wrong(board_file(index, digits) + " is missing");
    return;
  }
  const double unit = shop.fittings.begin()->second.inch_drawings ? 25.4 : 1.0;
  const Drawn drawn = straightened(read_drawn(drawing->second, drawing->first, unit), all, board);
  // faces are on a board as a piece's own pattern has them, or not at all
  constexpr double everywhere[4] = {-1e9, -1e9, 1e9, 1e9};
  for (std::size_t i = 0; i < patterns.size(); ++i)
    for (const char* layer : {"DUCT_FACE", "AIR_FACE", "OUTER_FACE", "INNER_FACE"}) {
      const std::array<int, 2> found = lines_in(drawn, layer, board.pieces[i].box);
      lines.expect(found == std::array<int, 2>{0, 0} || found == lines_in(patterns[i], layer, everywhere),
                   where + ", " + board.pieces[i].tag + "/" + board.pieces[i].piece + ": lines of " + layer);
    }
  std::vector<Contour> cuts;
  for (const Entity& entity : drawn.entities)
    if ((entity.layer == "CUT" || entity.layer == "0") && entity.points.size() > 1) {
      cuts.push_back(entity.points);
      if (entity.closed) cuts.back().push_back(entity.points.front());
    }
  for (std::size_t i = 0; i < contours.size(); ++i)
    for (std::size_t k = 0; k < contours[i].size(); k += 1 + contours[i].size() / 60) {
      double best = 1e300;
      for (const Contour& cut : cuts) {
        // a line there and back is a closed contour
        for (std::size_t s = 0; s + 1 < cut.size() && best > 0.01; ++s)
          best = std::min(best, stray({contours[i][k]}, {cut[s], cut[s + 1]}));
      }
      lines.off(best, where + ", " + board.pieces[i].tag + "/" + board.pieces[i].piece);
    }
}

double seam_length(const Cut& cut, double t) {
  const Wall& wall = *cut.part.wall;
  if (wall.is_disc()) return 0.0;
  const double theta = cut.part.start;
  return (cut.part.high ? *cut.part.high : wall.high(theta, t)) -
         (cut.part.low ? *cut.part.low : wall.low(theta, t));
}

// The length of a curve between two parameters: by chords, halved until that adds nothing; what the last ones
// leave falls to a quarter with each halving.
template <class Curve>
double length_between(const Curve& curve, double a, const Place& from, double b, const Place& to) {
  const double middle = 0.5 * (a + b);
  const Place half = curve(middle);
  const double chords = size(half - from) + size(to - half);
  const double gained = chords - size(to - from);
  if (gained < 1e-7 || b - a < 1e-9) return chords + gained / 3.0;
  return length_between(curve, a, from, middle, half) + length_between(curve, middle, half, b, to);
}

template <class Curve>
double whole_length(const Curve& curve) {
  double sum = 0.0;
  Place before = curve(0.0);
  constexpr int steps = 720;
  for (int i = 1; i <= steps; ++i) {
    const Place now = curve(k_turn * i / steps);
    sum += length_between(curve, k_turn * (i - 1) / steps, before, k_turn * i / steps, now);
    before = now;
  }
  return sum;
}

double low_length(const Wall& wall, double t) {
  return whole_length(
      [&](double s) { return wall.low_rim ? wall.low_rim(s, t) : wall.at(s, wall.low(s, t), t); });
}

double high_length(const Wall& wall, double t) {
  return whole_length(
      [&](double s) { return wall.high_rim ? wall.high_rim(s, t) : wall.at(s, wall.high(s, t), t); });
}

std::map<std::string, double> totals_of_layer(const MadeFitting& made, double metal_density) {
  if (made.request.kind == "square_to_round") return totals_of_hull(made, metal_density);
  std::vector<Finding> ignored;
  const Wanted as_written = wanted(made.request);
  const double from = made.request.outer_face();
  const double t = made.request.inner_face();
  const double g = made.request.value("gauge");
  const std::vector<Cut> cuts = cuts_of(made, as_written, ignored);
  std::map<std::string, double> each;
  const bool notched = std::any_of(made.pieces.begin(), made.pieces.end(),
                                   [](const MadePiece& piece) { return belongs(piece.id, "notched"); });
  const bool divided =
      std::any_of(cuts.begin(), cuts.end(), [](const Cut& cut) { return cut.made->id != cut.part.wall->id; });
  const Wanted shells = shells_of(made.request);
  double liner = 0.0;
  double metal = 0.0;
  double sealant = 0.0;
  for (const Wall& wall : as_written.walls) {
    liner +=
        made.request.word("joint") == "mitre" ? piece_volume(wall, from, t) : layer_volume(wall, from, t);
    for (const Rim& rim : wall.openings) liner -= opening_volume(wall, rim, from, t);
    const bool on_body = made.request.kind == "tee" || made.request.kind == "tap";
    if (made.request.kind == "wye")
      sealant += 0.5 * (wall.high_open ? low_length(wall, t) : high_length(wall, t));  // each is two walls'
    else if (on_body && !wall.low_open)  // a branch on its body, and its gores one behind the other
      sealant += low_length(wall, t);
    else if (!on_body && !wall.high_open)
      sealant += high_length(wall, t);
    else if (wall.is_disc() && as_written.ends.empty())  // alone, in a duct that is lined alike
      sealant += k_turn * std::max(0.0, wall.radius - t);
  }
  for (const Wall& wall : shells.walls) {
    each["metal_area"] += area_at(wall, 0.0);
    metal += layer_volume(wall, -g, 0.0);
    for (const Rim& rim : wall.metal_openings) {
      each["metal_area"] -= opening_area(wall, rim, 0.0);
      metal -= opening_volume(wall, rim, -g, 0.0);
    }
  }
  // the metal that is covered, whatever the joint, or what of a tap's or a disc's own liner lies on it
  const bool alone = made.request.kind == "tap" || (made.request.kind == "cap" && as_written.ends.empty());
  const Wanted covered = alone ? as_written : covered_of(made.request);
  for (const Wall& wall : covered.walls) {
    each["liner_area"] += area_at(wall, from);
    for (const Rim& rim : wall.openings) each["liner_area"] -= opening_area(wall, rim, from);
  }
  if (as_written.metal_volume) {
    metal = *as_written.metal_volume;
    const double r = made.request.value("diameter") / 2.0;
    each["metal_area"] = metal / ((r + g) * (r + g) - r * r) * 2.0 * r;  // the same way of the same centre
  }
  each["liner_mass"] = liner * 1e-9 * made.request.value("density");
  each["metal_mass"] = metal * 1e-9 * metal_density;
  if (!notched) {
    each["pieces"] = static_cast<double>(cuts.size());
    double tape = 0.0;
    for (const Cut& cut : cuts) tape += seam_length(cut, t);
    each["tape"] = tape;
  }
  if (!divided && !notched && (made.request.kind != "tee" || made.request.word("joint") == "mitre"))
    each["sealant"] = sealant;
  return each;
}

// Of both layers; the metal is one.
std::map<std::string, double> totals_of(const MadeFitting& made, double metal_density) {
  const std::vector<Layer> layers = layers_of(made, {}, {});
  std::map<std::string, double> each = totals_of_layer(layers.front().made, metal_density);
  for (std::size_t i = 1; i < layers.size(); ++i) {
    const std::map<std::string, double> more = totals_of_layer(layers[i].made, metal_density);
    for (const char* key : {"liner_area", "liner_mass", "pieces", "tape", "sealant"}) {
      if (each.count(key) == 0) continue;
      if (more.count(key) == 0)
        each.erase(key);
      else
        each[key] += more.at(key);
    }
  }
  return each;
}

// Areas are written to a thousandth of a square millimetre.
double rounding(const std::string& key) {
  return key.size() > 5 && key.compare(key.size() - 5, 5, "_area") == 0 ? 5.01e-4 : 0.0;
}

void prove_totals(const Shop& shop, const std::string& json, std::vector<Finding>& findings) {
  Worst lines("job totals", 2e-6, "", "areas, masses, seams and joints by integrals of the walls");
  Worst sums("job sums", 1e-8, "", "each fitting's figures times its count");
  Worst there("job fittings", 0.0, "", "each fitting once, as often as asked for");
  const MadeTotals totals = read_totals(json);
  std::map<std::string, double> added;
  for (const TotalsLine& line : totals.lines) {
    for (const auto& [key, value] : line.each) added[key] += value * line.count;
    const auto fitting = shop.fittings.find(line.tag);
    if (fitting == shop.fittings.end()) continue;
    there.expect(fitting->second.count == line.count, line.tag + " is counted otherwise");
    for (const auto& [key, wanted_value] : totals_of(fitting->second, totals.metal_density)) {
      const auto found = line.each.find(key);
      if (found == line.each.end())
        there.wrong(line.tag + " has no " + key);
      else
        lines.off(std::max(0.0, std::abs(found->second - wanted_value) - rounding(key)) /
                      std::max(1e-3, std::abs(wanted_value)),
                  line.tag + " " + key);
    }
  }
  for (const auto& [key, value] : totals.sums)
    if (added.count(key) > 0) sums.off((value - added[key]) / std::max(1.0, std::abs(value)), key);
  for (const Worst* line : {&there, &lines, &sums}) line->into(findings);
}

}  // namespace

std::vector<Finding> prove_job_asked(const std::vector<Files>& fittings, const Files& boards,
                                     const Files& above) {
  std::vector<Finding> findings;
  Shop shop;
  try {
    for (const Files& files : fittings) {
      const auto json = files.find("fitting.json");
      if (json == files.end()) continue;
      MadeFitting made = read_made(json->second);
      shop.files[made.request.tag] = &files;
      shop.fittings.emplace(made.request.tag, std::move(made));
    }
    const auto totals = above.find("totals.json");
    if (totals != above.end()) prove_totals(shop, totals->second, findings);
    const auto json = boards.find("boards.json");
    if (json == boards.end()) return findings;
    const MadeBoards all = read_boards(json->second);
    const std::vector<MadeBoard>& made = all.boards;
    Worst counts("boards' pieces", 0.0, "", "every piece as often as its fitting is asked for");
    Worst places("boards' places", 0.001, "mm", "each piece's own pattern in its box, inside the board");
    Worst apart("boards' overlaps", 0.06, "mm", "pieces clear of one another");
    Worst figures("boards' figures", 2e-6, "", "areas and lengths of the pieces on them");
    Worst lines("boards' cuts", 0.06, "mm", "each piece's own cut where it lies");
    prove_counts(shop, made, all.homeless, counts);
    prove_planned(shop, all, above, counts);
    const std::size_t digits = std::to_string(made.size()).size();
    for (std::size_t i = 0; i < made.size(); ++i)
      prove_board(shop, all, made[i], boards, i, digits, places, apart, figures, lines);
    for (const Worst* line : {&counts, &places, &apart, &figures, &lines}) line->into(findings);
    prove_ways(all, boards, shop.fittings.empty() ? nullptr : &shop.fittings.begin()->second, findings);
    prove_stock(all, above, findings);
    prove_board_words(all, findings);
  } catch (const std::exception& error) {
    findings.push_back({"job", 1.0, 0.0, false, "unread", error.what()});
  }
  return findings;
}

}  // namespace linerwright::asked
