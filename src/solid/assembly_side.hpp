// What works on assemblies inside the kernel; public.cpp calls each under its guard.
#pragma once

#include <TopLoc_Location.hxx>

#include "linerwright/solid/assembly.hpp"

namespace linerwright::kernel {

TopLoc_Location location_of(const Frame& frame);
Solid placed(const Solid& solid, const Frame& frame);
double volume_in_place(const Solid& solid);
void write_assembly(const std::filesystem::path& file, const Assembly& assembly, const AssemblyModel& model);
Fused fused(const std::vector<Solid>& solids);
SolidBox box_around(const Solid& solid);

}  // namespace linerwright::kernel
