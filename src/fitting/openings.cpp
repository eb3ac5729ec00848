#include "openings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "branch.hpp"
#include "clearance.hpp"
#include "folded_openings.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/units/error.hpp"
#include "opening_words.hpp"
#include "taken_apart.hpp"

namespace linerwright {

namespace {

constexpr int k_around = 360;  // places of an edge that are looked at

// One hole of what is wished for.
struct Spot {
  const OpeningWish& wish;
  std::string name;
  double around;
};

double middle_of(const Joint& joint) {
  if (const auto* opening = std::get_if<OpeningTarget>(&joint.target)) return opening->theta;
  return place_on(joint, Side::follow, 0.0, shell_depths(0.0)).theta;
}

class Openings {
 public:
  Openings(Reasons& reasons, Fitting& fitting) : reasons_(reasons), fitting_(fitting) {}

  void add(const std::vector<OpeningWish>& wishes) {
    for (std::size_t i = 0; i < wishes.size(); ++i) {
      const OpeningWish& wish = wishes[i];
      const std::string name = fmt::format("{} {}", wish.what, i + 1);
      const Piece* piece = piece_for(wish, name);
      if (piece == nullptr) continue;
      const double v = start_of(piece->wall, wish.around) + wish.at;
      cut({wish, wish.pair ? name + "a" : name, wish.around}, *piece, v);
      if (wish.pair) cut({wish, name + "b", wish.around + k_pi}, *piece, v);
    }
    if (!reasons_.none()) return;
    for (std::size_t wall = 0; wall < fitting_.walls.size(); ++wall) clear_faces(fitting_.walls[wall]);
    fitting_.blanks.erase(std::remove_if(fitting_.blanks.begin(), fitting_.blanks.end(),
                                         [&](const Blank& blank) { return has_opening(blank); }),
                          fitting_.blanks.end());
  }

 private:
  void refuse(const std::string& name, const std::string& allowed, const std::string& reason) {
    reasons_.add(k_openings, allowed, name + ": " + reason);
  }

  // The piece that it is cut in, where such an opening can be.
  const Piece* piece_for(const OpeningWish& wish, const std::string& name) {
    std::string ids;
    for (const Piece& piece : fitting_.pieces) {
      ids += (ids.empty() ? "" : ", ") + piece.id;
      if (!wish.piece.empty() && piece.id != wish.piece) continue;
      if (!lies_in(piece, wish))
        refuse(name, "piece " + piece_around(piece.wall, wish.around).id,
               fmt::format("{} degrees around is no place of piece {}",
                           trimmed(wish.around * 180.0 / k_pi, 2), piece.id));
      else if (fitting_.joint(fitting_.wall(piece.wall).low.joint).of_panel())
        refuse(name, "another piece",
               "a rectangular collar's panels are drawn whole so far: cut it by hand, or in the transition");
      else if (fitting_.wall(piece.wall).sheet.is_flat() && wish.bevel == OpeningBevel::radial)
        refuse(
            name, "bevel square, straight or splayed",
            "square to the duct's axis no cut goes through piece " + piece.id + ", which lies square to it");
      else if (wish.metal && fitting_.pressed)
        refuse(name, "metal no", "the metal is a pressed bend, on which no straight line measures the place");
      else
        return &piece;
      return nullptr;
    }
    refuse(name, "pieces " + ids, "no piece is called " + wish.piece);
    return nullptr;
  }

  // Of the pieces of a square-to-round each has its own rulings; one that is not named is found by them.
  bool lies_in(const Piece& piece, const OpeningWish& wish) const {
    if (!fitting_.wall(piece.wall).sheet.is_square_to_round() || wish.piece.empty()) return true;
    return &piece_around(piece.wall, wish.around) == &piece;
  }
  const Piece& piece_around(int wall, double theta) const {
    const auto holds = [&](const Piece& piece) {
      const double turn = theta - piece.seam;
      return piece.wall == wall && turn - k_two_pi * std::floor(turn / k_two_pi) < piece.span;
    };
    return *std::find_if(fitting_.pieces.begin(), fitting_.pieces.end(), holds);
  }

  // Where the metal of a wall starts on this ruling.
  double start_of(int wall, double theta) {
    if (is_disc_alone(fitting_)) return 0.0;  // wherever its liner's rim lies
    const Joint& metal = fitting_.joint(metal_end_of(fitting_, fitting_.wall(wall), End::low));
    if (metal.open() || metal.on_duct)
      return height_at(metal, Side::lead, theta, depths_of_metal(fitting_, metal, 0.0));
    return shell_end(fitting_, wall, End::low, theta, 0.0);
  }

