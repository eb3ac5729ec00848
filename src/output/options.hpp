// All options that a fitting's files depend on, in one place.
#pragma once

#include <rapidjson/document.h>

#include <type_traits>

#include "linerwright/output/output.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// The check sum of the library's sources, taken when they were built.
extern const char* const k_sources;

// An angle, which stands in degrees where it is written.
template <class Number>
struct InDegrees {
  Number& radians;
};

// Calls visit(table, name, option) for each of them; `table` is empty for those that stand in none. An option
// that is not named here is an error of the compiler.
template <class Options, class Visit>
void each_option(Options& options, const Visit& visit) {
  auto& [dxf, mesh, patterns_only, pages, shared_script, png, glb, bands, templates, half_templates, force] =
      options;
  auto& [version, units, cut_only, single_layer, single_layer_all, text, chord_error, comments, layers] = dxf;
  auto& [deflection, angle] = mesh;
  visit("dxf", "version", version);
  visit("dxf", "units", units);
  visit("dxf", "cut_only", cut_only);
  visit("dxf", "single_layer", single_layer);
  visit("dxf", "single_layer_all", single_layer_all);
  visit("dxf", "text", text);
  visit("dxf", "layers", layers);
  visit("mesh", "deflection", deflection);
  visit("mesh", "angle", InDegrees<std::remove_reference_t<decltype((angle))>>{angle});
  visit("", "patterns_only", patterns_only);
  visit("", "pages", pages);
  visit("", "shared_script", shared_script);
  visit("", "png", png);
  visit("", "glb", glb);
  visit("", "bands", bands);
  visit("", "templates", templates);
  visit("", "half_templates", half_templates);
  // follow from the fitting, or say when to make and not what
  static_cast<void>(chord_error);
  static_cast<void>(comments);
  static_cast<void>(force);
}

// Options as fitting.json holds them, `dxf` and `mesh` as tables of their own, and read back; what is missing
// or makes no sense there stays as it is.
void write_options(JsonWriter& json, const OutputOptions& options);
void read_options(const rapidjson::Value& json, OutputOptions* options);

}  // namespace linerwright
