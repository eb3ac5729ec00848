// A branch alone on a duct that is already lined: z is the duct's axis, the axes cross at the origin. The
// branch's liner ends as a tee's does (tee.cpp); its metal stands on the outside of the duct's, whose hole
// has the branch's inside radius. Holes: a place of the duct's surface of radius R lies on the hole's edge
// where it is as far from the branch's axis as the hole is wide there (the same coping, read the other way).
#include <algorithm>

#include "branch.hpp"
#include "kinds.hpp"
#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

// The depth of the duct's wall that the bore's opening lies at.
double opening_depth(const Request& request) {
  return request.word("joint") == "over" ? 0.0 : request.bore_depth();
}

// The branch's wall `w` inside its own, every ruling moved toward its axis by this share: the line from the
// point where the axis is pierced to the wall stays within it.
Wall shrunk(const Wall& wall, double w, double share) {
  Wall inner = wall;
  const double slope = wall.taper > 0.0 ? (wall.to_radius - wall.radius) / wall.taper : 0.0;
  const double off = w * std::sqrt(1.0 + slope * slope);
  inner.radius = share * (wall.radius - off);
  if (wall.taper > 0.0) inner.to_radius = share * (wall.to_radius - off);
  return inner;
}

// What lies inside the branch at depth w, outside a cylinder of this radius about the duct's axis and within
// the branch's end: over shares f of the branch's radius and angles around it, the integral of rho^2 along
// its axis times f.
double outside_duct(const Wall& wall, double duct, double w) {
  constexpr int k_panels = 12;
  constexpr int k_around = 2880;
  const double end = wall.taper > 0.0 ? wall.taper : wall.high(0.0, 0.0);
  const Wall rim = shrunk(wall, w, 1.0);
  const double slope = wall.taper > 0.0 ? (rim.to_radius - rim.radius) / rim.taper : 0.0;
  const auto squared = [&](double z) { return std::pow(rim.radius + slope * z, 2); };
  double sum = 0.0;
  for (int panel = 0; panel < k_panels; ++panel)
    for (int k = 0; k < 5; ++k) {
      // f = 1 - q^2: places crowd toward the branch's wall, where a branch as wide as the duct turns sharply
      const double q = (panel + k_gauss_at[k]) / k_panels;
      const double f = 1.0 - q * q;
      const Wall within = shrunk(wall, w, f);
      double around = 0.0;
      for (int i = 0; i < k_around; ++i) {
        const double psi = k_turn * (i + 0.5) / k_around;
        const double low = leaves_body(within, {}, duct, psi, 0.0) * along(within.ruling(psi), wall.axis);
        // rho^2 is of the second degree along the axis: Simpson's rule is exact
        around += (end - low) / 6.0 * (squared(low) + 4.0 * squared(0.5 * (low + end)) + squared(end));
      }
      sum += k_gauss_weight[k] / k_panels * 2.0 * q * f * around * k_turn / k_around;
    }
  return sum;
}

}  // namespace

Wanted wanted_tap(const Request& request) {
  const double t = request.bore_depth();
  const Branch branch = branch_of(request, 0, 1);
  const Wall& wall = branch.wall;
  Wanted wanted;
  wanted.walls.push_back(wall);
  const double reach = wall.taper > 0.0 ? wall.taper : wall.high(0.0, 0.0);
  const double end = wall.taper > 0.0 ? wall.to_radius : wall.radius;
  wanted.ends = {{wall.id, wall.origin + reach * wall.axis, wall.axis, end, wall.taper <= 0.0}};
  wanted.bore = {
      {wall.id, "branch end", 2.0 * end, 2.0 * std::sqrt(end_area(wanted, wanted.ends.back(), t) / k_pi)}};
  return wanted;
}

