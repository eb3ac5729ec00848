// Our own metal as another program might hand it on: every face a free form, moved and turned anywhere,
// mirrored or in inches.
#include <gtest/gtest.h>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <gp_Trsf.hxx>

#include <optional>

#include "linerwright/error.hpp"
#include "linerwright/solid.hpp"
#include "recognise/expected.hpp"
#include "shape.hpp"
#include "support/cases.hpp"
#include "support/folder.hpp"
#include "support/random_fittings.hpp"

namespace linerwright::testing {
namespace {

gp_Trsf anywhere(support::Chance& chance, bool mirrored) {
  const gp_Dir axis(chance.between(-1.0, 1.0), chance.between(-1.0, 1.0), chance.between(0.1, 1.0));
  gp_Trsf turn, move, mirror;
  turn.SetRotation(gp_Ax1(gp_Pnt(), axis), chance.between(0.0, k_two_pi));
  move.SetTranslation(gp_Vec(chance.between(-5000.0, 5000.0), chance.between(-5000.0, 5000.0),
                             chance.between(-5000.0, 5000.0)));
  if (mirrored) mirror.SetMirror(gp_Ax2(gp_Pnt(), axis));
  return move * turn * mirror;
}

// Numbers that no place and no direction changes, and that hold for either end first.
Told without_place(Told told, const std::string& kind) {
  for (auto each = told.begin(); each != told.end();)
    each = each->first.substr(0, 6) == "around" ? told.erase(each) : std::next(each);
  if (kind == "reducer") {
    const double low = std::min(told["diameter"], told["to_diameter"]),
                 high = std::max(told["diameter"], told["to_diameter"]);
    const double first = std::min(told["collar"], told["to_collar"]),
                 last = std::max(told["collar"], told["to_collar"]);
    told = {{"low", low},
            {"high", high},
            {"first", first},
            {"last", last},
            {"length", told["length"]},
            {"shift", std::hypot(told["shift_x"], told["shift_y"])}};
  }
  if (kind == "tee") {
    told["position0"] = std::fabs(told["position0"] - 0.5 * told["length"]);
    told["angle0"] = std::fabs(told["angle0"] - 90.0);
    told["offset0"] = std::fabs(told["offset0"]);
  }
  return told;
}

class DisguisedOf : public ::testing::TestWithParam<const char*> {};

TEST_P(DisguisedOf, RandomFittingsAreRecognised) {
  Message::DefaultMessenger()->ChangePrinters().Clear();
  STEPControl_Controller::Init();
  const support::Folder folder;
  const std::filesystem::path file = folder.path() / "drawn.step";
  const std::string kind = GetParam();
  const auto recognise_moved = [&](const Fitting& fitting, const std::string& flags, int number,
                                   support::Chance& chance) {
    const bool mirrored = number % 2 == 1;
    const std::string what = flags + (mirrored ? ", mirrored" : "");
    const Model model = build_model(fitting);
    const TopoDS_Shape metal = model.parts.front().solid.shape().shape;
    ASSERT_EQ(model.parts.front().name, "metal");
    const TopoDS_Shape moved = BRepBuilderAPI_Transform(metal, anywhere(chance, mirrored), true).Shape();
    Interface_Static::SetCVal("write.step.unit", number % 3 == 2 ? "INCH" : "MM");
    STEPControl_Writer writer;
    ASSERT_EQ(writer.Transfer(BRepBuilderAPI_NurbsConvert(moved, true).Shape(), STEPControl_AsIs),
              IFSelect_RetDone);
    ASSERT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
    const Recognised recognised =
        recognise(read_drawn(file), kind == "elbow" ? fitting.request.values.integer("pieces") : 5);
    ASSERT_EQ(recognised.bodies.size(), 1u) << what;
    const RecognisedBody& body = recognised.bodies.front();
    ASSERT_EQ(body.fault, "") << what;
    EXPECT_EQ(body.kind, kind) << what;
    EXPECT_LT(body.residual, 1e-3) << what;
    const FittingRequest request = request_of(body);
    EXPECT_EQ(differences(without_place(told_by(fitting.request, fitting), kind),
                          without_place(told_by(request, make_fitting(request)), kind), 1e-3),
              "")
        << what;
  };
  const int wanted = support::cases(5);
  const int read = for_random_fittings(kind, 77, wanted, recognise_moved);
  Interface_Static::SetCVal("write.step.unit", "MM");
  EXPECT_EQ(read, wanted);
}

INSTANTIATE_TEST_SUITE_P(Kinds, DisguisedOf,
                         ::testing::Values("straight", "elbow", "offset", "reducer", "tee"),
                         [](const auto& one) { return std::string(one.param); });

}  // namespace
}  // namespace linerwright::testing
