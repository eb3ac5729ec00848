#include "divide.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "collar_seams.hpp"
#include "layers.hpp"
#include "notched_division.hpp"

namespace linerwright {

namespace {

double from_zero(double angle) {
  const double turn = std::fmod(angle, k_two_pi);
  return turn < 0.0 ? turn + k_two_pi : turn;
}

std::string board_side(const Reasons& reasons, double length) {
  return std::isfinite(length) ? reasons.length(length) : "any length";
}

// A corner of the joint on this ruling of one of its walls.
void add_split(Joint& joint, Side side, double theta) {
  double s = from_zero(parameter_at(joint, side, theta, shell_depths(0.0)));
  if (joint.stretch) s = joint.splits.front() + from_zero(s - joint.splits.front());
  for (const double split : joint.splits)
    if (std::fabs(std::remainder(split - s, k_two_pi)) < 1e-9) return;
  joint.splits.push_back(s);
  std::sort(joint.splits.begin(), joint.splits.end());
}

class Apart {
 public:
  explicit Apart(Fitting& fitting) : fitting_(fitting) {
    for (const Wall& wall : fitting.walls) names_.emplace_back(name_of(wall));
  }

  // Replaces a piece by those of its division.
  void take(std::size_t index, const Divider& divider, const Division& division) {
    const Piece whole = fitting_.pieces[index];
    std::vector<std::vector<std::size_t>> holes;
    for (std::size_t ring = 0; ring < division.rings(); ++ring)
      holes.push_back(divider.holes_in(division, ring));
    const std::vector<int> rings = cut_rings(whole, division, holes);
    if (division.panels > 1) cut_panels(whole, division, rings);
    std::vector<Piece> made;
    for (std::size_t ring = 0; ring < rings.size(); ++ring)
      for (int p = 0; p < division.panels; ++p) {
        Piece piece = whole;
        piece.wall = rings[ring];
        piece.id = names_[static_cast<std::size_t>(rings[ring])];
        piece.hole_marks = marks_on(whole.hole_marks, holes[ring]);
        name(piece, whole, division, ring, p);
        made.push_back(std::move(piece));
      }
    replaced_.push_back({index, std::move(made)});
  }

  // The pieces of a notched blank, and a blank for each ring and panel.
  void take(const NotchedBlank& blank, const NotchedDivider& divider, const NotchedDivision& made) {
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
      divide_piece(blank.collar, beside);
    }
    for (std::size_t ring = 0; ring < rings; ++ring)
      for (int p = 0; p < made.division.panels; ++p) {
        NotchedBlank part = divider.ring_blank(made, ring);
        if (rings > 1) part.id += static_cast<char>('a' + static_cast<int>(ring));
        if (made.division.panels > 1) part.id += fmt::format("p{}", p + 1);
        blanks_.push_back(
            {part, ring * static_cast<std::size_t>(made.division.panels) + static_cast<std::size_t>(p),
             static_cast<std::size_t>(p)});
      }
  }

  // Puts the new pieces in the places of the old ones and ties up what names pieces.
  void finish() {
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
    if (blanks_.empty())
      for (const NotchedBlank& blank : fitting_.notched) blanks_.push_back({blank, 0, 0});
    fitting_.notched.clear();
    for (const Part& part : blanks_) {
      NotchedBlank blank = part.blank;
      blank.taper = now[static_cast<std::size_t>(blank.taper)][part.taper];
      if (blank.collar >= 0) blank.collar = now[static_cast<std::size_t>(blank.collar)][part.collar];
      fitting_.notched.push_back(blank);
    }
    for (Piece& piece : fitting_.pieces) piece.next = beside(piece.wall);
  }

 private:
  // A notched blank, and which of their divisions' pieces its taper and collar are.
  struct Part {
    NotchedBlank blank;
    std::size_t taper, collar;
  };
  struct Replaced {
    std::size_t index;
    std::vector<Piece> pieces;
  };

