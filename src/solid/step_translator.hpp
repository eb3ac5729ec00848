// The kernel's own reader of STEP. Its five libraries are a third of all names that are looked up when a
// program starts, so the command line has them loaded when a file is read; who links our libraries links it
// as well.
#pragma once

#include <TopoDS_Shape.hxx>
#include <istream>
#include <string>
#include <vector>

namespace linerwright {

struct Translated {
  TopoDS_Shape all;                // millimetres whatever the file's unit; null: it holds no shape
  std::vector<std::string> names;  // of its solids, in the kernel's order of them; empty where one has none
};

// Reads a whole file; `name` for the kernel's own messages. False: it is broken. One at a time: the kernel's
// translators share state. May throw Standard_Failure.
using Translate = bool (*)(std::istream& in, const char* name, Translated& out);

// The reader, loaded once. Throws GeometryError where it is not there.
Translate step_translator();

}  // namespace linerwright

extern "C" bool linerwright_translate_step(std::istream& in, const char* name, linerwright::Translated& out);
