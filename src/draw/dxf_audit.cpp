#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "cut_audit.hpp"
#include "findings.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/units/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

constexpr double k_extents_tolerance = 2e-4;  // mm: two roundings to four decimals

bool finite(Vec2 p) {
  return std::isfinite(p.x) && std::isfinite(p.y);
}

const char* units_words(DxfUnits units) {
  switch (units) {
    case DxfUnits::millimetre:
      return "millimetres";
    case DxfUnits::inch:
      return "inches";
    case DxfUnits::other:
      return "another unit";
    case DxfUnits::unstated:
      return "no unit";
  }
  return "no unit";
}

void audit_promises(const DxfFile& file, const AuditExpectations& expected, Findings& findings) {
  if (file.units != expected.units) {
    findings.add(
        "D112", 0,
        fmt::format("the file states {}, not {}", units_words(file.units), units_words(expected.units)));
  }
  const bool inches = file.units == DxfUnits::inch;
  if (file.measurement && (inches || file.units == DxfUnits::millimetre) &&
      *file.measurement != (inches ? 0 : 1)) {
    findings.add("D121", 0,
                 fmt::format("$MEASUREMENT is {}, but the file states {}", *file.measurement,
                             units_words(file.units)));
  }
  for (const std::string& comment : file.comments) {
    const bool names_unit = comment == "units: millimetres" || comment == "units: inches";
    if (!names_unit || comment == fmt::format("units: {}", units_words(file.units))) continue;
    findings.add(
        "D122", 0,
        fmt::format("a comment says '{}', but the file states {}", comment, units_words(file.units)));
  }
  if (expected.version) {
    const std::string promised = *expected.version == DxfVersion::r2000 ? "AC1015" : "AC1009";
    if (file.version != promised) {
      findings.add("D119", 0,
                   fmt::format("the file is of version '{}', not {}", dxf_escaped(file.version), promised));
    }
  }
}

void audit_layers(const DxfFile& file, const AuditExpectations& expected, Findings& findings) {
  std::set<std::string> listed;
  for (const DxfLayer& layer : file.layers) listed.insert(layer.name);
  std::map<std::string, int> used;  // with the first line of the file that uses it
  for (const DxfPolyline& line : file.lines) used.emplace(line.layer, line.line);
  for (const DxfText& text : file.texts) used.emplace(text.layer, text.line);
  for (const DxfOther& other : file.others) used.emplace(other.layer, other.line);
  for (const auto& [name, line] : used) {
    const bool known = name == "0" ? expected.single_layer : layer_named(name).has_value();
    if (!known) {
      findings.add("D111", line, fmt::format("unknown layer '{}'", dxf_escaped(name)));
    } else if (listed.count(name) == 0) {
      findings.add("D120", line, fmt::format("layer '{}' is not in the layer table", dxf_escaped(name)));
    }
  }
}

void audit_handles(const DxfFile& file, Findings& findings) {
  std::map<std::uint64_t, int> seen;
  for (const DxfHandle& handle : file.handles) {
    if (handle.value == 0) {
      findings.add("D114", handle.line, "a handle is zero");
      continue;
    }
    const auto [first, is_new] = seen.emplace(handle.value, handle.line);
    if (!is_new) {
      findings.add("D115", handle.line,
                   fmt::format("handle {:X} is also used on line {}", handle.value, first->second));
    }
  }
  if (file.version == "AC1015" && file.handles.empty()) findings.add("D115", 0, "the file has no handles");
}

void audit_kinds(const DxfFile& file, Findings& findings) {
  for (const DxfOther& other : file.others) {
    findings.add("D117", other.line,
                 fmt::format("{} is not a straight line or text", dxf_escaped(other.kind)));
  }
  for (const DxfPolyline& line : file.lines) {
    if (line.curved)
      findings.add("D117", line.line, "the line has arcs; only straight segments are promised");
  }
}

// The file without what cannot be measured.
DxfFile measurable(const DxfFile& file, Findings& findings) {
  DxfFile rest = file;
  const auto drop = [&](auto& items, const char* what, const auto& is_finite) {
    items.erase(std::remove_if(items.begin(), items.end(),
                               [&](const auto& item) {
                                 if (is_finite(item)) return false;
                                 findings.add("D109", item.line,
                                              fmt::format("a {} has a number that is not finite", what));
                                 return true;
                               }),
                items.end());
  };
  drop(rest.lines, "line",
       [](const DxfPolyline& line) { return std::all_of(line.points.begin(), line.points.end(), finite); });
  drop(rest.texts, "text", [](const DxfText& text) {
    return finite(text.at) && std::isfinite(text.height) && std::isfinite(text.angle);
  });
  return rest;
}

