// How a shop calls the parts of a fitting, which marks of two pieces meet, and how the pieces go in: words
// for the sheet, the page and fitting.json, all of them from the fitting's own facts.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// A length in the fitting's units as a tape shows it: to the hundredth of an inch or the tenth of a
// millimetre.
std::string shop_length(const Fitting& fitting, double mm);
// Two of them: "600 x 400 mm".
std::string shop_rectangle(const Fitting& fitting, Vec2 sides);

// A kind of fitting as people say it: "square to round".
std::string kind_title(const std::string& kind);

// A piece in the trade's words, without its id: "middle piece", "large collar", "body lower", "body lower,
// panel 1 of 2". Rings are called from the first end on, where there are three at most.
std::string piece_name(const Fitting& fitting, const Piece& piece);
// The same with its id where that is another word: "piece 3", "branch (branch1)", "taper".
std::string piece_title(const Fitting& fitting, const Piece& piece);

// Gives letters to the joints that go all around between two walls with marks that meet, in the order of the
// walls, "A", "B" ... "Z", "AA", and their pieces the marks; from E on in a fitting with branches, whose
// saddles have marks A to D.
void letter_joints(Fitting& fitting);

// The opening at a wall's open end: "the far end", "the inlet's end", "the branch's end", "the end of leg2";
// empty where there is none. With `article` false without "the".
std::string opening_words(const Fitting& fitting, int wall, End end, bool article = true);

// An opening through which a rolled piece reaches its place: no metal on the way is narrower than it is, and
// no piece that is already in stands there.
struct WayIn {
  std::string from;  // "the far end", "the end of branch1"
  End end;           // of the piece's wall on whose side it is
};
// A tapering leg of a wye passes through its inlet. `before`: pieces that are already in.
std::vector<WayIn> ways_in(const Fitting& fitting, const Piece& piece, const std::vector<int>& before);

// Whether an end of the fitting is a rectangle: of a square-to-round.
bool has_rectangle(const Fitting& fitting);
// Its width and height at that depth of liner, mm; nothing where there is none.
std::optional<Vec2> rectangle_of(const Fitting& fitting, double depth);
// The largest of a wall's diameters and of its rectangle's sides, by which it needs mechanical fasteners.
double widest_of(const Sheet& sheet);

// From which diameter on a ring of this layer may be folded in, by `fold_above` and the board's thickness;
// nothing where the job does not say.
std::optional<double> folds_above(const Fitting& fitting, int layer);

// Whether a piece ends in a hole of another or of a duct that is no part of the fitting.
bool has_saddle(const Fitting& fitting, const Piece& piece);

// What a blank holds: "all pieces" of a layer, "pieces 1 and 2", "branch and branch gore (branchG1)".
std::string held_words(const Fitting& fitting, const std::vector<int>& pieces);
// A taper and its collar from one notched board meet at a bend, not at a joint.
bool is_bend(const Fitting& fitting, int joint);
// Length of sealant along a joint between pieces, on the air face of the layer; 0 of open ends and bends, mm.
double seal_length(const Fitting& fitting, int joint);
// Length of an opening's cut edge around, on the air face of its layer, mm.
double cut_edge_length(const Fitting& fitting, const Opening& opening);
// Length of tape along a piece's seam, on the air face of its layer, mm.
double seam_length(const Fitting& fitting, const Piece& piece);

// How the pieces are rolled, closed, slid in and sealed, in the order of the work.
std::vector<std::string> work_steps(const Fitting& fitting);
// What cannot be done as usual, or costs more bore than asked for: a piece that no opening lets in, less of
// the area left open than `least_open_area`.
std::vector<std::string> shop_warnings(const Fitting& fitting);

// What a notice says instead of a source, where there is none.
constexpr const char* k_usual = "usual in the trade; your board maker's instructions decide";

}  // namespace linerwright
