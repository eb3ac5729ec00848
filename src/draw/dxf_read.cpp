#include <cmath>
#include <istream>
#include <map>

#include "dxf_groups.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/units/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

// Builds the file from its records; a record (entity, table entry, object) runs from its group 0 to the next.
class Reader {
 public:
  Reader(std::istream& in, const std::string& name) : groups_(in, name) {}

  DxfFile read() {
    bool sections = false;
    for (;;) {
      if (groups_.ended()) groups_.fail(groups_.peek().line, "", "the file is cut short: it has no EOF");
      const Group group = groups_.next();
      if (group.code == 999) {
        comment(group.value);
        continue;
      }
      if (group.code != 0) groups_.fail(group.line, group.value, "a section belongs here");
      const std::string_view kind = without_spaces(group.value);
      if (kind == "EOF") break;
      if (kind != "SECTION") groups_.fail(group.line, group.value, "a section belongs here");
      section();
      sections = true;
    }
    if (!sections) groups_.fail(groups_.peek().line, "", "the file holds no section");
    to_millimetres();
    to_our_layers();
    return std::move(file_);
  }

 private:
  // Counts what is kept, so that no file fills the memory.
  void admit(std::size_t items) {
    items_ += items;
    if (items_ > k_most_in_dxf)
      groups_.fail(groups_.peek().line, "",
                   "the file holds more than any pattern: too many points or entities");
  }
  void admit_entity() { admit(8); }

  void comment(const std::string& text) {
    admit_entity();
    file_.comments.push_back(text);
    // R12 cannot state its units in the header, so our files state them here.
    if (file_.units != DxfUnits::unstated) return;
    if (text == "units: millimetres") file_.units = DxfUnits::millimetre;
    if (text == "units: inches") file_.units = DxfUnits::inch;
  }

  // The next group of the present record; nothing at the next group 0.
  std::optional<Group> next_of_record() {
    for (;;) {
      if (groups_.ended()) groups_.fail(groups_.peek().line, "", "the file is cut short inside a section");
      if (groups_.peek().code == 0) return std::nullopt;
      Group group = groups_.next();
      if (group.code != 999) return group;
      comment(group.value);
    }
  }

  // The name of the next record in the section; nothing at its end.
  std::optional<Group> next_record() {
    while (next_of_record()) {
    }
    Group group = groups_.next();
    group.value = std::string(without_spaces(group.value));
    if (group.value == "ENDSEC") return std::nullopt;
    if (group.value == "EOF" || group.value == "SECTION") {
      groups_.fail(group.line, group.value, "the section before this has no ENDSEC");
    }
    return group;
  }

  void section() {
    const std::optional<Group> name = next_of_record();
    if (!name || name->code != 2) groups_.fail(groups_.peek().line, "", "the section has no name");
    const std::string_view kind = without_spaces(name->value);
    if (kind == "HEADER") {
      header();
    } else if (kind == "ENTITIES") {
      entities();
    } else {
      while (const std::optional<Group> record = next_record()) {
        if (kind == "TABLES" && record->value == "LAYER") {
          layer();
        } else if (kind != "CLASSES" && kind != "THUMBNAILIMAGE" && kind != "ACDSDATA") {
          skip(record->value);
        }
      }
    }
  }

  void header() {
    std::string variable;
    Box extents;
    bool low = false;
    bool high = false;
    while (const std::optional<Group> group = next_of_record()) {
      if (group->code == 9) variable = std::string(without_spaces(group->value));
      if (variable == "$ACADVER" && group->code == 1)
        file_.version = std::string(without_spaces(group->value));
      if (variable == "$INSUNITS" && group->code == 70) units(groups_.integer(*group));
      if (variable == "$MEASUREMENT" && group->code == 70) file_.measurement = groups_.integer(*group);
      low = coordinate(*group, variable == "$EXTMIN", extents.low) || low;
      high = coordinate(*group, variable == "$EXTMAX", extents.high) || high;
    }
    // programs that do not know them turn them inside out: from 1e20 to -1e20
    const bool stated = extents.low.x <= extents.high.x && extents.low.y <= extents.high.y;
    if (low && high && stated) file_.extents = extents;
    if (next_record()) groups_.fail(groups_.peek().line, "", "the header has no ENDSEC");
  }

