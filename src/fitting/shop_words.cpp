#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/panels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "linerwright/fitting/port.hpp"
#include "step_words.hpp"

namespace linerwright {

namespace {

// "ring 1 of 2" where it is one; of how many 0 where it is none.
std::pair<int, int> ring_in(const std::string& word) {
  std::istringstream in(word);
  std::string ring, of;
  int which = 0, many = 0;
  if (in >> ring >> which >> of >> many && ring == "ring") return {which, many};
  return {0, 0};
}

// One wall's end all around that ends nothing but this joint.
bool is_whole_end(const Wall& wall, End end, int joint) {
  const std::vector<JointUse> uses = joints_at(wall, end);
  return uses.size() == 1 && uses.front().joint == joint;
}

// The wall beyond an end, where one joint leads to it all around.
std::optional<int> wall_beyond(const Fitting& fitting, int wall, End end) {
  const std::vector<JointUse> uses = joints_at(fitting.wall(wall), end);
  if (uses.size() != 1) return std::nullopt;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (static_cast<int>(w) != wall && is_whole_end(fitting.walls[w], opposite(end), uses.front().joint))
      return static_cast<int>(w);
  return std::nullopt;
}

// The walls below and above a joint that goes all around.
std::pair<std::optional<int>, std::optional<int>> walls_at(const Fitting& fitting, int joint) {
  std::pair<std::optional<int>, std::optional<int>> found;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w) {
    if (is_whole_end(fitting.walls[w], End::high, joint)) found.first = static_cast<int>(w);
    if (is_whole_end(fitting.walls[w], End::low, joint)) found.second = static_cast<int>(w);
  }
  return found;
}

bool has_lettered_saddles(const Fitting& fitting) {
  return joint_on_duct(fitting) ||
         std::any_of(fitting.walls.begin(), fitting.walls.end(),
                     [&](const Wall& wall) { return !shell_holes(fitting, wall).empty(); });
}

const Piece* piece_on(const Fitting& fitting, int wall) {
  const auto found = std::find_if(fitting.pieces.begin(), fitting.pieces.end(),
                                  [&](const Piece& piece) { return piece.wall == wall; });
  return found == fitting.pieces.end() ? nullptr : &*found;
}

Vec3 end_point(const Fitting& fitting, int wall, End end, double theta) {
  const double depth = liner_of(fitting, wall).outer_depth;
  return fitting.wall(wall).sheet.point(theta, liner_end(fitting, wall, end, theta, depth), depth);
}

struct Meeting {
  double below, above;  // rulings of the two walls
  std::string name;
};

// Marks of the pieces on both sides of a joint that end in one place. Where they differ in words the shorter
// ones are meant for this joint.
std::vector<Meeting> meetings_at(const Fitting& fitting, int joint) {
  const auto [low, high] = walls_at(fitting, joint);
  std::vector<Meeting> found;
  if (!low || !high || is_bend(fitting, joint)) return found;
  const Piece* below = piece_on(fitting, *low);
  const Piece* above = piece_on(fitting, *high);
  if (below == nullptr || above == nullptr) return found;
  // a notched blank has no ruling that ends in a mark of its own
  const auto notched = [&](const Piece* piece) {
    return notched_with(fitting, static_cast<int>(piece - fitting.pieces.data())) != nullptr;
  };
  if (notched(below) || notched(above)) return found;
  constexpr double k_same = 1e-3;  // mm
  for (const RulingMark& a : below->marks)
    for (const RulingMark& b : above->marks)
      if (distance(end_point(fitting, *low, End::high, a.theta),
                   end_point(fitting, *high, End::low, b.theta)) < k_same)
        found.push_back({a.theta, b.theta, a.name.size() <= b.name.size() ? a.name : b.name});
  return found;
}

// Radii of a wall's duct face at its two ends, on its seam's ruling.
std::pair<double, double> radii_of(const Fitting& fitting, int wall) {
  const Sheet& sheet = fitting.wall(wall).sheet;
  if (sheet.is_cylinder()) return {sheet.r1(), sheet.r1()};
  const auto at = [&](End end) {
    const double share = liner_end(fitting, wall, end, 0.0, 0.0) / sheet.ruling(0.0).length;
    return sheet.r1() + (sheet.r2() - sheet.r1()) * share;
  };
  return {at(End::low), at(End::high)};
}

// 1: A, 26: Z, 27: AA.
std::string letter_of(int number) {
  std::string letter;
  for (; number > 0; number = (number - 1) / 26)
    letter.insert(letter.begin(), static_cast<char>('A' + (number - 1) % 26));
  return letter;
}

// The wall that a leg's inner end opens into: the inlet, which ends where the legs begin.
std::optional<int> inlet_of(const Fitting& fitting, int leg) {
  const Wall& own = fitting.wall(leg);
  if (own.low_rest.empty()) return std::nullopt;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (fitting.walls[w].layer == own.layer && !fitting.walls[w].high_rest.empty() &&
        share_a_joint(own, fitting.walls[w]))
      return static_cast<int>(w);
  return std::nullopt;
}

}  // namespace

