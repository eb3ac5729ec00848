// run.json: millimetres, mm2 and degrees; frames and directions have no unit.
#include "linerwright/run/run_json.hpp"
#include "linerwright/job/choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace linerwright {

namespace {

constexpr int k_decimals = 12;  // rings close to less than 1e-9

double degrees(double radians) {
  return radians * 180.0 / k_pi;
}

double circle(double diameter) {
  return 0.25 * k_pi * diameter * diameter;
}

const char* word(PortFlow flow) {
  return flow == PortFlow::in ? "in" : flow == PortFlow::out ? "out" : "unmarked";
}

const char* word(RunFlow flow) {
  switch (flow) {
    case RunFlow::along:
      return "along";
    case RunFlow::against:
      return "against";
    case RunFlow::conflict:
      return "arrows against each other";
    case RunFlow::unmarked:
      break;
  }
  return "unmarked";
}

class Writer {
 public:
  Writer(JsonWriter& json, const LaidRun& run) : json_(json), run_(run) {}

  void write() {
    json_.key("name").text(run_.run.name);
    json_.key("units").text(run_.run.units == Units::inch ? "in" : "mm");
    if (run_.run.from) json_.key("from").text(shown(run_.run.from->part) + ":" + run_.run.from->port);
    number("length", run_.length);
    const RunBox box = box_of(run_);
    json_.key("box").begin_object();
    vector("low", box.low);
    vector("high", box.high);
    json_.end_object();
    list("fittings", run_.fittings, [&](const Placed& placed) { fitting(placed); });
    json_.key("ports").begin_array();
    for (const Placed& placed : run_.fittings)
      for (const std::size_t each : in_order(placed)) port(placed, each);
    json_.end_array();
    list("joints", run_.joints, [&](const RunJoint& each) { joint(each); });
    centreline();
    json_.key("open_ends").begin_array();
    for (const RunPort& end : run_.open_ends) open_end(end);
    json_.end_array();
    bore();
    if (run_.run.close) {
      json_.key("close").begin_object();
      number("miss", run_.miss);
      number("miss_angle", degrees(run_.miss_angle));
      json_.end_object();
    }
    list("branches", run_.branches, [&](const std::pair<std::string, RunPort>& branch) {
      json_.key("run").text(branch.first);
      json_.key("from").text(shown(branch.second.part) + ":" + branch.second.port);
    });
    list("notes", run_.notes, [&](const RunNote& note) {
      json_.key("kind").text(note.kind);
      number("distance", note.distance);
      json_.key("text").text(note.text);
    });
    order();
  }

 private:
  JsonWriter& json_;
  const LaidRun& run_;

  void number(const char* key, double value) { json_.key(key).number(value, k_decimals); }
  void vector(const char* key, Vec3 v) {
    json_.key(key).begin_array();
    for (const double each : {v.x, v.y, v.z}) json_.number(each, k_decimals);
    json_.end_array();
  }
  template <class T, class Write>
  void list(const char* key, const std::vector<T>& values, const Write& write) {
    json_.key(key).begin_array();
    for (const T& value : values) {
      json_.begin_object();
      write(value);
      json_.end_object();
    }
    json_.end_array();
  }
  void part(const RunPart& part) {
    json_.key("tag").text(part.tag);
    json_.key("number").integer(part.number);
  }

