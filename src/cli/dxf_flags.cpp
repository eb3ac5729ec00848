#include "dxf_flags.hpp"

#include "linerwright/boards/boards.hpp"

namespace linerwright {

void DxfFlags::add_to(CLI::App& command) {
  command.add_option("--dxf", version_, "DXF version: r2000 or r12 [r2000]")
      ->check(CLI::IsMember({"r2000", "r12"}));
  command.add_option("--dxf-units", units_, "units of the DXF's coordinates: mm or in [mm]")
      ->check(CLI::IsMember({"mm", "in"}));
  command
      .add_option("--text", text_,
                  "labels as single strokes or as text entities: strokes or entities [strokes]")
      ->check(CLI::IsMember({"strokes", "entities"}));
  command.add_flag("--cut-only", cut_only_, "DXF files with nothing but the layer CUT");
  command.add_flag("--single-layer", single_layer_, "DXF files with all cuts on layer 0 and nothing else");
}

DxfOptions DxfFlags::options(const Job& job, const std::string& file) const {
  DxfOptions options = job_dxf(job, file);
  options.version = version_ == "r12" ? DxfVersion::r12 : DxfVersion::r2000;
  options.text = text_ == "entities" ? TextStyle::entities : TextStyle::strokes;
  options.units = units_ == "in" ? DxfUnits::inch : DxfUnits::millimetre;
  options.cut_only = cut_only_;
  options.single_layer = single_layer_;
  return options;
}

}  // namespace linerwright
