// STL: binary out, binary and text in. The layout is the one every reader knows: 80 bytes of header, a count,
// and 50 bytes a facet, little-endian (P. Bourke, "STL format").
#include <cmath>
#include <cstdint>
#include <cstring>
#include <istream>
#include <limits>
#include <unordered_map>

#include <fmt/format.h>

#include "linerwright/mesh/placed_meshes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_double.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_header = 80;
constexpr std::size_t k_facet = 50;
// More facets than this are refused: none of ours come near, and they would fill the memory. A facet of a
// text file takes some 200 bytes.
constexpr std::uint64_t k_most_facets = 1'500'000;
constexpr std::uint64_t k_longest_text = 200 * k_most_facets;

using Corner = std::array<float, 3>;

void put_u32(std::string& out, std::uint32_t value) {
  for (unsigned shift = 0; shift < 32; shift += 8)
    out += static_cast<char>(static_cast<unsigned char>((value >> shift) & 0xFFU));
}

void put_float(std::string& out, float value) {
  std::uint32_t bits = 0;
  const float plain = value == 0.0F ? 0.0F : value;  // no negative zero
  std::memcpy(&bits, &plain, sizeof bits);
  put_u32(out, bits);
}

std::uint32_t get_u32(const char* at) {
  std::uint32_t value = 0;
  for (unsigned i = 0; i < 4; ++i)
    value |= static_cast<std::uint32_t>(static_cast<unsigned char>(at[i])) << (8 * i);
  return value;
}

float get_float(const char* at) {
  const std::uint32_t bits = get_u32(at);
  float value = 0.0F;
  std::memcpy(&value, &bits, sizeof value);
  return value;
}

// What rounding leaves of a zero is none: points at one place, which single precision makes one elsewhere,
// are one there, too.
float single(double value) {
  constexpr double k_nothing = 1e-9;  // mm
  return std::fabs(value) < k_nothing ? 0.0F : static_cast<float>(value);
}

Corner corner_of(Vec3 p) {
  return {single(p.x), single(p.y), single(p.z)};
}

Vec3 point_of_corner(const Corner& c) {
  return {static_cast<double>(c[0]), static_cast<double>(c[1]), static_cast<double>(c[2])};
}

std::string header_of(const std::string& title) {
  // not "solid": readers take that for a text file
  std::string header = "Linerwright, millimetres: ";
  for (const char c : title) header += (c >= ' ' && c <= '~') ? c : '_';
  header.resize(k_header, ' ');
  return header;
}

// Facets as they come in, corners welded where equal.
class Collector {
 public:
  explicit Collector(const std::string& name) : name_(name) {}

  [[noreturn]] void fail(const std::string& why, int line = 0) const {
    Problem problem;
    problem.file = name_;
    problem.line = line;
    problem.reason = why;
    throw InputError({problem});
  }

  void add(const std::array<Corner, 3>& corners, int line = 0) {
    if (++facets_ > k_most_facets) fail("more facets than any solid of this program has", line);
    std::array<int, 3> triangle{};
    for (std::size_t k = 0; k < 3; ++k) {
      for (const float value : corners[k])
        if (!std::isfinite(value)) fail("a corner is not a number", line);
      triangle[k] = weld(corners[k]);
    }
    // a facet whose corners fall together has no edge left to share
    if (triangle[0] != triangle[1] && triangle[1] != triangle[2] && triangle[2] != triangle[0])
      mesh.triangles.push_back(triangle);
  }

  Mesh mesh;

 private:
  struct Hash {
    std::size_t operator()(const Corner& c) const {
      std::uint64_t h = 1469598103934665603ULL;
      for (const float value : c) {
        std::uint32_t bits = 0;
        std::memcpy(&bits, &value, sizeof bits);
        h = (h ^ bits) * 1099511628211ULL;
        h ^= h >> 29U;
      }
      return static_cast<std::size_t>(h);
    }
  };

  int weld(Corner corner) {
    for (float& value : corner)
      if (value == 0.0F) value = 0.0F;  // negative zero is zero
    const auto [found, fresh] = index_.emplace(corner, static_cast<int>(mesh.points.size()));
    if (fresh) mesh.points.push_back(point_of_corner(corner));
    return found->second;
  }

  std::string name_;
  std::uint64_t facets_ = 0;
  std::unordered_map<Corner, int, Hash> index_;
};

// Words of a text file with the line they stand on.
class Words {
 public:
  Words(std::istream& in, const Collector& collector) : in_(in), collector_(collector) {}

  int line() const { return line_; }

  // The next word, or empty at the end of the file.
  std::string next() {
    std::string word;
    for (int c = read(); c != std::char_traits<char>::eof(); c = read()) {
      const bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
      if (blank && !word.empty()) {
        in_.rdbuf()->sungetc();
        return word;
      }
      if (c == '\n') ++line_;
      if (blank) continue;
      if (word.size() >= k_longest) collector_.fail("a word is too long for a text STL", line_);
      word += static_cast<char>(c);
    }
    return word;
  }

  void skip_line() {
    for (int c = read(); c != std::char_traits<char>::eof(); c = read())
      if (c == '\n') {
        ++line_;
        return;
      }
  }

  void expect(const char* wanted) {
    const std::string word = next();
    if (word != wanted)
      collector_.fail(word.empty() ? fmt::format("the file ends where '{}' should stand", wanted)
                                   : fmt::format("'{}' instead of '{}'", word, wanted),
                      line_);
  }

  float number() {
    const std::string word = next();
    const char* first = word.data() + (word.size() > 1 && word[0] == '+' ? 1 : 0);
    const char* last = word.data() + word.size();
    double value = 0.0;
    const auto [end, error] = read_double(first, last, value);
    if (word.empty() || error != std::errc() || end != last ||
        std::fabs(value) > static_cast<double>(std::numeric_limits<float>::max()))
      collector_.fail(fmt::format("'{}' is not a number", word), line_);
    return static_cast<float>(value);
  }