std::string shop_length(const Fitting& fitting, double mm) {
  return format_quantity(Quantity::length, mm, fitting.units, fitting.units == Units::inch ? 2 : 1);
}

std::string shop_rectangle(const Fitting& fitting, Vec2 sides) {
  const std::string width = shop_length(fitting, sides.x);
  return fmt::format("{} x {}", width.substr(0, width.rfind(' ')), shop_length(fitting, sides.y));
}

std::string piece_name(const Fitting&, const Piece& piece) {
  std::string name;
  std::istringstream words(piece.role);
  for (std::string word; std::getline(words, word, ',');) {
    const auto [ring, rings] = ring_in(word);
    if (rings == 2 || rings == 3)
      name += ring == 1 ? " lower" : ring == rings ? " upper" : " middle";
    else if (word == " layer 2")
      name = "inner " + name;
    else
      name += (name.empty() ? "" : ",") + word;
  }
  return name;
}

std::string piece_title(const Fitting& fitting, const Piece& piece) {
  std::string name = piece_name(fitting, piece);
  if (name == piece.id) return name;
  if (std::isdigit(static_cast<unsigned char>(piece.id.front())) != 0) return "piece " + piece.id;
  return fmt::format("{} ({})", name, piece.id);
}

std::string kind_title(const std::string& kind) {
  std::string title = kind;
  std::replace(title.begin(), title.end(), '_', ' ');
  return title;
}

std::optional<Vec2> rectangle_of(const Fitting& fitting, double depth) {
  for (const Wall& wall : fitting.walls) {
    if (!wall.sheet.is_square_to_round()) continue;
    // in the end's plane a flat that leans is thicker than its board; a collar's panel is not
    const auto inward = [&](int side) {
      if (wall.sheet.square_collar() > 0.0) return depth;
      return depth * std::hypot(1.0, wall.sheet.ruling(0.5 * k_pi * side).lean);
    };
    const Vec2 half = wall.sheet.half_sides();
    return Vec2{2.0 * half.x - inward(0) - inward(2), 2.0 * half.y - inward(1) - inward(3)};
  }
  return std::nullopt;
}

bool has_rectangle(const Fitting& fitting) {
  return std::any_of(fitting.walls.begin(), fitting.walls.end(),
                     [](const Wall& wall) { return wall.sheet.is_square_to_round(); });
}

double widest_of(const Sheet& sheet) {
  if (sheet.is_square_to_round())
    return 2.0 * std::max({sheet.half_sides().x, sheet.half_sides().y, sheet.r2()});
  return 2.0 * std::max(sheet.r1(), sheet.r2());
}

