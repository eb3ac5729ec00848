// Stands alone: nothing of ours but step_sides is used here, so that it can be loaded by itself.
#include "step_translator.hpp"

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

#include "step_sides.hpp"

namespace {

void prepare_translator() {
  Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel would report on standard output
  STEPControl_Controller::Init();
  linerwright::lay_sides_when_read();
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
}

}  // namespace

bool linerwright_translate_step(std::istream& in, const char* name, linerwright::Translated& out) {
  prepare_translator();
  STEPControl_Reader reader;
  if (reader.ReadStream(name, in) != IFSelect_RetDone) return false;
  reader.TransferRoots();
  out.all = reader.OneShape();
  if (out.all.IsNull()) return true;
  const Handle(XSControl_TransferReader) transfer = reader.WS()->TransferReader();
  for (TopExp_Explorer solids(out.all, TopAbs_SOLID); solids.More(); solids.Next()) {
    const Handle(StepRepr_RepresentationItem) item = Handle(StepRepr_RepresentationItem)::DownCast(
        transfer->EntityFromShapeResult(solids.Current().Located(TopLoc_Location()), 1));
    out.names.emplace_back(item.IsNull() || item->Name().IsNull() ? "" : item->Name()->ToCString());
  }
  return true;
}
