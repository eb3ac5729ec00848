// The skeleton (sections, tables, owners, subclass markers) follows the public DXF reference for AC1015 and
// the list of what readers require in the documentation of ezdxf ("DXF file structure"); AC1009 needs far
// less.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include "dxf_content.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/units/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

// Prints group codes and values, hands out handles.
class Printer {
 public:
  Printer(DxfVersion version, int decimals) : modern_(version == DxfVersion::r2000), decimals_(decimals) {}

  bool modern() const { return modern_; }
  std::string take() { return std::move(text_); }

  void put(int code, std::string_view value) {
    // the code in three places, at least
    const fmt::format_int digits(code);
    text_.append(digits.size() < 3 ? 3 - digits.size() : 0, ' ');
    text_.append(digits.data(), digits.size());
    text_ += '\n';
    text_ += value;
    text_ += '\n';
  }
  void put(int code, int value) { put(code, std::to_string(value)); }
  void put(int code, double value) { put(code, fixed(value, decimals_)); }
  // x, y and z = 0 under `code`, code + 10 and code + 20.
  void point(int code, Vec2 p) {
    flat_point(code, p);
    put(code + 20, 0.0);
  }
  void flat_point(int code, Vec2 p) {
    put(code, p.x);
    put(code + 10, p.y);
  }

  // A new record with handle and owner (R2000 only); returns the handle.
  unsigned record(std::string_view kind, unsigned owner, int handle_code = 5) {
    put(0, kind);
    if (!modern_) return 0;
    const unsigned handle = next_++;
    reference(handle_code, handle);
    reference(330, owner);
    return handle;
  }
  void reference(int code, unsigned handle) { put(code, fmt::format("{:X}", handle)); }
  void marker(std::string_view subclass) {
    if (modern_) put(100, subclass);
  }

  void begin_section(std::string_view name) {
    put(0, "SECTION");
    put(2, name);
  }
  void end_section() { put(0, "ENDSEC"); }

  unsigned begin_table(std::string_view name, int count) {
    put(0, "TABLE");
    put(2, name);
    unsigned handle = 0;
    if (modern_) {
      handle = next_++;
      reference(5, handle);
      reference(330, 0);
    }
    marker("AcDbSymbolTable");
    put(70, count);
    return handle;
  }
  unsigned table_record(std::string_view kind, unsigned table, std::string_view subclass,
                        std::string_view name, int handle_code = 5) {
    const unsigned handle = record(kind, table, handle_code);
    marker("AcDbSymbolTableRecord");
    marker(subclass);
    put(2, name);
    return handle;
  }
  void end_table() { put(0, "ENDTAB"); }

  unsigned seed() const { return next_; }

 private:
  bool modern_;
  int decimals_;
  unsigned next_ = 1;
  std::string text_;
};

void put_viewport(Printer& out, const Box& extents) {
  const Vec2 size = extents.high - extents.low;
  const unsigned table = out.begin_table("VPORT", 1);
  out.table_record("VPORT", table, "AcDbViewportTableRecord", "*ACTIVE");
  out.put(70, 0);
  out.flat_point(10, {0.0, 0.0});
  out.flat_point(11, {1.0, 1.0});
  out.flat_point(12, extents.low + 0.5 * size);
  out.flat_point(13, {0.0, 0.0});
  out.flat_point(14, {10.0, 10.0});
  out.flat_point(15, {10.0, 10.0});
  out.flat_point(16, {0.0, 0.0});  // seen from above
  out.put(36, 1.0);
  out.point(17, {0.0, 0.0});
  out.put(40, std::max({size.y, 0.75 * size.x, 1.0}) * 1.1);
  out.put(41, 4.0 / 3.0);
  out.put(42, 50.0);
  for (const int code : {43, 44, 50, 51}) out.put(code, 0.0);
  constexpr int k_settings[][2] = {{71, 0}, {72, 100}, {73, 1}, {74, 3}, {75, 0}, {76, 0}, {77, 0}, {78, 0}};
  for (const auto& [code, value] : k_settings) out.put(code, value);
  out.end_table();
}

