// glTF 2.0 (Khronos, The glTF 2.0 Specification): one JSON chunk and one chunk of bytes.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>

#include <fmt/format.h>

#include "linerwright/mesh/placed_meshes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

namespace {

constexpr std::uint32_t k_magic = 0x46546C67;  // "glTF"
constexpr std::uint32_t k_json_chunk = 0x4E4F534A;
constexpr std::uint32_t k_bytes_chunk = 0x004E4942;
constexpr long k_floats = 5126;
constexpr long k_whole_numbers = 5125;

void put(std::string& out, std::uint32_t value) {
  for (unsigned shift = 0; shift < 32; shift += 8)
    out += static_cast<char>(static_cast<unsigned char>((value >> shift) & 0xFFU));
}

void put(std::string& out, float value) {
  std::uint32_t bits = 0;
  std::memcpy(&bits, &value, sizeof bits);
  put(out, bits);
}

// One mesh's place among the bytes.
struct Buffer {
  std::size_t points_at, triangles_at;
  const Mesh* mesh;
  Vec3 low, high;
};

class GlbWriter {
 public:
  GlbWriter(const Assembly& assembly, const ModelMeshes& models) : assembly_(assembly) {
    for (const std::vector<BodyMesh>& model : models) {
      models_.emplace_back();
      for (const BodyMesh& part : model) {
        if (part.role == PartRole::bore) continue;
        models_.back().push_back(part);
        add(*part.mesh);
      }
    }
  }

  void write(std::ostream& out) const {
    std::string json = text();
    json.resize((json.size() + 3) / 4 * 4, ' ');
    const std::uint64_t size = 12 + 8 + json.size() + 8 + size_;
    if (size > std::numeric_limits<std::uint32_t>::max()) throw GeometryError("glTF: over 4 GB of triangles");
    std::string head;
    put(head, k_magic);
    put(head, 2u);
    put(head, static_cast<std::uint32_t>(size));
    put(head, static_cast<std::uint32_t>(json.size()));
    put(head, k_json_chunk);
    head += json;
    put(head, static_cast<std::uint32_t>(size_));
    put(head, k_bytes_chunk);
    out << head;
    for (const Buffer& buffer : buffers_) out << bytes_of(*buffer.mesh);
  }

 private:
  const Assembly& assembly_;
  ModelMeshes models_;  // without bores
  std::size_t size_ = 0;
  std::vector<Buffer> buffers_;

  void add(const Mesh& mesh) {
    Buffer buffer{size_, 0, &mesh, {1e30, 1e30, 1e30}, {-1e30, -1e30, -1e30}};
    for (const Vec3 p : mesh.points)
      for (const auto& [value, low, high] : {std::make_tuple(p.x, &buffer.low.x, &buffer.high.x),
                                             std::make_tuple(p.y, &buffer.low.y, &buffer.high.y),
                                             std::make_tuple(p.z, &buffer.low.z, &buffer.high.z)}) {
        const auto rounded = static_cast<double>(static_cast<float>(value));
        *low = std::min(*low, rounded);
        *high = std::max(*high, rounded);
      }
    buffer.triangles_at = size_ + 3 * sizeof(float) * mesh.points.size();
    size_ = buffer.triangles_at + 3 * sizeof(std::uint32_t) * mesh.triangles.size();
    buffers_.push_back(buffer);
  }

  static std::string bytes_of(const Mesh& mesh) {
    std::string bytes;
    for (const Vec3 p : mesh.points)
      for (const double value : {p.x, p.y, p.z}) put(bytes, static_cast<float>(value));
    for (const auto& triangle : mesh.triangles)
      for (const int corner : triangle) put(bytes, static_cast<std::uint32_t>(corner));
    return bytes;
  }

  static long material_of(const BodyMesh& part) {
    if (part.role == PartRole::metal) return 0;
    return part.role == PartRole::bore ? 3 : 1 + part.piece.value_or(0) % 2;
  }

  std::string text() const {
    JsonWriter json;
    json.begin_object();
    json.key("asset")
        .begin_object()
        .key("version")
        .text("2.0")
        .key("generator")
        .text("Linerwright")
        .end_object();
    json.key("scene").integer(0);
    json.key("scenes")
        .begin_array()
        .begin_object()
        .key("nodes")
        .begin_array()
        .integer(0)
        .end_array()
        .end_object()
        .end_array();
    write_nodes(json);
    write_meshes(json);
    write_materials(json);
    write_buffers(json);
    json.end_object();
    return json.str();
  }

