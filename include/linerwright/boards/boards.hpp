// The cutting setup: all pieces of a job on boards of its stock, drawn board by board in the order they are
// cut. Lengths are millimetres; on a board x runs along its length (around the duct) and y along its width
// (the duct's axis), from the lower left corner.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/nest/nest.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// One kind of stock.
struct BoardStock {
  std::string name;
  double width = 0.0;   // along the duct's axis
  double length = 0.0;  // around; of a roll all there is on it
  bool roll = false;
  std::optional<int> quantity;      // unlimited when not given
  std::optional<double> thickness;  // of the liner it is for; any when not given
  EdgeTrim trim;
  double gap = 0.0;
  std::optional<double> kerf_pitch;
  std::optional<double> cost;       // of the board or the whole roll
  std::optional<double> mass;       // kg/m2; the liner's thickness times density when not given
  std::optional<double> density{};  // kg/m3, of the liner it is for; any when not given
  std::string remnant{};            // id of an earlier job's offcut; empty: new stock
  Vec2 room() const { return {length - trim.along_length(), width - trim.along_width()}; }
};

// What the knife does where a contour turns sharply.
enum class Corner { none, run_past, stop };  // it turns there; runs on and lifts; lifts there

// The knife table. Times are estimates: corners do not slow the tools down.
struct Knife {
  double cut_speed = 0.0;  // m/s
  double mark_speed = 0.0;
  double travel_speed = 0.0;
  double entry_time = 0.0;  // s, to lower and lift the knife once
  double mark_time = 0.0;   // s, the same for the pen
  double board_time = 0.0;  // s, to load and clear a board
  double overcut = 0.0;     // how far a closed cut runs on over its beginning
  Corner corner = Corner::none;
  double past = 0.0;  // how far it runs past a corner, where that is waste
};

// How a board's drawing lies on the table: which of its corners is zero, and by how many quarter turns
// counter-clockwise its length is turned away from the table's x.
struct TableZero {
  bool right = false, upper = false;
  int quarter_turns = 0;
  // The point of a board of this length and width as the table has it, and back.
  Vec2 on_table(Vec2 p, double length, double width) const;
  Vec2 on_board(Vec2 p, double length, double width) const;
};

// What [boards] says of the table and the order of work.
struct BoardRules {
  TableZero zero;
  bool by_fitting = false;
  double pen_width = 0.5;  // mm
};
// From a job's lists and tables; nothing given: the defaults. Throws InputError for stock of which the trim
// leaves nothing; messages name `file`.
std::vector<BoardStock> board_stock(const std::vector<Values>& list, Units units, const std::string& file);
Knife board_knife(const Values* table, Units units = Units::metric, const std::string& file = {});
BoardRules board_rules(const Values* table);
// The table [dxf]; nothing given: our own layers. Throws InputError.
LayerTable dxf_layers(const Values* table, const std::string& file);

// Where pieces of liner that may share boards lie while places for them are being looked for.
struct BoardsSoFar {
  std::size_t group = 0, groups = 1;  // of such liner
  double done = 0.0;                  // of this group's search, 0 to 1
  struct Board {
    Vec2 size;
    std::vector<Ring> pieces;
  };
  std::vector<Board> boards;
};

// A key that the job, or a flag beside it, says of its stock, its knife table or its boards, as it is
// written; what is not said is left to defaults.
struct BoardWord {
  std::string table;    // "stock", "knife", "boards"
  std::size_t row = 0;  // of a list of tables
  std::string key, text;
};

struct BoardOptions {
  double effort = k_effort_quick;
  std::uint64_t seed = 1;
  bool use_holes = false;     // small pieces in the holes of large ones
  std::optional<double> gap;  // in the place of the stock's
  bool codes = false;         // a machine-readable code on each piece
  double pen_width = 0.5;     // of the pen that draws it, mm
  int threads = 2;            // for search and drawing; the result is the same
  double min_offcut = 150.0;  // shorter side of the smallest rectangle worth keeping
  std::string job{};          // whose boards these are: the ids of their remnants are made of it
  bool by_fitting = false;    // boards and pieces in an order that completes each fitting soonest
  TableZero zero{};
  LayerTable layers{};                              // in whose order pen and knife go
  std::vector<BoardWord> words{};                   // of which all of this was read; told beside the boards
  std::function<void(const BoardsSoFar&)> watch{};  // none: nobody is told
};