 private:
  int read() {
    if (++bytes_ > k_longest_text)
      collector_.fail("the file is larger than any solid of this program", line_);
    return in_.rdbuf()->sbumpc();
  }

  static constexpr std::size_t k_longest = 256;
  std::istream& in_;
  std::uint64_t bytes_ = 0;
  const Collector& collector_;
  int line_ = 1;
};

void read_text(std::istream& in, Collector& collector) {
  Words words(in, collector);
  words.expect("solid");
  words.skip_line();
  bool inside = true;
  for (std::string word = words.next(); !word.empty(); word = words.next()) {
    if (inside && word == "facet") {
      words.expect("normal");
      for (int i = 0; i < 3; ++i) words.number();
      words.expect("outer");
      words.expect("loop");
      std::array<Corner, 3> corners{};
      for (Corner& corner : corners) {
        words.expect("vertex");
        for (float& value : corner) value = words.number();
      }
      words.expect("endloop");
      words.expect("endfacet");
      collector.add(corners, words.line());
    } else if (word == (inside ? "endsolid" : "solid")) {
      words.skip_line();
      inside = !inside;
    } else {
      collector.fail(fmt::format("'{}' instead of '{}'", word, inside ? "facet" : "solid"), words.line());
    }
  }
  if (inside) collector.fail("the file ends without 'endsolid'", words.line());
}

void read_binary(std::istream& in, std::uint32_t count, Collector& collector) {
  if (count > k_most_facets) collector.fail(fmt::format("says it has {} facets, more than any solid", count));
  std::array<char, k_facet> bytes{};
  for (std::uint32_t i = 0; i < count; ++i) {
    if (!in.read(bytes.data(), static_cast<std::streamsize>(bytes.size())))
      collector.fail(fmt::format("the file ends after {} of {} facets", i, count));
    std::array<Corner, 3> corners{};
    for (std::size_t k = 0; k < 3; ++k)
      for (std::size_t axis = 0; axis < 3; ++axis)
        corners[k][axis] = get_float(bytes.data() + 12 + 12 * k + 4 * axis);
    collector.add(corners);
  }
  if (in.get() != std::char_traits<char>::eof())
    collector.fail(fmt::format("bytes follow after the {} facets it says it has", count));
}

}  // namespace

namespace {

// The facets of a mesh as they stand in the file, and their number.
std::uint32_t put_facets(std::string& body, const Mesh& mesh) {
  std::uint32_t count = 0;
  for (const auto& triangle : mesh.triangles) {
    std::array<Corner, 3> corners{};
    for (std::size_t k = 0; k < 3; ++k)
      corners[k] = corner_of(mesh.points[static_cast<std::size_t>(triangle[k])]);
    // corners that fall together in single precision leave nothing of the facet
    if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) continue;
    const Vec3 origin = point_of_corner(corners[0]);
    const Vec3 across = cross(point_of_corner(corners[1]) - origin, point_of_corner(corners[2]) - origin);
    const double size = norm(across);
    for (const float value : corner_of(size > 0.0 ? (1.0 / size) * across : Vec3{})) put_float(body, value);
    for (const Corner& corner : corners)
      for (const float value : corner) put_float(body, value);
    body.append(2, '\0');
    ++count;
  }
  return count;
}

void write(std::ostream& out, const std::string& bytes) {
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

}  // namespace

void write_stl(std::ostream& out, const std::vector<Mesh>& meshes, const std::string& title) {
  std::string body;
  std::uint32_t count = 0;
  for (const Mesh& mesh : meshes) count += put_facets(body, mesh);
  std::string head = header_of(title);
  put_u32(head, count);
  write(out, head);
  write(out, body);
}

void write_stl(std::ostream& out, const Assembly& assembly, const ModelMeshes& models, PartRole role,
               const std::string& title) {
  std::string head = header_of(title);
  write(out, head + std::string(4, '\0'));
  std::uint32_t count = 0;
  for (const AssemblyPlace& place : assembly.places)
    for (const BodyMesh& body : models.at(place.model)) {
      if (body.role != role) continue;
      std::string facets;
      count += put_facets(facets, placed(*body.mesh, place.frame));
      write(out, facets);
    }
  head.clear();
  put_u32(head, count);
  out.seekp(k_header);
  write(out, head);
  out.seekp(0, std::ios::end);
}

Mesh read_stl(std::istream& in, const std::string& name) {
  Collector collector(name);
  std::array<char, k_header + 4> head{};
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  const auto got = static_cast<std::size_t>(in.gcount());
  const bool says_solid = got >= 5 && std::string(head.data(), 5) == "solid";
  in.clear();
  const std::uint32_t count = got == head.size() ? get_u32(head.data() + k_header) : 0;
  // A binary file may begin with "solid" all the same; then its size gives it away.
  bool binary = got == head.size() && !says_solid;
  if (says_solid && got == head.size()) {
    in.seekg(0, std::ios::end);
    const std::streamoff size = in.tellg();
    binary = size >= 0 && static_cast<std::uint64_t>(size) == head.size() + std::uint64_t{k_facet} * count;
  }
  if (!binary && !says_solid) collector.fail("too short for an STL file");
  in.clear();
  in.seekg(binary ? static_cast<std::streamoff>(head.size()) : 0);
  if (!in) collector.fail("cannot be read");
  if (binary)
    read_binary(in, count, collector);
  else
    read_text(in, collector);
  return std::move(collector.mesh);
}

}  // namespace linerwright
