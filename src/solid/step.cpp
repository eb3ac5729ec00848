// STEP, AP214, written through the kernel's plain translator: names and colours are set on its entities here,
// which spares every run the start-up of the kernel's document framework (and of the window system it pulls
// in).
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRep_Builder.hxx>
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_HArray1OfHAsciiString.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Quantity_Color.hxx>
#include <STEPConstruct.hxx>
#include <STEPConstruct_Styles.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <STEPControl_Writer.hxx>
#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_PropertyDefinition.hxx>
#include <StepRepr_RepresentationContext.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StepShape_ShapeDefinitionRepresentation.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepVisual_Colour.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_StyledItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <map>
#include <mutex>
#include <sstream>

#include <fmt/format.h>

#include "guard.hpp"
#include "kernel_side.hpp"
#include "linerwright/error.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

// The kernel's translators share state between sessions: one at a time.
std::mutex& translator_lock() {
  static std::mutex lock;
  return lock;
}

// Call under the lock.
void prepare_translator() {
  Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel would report on standard output
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
  Interface_Static::SetIVal("write.step.assembly", 1);
  Interface_Static::SetIVal("write.surfacecurve.mode", 1);
}

Handle(TCollection_HAsciiString) text(const std::string& value) {
  return new TCollection_HAsciiString(value.c_str());
}

Handle(Interface_HArray1OfHAsciiString) texts(const std::string& value) {
  Handle(Interface_HArray1OfHAsciiString) all = new Interface_HArray1OfHAsciiString(1, 1);
  all->SetValue(1, text(value));
  return all;
}

// STEP text is ASCII; quotes and backslashes would need escapes that readers treat differently.
std::string plain(const std::string& value) {
  std::string result;
  for (const char c : value) result += (c >= ' ' && c <= '~' && c != '\'' && c != '\\') ? c : '_';
  return result.empty() ? "_" : result;
}

// Linerwright's own colours: cold grey metal, two warm tints that tell neighbouring pieces apart, pale bore.
Quantity_Color colour_of(const Part& part) {
  const auto rgb = [](double r, double g, double b) { return Quantity_Color(r, g, b, Quantity_TOC_sRGB); };
  switch (part.role) {
    case PartRole::metal:
      return rgb(0.52, 0.57, 0.62);
    case PartRole::liner:
      return part.piece % 2 == 0 ? rgb(0.90, 0.69, 0.36) : rgb(0.74, 0.44, 0.27);
    case PartRole::bore:
      break;
  }
  return rgb(0.66, 0.85, 0.93);
}

void colour(STEPConstruct_Styles& styles, const Handle(StepRepr_RepresentationItem) & item,
            const Quantity_Color& rgb) {
  const Handle(StepVisual_Colour) shade = STEPConstruct_Styles::EncodeColor(rgb);
  const Handle(StepVisual_PresentationStyleAssignment) style =
      styles.MakeColorPSA(item, shade, shade, shade, 0.0);
  styles.AddStyle(item, style, Handle(StepVisual_StyledItem)());
}

// Where a solid stands among the entities of the file.
struct Place {
  Handle(StepBasic_Product) product;
  Handle(StepRepr_RepresentationContext) context;
};

// Of each item, through the representation that holds it.
std::map<const StepRepr_RepresentationItem*, Place> places_of(const Handle(StepData_StepModel) & model) {
  std::map<const StepRepr_RepresentationItem*, Place> places;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Handle(StepShape_ShapeDefinitionRepresentation) shape =
        Handle(StepShape_ShapeDefinitionRepresentation)::DownCast(model->Value(i));
    if (shape.IsNull()) continue;
    const Handle(StepRepr_PropertyDefinition) property = shape->Definition().PropertyDefinition();
    const Handle(StepRepr_Representation) representation = shape->UsedRepresentation();
    if (property.IsNull() || representation.IsNull()) continue;
    const Handle(StepBasic_ProductDefinition) definition = property->Definition().ProductDefinition();
    if (definition.IsNull()) continue;
    const Handle(StepBasic_Product) product = definition->Formation()->OfProduct();
    for (int k = 1; k <= representation->NbItems(); ++k)
      places[representation->ItemsValue(k).get()] = {product, representation->ContextOfItems()};
  }
  return places;
}

// Everything that would differ from run to run, or that says more about the machine than about the fitting.
void neutral_header(const Handle(StepData_StepModel) & model, const std::string& name) {
  APIHeaderSection_MakeHeader header(model);
  header.SetName(text(name));
  header.SetTimeStamp(text("2000-01-01T00:00:00"));
  header.SetAuthor(texts(""));
  header.SetOrganization(texts(""));
  header.SetPreprocessorVersion(text("Linerwright"));
  header.SetOriginatingSystem(text("Linerwright"));
  header.SetAuthorisation(text(""));
  header.SetDescription(texts("Lined duct fitting, millimetres"));
}