  OpeningTarget target_of(const Spot& spot, const Sheet& sheet, double v) const {
    const OpeningWish& wish = spot.wish;
    OpeningTarget target{wish.is_round(), spot.around, v, 0.5 * wish.diameter, 0.5 * wish.diameter};
    target.flat = flat_of(sheet, target.theta);
    if (!wish.is_round()) {
      target.half_around = flat_half(sheet, target, 0.5 * wish.width);
      target.half_along = 0.5 * wish.length;
    }
    target.setback = wish.setback;
    target.bevel = wish.bevel;
    target.splay = std::tan(wish.splay);
    return target;
  }

  Joint edge_of(const Sheet& sheet, OpeningTarget target) const {
    const bool round = target.round;
    return {sheet,
            {sheet},
            target,
            JointStyle::mitre,
            round ? std::vector<double>{0.0, k_pi} : std::vector<double>{0.0, 0.5 * k_pi, k_pi, 1.5 * k_pi}};
  }

  // A splay so flat that, from the duct face on, it would have left the board before it comes to its edge on
  // the air face, which it would reach from within the bore.
  bool leaves_board(const Sheet& sheet, const Joint& edge) const {
    constexpr int k_places = 360;
    const auto [outer, inner] = fitting_.liner.faces();
    for (int i = 0; i < k_places; ++i) {
      const double s = k_two_pi * i / k_places;
      const Sheet::Ruling at = sheet.ruling(place_on(edge, Side::follow, s, shell_depths(inner)).theta);
      const Vec3 way = point_of(edge, s, shell_depths(outer)) - point_of(edge, s, shell_depths(inner));
      if (dot(way, sheet.frame().direction(at.normal)) <= 0.0) return true;
    }
    return false;
  }

  void cut(const Spot& spot, const Piece& piece, double v) {
    const int wall = piece.wall;
    const Sheet sheet = fitting_.wall(wall).sheet;
    try {
      constexpr double k_rounding = 1e-9;  // mm: in the centre is allowed
      if (sheet.is_flat() && v > sheet.r1() + k_rounding) {
        refuse(spot.name, fmt::format("at most {}", reasons_.length(sheet.r1())),
               fmt::format("its middle would lie {} from the disc's rim, beyond the centre",
                           reasons_.length(v)));
        return;
      }
      OpeningTarget target = target_of(spot, sheet, sheet.is_flat() ? std::min(v, sheet.r1()) : v);
      const Joint edge = edge_of(sheet, target);
      if (!keeps_clear(spot, wall, edge)) return;
      if (target.bevel == OpeningBevel::splayed && leaves_board(sheet, edge)) {
        refuse(
            spot.name, "a smaller splay, or a smaller one",
            "splayed so flat its sides would leave the board before they come to their edge on the air face");
        return;
      }
      fitting_.joints.push_back(edge);
      Opening opening{spot.name, static_cast<int>(fitting_.joints.size()) - 1};
      if (spot.wish.metal && fitting_.request.layer == 0) {
        target.setback = 0.0;
        target.bevel = OpeningBevel::square;
        fitting_.joints.push_back(edge_of(sheet, target));
        opening.metal_joint = static_cast<int>(fitting_.joints.size()) - 1;
        if (!clears_duct_joints(spot, fitting_.joint(*opening.metal_joint))) return;
      }
      add(opening, wall);
    } catch (const GeometryError&) {
      if (sheet.is_square_to_round()) {
        refuse(spot.name, "a smaller one, or further from the corners and tips",
               "it is wider than the wall there");
        return;
      }
      const double depth = spot.wish.bevel == OpeningBevel::straight ? fitting_.liner.bore_depth() : 0.0;
      const double across = 2.0 * std::max(0.0, sheet.spread(spot.around, v, depth));
      refuse(spot.name, fmt::format("less than {} across", reasons_.length(across)),
             depth > 0.0 ? "cut straight through it would be wider than the wall at its air face"
                         : "it is wider than its wall");
    }
  }

  void add(const Opening& opening, int wall) {
    std::vector<JointUse>& holes = fitting_.wall(wall).holes;
    const bool round = std::get<OpeningTarget>(fitting_.joint(opening.joint).target).round;
    const bool parts = fitting_.wall(wall).sheet.is_square_to_round();
    const double around = std::get<OpeningTarget>(fitting_.joint(opening.joint).target).theta;
    for (Piece& piece : fitting_.pieces)
      if (piece.wall == wall && (!parts || &piece_around(wall, around) == &piece))
        piece.hole_marks.push_back({holes.size(), round ? 0.0 : 0.25 * k_pi, opening.name});
    holes.push_back({opening.joint, Side::follow});
    fitting_.openings.push_back(opening);
  }

