#include "step_assembly.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>

#include <fmt/format.h>

#include "assembly_side.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"
#include "step_shapes.hpp"

namespace linerwright {

namespace {

struct Colour {
  double red, green, blue;
};

// Linerwright's own colours: cold grey metal, two warm tints that tell neighbouring pieces apart, pale bore.
Colour colour_of(const Part& part) {
  switch (part.role) {
    case PartRole::metal:
      return {0.52, 0.57, 0.62};
    case PartRole::liner:
      return part.piece.value_or(0) % 2 == 0 ? Colour{0.90, 0.69, 0.36} : Colour{0.74, 0.44, 0.27};
    case PartRole::bore:
      break;
  }
  return {0.66, 0.85, 0.93};
}

}  // namespace

StepAssembly::StepAssembly(std::ostream& out, const std::string& name, const std::string& description)
    : out_(out), lines_(out) {
  out_ << fmt::format(
      "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({}),'2;1');\n"
      "FILE_NAME({},'2000-01-01T00:00:00',(''),(''),'Linerwright','Linerwright','');\n"
      "FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n",
      step_text(description), step_text(name));
  context_ = lines_.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
  lines_.add(fmt::format(
      "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{})", context_));
  const int length = lines_.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
  const int angle = lines_.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
  const int solid_angle = lines_.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
  const int accuracy = lines_.add(fmt::format(
      "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#{},'distance_accuracy_value','mm')", length));
  units_ =
      lines_.add(fmt::format("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{}))"
                             "GLOBAL_UNIT_ASSIGNED_CONTEXT((#{},#{},#{}))REPRESENTATION_CONTEXT('','3D'))",
                             accuracy, length, angle, solid_angle));
  here_ = axes(Frame{});
}

int StepAssembly::axes(const Frame& frame) {
  const auto three = [](Vec3 v) { return step_reals({v.x, v.y, v.z}); };
  const int origin = lines_.shared(fmt::format("CARTESIAN_POINT('',{})", three(frame.origin)));
  const int z = lines_.shared(fmt::format("DIRECTION('',{})", three(frame.z)));
  const int x = lines_.shared(fmt::format("DIRECTION('',{})", three(frame.x)));
  return lines_.shared(fmt::format("AXIS2_PLACEMENT_3D('',#{},#{},#{})", origin, z, x));
}

StepAssembly::Product StepAssembly::product(const std::string& id, const std::string& name,
                                            int representation) {
  const int mechanical = lines_.shared(fmt::format("PRODUCT_CONTEXT('',#{},'mechanical')", context_));
  const int design =
      lines_.shared(fmt::format("PRODUCT_DEFINITION_CONTEXT('part definition',#{},'design')", context_));
  const int product =
      lines_.add(fmt::format("PRODUCT({},{},'',(#{}))", step_text(id), step_text(name), mechanical));
  lines_.add(fmt::format("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{}))", product));
  const int formation = lines_.add(fmt::format("PRODUCT_DEFINITION_FORMATION('','',#{})", product));
  const int definition =
      lines_.add(fmt::format("PRODUCT_DEFINITION('design','',#{},#{})", formation, design));
  const int shape = lines_.add(fmt::format("PRODUCT_DEFINITION_SHAPE('','',#{})", definition));
  lines_.add(fmt::format("SHAPE_DEFINITION_REPRESENTATION(#{},#{})", shape, representation));
  return {definition, representation};
}

int StepAssembly::styled(int solid, const Part& part) {
  const Colour colour = colour_of(part);
  const int rgb = lines_.shared(fmt::format("COLOUR_RGB('',{},{},{})", step_real(colour.red),
                                            step_real(colour.green), step_real(colour.blue)));
  const int fill = lines_.shared(fmt::format("FILL_AREA_STYLE_COLOUR('',#{})", rgb));
  const int area = lines_.shared(fmt::format("FILL_AREA_STYLE('',(#{}))", fill));
  const int surface = lines_.shared(fmt::format("SURFACE_STYLE_FILL_AREA(#{})", area));
  const int side = lines_.shared(fmt::format("SURFACE_SIDE_STYLE('',(#{}))", surface));
  const int usage = lines_.shared(fmt::format("SURFACE_STYLE_USAGE(.BOTH.,#{})", side));
  const int style = lines_.shared(fmt::format("PRESENTATION_STYLE_ASSIGNMENT((#{}))", usage));
  return lines_.add(fmt::format("STYLED_ITEM('colour',(#{}),#{})", style, solid));
}

StepAssembly::Product StepAssembly::body(const std::string& id, const Part& part) {
  const int solid = add_solid(lines_, part.solid.shape().shape, part.name);
  const int shape =
      lines_.add(fmt::format("ADVANCED_BREP_SHAPE_REPRESENTATION('',(#{},#{}),#{})", here_, solid, units_));
  const Product made = product(id, part.name, shape);
  styled_.push_back(styled(solid, part));
  return made;
}

StepAssembly::Product StepAssembly::whole(const std::string& name, const std::vector<Use>& uses) {
  std::vector<int> items{here_};
  std::vector<int> places;
  for (const Use& use : uses) {
    places.push_back(axes(use.frame));
    if (std::find(items.begin(), items.end(), places.back()) == items.end()) items.push_back(places.back());
  }
  const int shape = lines_.add(fmt::format("SHAPE_REPRESENTATION('',{},#{})", step_refs(items), units_));
  const Product made = product(name, name, shape);
  for (std::size_t i = 0; i < uses.size(); ++i) {
    const Product& part = uses[i].product;
    const std::string called = uses[i].name.empty() ? "''" : step_text(uses[i].name);
    const int use = lines_.add(fmt::format("NEXT_ASSEMBLY_USAGE_OCCURRENCE('{}',{},'',#{},#{},$)", ++uses_,
                                           called, made.definition, part.definition));
    const int placed = lines_.add(fmt::format("PRODUCT_DEFINITION_SHAPE('','',#{})", use));
    const int move =
        lines_.shared(fmt::format("ITEM_DEFINED_TRANSFORMATION('','',#{},#{})", here_, places[i]));
    const int relation = lines_.add(fmt::format(
        "(REPRESENTATION_RELATIONSHIP('','',#{},#{})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{})"
        "SHAPE_REPRESENTATION_RELATIONSHIP())",
        part.representation, shape, move));
    lines_.add(fmt::format("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{},#{})", relation, placed));
  }
  return made;
}

void StepAssembly::end() {
  lines_.add(fmt::format("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',{},#{})",
                         step_refs(styled_), units_));
  out_ << "ENDSEC;\nEND-ISO-10303-21;\n";
}

void write_step_file(const std::filesystem::path& file, const std::string& name,
                     const std::string& description, const std::function<void(StepAssembly&)>& add) {
  std::ofstream out(file, std::ios::binary);
  StepAssembly step(out, name, description);
  add(step);
  step.end();
  out.close();
  if (!out) throw WriteError(fmt::format("{}: cannot write: {}", file.string(), std::strerror(errno)));
}

void kernel::write_assembly(const std::filesystem::path& file, const Assembly& assembly,
                            const AssemblyModel& model) {
  write_step_file(file, assembly.name, "Run of lined duct, millimetres", [&](StepAssembly& step) {
    std::vector<StepAssembly::Product> models;
    for (std::size_t i = 0; i < assembly.models.size(); ++i) {
      const std::string& name = assembly.models[i];
      const std::shared_ptr<const Model> made = model(i);
      std::vector<StepAssembly::Use> parts;
      for (const Part& part : made->parts)
        parts.push_back({step.body(name + " " + part.name, part), "", Frame{}});
      models.push_back(step.whole(name, parts));
      step.end_of_model();
    }
    std::vector<std::vector<StepAssembly::Use>> groups(std::max<std::size_t>(1, assembly.groups.size()));
    for (const AssemblyPlace& place : assembly.places)
      groups.at(place.group).push_back({models.at(place.model), place.name, place.frame});
    if (assembly.groups.empty()) {
      step.whole(assembly.name, groups.front());
      return;
    }
    std::vector<StepAssembly::Use> wholes;
    for (std::size_t i = 0; i < groups.size(); ++i)
      wholes.push_back({step.whole(assembly.groups[i], groups[i]), assembly.groups[i], Frame{}});
    step.whole(assembly.name, wholes);
  });
}

}  // namespace linerwright