  // The port of entry first, the one that the run leaves by last.
  static std::vector<std::size_t> in_order(const Placed& placed) {
    std::vector<std::size_t> ports(placed.ports.size());
    std::iota(ports.begin(), ports.end(), std::size_t{0});
    const auto rank = [&](std::size_t i) { return i == placed.in ? 0 : i == placed.out ? 2 : 1; };
    std::stable_sort(ports.begin(), ports.end(),
                     [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
    return ports;
  }

  void fitting(const Placed& placed) {
    part(placed.part);
    json_.key("kind").text(placed.fitting->kind);
    const auto place = static_cast<std::size_t>(&placed - run_.fittings.data());
    number("turn", degrees(run_.run.steps.at(place).turn));
    const Frame& f = placed.frame;
    const std::array<std::array<double, 4>, 4> rows{{{f.x.x, f.y.x, f.z.x, f.origin.x},
                                                     {f.x.y, f.y.y, f.z.y, f.origin.y},
                                                     {f.x.z, f.y.z, f.z.z, f.origin.z},
                                                     {0.0, 0.0, 0.0, 1.0}}};
    json_.key("frame").begin_array();
    for (const auto& row : rows) {
      json_.begin_array();
      for (const double value : row) json_.number(value, k_decimals);
      json_.end_array();
    }
    json_.end_array();
    const auto way = [&](const char* key, std::optional<std::size_t> index) {
      json_.key(key);
      if (index)
        json_.text(placed.ports[*index].name);
      else
        json_.null();
    };
    way("in", placed.in);
    way("out", placed.out);
    number("from", placed.way.front().distance);
    number("to", placed.way.back().distance);
    json_.key("lined").text(
        word_for(k_lined_choices, placed.lined_after ? Lined::after_joining : Lined::before_joining));
    number("lining_turned", degrees(placed.ring_turn));
  }

  void port(const Placed& placed, std::size_t index) {
    const Port& port = placed.ports[index];
    json_.begin_object();
    part(placed.part);
    json_.key("name").text(port.name);
    vector("position", port.frame.origin);
    vector("direction", port.frame.z);
    number("diameter", port.bare_diameter);
    number("lined_diameter", port.lined_diameter);
    json_.key("flow").text(word(port.flow));
    json_.key("volume_flow");
    if (index < placed.air.size() && placed.air[index]) {
      json_.number(*placed.air[index], k_decimals);
    } else {
      json_.null();
    }
    json_.end_object();
  }

  void open_end(const RunPort& end) {
    for (const Placed& placed : run_.fittings)
      for (std::size_t i = 0; i < placed.ports.size(); ++i)
        if (placed.part == end.part && placed.ports[i].name == end.port) port(placed, i);
  }

  void joint(const RunJoint& joint) {
    json_.key("before").text(shown(run_.fittings[joint.before].part));
    json_.key("after").text(shown(run_.fittings[joint.after].part));
    number("distance", joint.distance);
    vector("position", joint.at);
    number("diameter", joint.diameter);
    number("step", joint.step);
    json_.key("flow").text(word(joint.flow));
    json_.key("seam_apart");
    if (joint.seam_apart) {
      json_.number(degrees(*joint.seam_apart), k_decimals);
    } else {
      json_.null();
    }
    json_.key("made").text(joint.field ? "field" : "shop");
  }

  void centreline() {
    json_.key("centreline").begin_array();
    for (const Placed& placed : run_.fittings)
      for (const WayPoint& point : placed.way) {
        json_.begin_object();
        json_.key("fitting").text(shown(placed.part));
        number("distance", point.distance);
        vector("point", point.point);
        json_.end_object();
      }
    json_.end_array();
  }

  void order() {
    const RunOrder order = order_of(run_);
    list("order", order.steps, [&](const RunStage& step) {
      json_.key("where").text(step.where);
      json_.key("what").text(step.what);
      json_.key("text").text(step.text);
      json_.key("pieces").begin_array();
      for (const std::string& piece : step.pieces) json_.text(piece);
      json_.end_array();
    });
    number("reach", run_.run.reach);
    list("unreached", order.unreached, [&](const Unreached& each) {
      json_.key("piece").text(each.piece);
      number("distance", each.distance);
      json_.key("text").text(each.text);
    });
  }

  void bore() {
    json_.key("bore").begin_array();
    for (const Placed& placed : run_.fittings)
      for (const BorePoint& point : placed.bore) {
        json_.begin_object();
        json_.key("fitting").text(shown(placed.part));
        number("distance", point.distance);
        number("diameter", point.bare_diameter);
        number("lined_diameter", point.lined_diameter);
        number("area", circle(point.bare_diameter));
        number("lined_area", point.lined_area);
        json_.key("place").text(point.place);
        json_.end_object();
      }
    json_.end_array();
  }
};

}  // namespace

void write_run(JsonWriter& json, const LaidRun& run) {
  Writer(json, run).write();
}

}  // namespace linerwright