  bool keeps_clear(const Spot& spot, int wall, const Joint& edge) {
    const std::size_t before = count_;
    if (fitting_.wall(wall)
            .sheet.is_flat()) {  // cut square or wider inside, it is open as far as its duct face
      require_inside_ring(spot, wall, edge);
      require_off_holes(spot, wall, edge);
      return count_ == before && reasons_.none();
    }
    if (fitting_.wall(wall).sheet.is_square_to_round())
      require_in_part(spot, wall, edge);
    else
      for (const End end : k_both_ends) require_off_end(spot, wall, edge, end);
    require_off_holes(spot, wall, edge);
    require_common_opening(reasons_, {edge, spot.around}, fitting_.liner, "the " + spot.name);
    return count_ == before && reasons_.none();
  }

  // Of all that it comes too near to, in one flat or one rounded corner, the nearest.
  void require_in_part(const Spot& spot, int wall, const Joint& edge) {
    // the one face about the hole would come to that edge from both sides, which makes no sound solid in the
    // kernel
    if (spot.wish.metal && metal_folds_at(fitting_, wall, edge)) {
      ++count_;
      return refuse(spot.name, "metal no, or a place in a flat side",
                    "on this short a corner the metal folds over itself, where no hole through it is drawn");
    }
    const std::vector<BesideOpening> all = beside_opening(fitting_, wall, edge);
    const BesideOpening worst =
        *std::min_element(all.begin(), all.end(),
                          [](const BesideOpening& a, const BesideOpening& b) { return a.clear < b.clear; });
    if (worst.clear >= k_margin) return;
    ++count_;
    const std::string missing = reasons_.length(k_margin - worst.clear);
    refuse(spot.name, fmt::format("{} of liner beside it", reasons_.length(k_margin)),
           worst.clear > 0.0 ? fmt::format("only {} of liner is left to {}: {} is missing",
                                           reasons_.length(worst.clear), worst.what, missing)
                             : fmt::format("it reaches {} beyond {}: {} is missing",
                                           reasons_.length(-worst.clear), worst.what, missing));
  }

  // Before a disc stands its ring's lining; a disc alone ends in its rim.
  void require_inside_ring(const Spot& spot, int wall, const Joint& edge) {
    double clear = std::numeric_limits<double>::infinity();
    for (const double w : fitting_.liner.faces())
      for (int i = 0; i < k_around; ++i) {
        const Sheet::Place place = place_on(edge, Side::follow, k_two_pi * i / k_around, shell_depths(w));
        clear = std::min(
            clear, place.v - shell_end(fitting_, wall, End::low, place.theta, fitting_.liner.bore_depth()));
      }
    if (clear >= k_margin) return;
    ++count_;
    const std::string missing = reasons_.length(k_margin - clear);
    const bool alone = is_disc_alone(fitting_);
    refuse(spot.name, fmt::format("{} of liner beside it", reasons_.length(k_margin)),
           clear > 0.0 ? fmt::format("only {} of the disc is left to the {}: {} is missing",
                                     reasons_.length(clear), alone ? "rim" : "ring's lining", missing)
                       : fmt::format("it reaches {} {}: {} is missing", reasons_.length(-clear),
                                     alone ? "over the rim" : "under the ring's lining", missing));
  }

  // Along the wall, at both faces of the liner and on the metal.
  void require_off_end(const Spot& spot, int wall, const Joint& edge, End end) {
    double clear = std::numeric_limits<double>::infinity();
    std::vector<double> depths{0.0, fitting_.liner.outer_depth, fitting_.liner.inner_depth()};
    for (const double w : depths)
      for (int i = 0; i < k_around; ++i) {
        const Sheet::Place place = place_on(edge, Side::follow, k_two_pi * i / k_around, shell_depths(w));
        clear = std::min(clear, outward(end) * (liner_end(fitting_, wall, end, place.theta, w) - place.v));
      }
    if (clear >= k_margin) return;
    ++count_;
    const bool open = fitting_.joint(joint_at(fitting_.wall(wall), end, spot.around).joint).open();
    const std::string what = fmt::format("the {} the {} end", open ? "lining's edge at" : "joint at",
                                         end == End::high ? "far" : "start");
    refuse(spot.name, fmt::format("{} of liner beside it", reasons_.length(k_margin)),
           clear > 0.0 ? fmt::format("only {} of liner is left to {}: {} is missing", reasons_.length(clear),
                                     what, reasons_.length(k_margin - clear))
                       : fmt::format("it reaches {} beyond {}: {} is missing", reasons_.length(-clear), what,
                                     reasons_.length(k_margin - clear)));
  }

