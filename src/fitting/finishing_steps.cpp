#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "step_words.hpp"

namespace linerwright {

std::string listed(const std::vector<std::string>& names, const char* last) {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i)
    out += (i == 0 ? "" : i + 1 == names.size() ? last : ", ") + names[i];
  return out;
}

std::string upper_first(std::string text) {
  if (!text.empty()) text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

std::string titles_of(const Fitting& fitting, const std::vector<const Piece*>& pieces) {
  std::vector<std::string> numbers, names;
  for (const Piece* piece : pieces) {
    const std::string title = piece_title(fitting, *piece);
    const bool number = title.rfind("piece ", 0) == 0;
    (number ? numbers : names).push_back(number ? title.substr(6) : title);
  }
  if (numbers.size() == 1) names.insert(names.begin(), "piece " + numbers.front());
  if (numbers.size() > 1) names.insert(names.begin(), "pieces " + listed(numbers));
  return listed(names);
}

namespace {

class Finish {
 public:
  explicit Finish(const Fitting& fitting) : fitting_(fitting) {}

  std::vector<std::string> run() {
    if (!joint_on_duct(fitting_)) seal();  // a branch on a duct has its own words for that
    coat_edges();
    fasten();
    trim_ends();
    second_layer();
    return std::move(out_);
  }

 private:
  const Fitting& fitting_;
  std::vector<std::string> out_;

  const Wall& wall_of(const Piece& piece) const { return fitting_.wall_of(piece); }
  std::string length(double mm) const { return shop_length(fitting_, mm); }

  std::string joint_name(int joint) const {
    std::string letter = static_cast<std::size_t>(joint) < fitting_.joint_letters.size()
                             ? fitting_.joint_letters[static_cast<std::size_t>(joint)]
                             : std::string();
    if (!letter.empty()) return letter;
    std::vector<std::string> beside;
    for (const Piece& of : fitting_.pieces)
      if (ends_in(wall_of(of), joint) && beside.size() < 2 &&
          (beside.empty() || beside.front() != piece_name(fitting_, of)))
        beside.push_back(of.full_turn() ? piece_title(fitting_, of) : piece_name(fitting_, of));
    return listed(beside, " to ");
  }

  void seal() {
    std::vector<std::string> joints;
    double sum = 0.0;
    for (int i = 0; i < static_cast<int>(fitting_.joints.size()); ++i) {
      const auto beside = std::find_if(fitting_.walls.begin(), fitting_.walls.end(),
                                       [&](const Wall& wall) { return ends_in(wall, i); });
      if (beside == fitting_.walls.end() || beside->layer != 0) continue;
      const double sealed = seal_length(fitting_, i);
      if (sealed <= 0.0) continue;
      joints.push_back(fmt::format("{} {}", joint_name(i), length(sealed)));
      sum += sealed;
    }
    if (joints.empty()) return;
    if (is_disc_alone(fitting_)) {
      out_.push_back(fmt::format("Seal the rim to the lining of the duct on the air face, all around: {}.",
                                 length(sum)));
      return;
    }
    out_.push_back(fmt::format("Seal the joint{} on the air face, all along: {}{}.",
                               joints.size() == 1 ? "" : "s", listed(joints, ", "),
                               joints.size() == 1 ? "" : fmt::format("; {} in all", length(sum))));
  }

  // What air would otherwise blow into.
  void coat_edges() {
    std::vector<std::string> edges;
    for (const Opening& opening : fitting_.openings)
      edges.push_back(fmt::format("{} {}", opening.name, length(cut_edge_length(fitting_, opening))));
    if (!edges.empty())
      out_.push_back(
          fmt::format("Coat the cut edges of openings, or close them with the frame: {} around on the "
                      "air face ({}).",
                      listed(edges, ", "), k_usual));
  }

  void fasten() {
    const double widest = [&] {
      double all = 0.0;
      for (const Wall& wall : fitting_.walls) all = std::max(all, widest_of(wall.sheet));
      return all;
    }();
    if (widest > fitting_.liner.pins_above)
      out_.push_back(
          fmt::format("Set a mechanical fastener at each small cross on the pieces: they are {} from the "
                      "edges, at most {} apart "
                      "around and {} along.",
                      length(fitting_.liner.pin_edge), length(fitting_.liner.pin_around),
                      length(fitting_.liner.pin_along)));
  }

  void trim_ends() {
    if (fitting_.liner.end_allowance > 0.0)
      out_.push_back(fmt::format("Trim the {} of extra board at {} flush with the metal.",
                                 length(fitting_.liner.end_allowance),
                                 has_rectangle(fitting_) ? "the round end" : "each open end"));
  }

  void second_layer() {
    if (layer_count(fitting_) < 2) return;
    out_.push_back(
        "Layer 2 goes in once layer 1 is in, its pieces in the same order, outer face against layer 1; tape "
        "its "
        "seams on its inner face.");
    const auto inner = std::count_if(fitting_.pieces.begin(), fitting_.pieces.end(),
                                     [&](const Piece& of) { return wall_of(of).layer == 1; });
    if (inner > 1)
      out_.push_back(
          "Mitres, corners and saddles of both layers lie in the same places, one behind the other; seams do "
          "not.");
    const bool rings = std::any_of(fitting_.pieces.begin(), fitting_.pieces.end(), [&](const Piece& of) {
      return wall_of(of).layer == 1 && of.role.find("ring ") != std::string::npos;
    });
    if (rings)
      out_.push_back(fmt::format("Joints between the rings of layer 2 lie at least {} from layer 1's.",
                                 length(fitting_.request.values.quantity("min_panel"))));
    const LinerSpec& second = layer_of(fitting_, 1);
    if (second.end_allowance > 0.0 && second.end_allowance != fitting_.liner.end_allowance)
      out_.push_back(fmt::format("Trim the {} of extra board of layer 2 at each open end.",
                                 length(second.end_allowance)));
  }
};

}  // namespace

std::string set_disc(const Fitting& fitting) {
  std::string text = "Lay the disc on the inside of its metal, duct face down, ";
  switch (fitting.joints.front().style) {
    case JointStyle::through:
      text += "edges flush all around: the lining of the duct that it closes ends at its air face.";
      break;
    case JointStyle::over:
      text += fmt::format(
          "{} short of the metal's edge all around: it stands inside the lining of the duct that it closes.",
          shop_length(fitting, fitting.liner.bore_depth()));
      break;
    case JointStyle::mitre:
      text += "its bevel up: the lining of the duct that it closes has the other half of the mitre.";
      break;
  }
  std::vector<std::string> through;
  for (const Opening& opening : fitting.openings)
    if (opening.metal_joint) through.push_back(opening.name);
  if (!through.empty())
    text += fmt::format(" The {} of {} {} where the metal has {}.", through.size() == 1 ? "hole" : "holes",
                        listed(through), through.size() == 1 ? "lies" : "lie",
                        through.size() == 1 ? "its own" : "theirs");
  return text;
}

std::vector<std::string> finishing_steps(const Fitting& fitting) {
  return Finish(fitting).run();
}

}  // namespace linerwright
