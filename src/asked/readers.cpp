// DXF: pairs of lines, a group code and its value; 0 begins an entity, 8 is its layer, 10/20 a point, 70 bit
// 1 closes a polyline, 999 is a comment, 9 names a header variable (DXF reference, group codes in numerical
// order). STL: 80 bytes, a count, then 50 bytes a facet: normal, three corners as 32-bit floats, two bytes
// more.
#include "readers.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <cstring>

#include "plain_number.hpp"

namespace linerwright::asked {

namespace {

struct Group {
  int code = 0;
  std::string value;
};

std::string_view trimmed_line(std::string_view line) {
  while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) line.remove_suffix(1);
  return line;
}

std::vector<Group> groups_of(const std::string& text, const std::string& name) {
  std::vector<Group> groups;
  std::size_t at = 0;
  const auto line = [&](std::string_view& out) {
    if (at >= text.size()) return false;
    const std::size_t end = std::min(text.find('\n', at), text.size());
    out = trimmed_line(std::string_view(text).substr(at, end - at));
    at = end + 1;
    return true;
  };
  std::string_view code;
  std::string_view value;
  while (line(code)) {
    if (code.empty() && at >= text.size()) break;
    if (!line(value)) throw Unreadable(name + " ends inside a group");
    while (!code.empty() && code.front() == ' ') code.remove_prefix(1);
    Group group;
    if (std::from_chars(code.data(), code.data() + code.size(), group.code).ec != std::errc())
      throw Unreadable(name + " holds a group code that is no number");
    if (group.code < 0 || group.code > 1071)
      throw Unreadable(name + " holds the group code " + std::to_string(group.code) + ", which is none");
    group.value = std::string(value);
    groups.push_back(std::move(group));
  }
  return groups;
}

double number_in(const Group& group, const std::string& name) {
  double value = 0.0;
  std::string_view text = group.value;
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  if (read_plain_number(text, value) == 0) throw Unreadable(name + " holds a coordinate that is no number");
  return value;
}

// Adds what a group says to the entity it belongs to.
void take(Entity& entity, const Group& group, double unit, const std::string& name) {
  if (group.code == 8) entity.layer = group.value;
  if (group.code == 1) entity.text = group.value;
  if (group.code == 10 || (group.code == 11 && entity.type == "LINE"))
    entity.points.push_back({unit * number_in(group, name), 0.0});
  if ((group.code == 20 || (group.code == 21 && entity.type == "LINE")) && !entity.points.empty())
    entity.points.back()[1] = unit * number_in(group, name);
  if (group.code == 70 && entity.type != "TEXT")
    entity.closed = (static_cast<int>(number_in(group, name)) & 1) != 0;
}

// "layer CUT: KNIFE" among the comments: what the file calls KNIFE is our layer CUT.
void to_our_layers(Drawn& drawn) {
  const std::string head = "layer ";
  for (const std::string& comment : drawn.comments) {
    const std::size_t colon = comment.find(": ");
    if (comment.compare(0, head.size(), head) != 0 || colon == std::string::npos) continue;
    const std::string own = comment.substr(colon + 2);
    const std::string ours = comment.substr(head.size(), colon - head.size());
    std::replace(drawn.layers.begin(), drawn.layers.end(), own, ours);
    for (Entity& entity : drawn.entities)
      if (entity.layer == own) entity.layer = ours;
  }
}

}  // namespace

Drawn read_drawn(const std::string& bytes, const std::string& name, double unit) {
  Drawn drawn;
  drawn.mm = unit;
  std::string section;
  std::string variable;
  bool in_polyline = false;  // R12: vertices follow as entities of their own
  std::string table_record;
  for (const Group& group : groups_of(bytes, name)) {
    if (group.code == 999) {
      drawn.comments.push_back(group.value);
    } else if ((group.code == 2 && section == "SECTION") ||
               (group.code == 0 && (group.value == "SECTION" || group.value == "ENDSEC"))) {
      section = group.value;
    } else if (section == "HEADER") {
      if (group.code == 9)
        variable = group.value;
      else
        drawn.header.emplace(variable, group.value);
    } else if (section == "TABLES") {
      if (group.code == 0) table_record = group.value;
      if (group.code == 2 && table_record == "LAYER") drawn.layers.push_back(group.value);
    } else if (section == "ENTITIES" && group.code == 0) {
      const bool vertex = group.value == "VERTEX" && in_polyline;
      if (group.value == "SEQEND") in_polyline = false;
      if (group.value == "POLYLINE") in_polyline = true;
      if (vertex && drawn.entities.back().points.empty()) drawn.entities.back().points.reserve(64);
      if (!vertex && group.value != "SEQEND") drawn.entities.push_back({group.value, {}, {}, false, {}});
      table_record = vertex ? "VERTEX" : group.value;
    } else if (section == "ENTITIES" && !drawn.entities.empty()) {
      Entity& entity = drawn.entities.back();
      const bool head = table_record == "POLYLINE";  // its own 10/20 is no vertex, its 70 the closing bit
      if (table_record == "SEQEND" || (head && (group.code == 10 || group.code == 20))) continue;
      if (table_record == "VERTEX" && group.code != 10 && group.code != 20) continue;
      take(entity, group, unit, name);
    }
  }
  to_our_layers(drawn);
  return drawn;
}

std::vector<Facet> read_facets(const std::string& bytes, const std::string& name) {
  std::uint32_t count = 0;
  if (bytes.size() < 84) throw Unreadable(name + " is shorter than the head of an STL file");
  std::memcpy(&count, bytes.data() + 80, 4);
  if (bytes.size() != 84u + std::size_t{50} * count)
    throw Unreadable(name + " is not as long as its count of facets asks");
  std::vector<Facet> facets(count);
  for (std::size_t i = 0; i < count; ++i) {
    float numbers[12];
    std::memcpy(numbers, bytes.data() + 84 + 50 * i, sizeof numbers);
    for (std::size_t corner = 0; corner < 3; ++corner)
      for (std::size_t k = 0; k < 3; ++k) {
        const double value = static_cast<double>(numbers[3 + 3 * corner + k]);
        if (!std::isfinite(value)) throw Unreadable(name + " holds a coordinate that is no number");
        facets[i].corner[corner][k] = value;
      }
  }
  return facets;
}

double volume_of(const std::vector<Facet>& facets) {
  double six = 0.0;
  for (const Facet& facet : facets)
    six += along(facet.corner[0], square_to(facet.corner[1], facet.corner[2]));
  return six / 6.0;
}

double surface_of(const std::vector<Facet>& facets) {
  double twice = 0.0;
  for (const Facet& facet : facets)
    twice += size(square_to(facet.corner[1] - facet.corner[0], facet.corner[2] - facet.corner[0]));
  return twice / 2.0;
}

}  // namespace linerwright::asked
