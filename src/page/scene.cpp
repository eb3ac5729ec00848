#include "scene.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <optional>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "linerwright/units/json.hpp"
#include "words.hpp"

namespace linerwright {

namespace {

// One of the three columns that numbers stand in by threes: how many digits each has, then of all the lowest
// digit, of all the next ... Digits are those of base64 (RFC 4648), 64 of them, the sign is the lowest bit. A
// number is told by its difference from the one above it: of a point's neighbour beside it on a wall little
// is left, and digits of the same weight side by side pack twice as well as numbers one by one.
std::string column(const std::vector<long>& numbers, std::size_t first) {
  std::vector<unsigned long> left;
  unsigned long all = 0;
  for (std::size_t i = first; i < numbers.size(); i += 3) {
    const long step = numbers[i] - (i < 3 ? 0 : numbers[i - 3]);
    left.push_back(step < 0 ? ((0ul - static_cast<unsigned long>(step)) << 1u) - 1
                            : static_cast<unsigned long>(step) << 1u);
    all |= left.back();
  }
  std::size_t digits = 1;
  while (all >> (6 * digits)) ++digits;
  std::string out(1, k_base64_digits[digits]);
  for (std::size_t d = 0; d < digits; ++d)
    for (const unsigned long number : left) out += k_base64_digits[number >> (6 * d) & 63u];
  return out;
}

void write_columns(JsonWriter& json, const char* key, const std::vector<long>& numbers) {
  json.key(key).begin_array();
  for (const std::size_t first : {0u, 1u, 2u}) json.text(column(numbers, first));
  json.end_array();
}

struct Bounds {
  Vec3 low{1e300, 1e300, 1e300};
  Vec3 high{-1e300, -1e300, -1e300};

