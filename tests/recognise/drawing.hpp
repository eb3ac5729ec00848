// Shapes of the kernel written to a STEP file and read as drawn metal.
#pragma once

#include <gtest/gtest.h>
#include <BRepBuilderAPI_Transform.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <gp_Trsf.hxx>

#include <string>

#include "recognise/expected.hpp"
#include "support/folder.hpp"

namespace linerwright::testing {

inline Recognised read(const TopoDS_Shape& shape, const support::Folder& folder, const char* unit = "MM") {
  const std::filesystem::path file = folder.path() / "drawn.step";
  Message::DefaultMessenger()->ChangePrinters().Clear();
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.unit", unit);
  STEPControl_Writer writer;
  EXPECT_EQ(writer.Transfer(shape, STEPControl_AsIs), IFSelect_RetDone);
  EXPECT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
  Interface_Static::SetCVal("write.step.unit", "MM");
  return recognise(read_drawn(file));
}

inline RecognisedBody body_read(const TopoDS_Shape& shape, const char* unit = "MM") {
  const support::Folder folder;
  const Recognised recognised = read(shape, folder, unit);
  EXPECT_EQ(recognised.bodies.size(), 1u);
  return recognised.bodies.empty() ? RecognisedBody{} : recognised.bodies.front();
}

inline double key(const RecognisedBody& body, const std::string& name) {
  for (const auto& [each, value] : body.keys)
    if (each == name)
      return parse_quantity(name == "angle" || name == "around" ? Quantity::angle : Quantity::length, value,
                            Units::metric) *
             (name == "angle" || name == "around" ? 180.0 / k_pi : 1.0);
  ADD_FAILURE() << name << " of " << body.kind << " " << body.fault;
  return 0.0;
}

inline gp_Trsf moved() {
  gp_Trsf turn, move;
  turn.SetRotation(gp_Ax1(gp_Pnt(3, -8, 2), gp_Dir(1, 2, -0.5)), 1.234);
  move.SetTranslation(gp_Vec(12345.6, -789.1, 333.3));
  return move * turn;
}

inline TopoDS_Shape transformed(const TopoDS_Shape& shape, const gp_Trsf& by) {
  return BRepBuilderAPI_Transform(shape, by, true).Shape();
}

}  // namespace linerwright::testing