  void units(int code) {
    file_.units = code == 0   ? DxfUnits::unstated
                  : code == 1 ? DxfUnits::inch
                  : code == 4 ? DxfUnits::millimetre
                              : DxfUnits::other;
  }

  // Takes groups 10 and 20 into `p`; true when it did.
  bool coordinate(const Group& group, bool wanted, Vec2& p, int code = 10) const {
    if (!wanted || (group.code != code && group.code != code + 10)) return false;
    (group.code == code ? p.x : p.y) = groups_.number(group);
    return true;
  }

  void layer() {
    DxfLayer layer;
    admit_entity();
    while (const std::optional<Group> group = next_of_record()) {
      if (group->code == 2) layer.name = std::string(without_spaces(group->value));
      if (group->code == 62) layer.colour = groups_.integer(*group);
      keep_handle(*group);
    }
    file_.layers.push_back(layer);
  }

  // Passes over a record, keeping its handle. A dimension style's handle has a code of its own, because its
  // group 5 names a block; whatever stands inside another program's brackets (102) is not the record's own.
  void skip(const std::string& kind) {
    const int code = kind == "DIMSTYLE" ? 105 : 5;
    bool foreign = false;
    while (const std::optional<Group> group = next_of_record()) {
      if (group->code == 102) foreign = !group->value.empty() && group->value.front() == '{';
      if (!foreign && group->code == code) keep_handle(*group, code);
    }
  }

  void keep_handle(const Group& group, int code = 5) {
    if (group.code != code) return;
    admit(1);
    file_.handles.push_back({groups_.handle(group), group.line});
  }

  void entities() {
    while (const std::optional<Group> record = next_record()) {
      admit_entity();
      if (record->value == "LWPOLYLINE") {
        light_polyline(*record);
      } else if (record->value == "POLYLINE") {
        polyline(*record);
      } else if (record->value == "LINE") {
        straight(*record);
      } else if (record->value == "TEXT") {
        text(*record);
      } else if (record->value == "VERTEX" || record->value == "SEQEND") {
        groups_.fail(record->line, record->value, "stands outside a POLYLINE");
      } else {
        other(*record);
      }
    }
  }

  static DxfPolyline begun(const Group& record) {
    DxfPolyline line;
    line.line = record.line;
    line.kind = record.value;
    return line;
  }

  // What all entities share: layer, handle, and whether it is seen from below (then x is turned round).
  void common(const Group& group, std::string& layer, bool& mirrored) {
    if (group.code == 8) layer = std::string(without_spaces(group.value));
    if (group.code == 230) mirrored = groups_.number(group) < 0.0;
    keep_handle(group);
  }

  static void turn_round(std::vector<Vec2>& points, bool mirrored) {
    for (Vec2& p : points) p.x = mirrored ? -p.x : p.x;
  }

  void light_polyline(const Group& record) {
    DxfPolyline line = begun(record);
    bool mirrored = false;
    while (const std::optional<Group> group = next_of_record()) {
      common(*group, line.layer, mirrored);
      if (group->code == 70) line.closed = (groups_.integer(*group) & 1) != 0;
      if (group->code == 42 && groups_.number(*group) != 0.0) line.curved = true;
      if (group->code == 10) {
        admit(1);
        line.points.push_back({groups_.number(*group), 0.0});
      }
      if (group->code == 20) {
        if (line.points.empty()) groups_.fail(group->line, group->value, "y stands before x");
        line.points.back().y = groups_.number(*group);
      }
    }
    turn_round(line.points, mirrored);
    file_.lines.push_back(std::move(line));
  }

  void polyline(const Group& record) {
    constexpr int k_meshes = 16 | 64;  // of the flags: a surface, not a line
    constexpr int k_control_point = 16;
    DxfPolyline line = begun(record);
    bool mirrored = false;
    int flags = 0;
    while (const std::optional<Group> group = next_of_record()) {
      common(*group, line.layer, mirrored);
      if (group->code == 70) flags = groups_.integer(*group);
    }
    line.closed = (flags & 1) != 0;
    for (;;) {
      const std::optional<Group> part = next_record();
      if (!part || (part->value != "VERTEX" && part->value != "SEQEND")) {
        groups_.fail(record.line, "", "the POLYLINE that starts here has no SEQEND");
      }
      if (part->value == "SEQEND") break;
      vertex(line, k_control_point);
    }
    skip("SEQEND");
    turn_round(line.points, mirrored);
    if ((flags & k_meshes) != 0) {
      file_.others.push_back({record.line, record.value, line.layer});
    } else {
      file_.lines.push_back(std::move(line));
    }
  }

