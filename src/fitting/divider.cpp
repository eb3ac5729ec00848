#include "divider.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "collar_seams.hpp"
#include "layers.hpp"
#include "notched_division.hpp"
#include "square_collar.hpp"
#include "taken_apart.hpp"

namespace linerwright {

namespace {

std::string board_side(const Reasons& reasons, double length) {
  return std::isfinite(length) ? reasons.length(length) : "any length";
}

// How far an end reaches beyond its mean, on either face.
double swing_of(const Fitting& fitting, const Piece& piece, End end) {
  constexpr int k_rulings = 144;
  double mean = 0.0;
  double furthest = -1e300;
  for (int i = 0; i < k_rulings; ++i)
    for (const double w : fitting.liner.faces()) {
      const double reach = outward(end) * liner_end(fitting, piece.wall, end, k_two_pi * i / k_rulings, w);
      furthest = std::max(furthest, reach);
      if (w == fitting.liner.outer_depth) mean += reach / k_rulings;
    }
  return std::max(0.0, furthest - mean);
}

// A blank is as high as its pieces on the mean, with what each joint and end is left, and as its outermost
// ends swing.
bool is_too_large(const Fitting& fitting, const Blank& blank, const BoardRoom& room) {
  double along = 2.0 * fitting.liner.end_allowance - 2.0 * fitting.liner.butt_allowance;
  double around = 0.0;
  for (const int index : blank.pieces) {
    const Divider divider(fitting, fitting.piece(index), room);
    along += divider.mean_length() + 2.0 * fitting.liner.butt_allowance;
    around = std::max(around, divider.size().x);
  }
  along += swing_of(fitting, fitting.piece(blank.pieces.front()), End::low) +
           swing_of(fitting, fitting.piece(blank.pieces.back()), End::high);
  return along > room.along || around > room.around;
}

template <typename AnyDivider>
void refuse(Reasons& reasons, const std::string& what, const AnyDivider& divider, std::optional<int> panels,
            const BoardRoom& room) {
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
        size.y > room.along ? "board_width" : "board_length",
        room.other_joints.empty() ? "a larger board" : "a larger board, or a smaller min_panel",
        sizes +
            fmt::format("; it cannot be divided into rings and panels of at least {} that fit and keep clear "
                        "of its ends and holes{}",
                        reasons.length(room.least),
                        room.other_joints.empty()
                            ? ""
                            : ", and their cuts as far off the joints of layer 1 or the duct"));
}

// A collar that comes apart from the blank is then divided as any piece.
void divide_notched(Reasons& reasons, Fitting& fitting, Apart& apart, const BoardRoom& room,
                    std::optional<int> panels) {
  if (fitting.notched.empty()) return;
  NotchedBlank& blank = fitting.notched.front();
  const NotchedBlank whole = blank;
  const NotchedDivider divider(fitting, whole, room);
  if (divider.fits_whole() && panels.value_or(1) == 1) return;
  const std::optional<NotchedDivision> made = divider.find(panels);
  if (!made) {
    refuse(reasons, "notched blank", divider, panels, room);
    return;
  }
  apart.take(whole, divider, *made);
  if (!made->collar) blank.collar.reset();
}

// Divides the pieces of one layer of a fitting.
class Pieces {
 public:
  Pieces(Reasons& reasons, Fitting& fitting, const std::vector<std::vector<double>>& other_joints,
         double off_middle)
      : reasons_(reasons),
        fitting_(fitting),
        other_joints_(other_joints),
        room_(room_of(fitting.request)),
        stated_(stated_divisions(fitting.request, reasons)) {
    room_.off_middle = off_middle;
    if (const Value* panels = fitting.request.values.find("panels"))
      taper_panels_ = static_cast<int>(std::get<long>(panels->data));
  }

  void divide() {
    const bool any_board = !std::isfinite(room_.along) && !std::isfinite(room_.around);
    if (any_board && !taper_panels_ && stated_.empty()) return;
    require_known();
    fitting_.blanks.erase(std::remove_if(fitting_.blanks.begin(), fitting_.blanks.end(),
                                         [&](const Blank& blank) { return comes_apart(blank); }),
                          fitting_.blanks.end());
    Apart apart(fitting_);
    divide_notched(reasons_, fitting_, apart, room_, taper_panels_);
    for (std::size_t i = 0; i < fitting_.pieces.size(); ++i) {
      if (is_notched(i)) continue;
      const Piece& piece = fitting_.pieces[i];
      if (fitting_.wall_of(piece).sheet.is_square_to_round()) {
        require_board(reasons_, fitting_, piece, {room_.around, room_.along});
        continue;
      }
      const BoardRoom room = room_for(i);
      const Divider divider(fitting_, piece, room);
      const std::optional<Division> division = division_of(piece, divider, room);
      if (!division) continue;
      const std::optional<Division> clear =
          clear_of_taper(fitting_, piece, divider, *division, seams_to_come(i));
      if (!clear) {
        reasons_.add("board_length", "a larger board",
                     fmt::format("seams of the {} in {} panels would come within {} of other seams beside it",
                                 piece.role, division->most_panels(), reasons_.length(k_seams_apart)));
        continue;
      }
      apart.take(i, divider, *clear);
    }
    apart.finish();
  }

