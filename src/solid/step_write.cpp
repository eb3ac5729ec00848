// STEP, AP214 (ISO 10303-214, automotive_design), as text of our own: an assembly of named and coloured
// solids. The kernel's translator takes half of a fitting's time under one lock of the whole process, and
// writes two curves on surfaces for each edge, which are nine tenths of the file.
#include "kernel_side.hpp"
#include "step_assembly.hpp"

namespace linerwright {

void kernel::write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model) {
  write_step_file(file, fitting.tag, "Lined duct fitting, millimetres", [&](StepAssembly& step) {
    std::vector<StepAssembly::Use> parts;
    for (const Part& part : model.parts)
      parts.push_back({step.body(fitting.tag + " " + part.name, part), "", Frame{}});
    step.whole(fitting.tag, parts);
  });
}

}  // namespace linerwright
