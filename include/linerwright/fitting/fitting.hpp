// A fitting: walls, the joints between them, and the liner pieces on the walls. Each kind (straight, elbow,
// reducer, tee) is one source file that turns parameters into this; nothing downstream knows the kinds.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/job/job.hpp"
#include "linerwright/joint/joint.hpp"

namespace linerwright {

enum class Face { duct, air };

// What an upright knife follows where the two faces differ: all material of both faces, half way, or one
// face's contour; `tilt` is the contour of the face that is up, for a tilting head.
enum class CutPolicy { outer, mid, duct, air, tilt };

// Which way the air goes: as the pieces are numbered and out of the branches, the other way, from both ends
// of a body into its branch, out of that to both ends, or nobody said.
enum class Flow { along, against, to_branch, from_branch, unmarked };

// A layer of the liner and how it is cut. Depths count from the metal's inside surface.
struct LinerSpec {
  double thickness = 0.0;       // along the wall's normal
  double outer_depth = 0.0;     // of its outer face: 0 on the metal, or what the layers outside it take
  double inside = 0.0;          // thickness of the layers inside it
  double gauge = 0.0;           // thickness of the metal
  double fit_allowance = 0.0;   // taken off the stretch-out
  double end_allowance = 0.0;   // extra board at an open end, trimmed flush after fitting
  double butt_allowance = 0.0;  // extra board along the axis at each joint, compressed when fitted
  double neutral_factor = 0.0;  // the fibre at this share of the thickness keeps its length
  Face face_up = Face::duct;    // on the cutting table
  CutPolicy cut = CutPolicy::outer;
  JointStyle joint = JointStyle::mitre;
  Flow flow = Flow::along;    // drawn on the pieces
  double density = 0.0;       // kg/m3
  double conductivity = 0.0;  // W/(m K)
  int stations = 12;
  double pins_above = 0.0;  // diameter above which mechanical fasteners hold the liner
  double pin_edge = 0.0;    // from a piece's edges to the nearest fasteners
  double pin_around = 0.0;  // most between fasteners around the duct
  double pin_along = 0.0;   // and along it