  void vertex(DxfPolyline& line, int control_point) {
    Vec2 p;
    int flags = 0;
    while (const std::optional<Group> group = next_of_record()) {
      coordinate(*group, true, p);
      if (group->code == 70) flags = groups_.integer(*group);
      if (group->code == 42 && groups_.number(*group) != 0.0) line.curved = true;
      keep_handle(*group);
    }
    admit(1);
    if ((flags & control_point) == 0) line.points.push_back(p);
  }

  void straight(const Group& record) {
    DxfPolyline line = begun(record);
    line.points.resize(2);
    bool mirrored = false;  // a LINE stands in space as it is
    while (const std::optional<Group> group = next_of_record()) {
      common(*group, line.layer, mirrored);
      coordinate(*group, true, line.points[0]);
      coordinate(*group, true, line.points[1], 11);
    }
    file_.lines.push_back(std::move(line));
  }

  void text(const Group& record) {
    DxfText text;
    text.line = record.line;
    bool mirrored = false;
    int across = 0;
    int upward = 0;
    Vec2 aligned;
    while (const std::optional<Group> group = next_of_record()) {
      common(*group, text.layer, mirrored);
      coordinate(*group, true, text.at);
      coordinate(*group, true, aligned, 11);
      if (group->code == 40) text.height = groups_.number(*group);
      if (group->code == 50) text.angle = groups_.number(*group) * k_pi / 180.0;
      if (group->code == 1) text.text = dxf_unescaped(group->value);
      if (group->code == 72) across = groups_.integer(*group);
      if (group->code == 73) upward = groups_.integer(*group);
    }
    text.centred = across == 1 || across == 4;
    if (across != 0 || upward != 0) text.at = aligned;
    if (mirrored) text.at.x = -text.at.x;
    file_.texts.push_back(std::move(text));
  }

  void other(const Group& record) {
    DxfOther other{record.line, record.value, ""};
    bool mirrored = false;
    while (const std::optional<Group> group = next_of_record()) common(*group, other.layer, mirrored);
    file_.others.push_back(std::move(other));
  }

  void to_millimetres() {
    if (file_.units != DxfUnits::inch) return;
    const double inch = from_units(Quantity::length, 1.0, Units::inch);
    const auto scale = [&](Vec2& p) { p = inch * p; };
    for (DxfPolyline& line : file_.lines) {
      for (Vec2& p : line.points) scale(p);
    }
    for (DxfText& text : file_.texts) {
      scale(text.at);
      text.height *= inch;
    }
    if (file_.extents) {
      scale(file_.extents->low);
      scale(file_.extents->high);
    }
  }

  // A file whose layers have names of the user's own says in its comments which of ours they are.
  void to_our_layers() {
    std::map<std::string, std::string> ours;
    for (const std::string& comment : file_.comments) {
      if (comment.rfind("layer ", 0) != 0) continue;
      const std::size_t colon = comment.find(": ");
      if (colon == std::string::npos || !layer_named(comment.substr(6, colon - 6))) continue;
      ours[comment.substr(colon + 2)] = comment.substr(6, colon - 6);
    }
    if (ours.empty()) return;
    const auto rename = [&](std::string& layer) {
      if (const auto found = ours.find(layer); found != ours.end()) layer = found->second;
    };
    for (DxfLayer& layer : file_.layers) rename(layer.name);
    for (DxfPolyline& line : file_.lines) rename(line.layer);
    for (DxfText& text : file_.texts) rename(text.layer);
    for (DxfOther& other : file_.others) rename(other.layer);
  }

  Groups groups_;
  DxfFile file_;
  std::size_t items_ = 0;
};

}  // namespace

DxfFile read_dxf(std::istream& in, const std::string& name) {
  return Reader(in, name).read();
}

}  // namespace linerwright