std::string step_text(const Fitting& fitting, const Model& model) {
  BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  for (const Part& part : model.parts) builder.Add(all, part.solid.shape().shape);

  STEPControl_Writer writer;
  const bool graph = false;  // of the kernel's entities: nothing here asks for it
  if (writer.Transfer(all, STEPControl_AsIs, graph) != IFSelect_RetDone)
    throw GeometryError("step: the kernel could not translate the solids");
  const Handle(StepData_StepModel) step = writer.Model();
  const Handle(Transfer_FinderProcess) finder = writer.WS()->TransferWriter()->FinderProcess();

  const std::string tag = plain(fitting.tag);
  const auto places = places_of(step);
  // without a work session, whose graph of all entities would take as long as writing a tenth of the file
  STEPConstruct_Styles styles;
  int number = 0;
  for (int i = 1; i <= step->NbEntities(); ++i) {
    // the translator numbers these from the start of the process
    if (const Handle(StepRepr_NextAssemblyUsageOccurrence) use =
            Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(step->Value(i));
        !use.IsNull())
      use->SetId(text(fmt::format("{}", ++number)));
    if (const Handle(StepBasic_Product) product = Handle(StepBasic_Product)::DownCast(step->Value(i));
        !product.IsNull()) {
      product->SetId(text(tag));
      product->SetName(text(tag));
    }
  }
  for (const Part& part : model.parts) {
    const Handle(StepRepr_RepresentationItem) item =
        STEPConstruct::FindEntity(finder, part.solid.shape().shape);
    const auto place = places.find(item.get());
    if (item.IsNull() || place == places.end()) throw GeometryError("step: the kernel lost " + part.name);
    item->SetName(text(plain(part.name)));
    place->second.product->SetId(text(tag + " " + plain(part.name)));
    place->second.product->SetName(text(plain(part.name)));
    styles.ClearStyles();
    colour(styles, item, colour_of(part));
    Handle(StepVisual_MechanicalDesignGeometricPresentationRepresentation) scene;
    if (!styles.CreateMDGPR(place->second.context, scene))
      throw GeometryError("step: the kernel could not colour " + part.name);
    step->AddWithRefs(scene);
  }
  neutral_header(step, tag);

  StepData_StepWriter sender(step);
  sender.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
  std::ostringstream out;
  if (!sender.Print(out)) throw GeometryError("step: the kernel could not write the file's text");
  return out.str();
}

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why) {
  Problem problem;
  problem.file = file.string();
  problem.reason = why;
  throw InputError({problem});
}

PartRole role_of(const std::string& name) {
  if (name == "metal") return PartRole::metal;
  return name == "bore" ? PartRole::bore : PartRole::liner;
}

}  // namespace

void kernel::write_step(const std::filesystem::path& file, const Fitting& fitting, const Model& model) {
  std::string content;
  {
    const std::lock_guard<std::mutex> only_one(translator_lock());
    prepare_translator();
    content = step_text(fitting, model);
  }
  std::ofstream out(file, std::ios::binary);
  out << content;
  out.close();
  if (!out) throw WriteError(fmt::format("{}: cannot write: {}", file.string(), std::strerror(errno)));
}

namespace {

// The file's stream, past the look at its first words.
void open_step(std::ifstream& in, const std::filesystem::path& file) {
  in.open(file, std::ios::binary);
  if (!in) refuse(file, std::strerror(errno));
  std::string head(13, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  if (head != "ISO-10303-21;") refuse(file, "not a STEP file: it does not begin with ISO-10303-21;");
  in.seekg(0);
}

// Call under the lock.
TopoDS_Shape transferred(STEPControl_Reader& reader, std::ifstream& in, const std::filesystem::path& file) {
  if (reader.ReadStream(file.filename().c_str(), in) != IFSelect_RetDone) refuse(file, "the STEP file is broken");
  reader.TransferRoots();
  TopoDS_Shape all = reader.OneShape();
  if (all.IsNull()) refuse(file, "the STEP file holds no shape");
  return all;
}

}  // namespace

TopoDS_Shape read_step_shape(const std::filesystem::path& file) {
  std::ifstream in;
  open_step(in, file);
  const std::lock_guard<std::mutex> only_one(translator_lock());
  try {
    prepare_translator();
    STEPControl_Reader reader;
    return transferred(reader, in, file);
  } catch (const Standard_Failure& failure) {
    refuse(file, words_of("the STEP file is broken", failure));
  }
}

std::vector<Part> kernel::read_step(const std::filesystem::path& file) {
  std::ifstream in;
  open_step(in, file);
  const std::lock_guard<std::mutex> only_one(translator_lock());
  std::vector<Part> parts;
  try {
    prepare_translator();
    STEPControl_Reader reader;
    const TopoDS_Shape all = transferred(reader, in, file);
    const Handle(XSControl_TransferReader) transfer = reader.WS()->TransferReader();
    int pieces = 0;
    for (TopExp_Explorer solids(all, TopAbs_SOLID); solids.More(); solids.Next()) {
      const TopoDS_Shape& solid = solids.Current();
      const Handle(StepRepr_RepresentationItem) item = Handle(StepRepr_RepresentationItem)::DownCast(
          transfer->EntityFromShapeResult(solid.Located(TopLoc_Location()), 1));
      const std::string name = item.IsNull() || item->Name().IsNull() ? "" : item->Name()->ToCString();
      const PartRole role = role_of(name);
      parts.push_back(
          {name, role, role == PartRole::liner ? pieces++ : -1, make_solid(solid), measured_volume(solid)});
    }
  } catch (const Standard_Failure& failure) {
    refuse(file, words_of("the STEP file is broken", failure));
  }
  if (parts.empty()) refuse(file, "the STEP file holds no solid");
  return parts;
}

}  // namespace linerwright
