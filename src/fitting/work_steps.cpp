// How a fitting is lined, step by step. Nothing here is a text of its kind: what is said follows from pieces,
// joints, marks, seams and openings.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "common.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "step_words.hpp"

namespace linerwright {

namespace {

class Steps {
 public:
  explicit Steps(const Fitting& fitting) : fitting_(fitting) {
    for (const int index : fitting.insertion)
      if (layer_of_piece(index) == 0) order_.push_back(index);
  }

  std::vector<std::string> run() {
    out_ = fitting_.steps;          // of a kind's own
    if (has_rectangle(fitting_)) {  // which tells all of it: its pieces are bent, not rolled
      fold();
      return finished();
    }
    if (is_disc_alone(fitting_)) {
      out_.push_back(set_disc(fitting_));
      return finished();
    }
    const std::optional<int> on_duct = joint_on_duct(fitting_);
    if (on_duct) cut_hole();
    join_ducts();
    tape_panels();
    roll();
    for (const NotchedBlank& blank : fitting_.notched) close_notches(blank);
    fold();
    slide_all();
    if (on_duct) set_on_duct(*on_duct);
    return finished();
  }

 private:
  std::vector<std::string> finished() {
    for (std::string& step : finishing_steps(fitting_)) out_.push_back(std::move(step));
    return std::move(out_);
  }

  const Fitting& fitting_;
  std::vector<int> order_;  // of layer 1's pieces
  std::vector<std::string> out_;

  const Piece& piece(int index) const { return fitting_.piece(index); }
  const Wall& wall_of(const Piece& piece) const { return fitting_.wall_of(piece); }
  int layer_of_piece(int index) const { return wall_of(piece(index)).layer; }
  std::string title(int index) const { return piece_title(fitting_, piece(index)); }
  std::string length(double mm) const { return shop_length(fitting_, mm); }
  bool tapers(const Piece& of) const { return !wall_of(of).sheet.is_cylinder(); }

  // The hole in a duct that is no part of the fitting, by its templates, one sentence for each way of
  // joining.
  void cut_hole() {
    out_.push_back(
        "Lay template hole-metal around the duct from outside, its arrow toward the duct's far end, mark the "
        "hole and its letters, and cut the metal along the branch's axis, not into the liner.");
    const JointStyle style = fitting_.liner.joint;
    out_.push_back(fmt::format(
        "Lay template hole-liner against the liner from inside, its letters under the metal's, and cut the "
        "liner {}.",
        style == JointStyle::mitre
            ? "from its line to the edge of the metal's hole: a slope all around"
            : fmt::format("along the branch's axis: the hole is as wide as the branch's {}",
                          style == JointStyle::over ? "bore" : "metal")));
  }

  void set_on_duct(int joint) {
    std::vector<std::string> letters;
    for (const RulingMark& mark : piece(order_.front()).marks) letters.push_back(mark.name);
    out_.push_back(
        fmt::format("Before the branch goes on, hold it to the hole: its marks {} lie on the same letters of "
                    "the duct, and its "
                    "saddle touches all around.",
                    listed(letters)));
    out_.push_back(
        fmt::format("Set the branch on the duct, letters to letters, fasten and seal its metal, and seal the "
                    "joint of the "
                    "liners on the air side, all along: {}.",
                    length(seal_length(fitting_, joint))));
    out_.push_back(
        "Wear gloves, eye protection and a mask, cut away from the body, and make sure that nothing is moved "
        "by the air and that nobody starts the fan while the duct is open; local codes and the licensed "
        "designer decide.");
  }

  void join_ducts() {
    if (!duct_joints(fitting_.request).empty())
      out_.push_back(
          "Join the lengths of duct first: one lining goes through all of them. The lines across the duct "
          "face "
          "show where their joints come to lie.");
  }

  void tape_panels() {
    if (std::any_of(fitting_.pieces.begin(), fitting_.pieces.end(),
                    [](const Piece& of) { return !of.full_turn(); }))
      out_.push_back("Tape the panels of each ring edge to edge on the air face before the ring is rolled.");
  }

