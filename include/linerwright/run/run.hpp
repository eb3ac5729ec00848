// Runs of duct: fittings joined port to port, one after the other. A run adds only what needs two fittings:
// places in space, steps of the air face, seams, flow, and the bore from end to end. Positions follow by
// products of frames; nothing is solved.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

// ---- What was asked for

// One of a count of fittings: E-1#2 is the second E-1.
struct RunPart {
  std::string tag;
  long number = 1;
};
bool operator<(const RunPart& a, const RunPart& b);
bool operator==(const RunPart& a, const RunPart& b);
// "E-1", or "E-1#2" for any but the first.
std::string shown(const RunPart& part);

struct RunPort {
  RunPart part;
  std::string port;
};

struct RunStep {
  RunPart part;
  std::string in, out;       // ports; one of them empty where the run begins or ends inside the fitting
  bool said = false;         // the ports are written, and not the usual way from start to end
  double turn = 0.0;         // radians, right-handed about the way on
  bool field = false;        // the joint with the one before is made on site, not in the shop
  bool lined_after = false;  // its liner goes in when it is joined already
};

struct Run {
  std::string name;
  std::string file;
  int line = 0;
  Units units = Units::metric;
  Vec3 at{};
  Vec3 direction{0.0, 0.0, 1.0};  // of any length over 0
  Vec3 up{1.0, 0.0, 0.0};
  std::optional<RunPort> from;  // then it starts there, and not at `at`
  std::vector<RunStep> steps;
  bool close = false;
  std::optional<RunPort> close_to;  // none: the run's own start
  double close_within = 0.0;        // mm
  double close_angle = 0.0;         // radians
  std::optional<double> flow;       // m3/s at its start
  int flow_line = 0;
  std::string flow_written;
  double seam_stagger = 0.0;  // radians, least angle between neighbours' seams
  double reach = 0.0;         // mm, into a duct
};

// The runs of a job: its [[run]] tables, and those that `joins` of its fittings make. What is wrong is
// appended to `problems`, and a run with a mistake is left out.
std::vector<Run> read_runs(const Job& job, std::vector<Problem>& problems);

// ---- Laid in space

// A point of a line of centres.
struct WayPoint {
  Vec3 point;
  double distance;  // mm along the way from its beginning
};
// The bore at a place of the way.
struct BorePoint {
  double distance;
  double bare_diameter;
  double lined_diameter;  // of the circle with the lined area
  double lined_area;      // mm2
  std::string place;      // may be empty
};
// The line of centres of the metal from one port to the other, in the fitting's own coordinates: along the
// walls' axes, of a pressed bend its arc. Between ports that are not start and end the way follows their axes
// to where these are nearest to each other, or to the body's.
std::vector<WayPoint> way_between(const Fitting& fitting, const Port& in, const Port& out);
// The bore along that way; its ends are the ports. A branch's section begins where its axis meets the body's.
std::vector<BorePoint> bore_between(const Fitting& fitting, const Port& in, const Port& out);

// A fitting in its place.
struct Placed {
  RunPart part;
  std::shared_ptr<const Fitting> fitting;
  Frame frame;              // of its own coordinates, in space
  std::vector<Port> ports;  // in space
  // Indices of the ports that the run goes through; none: it begins or ends here, by its one port.
  std::optional<std::size_t> in, out;
  const Port& only_port() const { return ports[in ? *in : out.value_or(0)]; }
  bool field = false, lined_after = false;  // as RunStep
  double ring_turn = 0.0;  // radians, by which a straight's lining is turned about its axis to stagger seams
  std::vector<WayPoint> way;  // in space; distances from the run's start
  std::vector<BorePoint> bore;
  std::vector<bool> joined;                // by port: a fitting of some run stands there
  std::vector<std::optional<double>> air;  // m3/s out of each port, carry_air(); none: not known
};

enum class RunFlow { along, against, conflict, unmarked };

// What stands where two fittings meet.
struct RunJoint {
  std::size_t before, after;  // indices of the fittings; the last joint of a closed run comes back to 0
  double distance;            // mm from the run's start
  Vec3 at;
  double diameter;  // mm, of the metal
  double step;      // mm by which the air face stands further in after the joint; negative: further out
  RunFlow flow;
  std::optional<double> seam_apart;  // radians between the nearest seams of the two sides
  bool field = false;
};

// What a person should know about a run.
struct RunNote {
  std::string kind;  // "step", "thickness", "flow", "seam", "nosing"
  double distance;   // mm from the run's start
  std::string text;  // one line
};

struct LaidRun {
  Run run;
  std::vector<Placed> fittings;
  std::vector<RunJoint> joints;
  std::vector<RunNote> notes;
  double length = 0.0;                  // mm along the line of centres
  double miss = 0.0, miss_angle = 0.0;  // of a closed run: mm and radians
  std::vector<RunPort> open_ends;       // ports that nothing is joined to, of all runs together
  std::vector<std::pair<std::string, RunPort>> branches;  // runs that start at a port of this one
};

// The fitting with this tag; null where it was not made.
using FittingWithTag = std::function<std::shared_ptr<const Fitting>(const std::string& tag)>;

// All runs laid in space. A run that does not hold together (no such port, a port taken twice, unlike
// diameters, an end that misses what it must meet, a fitting that was not made) is left out with what starts
// from it, and the reason appended to `problems`.
std::vector<LaidRun> lay_runs(const std::vector<Run>& runs, const FittingWithTag& fitting_with_tag,
                              std::vector<Problem>& problems);

// ---- Air carried along

// Flows that fittings, branches and runs state, carried from port to port of all runs that hang together:
// what goes into a fitting comes out of it. Where none reaches the start of the first run, it begins with
// `job_flow`. Two that do not agree within a two-hundredth, which written figures may differ by, are a
// mistake with both places: those runs are left out, and the reason appended to `problems`.
void carry_air(std::vector<LaidRun>& runs, std::optional<double> job_flow, std::vector<Problem>& problems);

// The fitting as the air meets it in its place: flows and the way they go, and lined neighbours where it
// comes in and goes out. What is not known is not in it.
Fitting in_its_air(const Placed& placed);

// Of a fitting's places the one with the most air, as in_its_air() has it, and in words how much there is in
// the others; nothing where none of them knows its air.
struct AirOfTag {
  Fitting fitting;
  std::string note;  // empty where all have the same
};
std::optional<AirOfTag> most_air(const std::vector<const Placed*>& places);

// ---- The order of work

struct RunStage {
  std::string where;                // "shop" or "field"
  std::string what;                 // "line" or "join"
  std::string text;                 // in words
  std::vector<std::string> pieces;  // labels, in the order in which they go in
};
// A piece that goes in when its fitting is joined, and lies farther from every open end than a person
// reaches.
struct Unreached {
  std::string piece;
  double distance;  // mm, infinite where no end is open
  std::string text;
};
struct RunOrder {
  std::vector<RunStage> steps;
  std::vector<Unreached> unreached;
};
// Fittings are lined before they are joined, or afterwards where they say so; shop joints come before field
// joints.
RunOrder order_of(const LaidRun& run);

// `inner` placed in `outer`, and the frame that undoes `frame`.
Frame composed(const Frame& outer, const Frame& inner);
Frame inverse(const Frame& frame);

// Corners of the box around all ports' rims and lines of centres, mm: a bound of the metal's inside to within
// the bulge of bends.
struct RunBox {
  Vec3 low, high;
};
RunBox box_of(const LaidRun& run);

}  // namespace linerwright