  double inner_depth() const { return outer_depth + thickness; }
  std::array<double, 2> faces() const { return {outer_depth, inner_depth()}; }
  double bore_depth() const { return inner_depth() + inside; }
  double reference_depth() const { return outer_depth + neutral_factor * thickness; }
};

struct JointUse {
  int joint = 0;
  Side side = Side::lead;
  // The wall's rulings that the joint ends: all, or those of one joint of a chain.
  double from = 0.0;
  double span = k_two_pi;
};

// A wall between a low and a high joint, with holes where branches enter and where openings are cut.
struct Wall {
  Sheet sheet;
  JointUse low;
  JointUse high;
  std::vector<JointUse> holes;
  double face_start = 0.0;  // ruling where the solid's faces begin; both ends' joints have a split there
  int layer = 0;            // of the liner, whose pieces lie on it; the metal is layer 0's walls'
  // Where an end is a closed chain of joints against several walls: those after the first, as they follow one
  // another around.
  std::vector<JointUse> low_rest{};
  std::vector<JointUse> high_rest{};
  const JointUse& use(End end) const { return end == End::high ? high : low; }
  JointUse& use(End end) { return end == End::high ? high : low; }
  const std::vector<JointUse>& rest(End end) const { return end == End::high ? high_rest : low_rest; }
  std::vector<JointUse>& rest(End end) { return end == End::high ? high_rest : low_rest; }
};

// A line along a ruling that the shop wants to see: "throat", "heel", "crotch".
struct RulingMark {
  double theta;
  std::string name;
};

// A point on the edge of a hole that meets a mark of the branch: "A crotch" on both.
struct HoleMark {
  std::size_t hole;  // of the wall
  double s;          // the branch's ruling
  std::string name;
};

// A place on the edge of an end that meets one of a neighbour's: both carry the same name, "B heel".
struct MeetMark {
  End end;  // which end of the piece's wall
  double theta;
  std::string name;
};

// A liner piece: a wall, or a panel of it between two rulings.
struct Piece {
  std::string id;    // within the fitting: "1", "body"; letters and digits
  std::string role;  // in the trade's words: "end piece", "branch"
  int wall = 0;
  double seam = 0.0;       // ruling where the board's edges butt; the pattern starts here
  double span = k_two_pi;  // how far around it reaches; less than a turn for a panel
  std::string seam_place;  // in words: "throat", "opposite the branch"
  std::vector<RulingMark> marks;
  std::vector<std::string> next;  // ids of the pieces it meets
  std::vector<HoleMark> hole_marks{};
  std::vector<MeetMark> meets{};  // of the joints that have letters
  bool full_turn() const { return span > k_two_pi - 1e-9; }
};

// Pieces cut from one rectangle with shared cuts, from bottom to top; every second one is turned half a turn
// about the axis, so that its mitre cut is its neighbour's.
struct Blank {
  std::string id;
  std::vector<int> pieces;
};

// A taper, and its collar where asked, from one rectangle that is closed by V notches; it takes the place of
// its pieces' own patterns. Divided for a board too small, it is one ring of the taper, or one panel of that.
struct NotchedBlank {
  std::string id;
  int taper = 0;                    // piece indices
  std::optional<int> collar{};      // on the large end
  int notches = 0;                  // all around
  double trim = 0.0;                // extra board beyond the large edge
  double kerf_pitch = 0.0;          // of the board; notches are moved onto it; 0: no kerfs
  double seam = 0.0;                // ruling where the rectangle of all panels begins
  double large = 0.0, small = 1.0;  // shares of the taper's axis, from its large end, between which it lies
};

// A V notch: its middle along the bend line from the seam on, and its width at the small end.
struct Notch {
  double centre;
  double mouth;
};

// How the bend line and the notches of one panel lie, from the panel's first edge on.
struct NotchedLayout {
  double width;                // of the bend line
  double at;                   // where it begins on the bend line of all panels
  std::vector<Notch> notches;  // those inside
  // How far the small end's corners lie beyond the bend line's ends, along +x: half a mouth inward where the
  // panel ends in a notch, else 0.
  double first_shift, last_shift;
};

// A metal wall that is no sheet: a pressed bend of circular section with straight collars, or two of them one
// behind the other, the second as far back.
struct PressedBend {
  double radius;  // inside, of the section
  double centreline_radius;
  double angle;
  double low_collar, high_collar;
  // The bend starts at this frame's origin along its z and turns toward its x.
  Frame frame;
  // The straight way from there to a second bend that turns back; none: there is one bend.
  std::optional<double> between{};
};

// One way through the bore, as stations along the path.
struct Station {
  double distance;  // along the path from its beginning
  double bare_diameter;
  double lined_diameter;  // of a circle with the area left open, square to the path
  double lined_area;
  PlaneTarget plane;  // where a slice of the bore shows it
  std::string place;  // "large end", "branch end"; empty between
};
// What turns the air on a passage.
struct AirTurn {
  double angle = 0.0;              // of the whole turn
  double centreline_radius = 0.0;  // of the metal
  int metal_mitres = 0;            // that the metal turns in; 0: it is smooth
  int liner_mitres = 0;            // that the bore turns in; 0: it is smooth
};

// Where a branch leaves a passage or joins it.
struct AirBranch {
  std::string passage;    // the branch's own
  double distance = 0.0;  // from this passage's beginning to the middle of its hole
  double angle = 0.0;     // between the branch's axis, outward, and the way on
};

// Where the metal begins to widen or to narrow, or ends to.
struct MetalCorner {
  double distance;
  double diameter;
};

struct Passage {
  std::string name;  // "through", "branch"
  std::vector<Station> stations;
  // The metal's own corners from end to end, where they are not the stations'.
  std::vector<MetalCorner> metal{};
  // What a loss coefficient is asked for beside the stations' own widening and narrowing.
  std::vector<AirTurn> turns{};
  std::vector<AirBranch> branches{};
};

// A figure worth stating, in the library's unit.
struct Fact {
  std::string key;    // snake_case, for fitting.json
  std::string label;  // in words
  Quantity quantity = Quantity::length;
  double value = 0.0;
};

// A hole that is cut for something other than a branch.
struct Opening {
  std::string name;                  // "sensor 2": what it is for, and which of all
  int joint;                         // its edge in the liner, of one layer
  std::optional<int> metal_joint{};  // its edge in the metal, where it is to be cut there
};

struct Fitting {
  std::string tag;
  std::string kind;
  long count = 1;
  Units units = Units::metric;
  FittingRequest request;               // parameters as understood
  LinerSpec liner;                      // layer 0
  std::vector<LinerSpec> inner_layers;  // layer 1 and on, from the metal in
  std::vector<Wall> walls;
  std::vector<Joint> joints;
  std::vector<Piece> pieces;
  std::vector<Blank> blanks;
  std::vector<NotchedBlank> notched;
  std::vector<int> insertion;          // piece indices in the order they go in
  std::optional<PressedBend> pressed;  // the metal, where it does not follow the walls
  std::vector<Passage> passages;
  bool straight_run = false;  // one straight lined length, to which figures per length apply
  std::vector<Fact> facts;
  std::vector<std::string> warnings;
  std::vector<std::string> steps;  // how it is rolled and slid in
  // Of each joint that goes all around between two walls with marks that meet, "A", "B" ...; empty of others.
  std::vector<std::string> joint_letters{};
  std::vector<Opening> openings{};

