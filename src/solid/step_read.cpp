// STEP read by the kernel's translator.
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopExp_Explorer.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <mutex>

#include <fmt/format.h>

#include "guard.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"
#include "step_sides.hpp"

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
  lay_sides_when_read();
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
}

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why) {
  Problem problem;
  problem.file = file.string();
  problem.reason = why;
  throw InputError({problem});
}

PartRole role_of(const std::string& name) {
  if (name == "metal" || name.compare(0, 6, "metal ") == 0) return PartRole::metal;
  return name == "bore" ? PartRole::bore : PartRole::liner;
}

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
  if (reader.ReadStream(file.filename().c_str(), in) != IFSelect_RetDone)
    refuse(file, "the STEP file is broken");
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
      parts.push_back({name, role, role == PartRole::liner ? std::optional<int>(pieces++) : std::nullopt,
                       make_solid(solid), measured_volume(solid)});
    }
  } catch (const Standard_Failure& failure) {
    refuse(file, words_of("the STEP file is broken", failure));
  }
  if (parts.empty()) refuse(file, "the STEP file holds no solid");
  return parts;
}

}  // namespace linerwright