  void roll() {
    std::vector<std::pair<std::string, std::vector<const Piece*>>> seams;
    for (const Piece& of : fitting_.pieces) {
      if (!of.full_turn() || wall_of(of).layer != 0 || wall_of(of).sheet.is_flat()) continue;
      const auto found = std::find_if(seams.begin(), seams.end(),
                                      [&](const auto& seam) { return seam.first == of.seam_place; });
      if (found == seams.end())
        seams.push_back({of.seam_place, {&of}});
      else
        found->second.push_back(&of);
    }
    std::vector<std::string> places;
    for (const auto& [place, pieces] : seams)
      places.push_back(fmt::format("{}: {}", titles_of(fitting_, pieces), place));
    const bool one = std::count_if(order_.begin(), order_.end(),
                                   [&](int index) { return !wall_of(piece(index)).sheet.is_flat(); }) == 1;
    out_.push_back(fmt::format(
        "Roll {} with the duct face out, against the metal, so that {} edges butt at the seam{}. Tape the "
        "seam "
        "lengthways on the air face from edge to edge, with a tab of tape across it near either end.",
        one ? (order_.size() == 1 ? "the piece" : title(rolled_one())) : "each piece", one ? "its" : "the",
        places.empty() ? std::string() : " (" + listed(places, "; ") + ")"));
  }

  // The only piece that is rolled.
  int rolled_one() const {
    return *std::find_if(order_.begin(), order_.end(),
                         [&](int index) { return !wall_of(piece(index)).sheet.is_flat(); });
  }

  void close_notches(const NotchedBlank& blank) {
    const std::size_t notches = layout_of(fitting_, blank).notches.size();
    std::string text = fmt::format("Blank {}: ", blank.id);
    if (blank.collar)
      text +=
          fmt::format("{} and {} are one board, bent along the line 'bend line'. ",
                      piece_title(fitting_, piece(blank.taper)), piece_title(fitting_, piece(*blank.collar)));
    text += fmt::format(
        "Close its {} notches from the middle of the board outward, one to the left and one to the right in "
        "turn, "
        "the seam last; tape each on the air face.",
        notches);
    if (blank.trim > 0.0)
      text += fmt::format(" The large edge has {} of extra board: trim it{} once the liner is in.",
                          length(blank.trim), blank.collar ? " flush" : " to the line 'trim to here'");
    out_.push_back(std::move(text));
  }

  void fold() {
    const std::optional<double> above = folds_above(fitting_, 0);
    if (!above) return;
    std::vector<const Piece*> folded, stiff;
    for (const Piece& of : fitting_.pieces) {
      if (wall_of(of).layer != 0 || wall_of(of).sheet.is_flat()) continue;
      const int index = static_cast<int>(&of - fitting_.pieces.data());
      const bool ring = of.full_turn() && !tapers(of) && notched_with(fitting_, index) == nullptr;
      (ring && 2.0 * wall_of(of).sheet.r1() > *above ? folded : stiff).push_back(&of);
    }
    std::string text;
    if (!folded.empty())
      text =
          fmt::format("To push {} in, fold the ring inward a quarter turn from its seam, never at the seam.",
                      titles_of(fitting_, folded));
    if (!stiff.empty())
      text += fmt::format("{}{} {} in unfolded.", text.empty() ? "" : " ",
                          upper_first(titles_of(fitting_, stiff)), stiff.size() == 1 ? "slides" : "slide");
    out_.push_back(fmt::format("{} ({})", text, k_usual));
  }

  // How far along the metal from an edge of a piece to the opening on that side, at each mark that runs on to
  // it.
  std::vector<std::string> depths(const Piece& of, End end) const {
    std::vector<std::string> texts;
    if (fitting_.pressed) return texts;
    for (const MeetMark& mark : of.meets) {
      if (mark.end != end) continue;
      if (const std::optional<double> deep = way_out(of, mark))
        texts.push_back(
            fmt::format("{} at the {}", length(*deep), mark.name.substr(mark.name.find(' ') + 1)));
    }
    return texts;
  }

