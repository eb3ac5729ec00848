#include "layers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "branch.hpp"
#include "divider.hpp"
#include "division.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_unlimited = std::numeric_limits<double>::infinity();

// The rings of an undivided fitting's wall, from its low end on.
std::vector<int> rings_of(const Fitting& fitting, int wall, std::size_t undivided_joints) {
  std::vector<int> rings{wall};
  const auto joint_above = [&] { return fitting.wall(rings.back()).high.joint; };
  while (joint_above() >= static_cast<int>(undivided_joints)) {
    const auto next = std::find_if(fitting.walls.begin(), fitting.walls.end(),
                                   [&](const Wall& other) { return other.low.joint == joint_above(); });
    rings.push_back(static_cast<int>(next - fitting.walls.begin()));
  }
  return rings;
}

// Edges of boards along the rulings, on one ring of a wall.
struct RingSeams {
  double low, high;  // heights
  std::vector<double> at;
};

// How a layer divides one wall.
struct WallSeams {
  std::vector<RingSeams> rings;

  std::vector<double> joints() const {
    std::vector<double> heights;
    for (std::size_t i = 1; i < rings.size(); ++i) heights.push_back(rings[i].low);
    return heights;
  }
  // The seams of all rings stand on so many rulings, evenly apart; every second ring's are moved by half.
  int rulings() const { return static_cast<int>(rings.front().at.size()) * (rings.size() > 1 ? 2 : 1); }
};

WallSeams seams_on(const Fitting& fitting, int wall, std::size_t undivided_joints) {
  WallSeams seams;
  const std::vector<int> rings = rings_of(fitting, wall, undivided_joints);
  for (const int ring : rings) {
    RingSeams found{-k_unlimited, k_unlimited, {}};
    if (ring != rings.front()) found.low = liner_end(fitting, ring, End::low, 0.0, 0.0);
    if (ring != rings.back()) found.high = liner_end(fitting, ring, End::high, 0.0, 0.0);
    for (const Piece& piece : fitting.pieces)
      if (piece.wall == ring) found.at.push_back(piece.seam);
    seams.rings.push_back(std::move(found));
  }
  return seams;
}

class SecondLayer {
 public:
  SecondLayer(const Fitting& first, const Kind& kind)
      : first_(first), kind_(kind), request_(first.request), reasons_(request_) {
    request_.layer = 1;
  }

  // How its seams lie depends on how it is divided, and that on where its seams lie: two rounds settle it.
  Fitting make() {
    std::vector<int> rulings;
    constexpr int k_most_rounds = 3;
    for (int round = 0; round < k_most_rounds; ++round) {
      Fitting made = build_by(kind_, request_);
      undivided_joints_ = made.joints.size();
      walls_.clear();
      for (const Piece& piece : made.pieces) walls_.push_back(piece.wall);
      outer_.clear();
      for (const int wall : walls_) outer_.push_back(seams_on(first_, wall, undivided_joints_));
      if (rulings.empty())
        for (const WallSeams& seams : outer_) rulings.push_back(seams.rulings());
      turn_seams(made, rulings);
      std::vector<std::vector<double>> joints;
      for (const WallSeams& seams : outer_) joints.push_back(seams.joints());
      divide(reasons_, made, joints);
      reasons_.throw_if_any();
      inner_.clear();
      for (const int wall : walls_) inner_.push_back(seams_on(made, wall, undivided_joints_));
      std::vector<int> found;
      for (const WallSeams& seams : inner_) found.push_back(seams.rulings());
      if (found == rulings || round + 1 == k_most_rounds) {
        require_staggered(made);
        return made;
      }
      rulings = std::move(found);
    }
    return {};
  }

  std::size_t undivided_pieces() const { return walls_.size(); }

 private:
  // As far from the first layer's seams as a turn can bring them, or as asked; then on to where it clears the
  // wall's holes.
  double turn_for(std::size_t piece, int rulings) const {
    if (const auto asked = request_.values.maybe("second_seam")) return *asked;
    return k_pi / std::lcm(outer_[piece].rulings(), rulings);
  }

  // The ruling nearest to the wanted one that is well clear of holes, else the clearest.
  static double clear_ruling(const Divider& divider, double wanted) {
    constexpr int k_tries = 180;
    constexpr double k_step = k_pi / k_tries;
    double found = wanted;
    double room = divider.seam_room(wanted);
    for (int k = 1; k <= k_tries && room < k_seam_clear; ++k)
      for (const double other : {wanted + k * k_step, wanted - k * k_step})
        if (const double there = divider.seam_room(other); room < k_seam_clear && there > room) {
          found = other;
          room = there;
        }
    return found;
  }