std::optional<double> folds_above(const Fitting& fitting, int layer) {
  const Values& values = fitting.request.values;
  if (!values.has("fold_above")) return std::nullopt;
  const std::vector<double> above = values.list("fold_above");
  if (!values.has("fold_thickness")) return above.front();
  const std::vector<double> thickness = values.list("fold_thickness");
  constexpr double k_slack = 0.05;  // mm: 25 and 25.4 are two boards, 25.4 and 1 in are one
  for (std::size_t i = 0; i < std::min(above.size(), thickness.size()); ++i)
    if (layer_of(fitting, layer).thickness <= thickness[i] + k_slack) return above[i];
  return std::nullopt;
}

bool has_saddle(const Fitting& fitting, const Piece& piece) {
  const Wall& own = fitting.wall_of(piece);
  const std::optional<int> on_duct = joint_on_duct(fitting);
  return (on_duct && ends_in(own, *on_duct)) ||
         std::any_of(fitting.walls.begin(), fitting.walls.end(), [&](const Wall& wall) {
           return std::any_of(wall.holes.begin(), wall.holes.end(),
                              [&](const JointUse& hole) { return ends_in(own, hole.joint); });
         });
}

bool is_bend(const Fitting& fitting, int joint) {
  const auto meets = [&](int piece) { return ends_in(fitting.wall_of(fitting.piece(piece)), joint); };
  return std::any_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
    return blank.collar && meets(blank.taper) && meets(*blank.collar);
  });
}

std::string held_words(const Fitting& fitting, const std::vector<int>& pieces) {
  std::size_t in_layer = 0;
  const int layer = fitting.wall_of(fitting.piece(pieces.front())).layer;
  for (const Piece& piece : fitting.pieces) in_layer += fitting.wall_of(piece).layer == layer ? 1 : 0;
  if (in_layer == pieces.size()) return "all pieces";
  std::vector<const Piece*> held;
  for (const int piece : pieces) held.push_back(&fitting.piece(piece));
  return titles_of(fitting, held);
}

double seal_length(const Fitting& fitting, int index) {
  const Joint& joint = fitting.joint(index);
  if (joint.open() || joint.of_opening() || joint.is_centre() || is_bend(fitting, index)) return 0.0;
  const auto beside = std::find_if(fitting.walls.begin(), fitting.walls.end(),
                                   [&](const Wall& wall) { return ends_in(wall, index); });
  if (beside == fitting.walls.end()) return 0.0;  // the metal's alone
  const LinerSpec& liner = layer_of(fitting, beside->layer);
  if (const auto* panel = std::get_if<PanelTarget>(&joint.target))
    return panel_seal(panel->hull, panel->side, liner.inner_depth());
  // where a disc alone is thicker than its duct is wide, nothing else can line it
  if (is_disc_alone(fitting) && liner.inner_depth() >= joint.lead.r1()) return 0.0;
  return joint_length(joint, liner_depths(joint.style, Side::lead, liner.inner_depth(), liner.bore_depth()));
}

double cut_edge_length(const Fitting& fitting, const Opening& opening) {
  const auto wall = std::find_if(fitting.walls.begin(), fitting.walls.end(), [&](const Wall& each) {
    return std::any_of(each.holes.begin(), each.holes.end(),
                       [&](const JointUse& use) { return use.joint == opening.joint; });
  });
  const LinerSpec& liner = layer_of(fitting, wall == fitting.walls.end() ? 0 : wall->layer);
  return joint_length(fitting.joint(opening.joint), shell_depths(liner.inner_depth()));
}

double seam_length(const Fitting& fitting, const Piece& piece) {
  if (fitting.wall_of(piece).sheet.is_flat()) return 0.0;
  const double t = liner_of(fitting, piece).inner_depth();
  return liner_end(fitting, piece.wall, End::high, piece.seam, t) -
         liner_end(fitting, piece.wall, End::low, piece.seam, t);
}