// What a job says of its boards, with nothing asked for beside it.
struct JobStock {
  std::vector<BoardStock> stock;
  Knife knife;
  BoardOptions options;
};
// Messages name `file`, which is also part of the job's key, about its stock `stock_file`. Throws InputError
// where there is no stock as well.
JobStock job_stock(const Job& job, const std::string& file, const std::string& stock_file);
// The name under which lists of remnants know a job: its own name and that of its file; of a fitting asked
// for by flags its tag.
std::string job_key(const Job& job, const std::string& file);
// The names of the layers as the job's [dxf] table has them. Throws InputError.
DxfOptions job_dxf(const Job& job, const std::string& file);
// The job's table of that name; none: null.
const Values* table_of(const Job& job, const std::string& name);

// Throws InputError where the knife would run past corners further than pieces lie apart.
void require_room_past(const Knife& knife, const std::vector<BoardStock>& stock, const BoardOptions& options,
                       Units units, const std::string& file);

// A pattern and how many are cut of it.
struct BoardPart {
  std::string tag;
  std::string piece;  // pattern id
  long count = 1;
  Units units = Units::metric;
  double thickness = 0.0;
  double density = 0.0;  // kg/m3
  Face face_up = Face::duct;
  bool both_faces = false;         // the faces' own contours are drawn, for a tilting head
  Pattern pattern;                 // without tables
  int layer = 0;                   // of the liner
  std::vector<BoardPart> apart{};  // of a blank: its pieces one by one, for where it fits no stock
  // Of `count`, the copies that are cut so: from this one on, all or so many. Others may be cut otherwise.
  long first_copy = 0;
  std::optional<long> some{};
  long copies() const { return some.value_or(count - first_copy); }
};

// What is cut of one fitting; `scatter`: the pieces of a blank one by one. Patterns are make_patterns() of
// it.
std::vector<BoardPart> board_parts(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                   bool scatter);

// The pieces that come next to a part in its fitting, "2, 4"; of a blank the pieces it is cut into.
std::string next_pieces(const BoardPart& part);

// A piece on a board.
struct PlacedPiece {
  std::size_t part = 0;  // index in BoardPlan::parts
  int copy = 0;          // of its fittings: 0 .. count - 1
  bool turned = false;   // end for end
  Box box;               // on the board
  std::size_t cuts = 0;  // of PlannedBoard::knife until it is free
};

// A line of the pen; lines of text are left out where text stands as entities.
struct PenLine {
  Polyline line;
  bool of_text = false;
};

// An offcut worth keeping, with the id that the pen writes on it.
struct BoardRemnant {
  std::string id;
  Box box;  // on the board
};

struct PlannedBoard {
  int layer = 0;          // of the liner
  std::size_t stock = 0;  // index in BoardPlan::stock
  double thickness = 0.0;
  double density = 0.0;
  Face face_up = Face::duct;
  double length = 0.0;       // of a roll what is cut off
  double used_length = 0.0;  // to the last piece
  double piece_area = 0.0;   // outlines less holes
  double yield = 0.0;
  double mass = 0.0;                   // kg, of the whole board
  std::optional<double> cost;          // of a roll its share
  std::vector<Box> offcuts;            // worth keeping, largest first
  std::vector<BoardRemnant> remnants;  // those of them that are large enough for a label
  std::vector<PlacedPiece> pieces;     // in the order they come free
  std::vector<PenLine> pen;            // in the order they are drawn: marks and labels
  std::vector<Polyline> knife;         // in the order they are cut
  std::vector<Ring> opened;            // outlines of which neighbours have cut a part
  std::vector<Polyline> faces;         // for a tilting head
  std::vector<Text> texts;             // of the pen's text
  double knife_length = 0.0;
  double pen_length = 0.0;
  double travel_length = 0.0;
  double shared_length = 0.0;  // edges of two pieces, cut once
  double past = 0.0;           // of the knife's way, past corners
  std::vector<Box> rooms;      // inside pieces, clear of their lines: for words about the board
  double time = 0.0;           // s, estimated
};