void audit_extents(const DxfFile& file, Findings& findings) {
  std::optional<Box> box;
  const auto stretch = [&](Vec2 p) { box = box ? joined(*box, {p, p}) : Box{p, p}; };
  for (const DxfPolyline& line : file.lines) {
    for (const Vec2 p : line.points) stretch(p);
  }
  for (const DxfText& text : file.texts) stretch(text.at);
  if (!box) return;
  if (!file.extents) {
    findings.add("D113", 0, "the header states no extents");
    return;
  }
  const auto same = [](Vec2 a, Vec2 b) {
    return std::abs(a.x - b.x) <= k_extents_tolerance && std::abs(a.y - b.y) <= k_extents_tolerance;
  };
  if (same(box->low, file.extents->low) && same(box->high, file.extents->high)) return;
  const auto words = [](const Box& b) {
    return fmt::format("({}, {}) to ({}, {})", trimmed(b.low.x, 4), trimmed(b.low.y, 4), trimmed(b.high.x, 4),
                       trimmed(b.high.y, 4));
  };
  findings.add(
      "D113", 0,
      fmt::format("the header states {}, the drawing spans {} mm", words(*file.extents), words(*box)));
}

void audit_lengths(const DxfFile& file, Findings& findings) {
  for (const DxfPolyline& line : file.lines) {
    const std::optional<Layer> layer = layer_named(line.layer);
    if (layer && is_face(*layer)) continue;  // their vertices pair up instead
    const std::size_t count = line.points.size();
    if (count < 2) findings.add("D105", line.line, "a line of a single point");
    for (std::size_t i = line.closed ? 0 : 1; i < count && count > 1; ++i) {
      const Vec2 before = line.points[i == 0 ? count - 1 : i - 1];
      if (distance(before, line.points[i]) > k_no_length) continue;
      findings.add("D105", line.line, "a segment has no length at " + place(before));
    }
  }
}

void audit_faces(const DxfFile& file, Findings& findings) {
  std::vector<const DxfPolyline*> duct;
  std::vector<const DxfPolyline*> air;
  for (const DxfPolyline& line : file.lines) {
    const std::optional<Layer> layer = layer_named(line.layer);
    if (layer == Layer::duct_face || layer == Layer::outer_face) duct.push_back(&line);
    if (layer == Layer::air_face || layer == Layer::inner_face) air.push_back(&line);
  }
  if (duct.size() != air.size()) {
    findings.add("D116", 0, fmt::format("{} lines on DUCT_FACE, {} on AIR_FACE", duct.size(), air.size()));
    return;
  }
  for (std::size_t i = 0; i < duct.size(); ++i) {
    if (duct[i]->points.size() == air[i]->points.size() && duct[i]->closed == air[i]->closed) continue;
    findings.add("D116", air[i]->line,
                 fmt::format("{} vertices on AIR_FACE, {} on DUCT_FACE (line {})", air[i]->points.size(),
                             duct[i]->points.size(), duct[i]->line));
  }
}

}  // namespace

std::vector<Finding> audit_dxf(const DxfFile& file, const AuditExpectations& expectations) {
  Findings findings;
  audit_promises(file, expectations, findings);
  audit_layers(file, expectations, findings);
  audit_handles(file, findings);
  audit_kinds(file, findings);
  const DxfFile rest = measurable(file, findings);
  if (rest.lines.size() == file.lines.size() && rest.texts.size() == file.texts.size())
    audit_extents(rest, findings);
  audit_lengths(rest, findings);
  if (expectations.faces_paired) audit_faces(rest, findings);
  audit_cuts(rest, expectations, findings);
  return findings.sorted();
}

std::string one_line(const Finding& finding, const std::string& file) {
  const std::string where = finding.line > 0 ? fmt::format("{}:{}", file, finding.line) : file;
  return fmt::format("{}: {}: {}", where, finding.code, finding.message);
}

}  // namespace linerwright