Wanted tap_shells(const Request& request, const Wanted& as_written) {
  const double duct = request.value("diameter") / 2.0;
  const double g = request.value("gauge");
  const double t = request.bore_depth();
  const double opening = duct - opening_depth(request);
  const bool mitre = request.word("joint") == "mitre";
  const double first = request.value("thickness");
  Wanted shells = as_written;
  const Wall liner = as_written.walls.front();
  shells.walls.front().low = [liner, duct, g](double psi, double w) {
    return w <= 0.0 ? leaves_body(liner, {}, duct + g, psi, w) : liner.low(psi, w);
  };
  // the bore and what the liner takes; a mitre is not the duct's cylinder
  shells.inside = [=](double w) {
    if (!mitre || w >= t) return outside_duct(liner, opening, w);
    double volume = outside_duct(liner, opening, t) + piece_volume(liner, w, std::max(w, first));
    if (t > first + 1e-9) volume += piece_volume(liner, std::max(w, first), t);
    return volume;
  };
  shells.off_closure = [liner, opening, duct, g, t](const Place& place, bool metal) {
    const double depth = liner.depth_of(place);
    const double out = std::hypot(place[0], place[1]);
    if (metal) return std::max({std::abs(out - duct - g), depth, -g - depth});
    return std::max(std::abs(out - opening), t - depth);
  };
  return shells;
}

namespace {

// One of the two templates: the surface it lies on, how deep the hole's edge lies in the branch there, and
// which side it is seen from.
struct Sheet {
  const char* id;
  double radius;
  double depth;
  bool inside;
};

// A point of the hole's edge as the template shows it, from where the axes cross.
Point edge_at(const Wall& wall, const Sheet& sheet, double psi) {
  const Place at = wall.at(psi, leaves_body(wall, {}, sheet.radius, psi, sheet.depth), sheet.depth);
  return {(sheet.inside ? -1.0 : 1.0) * sheet.radius * std::atan2(at[1], at[0]), at[2]};
}

// Whether lines of the pen lead along and around the duct to where the branch's axis comes out: 2 mm of them
// at least, or where less than that is left beside the hole, a part of it.
bool crossed(const Drawn& drawn, const Point& axis, double beside) {
  bool upright = false;
  bool level = false;
  for (const Entity& entity : drawn.entities) {
    if (entity.layer != "MARK" || entity.closed || entity.points.size() != 2) continue;
    const Point& a = entity.points[0];
    const Point& b = entity.points[1];
    const double width = std::abs(a[0] - b[0]);
    const double height = std::abs(a[1] - b[1]);
    upright =
        upright || (height > 2.0 && std::max(std::abs(a[0] - axis[0]), std::abs(b[0] - axis[0])) < 0.01);
    level = level || (width > std::min(2.0, 0.4 * beside) &&
                      std::max(std::abs(a[1] - axis[1]), std::abs(b[1] - axis[1])) < 0.01);
  }
  return upright && level;
}

}  // namespace

namespace {

// All of the edge, moved: closer where it bends, as beside a branch nearly as wide as its duct.
class Edge {
 public:
  Edge(const Wall& wall, const Sheet& sheet, const Point& moved) : wall_(wall), sheet_(sheet), moved_(moved) {
    constexpr int k_places = 1440;
    for (int i = 0; i < k_places; ++i) {
      const double from = k_turn * i / k_places;
      const double to = k_turn * (i + 1) / k_places;
      points.push_back(at(from));
      between(from, points.back(), to, at(to), 24);
    }
  }

  std::vector<Point> points;

 private:
  Point at(double psi) const {
    const Point place = edge_at(wall_, sheet_, psi);
    return {place[0] + moved_[0], place[1] + moved_[1]};
  }

  // Halves what strays from its chord by more than a thousandth of a millimetre, so many times at most.
  void between(double from, const Point& first, double to, const Point& last, int left) {
    const double middle = 0.5 * (from + to);
    const Point there = at(middle);
    const Point chord{last[0] - first[0], last[1] - first[1]};
    const double length = std::hypot(chord[0], chord[1]);
    const double area = chord[0] * (there[1] - first[1]) - chord[1] * (there[0] - first[0]);
    if (left == 0 || std::abs(area) <= 1e-3 * length) return;
    between(from, first, middle, there, left - 1);
    points.push_back(there);
    between(middle, there, to, last, left - 1);
  }