struct BoardPlan {
  Units units = Units::metric;
  std::vector<BoardStock> stock;
  std::vector<BoardPart> parts;
  std::vector<PlannedBoard> boards;  // by thickness, density, face that is up and layer
  double stock_area = 0.0;
  double piece_area = 0.0;
  Knife knife;                    // that times and overcuts are for
  double gap = 0.0;               // between pieces
  bool by_fitting = false;        // boards in an order that completes each fitting soonest
  double bound = 0.0;             // the yield on the least stock that could hold these pieces
  std::size_t least_boards = 0;   // no nest of these pieces takes fewer; 0 where there are rolls
  std::vector<Problem> problems;  // pieces that are on no board
  TableZero zero{};
  LayerTable layers{};
  std::vector<BoardWord> words{};  // that stock, knife and options were read from
  double yield() const { return stock_area > 0.0 ? piece_area / stock_area : 0.0; }
};

// Places the parts on stock of their thickness. Pieces that differ in thickness, density, the face that is
// up or the layer they belong to never share a board. Each nest has passed nest_faults(). Throws InputError
// for options that make no sense, GeometryError if a nest is faulty.
BoardPlan board_plan(std::vector<BoardPart> parts, const std::vector<BoardStock>& stock, const Knife& knife,
                     const BoardOptions& options, Units units);

// The words on a remnant: its id and size, as large as it has room for up to 40 mm. None where letters would
// be lower than 5 mm.
std::vector<Text> remnant_words(const BoardRemnant& remnant, Units units);

// The face that is up: "duct", "air", of an inner layer "outer" or "inner".
const char* face_up_word(const PlannedBoard& board);
// "board-2.dxf"; as many digits as the last board's number has.
std::string board_file(const BoardPlan& plan, std::size_t board);
// "board 2 of 5: 48 x 120 in, liner 1 in, duct face up".
std::string board_title(const BoardPlan& plan, std::size_t board);
// Which corner is the table's zero, and which way its x runs, in words.
std::string zero_words(const TableZero& zero);
// The board with its lower left corner at zero and its length along x: its edge, kerfs, title and the
// table's zero on STOCK, a line to measure on SCALE, then the pen's lines, then the cuts in their order, all
// of it on the board. With `entities` text stands as text instead of strokes.
Drawing board_lying(const BoardPlan& plan, std::size_t board, TextStyle text);
// The same where the table has it.
Drawing board_drawing(const BoardPlan& plan, std::size_t board, TextStyle text);
// The board as a DXF file, audited. Throws GeometryError with the first finding. Version, units and text
// style are taken from `options`.
std::string board_dxf(const BoardPlan& plan, std::size_t board, const DxfOptions& options);
// A plan with its boards' files, which have passed their audit.
struct DrawnBoards {
  BoardPlan plan;
  std::vector<std::string> files;  // of each board, as board_dxf() writes it
  std::vector<std::string> notes;  // of tries that did not pass, a line each
};
// board_plan() and board_dxf() of every board. A nest of which a board does not pass its audit is tried again
// with other seeds, then with a little room between the pieces. Throws as board_plan() does, GeometryError
// where no try passes.
DrawnBoards draw_boards(const std::vector<BoardPart>& parts, const std::vector<BoardStock>& stock,
                        const Knife& knife, const BoardOptions& options, Units units, const DxfOptions& dxf);
// What board_dxf holds its files to.
AuditExpectations board_expectations(const BoardPlan& plan, std::size_t board, const DxfOptions& options);

}  // namespace linerwright