  std::optional<double> way_out(const Piece& of, const MeetMark& mark) const {
    double sum = 0.0;
    const Piece* now = &of;
    std::string name = mark.name;
    for (std::size_t steps = 0; steps < fitting_.walls.size(); ++steps) {
      const Piece* next = nullptr;
      double theta = 0.0;
      for (const Piece& other : fitting_.pieces)
        for (const MeetMark& theirs : other.meets)
          if (other.wall != now->wall && wall_of(other).layer == wall_of(of).layer &&
              theirs.end != mark.end && theirs.name == name) {
            next = &other;
            theta = theirs.theta;
          }
      if (next == nullptr) return std::nullopt;
      sum += liner_end(fitting_, next->wall, End::high, theta, 0.0) -
             liner_end(fitting_, next->wall, End::low, theta, 0.0);
      const std::vector<JointUse> uses = joints_at(wall_of(*next), mark.end);
      if (fitting_.joint(uses.front().joint).open()) return sum;
      const auto on = std::find_if(next->meets.begin(), next->meets.end(), [&](const MeetMark& own) {
        return own.end == mark.end && std::fabs(std::remainder(own.theta - theta, k_two_pi)) < 1e-9;
      });
      if (on == next->meets.end()) return std::nullopt;
      name = on->name;
      now = next;
    }
    return std::nullopt;
  }

  // What a piece's edges come to meet: marks of neighbours that are in.
  std::string stop(int index, const std::vector<int>& before) const {
    const Piece& of = piece(index);
    std::vector<std::string> marks;
    std::vector<std::string> beside;
    bool saddle = false;
    for (const int other : before) {
      if (!share_a_joint(wall_of(of), wall_of(piece(other)))) continue;
      beside.push_back(title(other));
      for (const MeetMark& own : of.meets)
        for (const MeetMark& theirs : piece(other).meets)
          if (own.name == theirs.name && std::find(marks.begin(), marks.end(), own.name) == marks.end())
            marks.push_back(own.name);
      for (const HoleMark& hole : piece(other).hole_marks)
        for (const RulingMark& own : of.marks)
          if (own.name == hole.name) saddle = true;
      for (const RulingMark& own : of.marks)
        for (const RulingMark& theirs : piece(other).marks)
          if (own.name == theirs.name && own.name.rfind("corner ", 0) == 0 &&
              std::find(marks.begin(), marks.end(), own.name) == marks.end())
            marks.push_back(own.name);
    }
    if (saddle)
      return "until its saddle sits in the hole all the way around; the letters A to D on branch and body "
             "meet";
    if (!marks.empty())
      return fmt::format("until its {} {} on {}", listed(marks),
                         marks.size() == 1 ? "mark meets the same mark" : "marks meet the same marks",
                         listed(beside));
    if (beside.empty()) return {};
    std::string line_up;
    for (const int other : before)
      for (const RulingMark& own : of.marks)
        for (const RulingMark& theirs : piece(other).marks)
          if (own.name == theirs.name) line_up = fmt::format(", the marks '{}' on one line", own.name);
    return "until it closes on " + listed(beside) + " all around" + line_up;
  }

  // Where a piece that stands alone in the metal comes to lie.
  std::string alone(const Piece& of, const std::vector<WayIn>& ways) const {
    std::string text;
    for (const End end : k_both_ends) {
      const JointUse use = joints_at(wall_of(of), end).front();
      const Joint& joint = fitting_.joint(use.joint);
      if (!joint.open()) continue;
      const std::string where = opening_words(fitting_, of.wall, end, false);
      double held = 0.0;
      if (joint.metal_end) {
        const auto& metal = std::get<PlaneTarget>(fitting_.joint(*joint.metal_end).target);
        held = distance(metal.point, std::get<PlaneTarget>(joint.target).point);
      }
      text += fmt::format("{}{}", text.empty() ? "" : " and ",
                          held > 0.0 ? fmt::format("{} short of the metal at the {}", length(held), where)
                                     : fmt::format("flush with the metal at the {}", where));
    }
    if (!text.empty()) return "until it stands " + text;
    if (!ways.empty()) {
      const std::vector<std::string> deep = depths(of, ways.front().end);
      if (!deep.empty())
        return fmt::format("until its edge lies {} from the metal's edge at {}", listed(deep),
                           ways.front().from);
    }
    return {};
  }

