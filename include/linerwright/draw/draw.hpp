// Flat drawings and the files they become: DXF for the knife table, SVG for the page.
// Coordinates are millimetres, x to the right and y up.
#pragma once

#include <cstdint>
#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright {

// What each layer is for; the file shows it by this name (letters, digits and _ only).
enum class Layer {
  cut,         // CUT: what the knife follows
  duct_face,   // DUCT_FACE: true contour of the face against the metal
  air_face,    // AIR_FACE: true contour of the face in the air stream
  outer_face,  // OUTER_FACE: of a layer inside another, the face against that one
  inner_face,  // INNER_FACE: and the face toward the air
  mark,        // MARK: lines for a pen: stations, seam, heel, throat
  label,       // LABEL: text
  scale,       // SCALE: a check line of stated length
  stock,       // STOCK: the board's edge, never cut
};
const char* layer_name(Layer layer);
constexpr Layer k_all_layers[] = {Layer::cut,        Layer::duct_face,  Layer::air_face,
                                  Layer::outer_face, Layer::inner_face, Layer::mark,
                                  Layer::label,      Layer::scale,      Layer::stock};
// What a face's contours lie on: of the layer of liner on the metal (0), or of one inside it.
Layer outer_face_layer(int liner_layer);
Layer inner_face_layer(int liner_layer);
// True for those layers, whose lines pair up vertex by vertex.
bool is_face(Layer layer);
// The layer of that name; nothing when it is none of ours.
std::optional<Layer> layer_named(std::string_view name);

// Straight segments; a closed line does not repeat its first point.
struct Polyline {
  Layer layer = Layer::cut;
  bool closed = false;
  std::vector<Vec2> points;
};

// One line of text, its baseline starting at `at` (or centred there), turned by `angle` radians.
struct Text {
  Layer layer = Layer::label;
  Vec2 at{};
  double height = 10.0;  // of a capital letter
  double angle = 0.0;
  bool centred = false;  // horizontally
  std::string text;      // UTF-8
};

struct Drawing {
  std::vector<Polyline> lines;
  std::vector<Text> texts;
};

// ---- Text as single strokes ----

// The text as open lines that a pen draws, placed as `text` says. Letters that the stroke font lacks are
// spelled with what it has (e for an accented e, x for a times sign) or shown as ?. Any bytes are taken.
std::vector<std::vector<Vec2>> stroke_text(const Text& text);
// The text with each letter that would be shown as ? written by its number, <U+5D0>, so that nothing is lost.
std::string pen_spelling(std::string_view text);
// How far those strokes advance along the baseline, mm, for capitals of `height` mm.
double stroke_text_width(std::string_view text, double height);
// The corners of the rectangle from the baseline to the capitals' height that those strokes cover, from the
// start of the baseline on counter-clockwise. Tails of letters like g reach below it by a third of the
// height.
std::vector<Vec2> text_corners(const Text& text);

// ---- Writing DXF ----

enum class DxfVersion { r2000, r12 };
enum class DxfUnits { unstated, millimetre, inch, other };
enum class TextStyle { strokes, entities };

// A name of the user's own for one of our layers, and its colour by number (1 to 255); ours where none is
// given.
struct LayerName {
  Layer layer = Layer::cut;
  std::string name;
  std::optional<int> colour{};
};
struct LayerTable {
  std::vector<LayerName> names;
  std::vector<Layer> order;  // of the lines in the file; the rest stays behind these, in its own order
  const LayerName* of(Layer layer) const;
  std::size_t rank(Layer layer) const;  // the number of layers before it
};

struct DxfOptions {
  DxfVersion version = DxfVersion::r2000;
  DxfUnits units = DxfUnits::millimetre;  // of the file's coordinates: millimetre or inch
  bool cut_only = false;                  // nothing but CUT
  bool single_layer = false;              // all on layer 0 in colour 7, and of all layers only CUT ...
  bool single_layer_all = false;          // ... unless this asks for the rest as well
  TextStyle text = TextStyle::strokes;
  std::optional<double> chord_error;  // mm; stated in a comment
  std::vector<std::string> comments;  // further comment lines at the top
  LayerTable layers{};                // a comment for each name says which of our layers it is
};

// Writes the drawing as a complete DXF file of straight segments: 4 decimals in mm, 6 in inches, z = 0,
// closed contours flagged closed. The same drawing gives the same bytes. Vertices that print alike are
// written once, except on the two face layers, whose vertices pair up. Throws GeometryError when a number is
// not finite or when nothing would be drawn, std::invalid_argument for other units. The stream's state is the
// caller's to check.
void write_dxf(std::ostream& out, const Drawing& drawing, const DxfOptions& options = {});

// ---- Reading DXF ----

// An LWPOLYLINE, POLYLINE or LINE.
struct DxfPolyline {
  int line = 0;  // where in the file it starts, 1-based
  std::string kind;
  std::string layer;
  bool closed = false;
  bool curved = false;  // has bulges: `points` are the ends of the arcs
  std::vector<Vec2> points;
};

struct DxfText {
  int line = 0;
  std::string layer;
  Vec2 at{};
  double height = 0.0;
  double angle = 0.0;
  bool centred = false;
  std::string text;  // UTF-8, escapes resolved
};

struct DxfLayer {
  std::string name;
  int colour = 7;
};

struct DxfHandle {
  std::uint64_t value = 0;
  int line = 0;
};

// An entity of the drawing that is none of the above.
struct DxfOther {
  int line = 0;
  std::string kind;
  std::string layer;
};