  // Walls, joints and pieces by their indices.
  const Wall& wall(int index) const { return walls[static_cast<std::size_t>(index)]; }
  Wall& wall(int index) { return walls[static_cast<std::size_t>(index)]; }
  const Joint& joint(int index) const { return joints[static_cast<std::size_t>(index)]; }
  Joint& joint(int index) { return joints[static_cast<std::size_t>(index)]; }
  const Piece& piece(int index) const { return pieces[static_cast<std::size_t>(index)]; }
  Piece& piece(int index) { return pieces[static_cast<std::size_t>(index)]; }
  // The wall that a piece lies on.
  const Wall& wall_of(const Piece& piece) const { return wall(piece.wall); }
  Wall& wall_of(const Piece& piece) { return wall(piece.wall); }
};

// One kind of fitting: what it may be asked for, and how it is made.
struct Kind {
  KindSchema schema;
  Fitting (*build)(const FittingRequest&);  // throws InputError, GeometryError
};
const std::vector<Kind>& fitting_kinds();

// All keys of a job file: the kinds', the liner's and the other tables'.
const JobSchema& job_schema();

// Where a job has stock, the largest board of a fitting's thickness (what its edge trim leaves, and its
// kerfs) is the board of that fitting, unless it names one.
void apply_stock(Job& job);

// The fitting asked for, its pieces divided where the board is too small for them. Throws InputError with
// every reason it cannot be made, GeometryError if the geometry fails.
Fitting make_fitting(const FittingRequest& request);

// The layer whose pieces lie on a wall, or whose a piece is.
const LinerSpec& liner_of(const Fitting& fitting, int wall);
const LinerSpec& liner_of(const Fitting& fitting, const Piece& piece);

// "duct" or "air" for the face of the layer on the metal, "outer" or "inner" for one of a layer inside it.
const char* face_word(const LinerSpec& liner, Face face);
// Layers of liner, and all of them, from the metal in.
int layer_count(const Fitting& fitting);
const LinerSpec& layer_of(const Fitting& fitting, int layer);
// The thinnest of the metal and the layers.
double thinnest_layer(const Fitting& fitting);

// The holes of a piece's wall that lie in the piece: all of them, or those between a panel's two seams.
std::vector<std::size_t> holes_of(const Fitting& fitting, const Piece& piece);

// The opening that has this joint as its edge in the liner; none: null.
const Opening* opening_at(const Fitting& fitting, int joint);
// The holes of a wall's shells: those that branches stand in. In the metal, the openings cut there as well.
std::vector<JointUse> shell_holes(const Fitting& fitting, const Wall& wall);
std::vector<JointUse> metal_holes(const Fitting& fitting, const Wall& wall);

// The joints that a wall ends on, low or high: one all around, or a chain.
std::vector<JointUse> joints_at(const Wall& wall, End end);
// The one of them that ruling theta ends on.
const JointUse& joint_at(const Wall& wall, End end, double theta);
// All joints of a wall, those of its holes as well.
std::vector<JointUse> joints_of(const Wall& wall);
bool ends_in(const Wall& wall, int joint);
bool share_a_joint(const Wall& a, const Wall& b);
// Rulings at which the layer at depth w of an end has corners, or a vertex.
std::vector<double> corners_at(const Fitting& fitting, int wall, End end, double w);

// The depths at which the shell at depth w ends in a joint: equal ones. Where a tap stands on its duct, the
// liner's own, and of the metal, of both its faces, those on the outside of the duct's metal.
DepthPair depths_of_shell(const Fitting& fitting, const Joint& joint, double w);
DepthPair depths_of_metal(const Fitting& fitting, const Joint& joint, double w);
// The joint in which the fitting's metal and first layer stand on a duct that is no part of it.
std::optional<int> joint_on_duct(const Fitting& fitting);

// The joint in which the metal of a wall's open end ends: beyond the liner's where that is held back.
int metal_end_of(const Fitting& fitting, const Wall& wall, End end);
// The metal's walls beyond a lining that is held back, each from where the lining ends to where the metal
// does.
std::vector<Wall> bare_ends(const Fitting& fitting);
// Whether metal goes on beyond the lining at some end.
bool has_bare_ends(const Fitting& fitting);

// v of a wall's end on its ruling theta: of the liner at depth w, and of the shell at w.
double liner_end(const Fitting& fitting, int wall, End end, double theta, double w);
double shell_end(const Fitting& fitting, int wall, End end, double theta, double w);

// Volume enclosed by the shell at depth w and the open ends, by integrals of the walls' closed forms: depth 0
// gives the cavity, the liner's bore_depth() the bore, minus the gauge the outside of the metal (of walls
// that carry it).
double shell_volume(const Fitting& fitting, double w);
// Area of a wall's surface at depth w between its ends, holes taken out, by the same integrals.
double wall_area(const Fitting& fitting, int wall, double w);
// Area of one hole of a wall, on the wall's surface at depth w.
double hole_area(const Fitting& fitting, int wall, std::size_t hole, double w);
// Volume that an opening takes out of its layer of liner, or out of the metal between -gauge and 0.
double plug_volume(const Fitting& fitting, int joint, double from, double to);
// Volume that all openings take out of one layer of the liner, or of all layers.
double plug_volume(const Fitting& fitting, int layer);
double plug_volume(const Fitting& fitting);
// Area of what a joint encloses on the wall that follows, on that wall's surface.
double opening_area(const Joint& joint, DepthPair depths);
// Area of the metal's inside surface and the volume of the metal, of the walls or of the pressed bend; laps,
// seams and flanges are not in it.
double metal_area(const Fitting& fitting);
double metal_volume(const Fitting& fitting);
// Length in space of a joint's curve at these depths.
double joint_length(const Joint& joint, DepthPair depths);
// A wall's developed length around at its large end, on the reference fibre, all around or from one ruling
// on, and the factor by which the way around is shortened so that all of this length loses the fit allowance.
double stretch_out(const Fitting& fitting, int wall, double from = 0.0, double span = k_two_pi);
double fit_scale(const Fitting& fitting, int wall);
// A piece's board before it is laid down anywhere: what patterns and those that read them back share.
Development development_of(const Fitting& fitting, const Piece& piece);

// Of a notched blank: the length of its bend line, and its notches, whose mouths add up to the difference of
// the two ends' stretch-outs.
double bend_line(const Fitting& fitting, const NotchedBlank& blank);
std::vector<Notch> notches_of(const Fitting& fitting, const NotchedBlank& blank);
// The blank's own share of them: all, or those of one panel.
NotchedLayout layout_of(const Fitting& fitting, const NotchedBlank& blank);
// Where the ruling that crosses the bend line there meets the small end, to the one or the other side of a
// notch that stands in it; x from the panel's first edge.
double small_place(const NotchedLayout& layout, double bend_place, bool after);
// The radius of the taper's duct face where the blank has its bend line, and at its small end.
double bend_radius(const Fitting& fitting, const NotchedBlank& blank);
double small_radius(const Fitting& fitting, const NotchedBlank& blank);
// The notched blank that holds the piece; none: null.
const NotchedBlank* notched_with(const Fitting& fitting, int piece);
// How far a notched blank reaches from its bend line on ruling theta at the liner's depth w: toward the
// taper's small edge, or with `large` the other way, the collar included but not the trim.
double blank_reach(const Fitting& fitting, const NotchedBlank& blank, bool large, double theta, double w);

}  // namespace linerwright