 private:
  BoardRoom room_for(std::size_t piece) const {
    BoardRoom own = room_;
    if (piece >= other_joints_.size()) return own;
    own.other_joints.insert(own.other_joints.end(), other_joints_[piece].begin(), other_joints_[piece].end());
    return own;
  }

  bool is_notched(std::size_t index) const {
    const int piece = static_cast<int>(index);
    return std::any_of(fitting_.notched.begin(), fitting_.notched.end(), [&](const NotchedBlank& blank) {
      return blank.taper == piece || blank.collar == piece;
    });
  }

  bool comes_apart(const Blank& blank) const {
    return is_too_large(fitting_, blank, room_) ||
           std::any_of(blank.pieces.begin(), blank.pieces.end(),
                       [&](int piece) { return stated_.count(fitting_.piece(piece).id) != 0; });
  }

  std::optional<int> panels_of(const Piece& piece) const {
    return tapers(piece) ? taper_panels_ : std::nullopt;
  }

  // Every piece whose division is stated is there and may be divided so.
  void require_known() {
    std::string known;
    for (std::size_t i = 0; i < fitting_.pieces.size(); ++i)
      if (!is_notched(i)) known += (known.empty() ? "" : ", ") + fitting_.pieces[i].id;
    for (const auto& [id, rings] : stated_) {
      const auto found = std::find_if(fitting_.pieces.begin(), fitting_.pieces.end(),
                                      [&, &name = id](const Piece& piece) { return piece.id == name; });
      if (found == fitting_.pieces.end() ||
          is_notched(static_cast<std::size_t>(found - fitting_.pieces.begin())))
        reasons_.add("division", known, "no piece " + id + " that can be divided so");
    }
  }

  // How a piece is divided; nothing where it stays whole, or cannot be, which is told.
  std::optional<Division> division_of(const Piece& piece, const Divider& divider, const BoardRoom& room) {
    const auto found = stated_.find(piece.id);
    const Sheet& sheet = fitting_.wall_of(piece).sheet;
    if (const auto* panel =
            std::get_if<PanelTarget>(&fitting_.joint(fitting_.wall_of(piece).low.joint).target)) {
      if (found != stated_.end()) reasons_.add("division", "another piece", "a collar's panel is cut in one");
      require_panel_board(reasons_, fitting_, piece, *panel, {room_.around, room_.along});
      return std::nullopt;
    }
    if (sheet.is_flat()) {
      if (found != stated_.end()) reasons_.add("division", "another piece", "the disc is cut in one");
      const double across = divider.size().x;
      if (!divider.fits_whole())
        reasons_.add(across > room_.along ? "board_width" : "board_length",
                     "at least " + reasons_.length(across),
                     fmt::format("the disc is {} across, the board {} wide and {} long; it is cut in one, so "
                                 "that no seam faces the air",
                                 reasons_.length(across), board_side(reasons_, room_.along),
                                 board_side(reasons_, room_.around)));
      return std::nullopt;
    }
    if (found == stated_.end()) {
      const std::optional<int> panels = panels_of(piece);
      if (!panels && divider.fits_whole()) return std::nullopt;
      std::optional<Division> division = divider.find(panels);
      if (!division) refuse(reasons_, piece.role, divider, panels, room);
      return division;
    }
    std::string why;
    std::optional<Division> division = divider.stated(found->second, reasons_, &why);
    if (!division)
      reasons_.add("division", "a division of the piece as it is", "piece " + piece.id + ": " + why);
    else if (division->rings() == 1 && !division->in_panels())
      return std::nullopt;
    return division;
  }

  bool tapers(const Piece& piece) const { return !fitting_.wall_of(piece).sheet.is_cylinder(); }

  // Seams of an oblique taper that is divided after its collar.
  std::vector<double> seams_to_come(std::size_t collar) const {
    std::vector<double> seams;
    for (std::size_t i = collar + 1; i < fitting_.pieces.size(); ++i) {
      const Piece& piece = fitting_.pieces[i];
      if (fitting_.wall_of(piece).sheet.offset() == 0.0) continue;
      const Divider divider(fitting_, piece, room_for(i));
      if (is_notched(i) || (!taper_panels_ && divider.fits_whole())) continue;
      if (const std::optional<Division> division = divider.find(panels_of(piece)))
        for (const double first : division->seams)
          for (int p = 0; p < division->panels && division->panels > 1; ++p)
            seams.push_back(first + division->span(0) * p);
    }
    return seams;
  }

  Reasons& reasons_;
  Fitting& fitting_;
  const std::vector<std::vector<double>>& other_joints_;
  BoardRoom room_;
  StatedDivisions stated_;
  std::optional<int> taper_panels_;
};

}  // namespace

void divide(Reasons& reasons, Fitting& fitting, const std::vector<std::vector<double>>& other_joints,
            double off_middle) {
  Pieces(reasons, fitting, other_joints, off_middle).divide();
}

}  // namespace linerwright