void letter_joints(Fitting& fitting) {
  fitting.joint_letters.assign(fitting.joints.size(), {});
  for (Piece& piece : fitting.pieces) piece.meets.clear();
  for (int layer = 0; layer < layer_count(fitting); ++layer) {
    int number = has_lettered_saddles(fitting) ? 4 : 0;
    for (int w = 0; w < static_cast<int>(fitting.walls.size()); ++w) {
      const Wall& wall = fitting.wall(w);
      if (wall.layer != layer || !wall.high_rest.empty()) continue;
      const std::vector<Meeting> meetings = meetings_at(fitting, wall.high.joint);
      if (meetings.empty()) continue;
      const std::string letter = letter_of(++number);
      fitting.joint_letters[static_cast<std::size_t>(wall.high.joint)] = letter;
      for (Piece& piece : fitting.pieces) {
        const bool below = piece.wall == w;
        if (!below && !is_whole_end(fitting.wall_of(piece), End::low, wall.high.joint)) continue;
        for (const Meeting& meeting : meetings)
          piece.meets.push_back({below ? End::high : End::low, below ? meeting.below : meeting.above,
                                 letter + " " + meeting.name});
      }
    }
  }
}

std::string opening_words(const Fitting& fitting, int wall, End end, bool article) {
  const std::vector<Port> ports = ports_of(fitting);
  const auto port = std::find_if(ports.begin(), ports.end(),
                                 [&](const Port& one) { return one.wall == wall && one.end == end; });
  if (port == ports.end()) return {};
  const auto of = [&](const char* kind) {
    return std::count_if(ports.begin(), ports.end(),
                         [&](const Port& one) { return one.name.rfind(kind, 0) == 0; });
  };
  if (has_rectangle(fitting)) {
    const std::string shape = port->is_round() ? "round end" : "rectangular end";
    return article ? "the " + shape : shape;
  }
  std::string words = "end of " + port->name;
  if (port->name == "start") words = of("leg") > 0 ? "inlet's end" : "first end";
  if (port->name == "end") words = "far end";
  if (port->name == "branch1" && of("branch") == 1) words = "branch's end";
  return article ? "the " + words : words;
}

std::vector<WayIn> ways_in(const Fitting& fitting, const Piece& piece, const std::vector<int>& before) {
  constexpr double k_slack = 0.01;  // mm
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  const auto [first, second] = radii_of(fitting, piece.wall);
  const double widest = std::max(first, second);
  const auto is_lined = [&](int wall) {
    return std::any_of(before.begin(), before.end(),
                       [&](int index) { return fitting.piece(index).wall == wall; });
  };
  std::vector<WayIn> ways;
  for (const End end : {End::high, End::low}) {
    int wall = piece.wall;
    bool free = true;
    for (std::size_t steps = 0; free && steps < fitting.walls.size(); ++steps) {
      const std::optional<int> inlet = end == End::high ? std::nullopt : inlet_of(fitting, wall);
      const std::optional<int> next = inlet ? inlet : wall_beyond(fitting, wall, end);
      // a disc may slide through a ring that is lined
      const double thickness = sheet.is_flat() && is_lined(wall) ? fitting.liner.bore_depth() : 0.0;
      if (wall != piece.wall) free = !is_lined(wall) || sheet.is_flat();
      const auto [low_end, high_end] = radii_of(fitting, wall);
      const double exit = (end == End::high ? high_end : low_end) - (wall == piece.wall ? 0.0 : thickness);
      free = free && exit >= widest - k_slack;
      if (!next) break;
      wall = *next;
    }
    std::string from = opening_words(fitting, wall, end);
    // a branch that is set on a duct later is open at its saddle
    if (const std::optional<int> on_duct = joint_on_duct(fitting);
        on_duct && is_whole_end(fitting.wall(wall), end, *on_duct))
      from = "its saddle";
    if (free && !from.empty()) ways.push_back({from, end});
  }
  return ways;
}

}  // namespace linerwright