// What a DXF file holds, in millimetres (taken as written when it states no unit or one we do not know).
struct DxfFile {
  std::string version;  // as written: AC1015, AC1009; empty when not stated
  DxfUnits units = DxfUnits::unstated;
  std::optional<int> measurement;  // as the header has it: 0 imperial, 1 metric
  std::optional<Box> extents;  // as the header has them; ours span the lines and the texts' starting points
  std::vector<DxfLayer> layers;
  std::vector<DxfPolyline> lines;
  std::vector<DxfText> texts;
  std::vector<DxfOther> others;
  std::vector<DxfHandle> handles;
  std::vector<std::string> comments;
};

// Reads a text DXF file of any of the usual writers; `name` stands in messages. Blocks, three-dimensional
// content and objects are passed over. Throws InputError (one problem, with file and line) when the file is
// broken, is cut short, or is larger than k_largest_dxf bytes or k_most_in_dxf points (an entity counts as
// eight).
DxfFile read_dxf(std::istream& in, const std::string& name);
constexpr std::size_t k_largest_dxf = 128u << 20;
constexpr std::size_t k_most_in_dxf = 4'000'000;

// ---- Auditing DXF ----

// | code | what is wrong |
// | --- | --- |
// | D101 | a contour on CUT is not closed |
// | D102 | an outline on CUT runs clockwise (or a hole lies in no outline) |
// | D103 | a hole on CUT runs counter-clockwise |
// | D104 | a stretch on CUT is drawn twice: it would be cut twice |
// | D105 | a segment has no length |
// | D106 | a segment on CUT is shorter than the limit, away from corners |
// | D107 | a line on CUT crosses or touches itself |
// | D108 | two lines on CUT cross, or a hole touches its outline |
// | D109 | a coordinate is not a finite number |
// | D110 | a label leaves the pieces |
// | D111 | something lies on a layer that is none of ours |
// | D112 | the units are not those promised |
// | D113 | the header's extents are not the drawing's |
// | D114 | a handle is zero |
// | D115 | a handle is used twice, or an R2000 file has none |
// | D116 | DUCT_FACE and AIR_FACE do not pair up vertex by vertex |
// | D117 | an arc or another entity that is not a straight line or text |
// | D118 | nothing to cut |
// | D119 | the version is not the one promised |
// | D120 | a layer is used but not in the layer table |
// | D121 | the header's system of measurement contradicts its unit |
// | D122 | a comment names another unit than the header |

// What the file was promised to be.
struct AuditExpectations {
  DxfUnits units = DxfUnits::millimetre;
  std::optional<DxfVersion> version;  // not checked when left out
  bool open_cuts = false;             // CUT may also hold open lines (cuts across a blank)
  // Where pieces lie edge to edge: outlines of which only a part is cut, because neighbours have cut the
  // rest, and how far pieces may reach into each other.
  std::vector<Ring> opened{};
  double intrusion = 0.0;               // mm
  double overcut = 0.0;                 // mm: closed cuts run on over their beginning by up to this
  bool labels_inside = false;           // LABEL stays within the pieces, or one of the ...
  std::vector<Box> labelled{};          // ... offcuts that have a label
  bool faces_paired = true;             // each line on DUCT_FACE has its like on AIR_FACE, vertex by vertex
  bool single_layer = false;            // layer 0 takes the place of CUT
  double shortest = 0.5;                // mm
  double corner = 20.0 * k_pi / 180.0;  // rad: where a line turns by more within a few
                                        // shortest lengths, short segments are allowed
  double tolerance = 2e-4;              // mm: closer than this is touching
};

struct Finding {
  std::string code;     // D101 ...
  int line = 0;         // in the file; 0 when it concerns the whole
  std::string message;  // one line
};

// Everything wrong with the file, by code; at most k_findings_per_code of each. Empty: nothing wrong.
std::vector<Finding> audit_dxf(const DxfFile& file, const AuditExpectations& expectations = {});
constexpr int k_findings_per_code = 20;
// "pattern.dxf:120: D104: ..." (no line number when it concerns the whole file).
std::string one_line(const Finding& finding, const std::string& file);

// ---- Pictures ----

// How lines and text of one kind look: colours (#rrggbb) on white and on a dark page, width and dashes in mm.
struct Ink {
  std::string name;  // of its class in an SVG: small letters, digits and dashes
  std::string light, dark;
  double width = 0.3;
  std::vector<double> dashes;
};
struct InkedLine {
  bool closed = false;
  std::vector<Vec2> points;
};
struct InkedGroup {
  Ink ink;
  std::vector<InkedLine> lines;
  std::vector<Text> texts;  // in the ink's colour
};
using Picture = std::vector<InkedGroup>;

// The drawing in the layers' colours, which read on white and on a dark page, without the hidden layers.
Picture picture_of(const Drawing& drawing, const std::vector<Layer>& hidden = {});
// The smallest box around lines and texts; nothing when there are none. Throws GeometryError when a number is
// not finite.
std::optional<Box> extents(const Picture& picture);

struct SvgOptions {
  double margin = 10.0;       // mm around the drawing
  std::string title;          // for screen readers and tabs; left out when empty
  std::vector<Layer> hidden;  // of a drawing: layers left out
  bool inside_page = false;   // no styles, no size, tenths of a millimetre: the page that holds it styles it
  std::string overlay{};      // SVG in the picture's coordinates (y up), put on top
};

// The picture to scale as a stand-alone SVG (width and height in mm, y turned), one class per ink; it follows
// the page's colour scheme and styles nothing outside itself. Throws like extents().
std::string svg_of(const Picture& picture, const SvgOptions& options = {});
std::string svg_of(const Drawing& drawing, const SvgOptions& options = {});

}  // namespace linerwright
