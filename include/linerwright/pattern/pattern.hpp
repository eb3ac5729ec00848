// Flat patterns of a fitting's pieces: both faces' contours in the same board coordinates, what the knife
// follows, marks and labels, and what a cut square to the board would leave.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// How the flat development was laid on the board: mirrored when the air face is up, turned, then moved.
struct Placement {
  bool mirrored = false;
  double turn = 0.0;  // radians, counter-clockwise, after mirroring
  Vec2 shift{};

  Vec2 board(Vec2 flat) const;
  Vec2 flat(Vec2 board) const;
};

// A row of the tilt table: a point of the contour of the face that is up, allowances included, which way the
// knife goes there, and how far a blade square to its way leans there to follow the true contour of the lower
// face; zero on edges that are square to the board. A corner has a row for either edge; between rows all
// change evenly.
struct TiltRow {
  int contour;  // 0 the outline, then the holes; on a blank the shared cuts from 1
  Vec2 at;
  double heading;  // radians from +x
  double
      tilt;  // radians; positive: the air face reaches further to the right of the heading than the duct face
  // mm between the lower face's contour and the way of the blade's lower end, where no straight blade can
  // follow: the tilt goes evenly from the last that cuts to the next. 0 where it follows to within a tenth.
  double left;
};

// Ordinates of a piece at one station.
struct Ordinate {
  double theta;  // ruling on the wall, radians
  // On the board, of the ruling's foot on the low edge of the duct face; of a notched blank, beside it where
  // the ruling crosses the bend line.
  Vec2 at;
  // Along the ruling from the wall's base circle (of a notched blank from its bend line), both faces, low and
  // high end.
  double duct_low, duct_high, air_low, air_high;
};
// A point of a hole's edge at one station of its branch.
struct HoleOrdinate {
  std::size_t hole;
  double s;        // the branch's ruling
  Vec2 duct, air;  // on the board
};

// A notch's point and its corners at the small end, left and right of it on the flat duct face; a panel that
// ends in a notch has one of its corners, the other stands for the edge itself.
struct NotchOrdinate {
  double theta;  // ruling on the taper, radians
  Vec2 tip;      // on the board
  Vec2 duct[2], air[2];
};
// Its point, left and right corner, each on the duct face and on the air face: as tables list them.
std::array<std::pair<Vec2, Vec2>, 3> corners_of(const NotchOrdinate& notch);

// What is written on one piece's part of the board.
struct LabelBlock {
  std::string piece;               // its id
  std::vector<std::string> lines;  // the first names fitting and piece: it stands alone where room is scarce
  Region part;
  std::optional<Vec2> flow{};  // the way the air goes, on the board
  // Two flows, from both of its ends to the middle or the other way: `flow` is the lower one's.
  bool two_flows = false;
};

// One pattern: a piece, or pieces cut from one blank.
struct Pattern {
  std::string id;           // "3", "blank"
  std::vector<int> pieces;  // indices in the fitting
  bool is_blank = false;
  int layer = 0;                             // of the liner
  std::vector<double> lifts;                 // of a blank: how far up each piece's own development lies in it
  std::vector<std::vector<Vec2>> open_cuts;  // shared cuts across a blank
  Region cut;                                // closed contours the knife follows, allowances included
  Region duct, air;  // the faces' true contours, vertex i of one paired with vertex i of the other
  std::vector<std::vector<Vec2>> duct_lines, air_lines;  // the faces' open lines across a blank
  // Of a notched blank without collar, whose trim alone holds the tabs together: the other tabs' contours.
  std::vector<Ring> duct_rest, air_rest;
  bool faces_paired =
      true;  // false there: a face that reaches past the notches' points holds its tabs together
  std::vector<std::vector<Vec2>> marks;
  std::vector<std::string> mark_names;  // beside marks; empty: no name is written
  std::vector<LabelBlock> label_blocks;
  std::vector<Text> labels;                    // the blocks and the marks' names, where place_labels put them
  std::vector<std::vector<Vec2>> label_lines;  // arrows among them
  std::vector<TiltRow> tilts;
  std::vector<Ordinate> ordinates;
  std::vector<HoleOrdinate> hole_ordinates;
  std::vector<NotchOrdinate> notch_ordinates;
  Placement placement;
  double stretch_out = 0.0;       // less the fit allowance
  Vec2 board{};                   // size of the rectangle it needs
  double board_area = 0.0;        // of the cut contour
  double duct_area = 0.0;         // of the duct face's true contour
  double max_tilt = 0.0;          // radians
  double not_cut = 0.0;           // largest of the tilt rows' `left`
  double gap_square = 0.0;        // widest gap a cut square to the board leaves under this cut policy
  double overlap_square = 0.0;    // widest overlap it leaves
  double shortest_stretch = 0.0;  // of the duct face between low and high edge
};

// Points are spent so that chords stay this close to the exact contour and smooth runs turn no more a vertex.
// Where either face's contour bends more tightly than a radius of some 6 mm, a turn of 5 degrees would take
// segments under half a millimetre: there the segments stay that long and the turn is larger.
constexpr double k_chord_error = 0.05;  // mm, stated in every file
constexpr double k_turn_per_vertex = 5.0 / 180.0 * k_pi;

// Patterns of all pieces, in the order of Fitting::pieces, then those of the blanks; a notched blank takes
// the place of its pieces' own patterns. Throws GeometryError.
std::vector<Pattern> make_patterns(const Fitting& fitting);

// Writes the labels anew from the pattern's blocks, marks and cut: upright, inside their pieces, clear of
// cuts, and as large as that allows.
void place_labels(Pattern& pattern);
// The labels of `own` where it is turned end for end, or not, and then moved: `laid`, which lies there, gets
// them and its blocks. They are placed before they are moved, so that they do not hang on the last digits of
// the place. `copy` follows the first line of each block: "  2/3", or nothing.
void place_labels_of(Pattern& laid, const Pattern& own, bool turned, Vec2 shift, const std::string& copy);

// The middle of an upright rectangle of this size in the block's part, clear of cuts, marks and labels, or
// nothing.
std::optional<Vec2> free_place(const Pattern& pattern, const LabelBlock& block, Vec2 size);

// Of a tap: templates of the hole in the duct that it stands on, one that wraps the duct's metal from
// outside, "hole-metal", and one that lies against its liner from inside, "hole-liner". Each is a sheet with
// the hole cut out, as it is seen from its own side, y toward the duct's far end; it holds no piece. Its
// hole_ordinates are the hole's edge at the branch's stations, both their places the same.
std::vector<Pattern> site_templates(const Fitting& fitting);

// Indices of the patterns that are cut for one fitting: a blank in the place of the pieces it holds, or,
// where `singly`, the pieces in the place of their blank.
std::vector<std::size_t> patterns_to_cut(const std::vector<Pattern>& patterns, bool singly = false);

// Mechanical fasteners that hold the piece, by the liner's spacing; none in ducts that are not over
// `pins_above`.
int fastener_count(const Fitting& fitting, const Piece& piece);

// The layer that the pattern is cut for.
const LinerSpec& liner_of(const Fitting& fitting, const Pattern& pattern);

// The pattern as a drawing with its check line (100 mm, or 4 in where the job is in inches) below it.
Drawing drawing_of(const Pattern& pattern, Units units);

}  // namespace linerwright