  const Wall& wall_;
  const Sheet& sheet_;
  const Point moved_;
};

struct Lines {
  Worst there{"template lines", 0.0, "", "a template from outside and one from inside, each with its axis"};
  Worst holes{"templates", 0.056, "mm", "coping of branch and duct, on the surface that each lies on"};
  Worst places{"template points", 0.006, "mm", "vertices of the holes by the same closed form"};
  Worst stations{"template stations", 2e-6, "mm", "points of the holes at the branch's stations"};
};

void prove_template(const Case& asked, const Wall& wall, const Sheet& sheet, Lines& lines) {
  const std::string id = sheet.id;
  const auto made = std::find_if(asked.made.templates.begin(), asked.made.templates.end(),
                                 [&](const MadeTemplate& one) { return one.id == id; });
  const std::string file = name_ending(asked.files, "-" + id + ".dxf");
  const double count = asked.made.request.value("stations");
  if (file.empty() || made == asked.made.templates.end() || made->inside != sheet.inside ||
      static_cast<double>(made->hole.size()) != count) {
    lines.there.wrong("the template " + id + " or its stations are missing");
    return;
  }
  // where the sheet begins is the maker's own choice: its first station says it
  const Point first = edge_at(wall, sheet, 0.0);
  const Point moved{made->hole[0][0] - first[0], made->hole[0][1] - first[1]};
  for (std::size_t i = 1; i < made->hole.size(); ++i) {
    const Point wanted = edge_at(wall, sheet, k_turn * static_cast<double>(i) / count);
    for (std::size_t k = 0; k < 2; ++k)
      lines.stations.off(made->hole[i][k] - moved[k] - wanted[k], id + " station " + std::to_string(i));
  }
  const Drawn drawn = read_drawn(asked.files.at(file), file, asked.made.inch_drawings ? 25.4 : 1.0);
  std::vector<std::vector<Point>> cuts;
  for (const Entity& entity : drawn.entities)
    if (entity.closed && (entity.layer == "CUT" || entity.layer == "0")) cuts.push_back(entity.points);
  std::sort(cuts.begin(), cuts.end(),
            [](const auto& a, const auto& b) { return std::abs(area_of(a)) > std::abs(area_of(b)); });
  lines.there.expect(cuts.size() == 2, file + " is no sheet with one hole");
  if (cuts.size() != 2) return;
  const std::vector<Point> edge = Edge(wall, sheet, moved).points;
  std::vector<Point> some;
  for (std::size_t i = 0; i < edge.size(); i += 4) some.push_back(edge[i]);
  lines.places.off(stray(cuts[1], edge), file);
  lines.holes.off(std::max(stray(with_middles(cuts[1]), edge), stray(some, cuts[1])), file);
  for (const Point& point : cuts[1])
    lines.there.expect(inside(cuts[0], point), file + " has its hole beyond the sheet");
  if (asked.made.bare_drawings) return;
  const Wall axis = shrunk(wall, 0.0, 0.0);  // a wall of no radius
  const Place out = axis.at(0.0, leaves_body(axis, {}, sheet.radius, 0.0, 0.0), 0.0);
  const Point at{(sheet.inside ? -1.0 : 1.0) * sheet.radius * std::atan2(out[1], out[0]) + moved[0],
                 out[2] + moved[1]};
  const auto leftmost = [](const std::vector<Point>& contour) {
    return (*std::min_element(contour.begin(), contour.end()))[0];
  };
  lines.there.expect(crossed(drawn, at, leftmost(cuts[1]) - leftmost(cuts[0])),
                     file + " does not mark where the branch's axis comes out");
}

}  // namespace

void prove_templates(Case& asked) {
  const Request& request = asked.made.request;
  if (request.kind != "tap" || request.outer > 0.0) return;
  const double duct = request.value("diameter") / 2.0;
  const double t = request.bore_depth();
  const bool through = request.word("joint") == "through";
  Lines lines;
  for (const Sheet& sheet : {Sheet{"hole-metal", duct + request.value("gauge"), 0.0, false},
                             Sheet{"hole-liner", duct - t, through ? 0.0 : t, true}})
    prove_template(asked, asked.wanted.walls.front(), sheet, lines);
  for (const Worst* line : {&lines.there, &lines.holes, &lines.places, &lines.stations})
    line->into(asked.findings);
}

}  // namespace linerwright::asked