void put_line_types(Printer& out) {
  std::vector<std::string_view> names{"CONTINUOUS"};
  if (out.modern()) names = {"ByBlock", "ByLayer", "Continuous"};
  const unsigned table = out.begin_table("LTYPE", static_cast<int>(names.size()));
  for (const std::string_view name : names) {
    out.table_record("LTYPE", table, "AcDbLinetypeTableRecord", name);
    out.put(70, 0);
    out.put(3, "Solid line");
    out.put(72, 65);
    out.put(73, 0);
    out.put(40, 0.0);
  }
  out.end_table();
}

void put_layers(Printer& out, const std::vector<DxfLayer>& layers) {
  const unsigned table = out.begin_table("LAYER", static_cast<int>(layers.size()));
  for (const DxfLayer& layer : layers) {
    out.table_record("LAYER", table, "AcDbLayerTableRecord", layer.name);
    out.put(70, 0);
    out.put(62, layer.colour);
    out.put(6, out.modern() ? "Continuous" : "CONTINUOUS");
  }
  out.end_table();
}

void put_text_style(Printer& out) {
  const unsigned table = out.begin_table("STYLE", 1);
  out.table_record("STYLE", table, "AcDbTextStyleTableRecord", "STANDARD");
  out.put(70, 0);
  out.put(40, 0.0);
  out.put(41, 1.0);
  out.put(50, 0.0);
  out.put(71, 0);
  out.put(42, 2.5);
  out.put(3, "txt");
  out.put(4, "");
  out.end_table();
}

void put_empty_table(Printer& out, std::string_view name) {
  out.begin_table(name, 0);
  out.end_table();
}

struct Spaces {
  unsigned model = 0;
  unsigned paper = 0;
};

Spaces put_tables(Printer& out, const DxfContent& content) {
  Spaces spaces;
  out.begin_section("TABLES");
  put_viewport(out, content.extents);
  put_line_types(out);
  put_layers(out, content.layers);
  put_text_style(out);
  put_empty_table(out, "VIEW");
  put_empty_table(out, "UCS");
  const unsigned applications = out.begin_table("APPID", 1);
  out.table_record("APPID", applications, "AcDbRegAppTableRecord", "ACAD");
  out.put(70, 0);
  out.end_table();
  if (out.modern()) {
    const unsigned dimensions = out.begin_table("DIMSTYLE", 1);
    out.marker("AcDbDimStyleTable");
    out.put(71, 0);
    out.table_record("DIMSTYLE", dimensions, "AcDbDimStyleTableRecord", "STANDARD", 105);
    out.put(70, 0);
    out.end_table();
    const unsigned blocks = out.begin_table("BLOCK_RECORD", 2);
    spaces.model = out.table_record("BLOCK_RECORD", blocks, "AcDbBlockTableRecord", "*Model_Space");
    spaces.paper = out.table_record("BLOCK_RECORD", blocks, "AcDbBlockTableRecord", "*Paper_Space");
    out.end_table();
  }
  out.end_section();
  return spaces;
}

void put_blocks(Printer& out, const Spaces& spaces) {
  out.begin_section("BLOCKS");
  const auto block = [&](std::string_view name, unsigned owner, bool paper) {
    const auto head = [&](std::string_view kind, std::string_view subclass) {
      out.record(kind, owner);
      out.marker("AcDbEntity");
      if (paper) out.put(67, 1);
      out.put(8, "0");
      out.marker(subclass);
    };
    head("BLOCK", "AcDbBlockBegin");
    out.put(2, name);
    out.put(70, 0);
    out.point(10, {0.0, 0.0});
    out.put(3, name);
    out.put(1, "");
    head("ENDBLK", "AcDbBlockEnd");
  };
  if (out.modern()) {
    block("*Model_Space", spaces.model, false);
    block("*Paper_Space", spaces.paper, true);
  }
  out.end_section();
}

void put_entity_head(Printer& out, std::string_view kind, unsigned owner, const std::string& layer) {
  out.record(kind, owner);
  out.marker("AcDbEntity");
  out.put(8, layer);
}