  // What neighbours call a wall's pieces.
  std::string name_of(const Wall& wall) const {
    const int index = static_cast<int>(&wall - fitting_.walls.data());
    for (const Piece& piece : fitting_.pieces)
      if (piece.wall == index) return piece.id;
    return {};
  }

  std::vector<int> cut_rings(const Piece& piece, const Division& division,
                             const std::vector<std::vector<std::size_t>>& holes) {
    std::vector<int> rings{piece.wall};
    const Wall whole = fitting_.walls[static_cast<std::size_t>(piece.wall)];
    const Sheet& sheet = whole.sheet;
    for (const double v : division.cuts) {
      Target target = SquareTarget{v};
      std::vector<double> splits{0.0, k_pi};
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
        const Joint& end = fitting_.joints[static_cast<std::size_t>(whole.low.joint)];
        fitting_.joints.back().splits = end.splits;
        fitting_.joints.back().collar_seams = end.collar_seams;
      }
      const int joint = static_cast<int>(fitting_.joints.size()) - 1;
      Wall ring = whole;
      ring.low = {joint, Side::follow};
      ring.low_rest.clear();
      Wall& below = fitting_.walls[static_cast<std::size_t>(rings.back())];
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
  void cut_panels(const Piece& piece, const Division& division, const std::vector<int>& rings) {
    const bool oblique = fitting_.walls[static_cast<std::size_t>(piece.wall)].sheet.offset() != 0.0;
    for (std::size_t ring = 0; ring < rings.size(); ++ring)
      for (std::size_t seamed = 0; seamed < rings.size(); ++seamed) {
        if (seamed != ring && !oblique) continue;
        const Wall& wall = fitting_.walls[static_cast<std::size_t>(rings[ring])];
        for (const bool high : {false, true}) {
          for (const JointUse& use : joints_at(wall, high))
            fitting_.joints[static_cast<std::size_t>(use.joint)].in_panels = true;
          for (int p = 0; p < division.panels; ++p) {
            const double theta = division.seams[seamed] + division.begin_of(seamed, p);
            const JointUse& use = joint_at(wall, high, theta);
            Joint& joint = fitting_.joints[static_cast<std::size_t>(use.joint)];
            if (&joint == joint_with_oblique_taper(fitting_, wall))
              add_collar_seam(fitting_, joint, theta);
            else
              add_split(joint, use.side, theta);
          }
        }
      }
  }

  static void name(Piece& piece, const Piece& whole, const Division& division, std::size_t ring, int panel) {
    const double moved = from_zero(division.seams[ring] - whole.seam);
    // counted from within one turn of the zero ruling, as seams of undivided pieces are
    piece.seam = moved < 1e-9 ? whole.seam : from_zero(division.seams[ring]);
    if (panel > 0) piece.seam = from_zero(piece.seam + division.begin_of(ring, panel));
    if (division.rings() > 1) piece.role += fmt::format(", ring {} of {}", ring + 1, division.rings());
    if (division.panels > 1) {
      piece.span = division.span_of(ring, panel);
      piece.id += fmt::format("p{}", panel + 1);
      piece.role += fmt::format(", panel {} of {}", panel + 1, division.panels);
      const int n = division.panels;
      piece.seam_place =
          n == 2 ? fmt::format("against p{} on both sides", 2 - panel)
                 : fmt::format("against p{} and p{}", (panel + n - 1) % n + 1, (panel + 1) % n + 1);
    } else if (moved > 1e-9 && moved < k_two_pi - 1e-9) {
      piece.seam_place =
          fmt::format("{} degrees on from {}", trimmed(moved * 180.0 / k_pi, 1), whole.seam_place);
    }
  }

  // Marks of holes, renumbered for the ring they lie in.
  static std::vector<HoleMark> marks_on(const std::vector<HoleMark>& marks,
                                        const std::vector<std::size_t>& holes) {
    std::vector<HoleMark> kept;
    for (const HoleMark& mark : marks) {
      const auto found = std::find(holes.begin(), holes.end(), mark.hole);
      if (found != holes.end())
        kept.push_back({static_cast<std::size_t>(found - holes.begin()), mark.s, mark.name});
    }
    return kept;
  }

  // Names of the walls that share a joint with this one.
  std::vector<std::string> beside(int wall_index) const {
    const Wall& wall = fitting_.walls[static_cast<std::size_t>(wall_index)];
    std::vector<std::string> names;
    for (std::size_t other = 0; other < fitting_.walls.size(); ++other)
      if (static_cast<int>(other) != wall_index && share_a_joint(wall, fitting_.walls[other]))
        names.push_back(names_[other]);
    return names;
  }

  Fitting& fitting_;
  std::vector<std::string> names_;  // by wall
  std::vector<Replaced> replaced_;
  std::vector<Part> blanks_;
};

// A blank is as high as its pieces on the mean, with what each joint and end is left.
bool is_too_large(const Fitting& fitting, const Blank& blank, const BoardRoom& room) {
  double along = 2.0 * fitting.liner.end_allowance - 2.0 * fitting.liner.butt_allowance;
  double around = 0.0;
  for (const int index : blank.pieces) {
    const Divider divider(fitting, fitting.pieces[static_cast<std::size_t>(index)], room);
    along += divider.mean_length() + 2.0 * fitting.liner.butt_allowance;
    around = std::max(around, divider.size().x);
  }
  return along > room.along || around > room.around;
}

// A branch that stands square on its body, or passes through it, has an end that lies on the body: rings, but
// no panels, whose seam would have to follow the body there.
bool stands_on_body(const Fitting& fitting, const Piece& piece) {
  const Wall& wall = fitting.walls[static_cast<std::size_t>(piece.wall)];
  return std::any_of(fitting.joints.begin(), fitting.joints.end(), [&](const Joint& joint) {
    const int index = static_cast<int>(&joint - fitting.joints.data());
    return joint.style != JointStyle::mitre && ends_in(wall, index);
  });
}

template <typename AnyDivider>
void refuse(Reasons& reasons, const std::string& what, const AnyDivider& divider, std::optional<int> panels,
            const BoardRoom& room, bool on_body) {
  const Vec2 size = divider.size();
  const std::string sizes =
      fmt::format("the {} is {} along and {} around", what, reasons.length(size.y), reasons.length(size.x));
  const double narrowest = panels ? divider.narrowest_panel(*panels) : room.least;
  if (narrowest < room.least)
    reasons.add(
        "panels", fmt::format("panels of at least {} (min_panel)", reasons.length(room.least)),
        sizes + fmt::format("; of {} panels one would be {} wide", *panels, reasons.length(narrowest)));
  else if (panels)
    reasons.add("panels", "another number, or a larger board",
                sizes + fmt::format("; no rings of {} panels fit a board of {} along by {} around", *panels,
                                    board_side(reasons, room.along), board_side(reasons, room.around)));
  else
    reasons.add(
        size.y > room.along ? "board_width" : "board_length", "a larger board",
        sizes + (on_body ? "; its end lies on the body: it can be divided into rings, but into panels only "
                           "with joint = \"mitre\""
                         : fmt::format("; it cannot be divided into rings and panels of at least {} "
                                       "that fit and keep clear of its ends and holes",
                                       reasons.length(room.least))));
}

// True where the blank came apart. A collar that comes apart from it is then divided as any piece.
bool divide_notched(Reasons& reasons, Fitting& fitting, Apart& apart, const BoardRoom& room,
                    std::optional<int> panels) {
  if (fitting.notched.empty()) return false;
  NotchedBlank& blank = fitting.notched.front();
  const NotchedBlank whole = blank;
  const NotchedDivider divider(fitting, whole, room);
  if (divider.fits_whole() && panels.value_or(1) == 1) return false;
  const std::optional<NotchedDivision> made = divider.find(panels);
  if (!made) {
    refuse(reasons, "notched blank", divider, panels, room, false);
    return false;
  }
  apart.take(whole, divider, *made);
  if (!made->collar) blank.collar = -1;
  return made->division.rings() > 1 || made->division.panels > 1;
}

}  // namespace

void divide(Reasons& reasons, Fitting& fitting, const std::vector<std::vector<double>>& other_joints) {
  const Values& values = fitting.request.values;
  const BoardRoom room = room_of(fitting.request);
  const auto room_for = [&](std::size_t piece) {
    BoardRoom own = room;
    if (piece >= other_joints.size()) return own;
    own.other_joints.insert(own.other_joints.end(), other_joints[piece].begin(), other_joints[piece].end());
    return own;
  };
  std::optional<int> taper_panels;
  if (values.has("panels")) taper_panels = static_cast<int>(values.integer("panels"));
  if (!taper_panels && !std::isfinite(room.along) && !std::isfinite(room.around)) return;
  const auto is_notched = [&](int piece) {
    return std::any_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
      return blank.taper == piece || blank.collar == piece;
    });
  };
  const auto panels_of = [&](const Piece& piece) {
    const bool tapers = !fitting.walls[static_cast<std::size_t>(piece.wall)].sheet.is_cylinder();
    return tapers ? taper_panels : std::nullopt;
  };
  const auto find_division = [&](const Piece& piece, const Divider& divider, std::optional<int> panels) {
    return divider.find(stands_on_body(fitting, piece) ? std::optional<int>(1) : panels);
  };
  // Seams of an oblique taper that is divided after its collar.
  const auto seams_to_come = [&](std::size_t collar) {
    std::vector<double> seams;
    for (std::size_t i = collar + 1; i < fitting.pieces.size(); ++i) {
      const Piece& piece = fitting.pieces[i];
      if (fitting.walls[static_cast<std::size_t>(piece.wall)].sheet.offset() == 0.0) continue;
      const Divider divider(fitting, piece, room_for(i));
      if (is_notched(static_cast<int>(i)) || (!panels_of(piece) && divider.fits_whole())) continue;
      if (const std::optional<Division> division = find_division(piece, divider, panels_of(piece)))
        for (const double first : division->seams)
          for (int p = 0; p < division->panels && division->panels > 1; ++p)
            seams.push_back(first + division->span() * p);
    }
    return seams;
  };
  fitting.blanks.erase(std::remove_if(fitting.blanks.begin(), fitting.blanks.end(),
                                      [&](const Blank& blank) { return is_too_large(fitting, blank, room); }),
                       fitting.blanks.end());
  Apart apart(fitting);
  bool divided = divide_notched(reasons, fitting, apart, room, taper_panels);
  for (std::size_t i = 0; i < fitting.pieces.size(); ++i) {
    if (is_notched(static_cast<int>(i))) continue;
    const Piece& piece = fitting.pieces[i];
    const std::optional<int> panels = panels_of(piece);
    const Divider divider(fitting, piece, room_for(i));
    if (!panels && divider.fits_whole()) continue;
    const std::optional<Division> division = find_division(piece, divider, panels);
    if (!division) {
      refuse(reasons, piece.role, divider, panels, room, stands_on_body(fitting, piece));
      continue;
    }
    const std::optional<Division> clear =
        clear_of_taper(fitting, piece, divider, *division, seams_to_come(i));
    if (!clear) {
      reasons.add("board_length", "a larger board",
                  fmt::format("seams of the {} in {} panels would come within {} of other seams beside it",
                              piece.role, division->panels, reasons.length(k_seams_apart)));
      continue;
    }
    apart.take(i, divider, *clear);
    divided = true;
  }
  apart.finish();
  if (divided)
    fitting.steps.push_back(
        "Rings go in one behind the other with their seams staggered; tape the seams between panels on the "
        "air "
        "face before the piece is slid in.");
}

}  // namespace linerwright