  void slide_all() {
    std::vector<int> before;
    for (std::size_t i = 0; i < order_.size(); ++i) {
      const int index = order_[i];
      const Piece& of = piece(index);
      const std::optional<int> other = board_mate(index);
      if (other && std::find(before.begin(), before.end(), *other) != before.end()) {
        before.push_back(index);  // it came in with it
        continue;
      }
      const bool last = i + (other ? 2 : 1) == order_.size();
      if (last && i > 0) check_before_last(of);
      if (!of.full_turn()) {  // the ring's panels are one by now
        const bool told =
            std::any_of(before.begin(), before.end(), [&](int in) { return piece(in).wall == of.wall; });
        if (told) {
          before.push_back(index);
          continue;
        }
      }
      std::vector<WayIn> ways = ways_in(fitting_, of, before);
      if (other) ways = ways_of_both(ways, ways_in(fitting_, piece(*other), before));
      std::vector<std::string> from;
      for (const WayIn& way : ways) from.push_back(way.from);
      const std::string until =
          before.empty() || stop(index, before).empty() ? alone(of, ways) : stop(index, before);
      std::string text = fmt::format(
          "{}: slide it in{}{}",
          upper_first(other            ? fmt::format("{} and {}, one board", title(index), title(*other))
                      : of.full_turn() ? title(index)
                                       : ring_title(of)),
          before.empty() && !last ? " first" : "", from.empty() ? "" : ", from " + listed(from, " or "));
      if (!until.empty()) text += ", " + until;
      if (const std::size_t holes = shell_holes(fitting_, wall_of(of)).size(); holes > 0)
        text += fmt::format("; {} to the branch", holes == 1 ? "its hole" : "its holes");
      if (const std::vector<std::string> own = openings_in(index); !own.empty())
        text += fmt::format("; the {} of {} where the metal has {}", own.size() == 1 ? "hole" : "holes",
                            listed(own), own.size() == 1 ? "its own" : "theirs");
      out_.push_back(text + ".");
      before.push_back(index);
    }
  }

  // Names of the openings in a piece or, where it is one of a ring's panels, in the ring.
  std::vector<std::string> openings_in(int index) const {
    std::vector<std::string> names;
    for (const JointUse& use : wall_of(piece(index)).holes)
      if (const Opening* opening = opening_at(fitting_, use.joint)) names.push_back(opening->name);
    return names;
  }

  // The piece that is bent from one notched board with it.
  std::optional<int> board_mate(int index) const {
    const NotchedBlank* blank = notched_with(fitting_, index);
    if (blank == nullptr || !blank->collar) return std::nullopt;
    return blank->taper == index ? blank->collar : blank->taper;
  }

  static std::vector<WayIn> ways_of_both(const std::vector<WayIn>& a, const std::vector<WayIn>& b) {
    std::vector<WayIn> both;
    for (const WayIn& way : a)
      if (std::any_of(b.begin(), b.end(), [&](const WayIn& other) { return other.from == way.from; }))
        both.push_back(way);
    return both;
  }

  std::string ring_title(const Piece& of) const {
    std::vector<const Piece*> panels;
    for (const Piece& other : fitting_.pieces)
      if (other.wall == of.wall) panels.push_back(&other);
    return "the ring of " + titles_of(fitting_, panels);
  }

  void check_before_last(const Piece& last) {
    std::vector<std::string> left;
    if (!fitting_.pressed && last.full_turn() && !has_saddle(fitting_, last))
      for (const RulingMark& mark : last.marks) {
        const double open = liner_end(fitting_, last.wall, End::high, mark.theta, 0.0) -
                            liner_end(fitting_, last.wall, End::low, mark.theta, 0.0);
        left.push_back(fmt::format("{} at the mark {}", length(open), mark.name));
      }
    if (left.size() > 4 || left.empty())
      out_.push_back("Before the last piece goes in, feel that every joint so far is closed all around.");
    else
      out_.push_back(
          fmt::format("Before the last piece, {}, goes in: feel that every joint so far is closed all "
                      "around, and measure the "
                      "metal that is left for it: {}.",
                      piece_title(fitting_, last), listed(left)));
  }
};

}  // namespace

std::vector<std::string> work_steps(const Fitting& fitting) {
  return Steps(fitting).run();
}

}  // namespace linerwright
