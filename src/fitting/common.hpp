// What the kinds share: keys, checks and the assembly of walls and joints.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/choices.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// The liner's keys: [liner] in a job file, and any fitting may override them.
std::vector<KeySpec> liner_keys();

// The keys of [[run]].
std::vector<KeySpec> run_keys();
// The keys of [[stock]] and of [knife].
std::vector<KeySpec> stock_keys();
std::vector<KeySpec> knife_keys();
// The keys of [boards]: how large pieces may be divided.
std::vector<KeySpec> division_keys();
// The keys of [stickers]: sheets of them, one for each piece.
std::vector<KeySpec> sticker_keys();
// The keys of [dxf]: the user's own layers.
std::vector<KeySpec> dxf_keys();
// The keys of [rates]: what an estimate is made of.
std::vector<KeySpec> rate_keys();
// Keys of [knife] that say what a tilting head is; any fitting may override them.
std::vector<KeySpec> head_keys();

// Short forms of KeySpec for the kinds' tables.
KeySpec length_key(std::string name, std::string help, std::string sample, double min, double max);
KeySpec text_key(std::string name, std::string help);
KeySpec optional_key(KeySpec key);
KeySpec with_default(KeySpec key, std::string value);
KeySpec quantity_key(std::string name, Quantity quantity, std::string help, std::string value, double min,
                     double max);
KeySpec integer_key(std::string name, std::string help, std::string sample, double min, double max);
KeySpec choice_key(std::string name, std::string help, std::vector<std::string> choices);
// Of a table of choices; with a default, or left out where nobody says it.
template <class Table, class Meaning>
KeySpec choice_key(std::string name, std::string help, const Table& table, Meaning value) {
  return with_default(choice_key(std::move(name), std::move(help), words_of(table)), word_for(table, value));
}
template <class Table>
KeySpec optional_choice_key(std::string name, std::string help, const Table& table) {
  return optional_key(choice_key(std::move(name), std::move(help), words_of(table)));
}

// Collects the reasons why a request cannot be made and throws them together.
class Reasons {
 public:
  explicit Reasons(const FittingRequest& request) : request_(request) {}
  void add(const std::string& key, const std::string& allowed, const std::string& reason);
  bool none() const { return problems_.empty(); }
  void throw_if_any() const;  // InputError

  // A length in the job's unit, for a message.
  std::string length(double millimetres) const;

 private:
  const FittingRequest& request_;
  std::vector<Problem> problems_;
};

// A fitting with its request, liner and tag filled in; nothing is checked yet against a geometry.
Fitting begin_fitting(const FittingRequest& request);
// Adds the reason if the liner leaves less than the smallest bore in a duct of this inside diameter.
void require_bore(Reasons& reasons, const Fitting& fitting, double diameter, const std::string& diameter_key);
// Adds the reason if the fit allowance takes more than a quarter off what goes around in a duct, or a gore,
// of this diameter.
void require_fit(Reasons& reasons, const Fitting& fitting, double diameter, const std::string& around);
// Adds the warning about mechanical fasteners if the duct is larger than `pins_above`.
void note_fasteners(Fitting& fitting, double diameter);

// A right-handed frame with this z, and x as near as may be to the given direction.
Frame frame_along(Vec3 origin, Vec3 z, Vec3 x);

// A turn counted from 0 up, in degrees: "270".
std::string degrees_in_words(double angle);

// Adds a wall, whose ends come with its joints; returns its index.
int add_wall(Fitting& fitting, const Sheet& sheet, double face_start = 0.0);
// Ends a wall in the plane square to its axis at local height z.
void add_open_end(Fitting& fitting, int wall, End end, double z);
// Rulings of a square-to-round on which its parts meet, and the middle lines of its flats.
std::vector<double> flat_lines_and_bends();
// Joins the high end of `lower` to the low end of `upper`; `lead` says whose rulings are followed.
void add_joint(Fitting& fitting, int lower, int upper, Side lower_is, const Target& target,
               std::vector<double> splits);

// Adds the reasons why a piece, at any depth from the metal to the air face, has no length left between its
// ends; `key` names the length to blame.
void require_lengths(Reasons& reasons, const Fitting& fitting, const std::string& key);

// Adds the reasons where an allowance would carry a cone's board over its apex.
void require_allowances(Reasons& reasons, const Fitting& fitting);

// Adds the reason where a piece of a square-to-round, whose pieces are all that it is divided into, is larger
// than its board: around, along.
void require_board(Reasons& reasons, const Fitting& fitting, const Piece& piece, Vec2 board);

// A station of a passage through a circular bore, square to `along` at `point`.
Station round_station(double distance, double bare_diameter, double lined_diameter, Vec3 point, Vec3 along,
                      std::string place = {});

// The smallest bore that still counts as one, and the shortest piece that can be handled, millimetres.
constexpr double k_smallest_bore = 1.0;
constexpr double k_shortest_piece = 1.0;
// Of a notched blank, between its notches.
constexpr double k_least_tab = 1.0;
// Width of the narrowest tab where it ends, on the face that reaches farther; below zero where notches cross.
double narrowest_tab(const Fitting& fitting, const NotchedBlank& blank);

Fitting make_straight(const FittingRequest& request);
Fitting make_elbow(const FittingRequest& request);
Fitting make_offset(const FittingRequest& request);
Fitting make_reducer(const FittingRequest& request);
Fitting make_tee(const FittingRequest& request);
Fitting make_tap(const FittingRequest& request);
Fitting make_cap(const FittingRequest& request);
Fitting make_wye(const FittingRequest& request);
Fitting make_path(const FittingRequest& request);
Fitting make_square_to_round(const FittingRequest& request);
KindSchema straight_schema();
KindSchema elbow_schema();
KindSchema offset_schema();
KindSchema reducer_schema();
KindSchema tee_schema();
KindSchema tap_schema();
KindSchema cap_schema();
KindSchema wye_schema();
KindSchema path_schema();
KindSchema square_to_round_schema();

}  // namespace linerwright
