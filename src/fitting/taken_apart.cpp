#include "taken_apart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "collar_seams.hpp"

namespace linerwright {

namespace {

double from_zero(double angle) {
  const double turn = std::fmod(angle, k_two_pi);
  return turn < 0.0 ? turn + k_two_pi : turn;
}

void name(Piece& piece, const Piece& whole, const Division& division, std::size_t ring, int panel) {
  const double moved = from_zero(division.seams[ring] - whole.seam);
  // counted from within one turn of the zero ruling, as seams of undivided pieces are
  piece.seam = moved < 1e-9 ? whole.seam : from_zero(division.seams[ring]);
  if (panel > 0) piece.seam = from_zero(piece.seam + division.begin_of(ring, panel));
  if (division.rings() > 1) piece.role += fmt::format(", ring {} of {}", ring + 1, division.rings());
  if (division.panels_in(ring) > 1) {
    piece.span = division.span_of(ring, panel);
    piece.id += fmt::format("p{}", panel + 1);
    piece.role += fmt::format(", panel {} of {}", panel + 1, division.panels_in(ring));
    const int n = division.panels_in(ring);
    piece.seam_place = n == 2
                           ? fmt::format("against p{} on both sides", 2 - panel)
                           : fmt::format("against p{} and p{}", (panel + n - 1) % n + 1, (panel + 1) % n + 1);
  } else if (moved > 1e-9 && moved < k_two_pi - 1e-9) {
    piece.seam_place =
        fmt::format("{} degrees on from {}", trimmed(moved * 180.0 / k_pi, 1), whole.seam_place);
  }
}

// Marks of holes, renumbered for the ring they lie in.
std::vector<HoleMark> marks_on(const std::vector<HoleMark>& marks, const std::vector<std::size_t>& holes) {
  std::vector<HoleMark> kept;
  for (const HoleMark& mark : marks) {
    const auto found = std::find(holes.begin(), holes.end(), mark.hole);
    if (found != holes.end())
      kept.push_back({static_cast<std::size_t>(found - holes.begin()), mark.s, mark.name});
  }
  return kept;
}

}  // namespace

void add_split(Joint& joint, Side side, double theta) {
  double s = from_zero(parameter_at(joint, side, theta, shell_depths(0.0)));
  if (joint.stretch) s = joint.splits.front() + from_zero(s - joint.splits.front());
  for (const double split : joint.splits)
    if (std::fabs(std::remainder(split - s, k_two_pi)) < 1e-9) return;
  joint.splits.push_back(s);
  std::sort(joint.splits.begin(), joint.splits.end());
}

Apart::Apart(Fitting& fitting) : fitting_(fitting) {
  for (const Wall& wall : fitting.walls) names_.emplace_back(name_of(wall));
}

void Apart::take(std::size_t index, const Divider& divider, const Division& division) {
  const Piece whole = fitting_.pieces[index];
  std::vector<std::vector<std::size_t>> holes;
  for (std::size_t ring = 0; ring < division.rings(); ++ring)
    holes.push_back(divider.holes_in(division, ring));
  const std::vector<int> rings = cut_rings(whole, division, holes);
  if (division.in_panels()) cut_panels(whole, division, rings);
  std::vector<Piece> made;
  for (std::size_t ring = 0; ring < rings.size(); ++ring)
    for (int p = 0; p < division.panels_in(ring); ++p) {
      Piece piece = whole;
      piece.wall = rings[ring];
      piece.id = names_[static_cast<std::size_t>(rings[ring])];
      piece.hole_marks = marks_on(whole.hole_marks, holes[ring]);
      name(piece, whole, division, ring, p);
      made.push_back(std::move(piece));
    }
  replaced_.push_back({index, std::move(made)});
}

void Apart::take(const NotchedBlank& blank, const NotchedDivider& divider, const NotchedDivision& made) {
  const BoardRoom any{0.0, 0.0, 0.0};
  const auto divide_piece = [&](int piece, const Division& division) {
    const auto index = static_cast<std::size_t>(piece);
    take(index, Divider(fitting_, fitting_.pieces[index], any), division);
  };
  const std::size_t rings = made.division.rings();
  const bool grows = blank.taper < blank.collar;  // the collar beyond it is its large one
  divide_piece(blank.taper, made.division);
  if (made.collar) {
    const std::size_t met = grows ? rings - 1 : 0;
    Division beside{{}, made.division.panels, {made.division.seams[met]}, {made.division.edges[met]}};
    divide_piece(blank.collar.value(), beside);
  }
  for (std::size_t ring = 0; ring < rings; ++ring)
    for (int p = 0; p < made.division.panels; ++p) {
      NotchedBlank part = divider.ring_blank(made, ring);
      if (rings > 1) part.id += static_cast<char>('a' + static_cast<int>(ring));
      if (made.division.panels > 1) part.id += fmt::format("p{}", p + 1);
      blanks_.push_back({part,
                         ring * static_cast<std::size_t>(made.division.panels) + static_cast<std::size_t>(p),
                         static_cast<std::size_t>(p)});
    }
}

void Apart::finish() {
  if (replaced_.empty()) return;
  std::vector<Piece> pieces;
  std::vector<std::vector<int>> now(fitting_.pieces.size());
  for (std::size_t i = 0; i < fitting_.pieces.size(); ++i) {
    const auto found = std::find_if(replaced_.begin(), replaced_.end(),
                                    [&](const Replaced& replaced) { return replaced.index == i; });
    const std::vector<Piece> these =
        found == replaced_.end() ? std::vector<Piece>{fitting_.pieces[i]} : found->pieces;
    for (const Piece& piece : these) {
      now[i].push_back(static_cast<int>(pieces.size()));
      pieces.push_back(piece);
    }
  }
  fitting_.pieces = std::move(pieces);
  std::vector<int> insertion;
  for (const int old : fitting_.insertion)
    for (const int piece : now[static_cast<std::size_t>(old)]) insertion.push_back(piece);
  fitting_.insertion = std::move(insertion);
  // pieces of a blank that stays are whole
  for (Blank& blank : fitting_.blanks)
    for (int& piece : blank.pieces) piece = now[static_cast<std::size_t>(piece)].front();
  if (blanks_.empty())
    for (const NotchedBlank& blank : fitting_.notched) blanks_.push_back({blank, 0, 0});
  fitting_.notched.clear();
  for (const Part& part : blanks_) {
    NotchedBlank blank = part.blank;
    blank.taper = now[static_cast<std::size_t>(blank.taper)][part.taper];
    if (blank.collar) blank.collar = now[static_cast<std::size_t>(*blank.collar)][part.collar];
    fitting_.notched.push_back(blank);
  }
  for (Piece& piece : fitting_.pieces) piece.next = beside(piece.wall);
}

// What neighbours call a wall's pieces.
std::string Apart::name_of(const Wall& wall) const {
  const int index = static_cast<int>(&wall - fitting_.walls.data());
  for (const Piece& piece : fitting_.pieces)
    if (piece.wall == index) return piece.id;
  return {};
}

std::vector<int> Apart::cut_rings(const Piece& piece, const Division& division,
                                  const std::vector<std::vector<std::size_t>>& holes) {
  std::vector<int> rings{piece.wall};
  const Wall whole = fitting_.wall_of(piece);
  const Sheet& sheet = whole.sheet;
  for (const double v : division.cuts) {
    Target target = SquareTarget{v};
    // a corner where the wall's faces begin, and half a turn on
    std::vector<double> splits{from_zero(whole.face_start), from_zero(whole.face_start + k_pi)};
    std::sort(splits.begin(), splits.end());
    if (sheet.is_cylinder()) {
      // square to a cylinder's board is square to its axis
      target = PlaneTarget{sheet.frame().point({0.0, 0.0, v}), sheet.frame().z};
      splits = {from_zero(whole.face_start)};
    } else if (division.level) {
      target =
          PlaneTarget{sheet.frame().point({v * sheet.offset(), 0.0, v * sheet.height()}), sheet.frame().z};
    }
    fitting_.joints.push_back({sheet, {sheet}, target, JointStyle::mitre, splits});
    fitting_.joints.back().of_rings = true;
    if (sheet.offset() != 0.0) {
      // split as the wall's ends are
      const Joint& end = fitting_.joint(whole.low.joint);
      fitting_.joints.back().splits = end.splits;
      fitting_.joints.back().collar_seams = end.collar_seams;
    }
    const int joint = static_cast<int>(fitting_.joints.size()) - 1;
    Wall ring = whole;
    ring.low = {joint, Side::follow};
    ring.low_rest.clear();
    Wall& below = fitting_.wall(rings.back());
    below.high = {joint, Side::lead};
    below.high_rest.clear();
    fitting_.walls.push_back(ring);
    rings.push_back(static_cast<int>(fitting_.walls.size()) - 1);
  }
  names_.resize(fitting_.walls.size());
  for (std::size_t ring = 0; ring < rings.size(); ++ring) {
    const auto wall = static_cast<std::size_t>(rings[ring]);
    fitting_.walls[wall].holes.clear();
    for (const std::size_t h : holes[ring]) fitting_.walls[wall].holes.push_back(whole.holes[h]);
    names_[wall] = piece.id;
    if (rings.size() > 1) names_[wall] += static_cast<char>('a' + static_cast<int>(ring));
  }
  return rings;
}

// The solids need a corner wherever panels meet; the two ends of an oblique wall are split alike.
void Apart::cut_panels(const Piece& piece, const Division& division, const std::vector<int>& rings) {
  const bool oblique = fitting_.wall_of(piece).sheet.offset() != 0.0;
  for (std::size_t ring = 0; ring < rings.size(); ++ring)
    for (std::size_t seamed = 0; seamed < rings.size(); ++seamed) {
      if (seamed != ring && !oblique) continue;
      const Wall& wall = fitting_.wall(rings[ring]);
      for (const End end : k_both_ends) {
        for (const JointUse& use : joints_at(wall, end)) fitting_.joint(use.joint).in_panels = true;
        for (int p = 0; p < division.panels_in(seamed); ++p) {
          const double theta = division.seams[seamed] + division.begin_of(seamed, p);
          const JointUse& use = joint_at(wall, end, theta);
          Joint& joint = fitting_.joint(use.joint);
          if (&joint == joint_with_oblique_taper(fitting_, wall))
            add_collar_seam(fitting_, joint, theta);
          else
            add_split(joint, use.side, theta);
        }
      }
    }
}

// Names of the walls that share a joint with this one.
std::vector<std::string> Apart::beside(int wall_index) const {
  const Wall& wall = fitting_.wall(wall_index);
  std::vector<std::string> names;
  for (std::size_t other = 0; other < fitting_.walls.size(); ++other)
    if (static_cast<int>(other) != wall_index && share_a_joint(wall, fitting_.walls[other]))
      names.push_back(names_[other]);
  return names;
}

}  // namespace linerwright