  void turn_seams(Fitting& made, const std::vector<int>& rulings) {
    for (std::size_t i = 0; i < made.pieces.size(); ++i) {
      Piece& piece = made.pieces[i];
      if (made.wall_of(piece).sheet.is_flat()) continue;  // it has none
      const double before = piece.seam;
      const Divider divider(made, piece, room_of(request_));
      const double wanted = before + turn_for(i, rulings[i]);
      const double found = request_.values.given("second_seam") ? wanted : clear_ruling(divider, wanted);
      if (const double room = divider.seam_room(found); room < k_margin)
        reasons_.add("second_seam",
                     fmt::format("a ruling at least {} from every hole", reasons_.length(k_margin)),
                     room < 0.0 ? fmt::format("the seam of the {} would run through a hole", piece.role)
                                : fmt::format("the seam of the {} would run {} beside a hole", piece.role,
                                              reasons_.length(room)));
      reasons_.throw_if_any();
      piece.seam = std::fmod(found, k_two_pi);
      piece.seam_place = fmt::format("{} degrees on from layer 1's", degrees_in_words(found - before));
    }
  }

  void require_staggered(Fitting& made) {
    for (std::size_t i = 0; i < walls_.size(); ++i) {
      const Sheet& sheet = made.wall(walls_[i]).sheet;
      if (sheet.is_flat()) continue;  // a disc has no seam
      double least = k_unlimited;
      for (const RingSeams& a : outer_[i].rings)
        for (const RingSeams& b : inner_[i].rings) {
          if (!(std::min(a.high, b.high) > std::max(a.low, b.low))) continue;
          for (const double at : a.at)
            for (const double other : b.at)
              least = std::min(least, std::fabs(std::remainder(at - other, k_two_pi)));
        }
      const double apart = least * std::min(sheet.r1(), sheet.r2());
      if (apart >= k_seam_clear) continue;
      const std::string near = fmt::format("on the {} they come within {} of each other", role_on(walls_[i]),
                                           reasons_.length(apart));
      if (request_.values.given("second_seam"))
        reasons_.add("second_seam",
                     fmt::format("seams at least {} from layer 1's", reasons_.length(k_seam_clear)), near);
      else
        made.warnings.push_back("the seams of both layers lie as far apart as may be: " + near);
    }
    reasons_.throw_if_any();
  }

  std::string role_on(int wall) const {
    for (const Piece& piece : first_.pieces)
      if (piece.wall == wall) return piece.role;
    return "wall";
  }

  const Fitting& first_;
  const Kind& kind_;
  FittingRequest request_;
  Reasons reasons_;
  std::size_t undivided_joints_ = 0;
  std::vector<int> walls_;                // of the undivided pieces
  std::vector<WallSeams> outer_, inner_;  // on them
};

// Ids of the second layer's pieces and blanks begin so; no other id does.
constexpr char k_inner = 'i';

void append(Fitting& fitting, Fitting&& layer) {
  const int joints = static_cast<int>(fitting.joints.size());
  const int walls = static_cast<int>(fitting.walls.size());
  const int pieces = static_cast<int>(fitting.pieces.size());
  for (Wall& wall : layer.walls) {
    wall.layer = 1;
    wall.low.joint += joints;
    wall.high.joint += joints;
    for (auto* uses : {&wall.low_rest, &wall.high_rest, &wall.holes})
      for (JointUse& use : *uses) use.joint += joints;
    fitting.walls.push_back(std::move(wall));
  }
  // corners of the inner layer are its own, though they lie where the outer layer's end
  for (Joint& joint : layer.joints) {
    joint.metal_end.reset();  // the metal is the first layer's
    if (joint.stretch)
      joint.stretch = {joint.stretch->from_corner + joints, joint.stretch->to_corner + joints};
    fitting.joints.push_back(std::move(joint));
  }
  for (const Opening& opening : layer.openings)
    fitting.openings.push_back({opening.name, opening.joint + joints});
  for (Piece& piece : layer.pieces) {
    piece.wall += walls;
    piece.id = k_inner + piece.id;
    piece.role += ", layer 2";
    for (std::string& id : piece.next) id = k_inner + id;
    fitting.pieces.push_back(std::move(piece));
  }
  for (Blank& blank : layer.blanks) {
    blank.id = k_inner + blank.id;
    for (int& piece : blank.pieces) piece += pieces;
    fitting.blanks.push_back(std::move(blank));
  }
  for (const int piece : layer.insertion) fitting.insertion.push_back(pieces + piece);
  for (std::string& warning : layer.warnings)
    if (std::find(fitting.warnings.begin(), fitting.warnings.end(), warning) == fitting.warnings.end())
      fitting.warnings.push_back(std::move(warning));
  fitting.inner_layers.push_back(layer.liner);
}