  void require_off_holes(const Spot& spot, int wall, const Joint& edge) {
    for (const JointUse& use : fitting_.wall(wall).holes) {
      const Joint& other = fitting_.joint(use.joint);
      const double apart = holes_apart({edge, spot.around}, {other, middle_of(other)}, fitting_.liner);
      if (apart >= k_margin) continue;
      ++count_;
      const Opening* opening = opening_at(fitting_, use.joint);
      const std::string whose = opening == nullptr ? "a branch" : "the " + opening->name;
      refuse(spot.name, fmt::format("holes at least {} apart", reasons_.length(k_margin)),
             apart > 0.0 ? fmt::format("only {} of liner is left to the hole of {}: {} is missing",
                                       reasons_.length(apart), whose, reasons_.length(k_margin - apart))
                         : "it overlaps the hole of " + whose);
    }
  }

  // The metal of a straight may be several lengths of duct: its hole lies in one of them.
  bool clears_duct_joints(const Spot& spot, const Joint& edge) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (int i = 0; i < k_around; ++i) {
      const double v = place_on(edge, Side::follow, k_two_pi * i / k_around, shell_depths(0.0)).v;
      low = std::min(low, v);
      high = std::max(high, v);
    }
    for (const double joint : duct_joints(fitting_.request)) {
      const double clear = std::max(low - joint, joint - high);
      if (clear >= k_margin) continue;
      refuse(spot.name, fmt::format("{} of metal beside it", reasons_.length(k_margin)),
             fmt::format("the metal is joined {} from its start: {} is missing", reasons_.length(joint),
                         reasons_.length(k_margin - clear)));
      return false;
    }
    return true;
  }

  // The faces of a solid begin on a ruling of their wall, and no hole may lie on it.
  void clear_faces(Wall& wall) {
    std::vector<HoleBox> boxes;
    bool cut = false;
    for (const JointUse& use : wall.holes) {
      const Joint& joint = fitting_.joint(use.joint);
      boxes.push_back(box_of(joint, fitting_.liner, middle_of(joint)));
      cut = cut || joint.of_opening();
    }
    // a disc's faces begin nowhere, a square-to-round's are divided as its parts are
    if (!cut || wall.sheet.is_flat() || wall.sheet.is_square_to_round()) return;
    double width = 0.0;
    const double margin = 1.0 / std::max(wall.sheet.r1(), wall.sheet.r2());
    const double free = free_ruling(boxes, wall.face_start, margin, &width);
    if (width < margin) {
      refuse("openings", "fewer of them", "no line along the piece is clear of all holes");
      return;
    }
    if (free != wall.face_start) {
      wall.face_start = std::remainder(free, k_two_pi);
      split_ends(wall, wall.face_start);
    }
    if (wall.sheet.offset() == 0.0) return;
    // faces of an oblique taper have two sides
    const double beside = std::min(margin, 0.5 * width);
    boxes.push_back({0.0, 0.0, free - 0.5 * beside, free + 0.5 * beside});
    split_ends(wall, free_ruling(boxes, free + k_pi, 0.5 * beside, &width));
  }

  void split_ends(const Wall& wall, double theta) {
    for (const End end : k_both_ends) {
      const JointUse& use = joint_at(wall, end, theta);
      Joint& joint = fitting_.joint(use.joint);
      add_split(joint, use.side, theta);
      if (joint.metal_end)  // where the lining is held back
        add_split(fitting_.joint(*joint.metal_end), use.side, theta);
    }
  }

  bool has_opening(const Blank& blank) const {
    return std::any_of(blank.pieces.begin(), blank.pieces.end(), [&](int index) {
      const Piece& piece = fitting_.piece(index);
      const auto& holes = fitting_.wall_of(piece).holes;
      return std::any_of(holes.begin(), holes.end(),
                         [&](const JointUse& use) { return fitting_.joint(use.joint).of_opening(); });
    });
  }

  Reasons& reasons_;
  Fitting& fitting_;
  std::size_t count_ = 0;  // of what was refused
};

}  // namespace

void add_openings(Reasons& reasons, Fitting& fitting) {
  const std::vector<OpeningWish> wishes = read_openings(fitting.request, reasons);
  if (!wishes.empty()) Openings(reasons, fitting).add(wishes);
}

}  // namespace linerwright