  // The root turns z up into y up and millimetres into metres; each place has a node of its own for each
  // body.
  void write_nodes(JsonWriter& json) const {
    std::vector<std::size_t> first_mesh;
    std::size_t meshes = 0;
    for (const std::vector<BodyMesh>& model : models_) {
      first_mesh.push_back(meshes);
      meshes += model.size();
    }
    json.key("nodes").begin_array();
    json.begin_object().key("name").text(assembly_.name).key("matrix").begin_array();
    for (const double value :
         {0.001, 0.0, 0.0, 0.0, 0.0, 0.0, -0.001, 0.0, 0.0, 0.001, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0})
      json.number(value);
    json.end_array().key("children").begin_array();
    std::size_t node = 1;
    for (const AssemblyPlace& place : assembly_.places) {
      json.integer(static_cast<long>(node));
      node += 1 + models_[place.model].size();
    }
    json.end_array().end_object();
    node = 1;
    for (const AssemblyPlace& place : assembly_.places) {
      const std::vector<BodyMesh>& parts = models_[place.model];
      const Frame& f = place.frame;
      json.begin_object().key("name").text(place.name).key("matrix").begin_array();
      for (const Vec3 column : {f.x, f.y, f.z}) {
        for (const double value : {column.x, column.y, column.z}) json.number(value, 12);
        json.number(0.0);
      }
      for (const double value : {f.origin.x, f.origin.y, f.origin.z}) json.number(value, 9);
      json.number(1.0).end_array().key("children").begin_array();
      for (std::size_t i = 0; i < parts.size(); ++i) json.integer(static_cast<long>(node + 1 + i));
      json.end_array().end_object();
      for (std::size_t i = 0; i < parts.size(); ++i) {
        json.begin_object();
        json.key("name").text(place.name + (!parts[i].name.empty() ? " " + parts[i].name
                                            : parts[i].role == PartRole::metal && parts[i].piece
                                                ? fmt::format(" metal {}", *parts[i].piece + 1)
                                            : parts[i].role == PartRole::metal ? " metal"
                                            : parts[i].role == PartRole::liner ? " liner"
                                                                               : " bore"));
        json.key("mesh").integer(static_cast<long>(first_mesh[place.model] + i));
        json.end_object();
      }
      node += 1 + parts.size();
    }
    json.end_array();
  }

  void write_meshes(JsonWriter& json) const {
    json.key("meshes").begin_array();
    std::size_t index = 0;
    for (const std::vector<BodyMesh>& model : models_)
      for (const BodyMesh& part : model) {
        json.begin_object().key("primitives").begin_array().begin_object();
        json.key("attributes")
            .begin_object()
            .key("POSITION")
            .integer(static_cast<long>(2 * index))
            .end_object();
        json.key("indices").integer(static_cast<long>(2 * index + 1));
        json.key("material").integer(material_of(part));
        json.end_object().end_array().end_object();
        ++index;
      }
    json.end_array();
  }

  static void write_materials(JsonWriter& json) {
    struct Look {
      const char* name;
      double r, g, b, a;
    };
    // linear shades of step_colour()
    constexpr Look k_looks[] = {{"metal", 0.23, 0.28, 0.34, 0.35},
                                {"liner", 0.79, 0.43, 0.11, 1.0},
                                {"liner, next piece", 0.51, 0.16, 0.06, 1.0},
                                {"bore", 0.39, 0.69, 0.85, 0.5}};
    json.key("materials").begin_array();
    for (const Look& look : k_looks) {
      json.begin_object().key("name").text(look.name).key("pbrMetallicRoughness").begin_object();
      json.key("baseColorFactor")
          .begin_array()
          .number(look.r)
          .number(look.g)
          .number(look.b)
          .number(look.a)
          .end_array();
      json.key("metallicFactor").number(0.0).key("roughnessFactor").number(0.8).end_object();
      if (look.a < 1.0) json.key("alphaMode").text("BLEND");
      json.key("doubleSided").boolean(true).end_object();
    }
    json.end_array();
  }

  void write_buffers(JsonWriter& json) const {
    json.key("accessors").begin_array();
    for (std::size_t i = 0; i < buffers_.size(); ++i) {
      const Buffer& buffer = buffers_[i];
      json.begin_object()
          .key("bufferView")
          .integer(static_cast<long>(2 * i))
          .key("componentType")
          .integer(k_floats);
      json.key("count").integer(static_cast<long>(buffer.mesh->points.size())).key("type").text("VEC3");
      for (const auto& [key, corner] :
           {std::make_pair("min", buffer.low), std::make_pair("max", buffer.high)}) {
        json.key(key).begin_array();
        for (const double value : {corner.x, corner.y, corner.z}) json.number(value, 12);
        json.end_array();
      }
      json.end_object().begin_object();
      json.key("bufferView")
          .integer(static_cast<long>(2 * i + 1))
          .key("componentType")
          .integer(k_whole_numbers);
      json.key("count")
          .integer(static_cast<long>(3 * buffer.mesh->triangles.size()))
          .key("type")
          .text("SCALAR");
      json.end_object();
    }
    json.end_array().key("bufferViews").begin_array();
    for (std::size_t i = 0; i < buffers_.size(); ++i) {
      const std::size_t end = i + 1 < buffers_.size() ? buffers_[i + 1].points_at : size_;
      const auto view = [&](std::size_t from, std::size_t to, long target) {
        json.begin_object().key("buffer").integer(0).key("byteOffset").integer(static_cast<long>(from));
        json.key("byteLength")
            .integer(static_cast<long>(to - from))
            .key("target")
            .integer(target)
            .end_object();
      };
      view(buffers_[i].points_at, buffers_[i].triangles_at, 34962);
      view(buffers_[i].triangles_at, end, 34963);
    }
    json.end_array().key("buffers").begin_array().begin_object();
    json.key("byteLength").integer(static_cast<long>(size_)).end_object().end_array();
  }
};

}  // namespace

void write_glb(std::ostream& out, const Assembly& assembly, const ModelMeshes& models) {
  GlbWriter(assembly, models).write(out);
}

}  // namespace linerwright