KeySpec asked_quantity(const char* name, Quantity quantity, const char* help, double min, double max) {
  KeySpec key = optional_key(length_key(name, help, {}, min, max));
  key.quantity = quantity;
  return key;
}

}  // namespace

int layer_count(const Fitting& fitting) {
  return 1 + static_cast<int>(fitting.inner_layers.size());
}

const LinerSpec& layer_of(const Fitting& fitting, int layer) {
  return layer == 0 ? fitting.liner : fitting.inner_layers.at(static_cast<std::size_t>(layer) - 1);
}

double thinnest_layer(const Fitting& fitting) {
  double least = std::min(fitting.liner.gauge, fitting.liner.thickness);
  for (const LinerSpec& layer : fitting.inner_layers) least = std::min(least, layer.thickness);
  return least;
}

const char* face_word(const LinerSpec& liner, Face face) {
  if (liner.outer_depth > 0.0) return face == Face::air ? "inner" : "outer";
  return face == Face::air ? "air" : "duct";
}

const LinerSpec& liner_of(const Fitting& fitting, int wall) {
  return layer_of(fitting, fitting.wall(wall).layer);
}

const LinerSpec& liner_of(const Fitting& fitting, const Piece& piece) {
  return liner_of(fitting, piece.wall);
}

std::vector<KeySpec> second_layer_keys() {
  const auto length = [](const char* name, const char* help, double min, double max) {
    return asked_quantity(name, Quantity::length, help, min, max);
  };
  return {
      length("second_layer", "thickness of a second layer of board inside the first", 1.0, 300.0),
      asked_quantity("second_seam", Quantity::angle,
                     "how far around from the first layer's its seams lie (default: as far as may be, half a "
                     "turn for whole pieces)",
                     -k_two_pi, k_two_pi),
      length("second_fit_allowance", "of the second layer (default: the first's)", 0.0, 100.0),
      length("second_end_allowance", "of the second layer (default: the first's)", 0.0, 300.0),
      length("second_butt_allowance", "of the second layer (default: the first's)", 0.0, 50.0),
      asked_quantity("second_neutral_factor", Quantity::number,
                     "of the second layer; 0 is its outer face (default: the first's)", 0.0, 1.0),
      optional_choice_key("second_face_up", "face of the second layer that is up on the cutting table",
                          k_second_face_up_choices),
      asked_quantity("second_density", Quantity::density, "of the second layer (default: the first's)", 1.0,
                     1000.0),
      asked_quantity("second_conductivity", Quantity::conductivity,
                     "of the second layer (default: the first's)", 0.001, 10.0),
      length("second_board_width", "of the second layer's board (default: its stock's, or the first's)", 50.0,
             100000.0),
      length("second_board_length", "of the second layer's board (default: its stock's, or the first's)",
             50.0, 1000000.0),
  };
}

std::string key_of_layer(const FittingRequest& request, const std::string& key) {
  if (request.layer == 0) return key;
  if (key == "thickness") return "second_layer";
  return request.values.has("second_" + key) ? "second_" + key : key;
}

double of_layer(const FittingRequest& request, const std::string& key) {
  return request.values.quantity(key_of_layer(request, key));
}

void read_layer(const FittingRequest& request, LinerSpec& liner) {
  const double first = request.values.quantity("thickness");
  const double second = request.values.maybe("second_layer").value_or(0.0);
  const bool is_first = request.layer == 0;
  liner.thickness = is_first ? first : second;
  liner.outer_depth = is_first ? 0.0 : first;
  liner.inside = is_first ? second : 0.0;
  liner.fit_allowance = of_layer(request, "fit_allowance");
  liner.end_allowance = of_layer(request, "end_allowance");
  liner.butt_allowance = of_layer(request, "butt_allowance");
  liner.neutral_factor = of_layer(request, "neutral_factor");
  liner.density = of_layer(request, "density");
  liner.conductivity = of_layer(request, "conductivity");
  const std::string face_up = key_of_layer(request, "face_up");
  liner.face_up = face_up == "face_up" ? chosen(request.values, face_up, k_face_up_choices)
                                       : chosen(request.values, face_up, k_second_face_up_choices);
}

void require_second_layer(Reasons& reasons, const FittingRequest& request) {
  if (request.values.has("second_layer")) return;
  for (const KeySpec& key : second_layer_keys())
    if (request.values.given(key.name))
      reasons.add(key.name, "with second_layer", "there is no second layer of liner for it");
}

void add_second_layer(Fitting& fitting, const Kind& kind) {
  SecondLayer second(fitting, kind);
  Fitting layer = second.make();
  append(fitting, std::move(layer));
}

}  // namespace linerwright
