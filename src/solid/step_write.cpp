// STEP, AP214 (ISO 10303-214, automotive_design), as text of our own: an assembly of named and coloured
// solids. The kernel's translator takes half of a fitting's time under one lock of the whole process, and
// writes two curves on surfaces for each edge, which are nine tenths of the file.
#include <cerrno>
#include <cstring>
#include <fstream>

#include <fmt/format.h>

#include "kernel_side.hpp"
#include "linerwright/error.hpp"
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
      return part.piece % 2 == 0 ? Colour{0.90, 0.69, 0.36} : Colour{0.74, 0.44, 0.27};
    case PartRole::bore:
      break;
  }
  return {0.66, 0.85, 0.93};
}

// A product with one representation of its shape.
struct Product {
  int definition, representation;
};

class Assembly {
 public:
  explicit Assembly(const std::string& tag) : tag_(tag) {
    context_ = lines_.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
    lines_.add(fmt::format(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{})", context_));
    const int length = lines_.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
    const int angle = lines_.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
    const int solid_angle = lines_.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
    const int accuracy = lines_.add(fmt::format(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#{},'distance_accuracy_value','mm')", length));
    units_ = lines_.add(
        fmt::format("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{}))"
                    "GLOBAL_UNIT_ASSIGNED_CONTEXT((#{},#{},#{}))REPRESENTATION_CONTEXT('','3D'))",
                    accuracy, length, angle, solid_angle));
    const int origin = lines_.shared("CARTESIAN_POINT('',(0.,0.,0.))");
    const int z = lines_.shared("DIRECTION('',(0.,0.,1.))");
    const int x = lines_.shared("DIRECTION('',(1.,0.,0.))");
    here_ = lines_.shared(fmt::format("AXIS2_PLACEMENT_3D('',#{},#{},#{})", origin, z, x));
  }

  void add(const Part& part) {
    const int solid = add_solid(lines_, part.solid.shape().shape, part.name);
    const int shape =
        lines_.add(fmt::format("ADVANCED_BREP_SHAPE_REPRESENTATION('',(#{},#{}),#{})", here_, solid, units_));
    parts_.push_back(product(tag_ + " " + part.name, part.name, shape));
    styled_.push_back(styled(solid, colour_of(part)));
  }

  std::string finished() {
    const int shape = lines_.add(fmt::format("SHAPE_REPRESENTATION('',(#{}),#{})", here_, units_));
    const Product whole = product(tag_, tag_, shape);
    int number = 0;
    for (const Product& part : parts_) place(whole, part, ++number);
    lines_.add(fmt::format("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',{},#{})",
                           step_refs(styled_), units_));
    return fmt::format(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('Lined duct fitting, millimetres'),'2;1');\n"
        "FILE_NAME({},'2000-01-01T00:00:00',(''),(''),'Linerwright','Linerwright','');\n"
        "FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n"
        "{}ENDSEC;\nEND-ISO-10303-21;\n",
        step_text(tag_), lines_.text());
  }

 private:
  Product product(const std::string& id, const std::string& name, int representation) {
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

  // All parts are drawn where they belong.
  void place(const Product& whole, const Product& part, int number) {
    const int use = lines_.add(fmt::format("NEXT_ASSEMBLY_USAGE_OCCURRENCE('{}','','',#{},#{},$)", number,
                                           whole.definition, part.definition));
    const int placed = lines_.add(fmt::format("PRODUCT_DEFINITION_SHAPE('','',#{})", use));
    const int still = lines_.shared(fmt::format("ITEM_DEFINED_TRANSFORMATION('','',#{},#{})", here_, here_));
    const int relation = lines_.add(fmt::format(
        "(REPRESENTATION_RELATIONSHIP('','',#{},#{})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{})"
        "SHAPE_REPRESENTATION_RELATIONSHIP())",
        part.representation, whole.representation, still));
    lines_.add(fmt::format("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{},#{})", relation, placed));
  }

  int styled(int solid, const Colour& colour) {
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

  std::string tag_;
  StepLines lines_;
  int context_ = 0, units_ = 0, here_ = 0;
  std::vector<Product> parts_;
  std::vector<int> styled_;
};

}  // namespace

void kernel::write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model) {
  Assembly assembly(fitting.tag);
  for (const Part& part : model.parts) assembly.add(part);
  std::ofstream out(file, std::ios::binary);
  out << assembly.finished();
  out.close();
  if (!out) throw WriteError(fmt::format("{}: cannot write: {}", file.string(), std::strerror(errno)));
}

}  // namespace linerwright
