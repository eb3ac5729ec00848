// A tee's bodies by the kernel's booleans of plain cylinders, as a second opinion.
#pragma once

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <gp_Ax2.hxx>

#include <stdexcept>

#include "kernel.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright::support {

inline TopoDS_Shape cylinder(const Frame& frame, double radius, double from, double to) {
  const gp_Ax2 axes(to_kernel(frame.point({0.0, 0.0, from})), gp_Dir(frame.z.x, frame.z.y, frame.z.z));
  return BRepPrimAPI_MakeCylinder(axes, radius, to - from).Shape();
}

// Throws std::runtime_error where the kernel reports any doubt.
template <class Operation>
TopoDS_Shape joined(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  Operation operation(a, b);
  if (operation.HasErrors() || operation.HasWarnings())
    throw std::runtime_error("the kernel doubts its own boolean operation");
  return operation.Shape();
}

// Body and branches at a depth, fused; mm.
inline TopoDS_Shape fused(const Fitting& fitting, double depth, double length, double reach) {
  TopoDS_Shape all;
  for (const Wall& wall : fitting.walls) {
    const bool body = all.IsNull();
    const TopoDS_Shape one =
        cylinder(wall.sheet.frame(), wall.sheet.r1() - depth, 0.0, body ? length : reach);
    all = body ? one : joined<BRepAlgoAPI_Fuse>(all, one);
  }
  return all;
}

struct BooleanTee {
  TopoDS_Shape cavity, bore, liner, metal;
};

// The bodies of a tee with this body length and branch length, mm.
inline BooleanTee boolean_tee(const Fitting& fitting, double length, double reach) {
  BooleanTee tee;
  tee.cavity = fused(fitting, 0.0, length, reach);
  tee.bore = fused(fitting, fitting.liner.thickness, length, reach);
  tee.liner = joined<BRepAlgoAPI_Cut>(tee.cavity, tee.bore);
  tee.metal = joined<BRepAlgoAPI_Cut>(fused(fitting, -fitting.liner.gauge, length, reach), tee.cavity);
  return tee;
}

}  // namespace linerwright::support
