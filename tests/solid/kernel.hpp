// The kernel's own measures, as second opinions.
#pragma once

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS_Shape.hxx>

#include "shape.hpp"

namespace linerwright::support {

inline double kernel_volume_of(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(shape, properties, 1e-9);
  return properties.Mass();
}
inline double kernel_area_of(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(shape, properties, 1e-6);
  return properties.Mass();
}

}  // namespace linerwright::support