void put_line(Printer& out, const DxfLineOut& line, unsigned owner) {
  const int closed = line.closed ? 1 : 0;
  if (out.modern()) {
    put_entity_head(out, "LWPOLYLINE", owner, line.layer);
    out.marker("AcDbPolyline");
    out.put(90, static_cast<int>(line.points.size()));
    out.put(70, closed);
    out.put(43, 0.0);
    for (const Vec2 p : line.points) out.flat_point(10, p);
    return;
  }
  put_entity_head(out, "POLYLINE", owner, line.layer);
  out.put(66, 1);
  out.point(10, {0.0, 0.0});
  out.put(70, closed);
  for (const Vec2 p : line.points) {
    put_entity_head(out, "VERTEX", owner, line.layer);
    out.point(10, p);
  }
  put_entity_head(out, "SEQEND", owner, line.layer);
}

void put_label(Printer& out, const DxfLabelOut& label, unsigned owner) {
  const Text& text = label.text;
  put_entity_head(out, "TEXT", owner, label.layer);
  out.marker("AcDbText");
  out.point(10, text.at);
  out.put(40, text.height);
  out.put(1, text.text);
  out.put(50, text.angle * 180.0 / k_pi);
  if (text.centred) {
    out.put(72, 1);
    out.point(11, text.at);
  }
  out.marker("AcDbText");
}

void put_objects(Printer& out) {
  out.begin_section("OBJECTS");
  const unsigned root = out.record("DICTIONARY", 0);
  out.marker("AcDbDictionary");
  out.put(281, 1);
  out.put(3, "ACAD_GROUP");
  out.reference(350, out.seed());
  out.record("DICTIONARY", root);
  out.marker("AcDbDictionary");
  out.put(281, 1);
  out.end_section();
}

std::string header(const DxfOptions& options, const Box& extents, unsigned seed) {
  const bool inch = options.units == DxfUnits::inch;
  Printer out(options.version, dxf_decimals(options.units));
  out.put(999, "Linerwright");
  out.put(999, inch ? "units: inches" : "units: millimetres");
  if (options.chord_error) {
    out.put(999, "chord error: at most " + trimmed(*options.chord_error, 4) + " mm");
  }
  if (!options.single_layer)
    for (const LayerName& own : options.layers.names)
      out.put(999, fmt::format("layer {}: {}", layer_name(own.layer), own.name));
  for (const std::string& comment : options.comments) out.put(999, dxf_escaped(comment));
  out.begin_section("HEADER");
  const auto variable = [&](std::string_view name) { out.put(9, name); };
  variable("$ACADVER");
  out.put(1, out.modern() ? "AC1015" : "AC1009");
  if (out.modern()) {
    variable("$DWGCODEPAGE");
    out.put(3, "ANSI_1252");
    variable("$HANDSEED");
    out.reference(5, seed);
    variable("$INSUNITS");
    out.put(70, inch ? 1 : 4);
    variable("$MEASUREMENT");
    out.put(70, inch ? 0 : 1);
  }
  variable("$EXTMIN");
  out.point(10, extents.low);
  variable("$EXTMAX");
  out.point(10, extents.high);
  variable("$LIMMIN");
  out.flat_point(10, extents.low);
  variable("$LIMMAX");
  out.flat_point(10, extents.high);
  out.end_section();
  return out.take();
}

}  // namespace

void write_dxf(std::ostream& stream, const Drawing& drawing, const DxfOptions& options) {
  if (options.units != DxfUnits::millimetre && options.units != DxfUnits::inch) {
    throw std::invalid_argument("a DXF file is written in millimetres or inches");
  }
  const DxfContent content = dxf_content(drawing, options);
  Printer out(options.version, dxf_decimals(options.units));
  if (out.modern()) {
    out.begin_section("CLASSES");
    out.end_section();
  }
  const Spaces spaces = put_tables(out, content);
  put_blocks(out, spaces);
  out.begin_section("ENTITIES");
  for (const DxfLineOut& line : content.lines) put_line(out, line, spaces.model);
  for (const DxfLabelOut& label : content.labels) put_label(out, label, spaces.model);
  out.end_section();
  if (out.modern()) put_objects(out);
  out.put(0, "EOF");
  const std::string text = header(options, content.extents, out.seed()) + out.take();
  stream.write(text.data(), static_cast<std::streamsize>(text.size()));
}

}  // namespace linerwright