  void add(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  double largest_side() const {
    const Vec3 size = high - low;
    return std::max({size.x, size.y, size.z});
  }
  Vec3 middle() const { return 0.5 * (low + high); }
};

Bounds bounds_of(const Mesh& mesh) {
  Bounds bounds;
  for (const Vec3 p : mesh.points) bounds.add(p);
  return bounds;
}

// Joints between the wall of the first piece that goes in and each wall; none where no way leads to it.
std::vector<std::optional<int>> walls_from_first(const Fitting& fitting) {
  std::vector<std::optional<int>> away(fitting.walls.size());
  if (fitting.insertion.empty()) return away;
  const auto joints_of_wall = [&](int wall) {
    std::vector<int> joints;
    for (const JointUse& use : joints_of(fitting.wall(wall))) joints.push_back(use.joint);
    return joints;
  };
  std::deque<int> queue;
  for (int layer = 0; layer < layer_count(fitting); ++layer) {
    const auto first = std::find_if(fitting.insertion.begin(), fitting.insertion.end(), [&](int index) {
      const int wall = fitting.piece(index).wall;
      return fitting.wall(wall).layer == layer;
    });
    queue.push_back(fitting.piece(*first).wall);
    away[static_cast<std::size_t>(queue.back())] = 0;
  }
  for (; !queue.empty(); queue.pop_front())
    for (const int joint : joints_of_wall(queue.front()))
      for (int other = 0; other < static_cast<int>(fitting.walls.size()); ++other) {
        const std::vector<int> theirs = joints_of_wall(other);
        if (away[static_cast<std::size_t>(other)] ||
            std::find(theirs.begin(), theirs.end(), joint) == theirs.end())
          continue;
        away[static_cast<std::size_t>(other)] = *away[static_cast<std::size_t>(queue.front())] + 1;
        queue.push_back(other);
      }
  return away;
}

// Pieces leave along their own axis, away from the piece that goes in first, the further the more joints lie
// between; panels also leave one another.
Vec3 way_apart(const Fitting& fitting, const Piece& piece, const std::vector<std::optional<int>>& away,
               Vec3 from_first, double size) {
  const Wall& wall = fitting.wall_of(piece);
  const Vec3 axis = wall.sheet.frame().z;
  const double sign = dot(axis, from_first) < 0.0 ? -1.0 : 1.0;
  Vec3 way = (0.4 * size * sign * away[static_cast<std::size_t>(piece.wall)].value_or(0)) * axis;
  if (!piece.full_turn()) way = way + 0.15 * size * wall.sheet.normal(piece.seam + 0.5 * piece.span);
  return way;
}

std::vector<std::string> lines_about(const FittingPage& page, const PagePart& part) {
  const Fitting& fitting = page.fitting;
  const auto shown = [&](double mm) { return length_text(fitting, mm); };
  std::vector<std::string> lines;
  if (part.role == PartRole::liner) {
    const Piece& piece = fitting.piece(part.piece.value());
    lines.push_back(fmt::format("{}, goes in as number {} of {}", piece_name(fitting, piece),
                                insertion_rank(fitting, part.piece.value()), fitting.pieces.size()));
    if (const Pattern* pattern = pattern_of(page.patterns, part.piece.value()))
      lines.push_back(fmt::format("board {} around, {} along{}", shown(pattern->board.x),
                                  shown(pattern->board.y),
                                  pattern->pieces.size() > 1 ? ", cut in one with its neighbour" : ""));
    lines.push_back(shown(liner_of(fitting, piece).thickness) + " thick");
    lines.push_back("seam: " + piece.seam_place);
    for (const RulingMark& mark : piece.marks) lines.push_back("mark: " + mark.name);
  } else {
    for (const Passage& passage : fitting.passages) {
      const auto diameter = [&](const Station& station) {
        return shown(part.role == PartRole::metal ? station.bare_diameter : station.lined_diameter);
      };
      lines.push_back(fmt::format("{}: {} inside at {}, {} at {}", passage.name,
                                  diameter(passage.stations.front()), passage.stations.front().place,
                                  diameter(passage.stations.back()), passage.stations.back().place));
    }
    if (part.role == PartRole::metal) lines.push_back(shown(fitting.liner.gauge) + " sheet");
  }
  return lines;
}

// At the stations of a branch, along its duct face from the square end to the saddle.
void write_heights(JsonWriter& json, const Fitting& fitting, const Piece& piece) {
  if (!has_saddle(fitting, piece)) return;
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  const double depth = liner_of(fitting, piece).outer_depth;
  const int count = fitting.liner.stations;
  json.key("heights").begin_array();
  for (int i = 0; i < count; ++i) {
    const double theta = piece.seam + piece.span * i / count;
    json.begin_object();
    double height = 0.0;
    for (const End end : {End::high, End::low}) {
      const double v = liner_end(fitting, piece.wall, end, theta, depth);
      height += end == End::high ? v : -v;
      const Vec3 p = sheet.point(theta, v, depth);
      json.key(end == End::high ? "from" : "to")
          .begin_array()
          .number(p.x, 3)
          .number(p.y, 3)
          .number(p.z, 3)
          .end_array();
    }
    json.key("mm").number(height, 4);
    json.end_object();
  }
  json.end_array();
}

}  // namespace

void write_mesh(JsonWriter& json, const Mesh& mesh, Vec3 origin, double step) {
  std::vector<long> points;
  points.reserve(mesh.points.size() * 3);
  for (const Vec3 p : mesh.points)
    for (const double along : {p.x - origin.x, p.y - origin.y, p.z - origin.z})
      points.push_back(std::lround(along / step));
  std::vector<long> triangles;
  triangles.reserve(mesh.triangles.size() * 3);
  for (const auto& triangle : mesh.triangles)
    for (const int corner : triangle) triangles.push_back(corner);
  json.begin_object();
  json.key("origin").begin_array().number(origin.x).number(origin.y).number(origin.z).end_array();
  json.key("step").number(step, 12);
  write_columns(json, "points", points);
  write_columns(json, "triangles", triangles);
  json.end_object();
}

std::string part_title(const Fitting& fitting, const PagePart& part) {
  if (part.role == PartRole::metal)
    return part.piece ? fmt::format("metal {}", *part.piece + 1) : std::string("metal");
  if (part.role == PartRole::bore) return "bore";
  return "liner " + fitting.piece(part.piece.value()).id;
}

std::string scene_json(const FittingPage& page) {
  const Fitting& fitting = page.fitting;
  Bounds all;
  std::vector<Bounds> each;
  Vec3 first{};
  double size = 0.0;
  for (const Passage& passage : fitting.passages)
    for (const Station& station : passage.stations) size = std::max(size, station.bare_diameter);
  for (const PagePart& part : page.parts) {
    each.push_back(bounds_of(*part.mesh));
    all.add(each.back().low);
    all.add(each.back().high);
    if (!fitting.insertion.empty() && part.role == PartRole::liner && part.piece == fitting.insertion.front())
      first = each.back().middle();
  }
  const std::vector<std::optional<int>> away = walls_from_first(fitting);

  JsonWriter json;
  json.begin_object();
  json.key("axis").integer(1);  // elbows bend and branches leave in the plane y = 0
  json.key("unit").begin_object();
  json.key("name").text(unit_text(fitting));
  json.key("mm").number(from_units(Quantity::length, 1.0, fitting.units));
  json.key("decimals").integer(fitting.units == Units::inch ? 2 : 1);
  json.end_object();
  json.key("parts").begin_array();
  for (std::size_t i = 0; i < page.parts.size(); ++i) {
    const PagePart& part = page.parts[i];
    Vec3 apart{};
    if (part.role == PartRole::liner)
      apart = way_apart(fitting, fitting.piece(part.piece.value()), away, each[i].middle() - first, size);
    json.begin_object();
    json.key("role").text(part.role == PartRole::metal   ? "metal"
                          : part.role == PartRole::liner ? "liner"
                                                         : "bore");
    json.key("title").text(part_title(fitting, part));
    if (part.role == PartRole::liner) {
      const Piece& piece = fitting.piece(part.piece.value());
      json.key("id").text(piece.id);
      write_heights(json, fitting, piece);
    }
    json.key("lines").begin_array();
    for (const std::string& line : lines_about(page, part)) json.text(line);
    json.end_array();
    json.key("apart").begin_array().number(apart.x, 3).number(apart.y, 3).number(apart.z, 3).end_array();
    json.key("mesh");
    write_mesh(json, *part.mesh, all.low, all.largest_side() / 65535.0);
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.str();
}

}  // namespace linerwright
