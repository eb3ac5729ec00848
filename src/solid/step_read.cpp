// STEP files as shapes and parts.
#include <TopExp_Explorer.hxx>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <mutex>

#include <fmt/format.h>

#include "guard.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"
#include "step_translator.hpp"

namespace linerwright {

namespace {

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

// The whole file; solids with their names.
Translated translated(const std::filesystem::path& file) {
  static std::mutex only_one;  // the kernel's translators share state between sessions
  const Translate translate = step_translator();
  std::ifstream in;
  open_step(in, file);
  Translated found;
  const std::lock_guard<std::mutex> guard(only_one);
  try {
    if (!translate(in, file.filename().c_str(), found)) refuse(file, "the STEP file is broken");
  } catch (const Standard_Failure& failure) {
    refuse(file, words_of("the STEP file is broken", failure));
  }
  if (found.all.IsNull()) refuse(file, "the STEP file holds no shape");
  return found;
}

}  // namespace

TopoDS_Shape read_step_shape(const std::filesystem::path& file) {
  return translated(file).all;
}

void kernel::load_step_reader() {
  step_translator();
}

std::vector<Part> kernel::read_step(const std::filesystem::path& file) {
  const Translated found = translated(file);
  std::vector<Part> parts;
  try {
    int pieces = 0;
    auto name = found.names.begin();
    for (TopExp_Explorer solids(found.all, TopAbs_SOLID); solids.More(); solids.Next(), ++name) {
      const PartRole role = role_of(*name);
      parts.push_back({*name, role, role == PartRole::liner ? std::optional<int>(pieces++) : std::nullopt,
                       make_solid(solids.Current()), measured_volume(solids.Current())});
    }
  } catch (const Standard_Failure& failure) {
    refuse(file, words_of("the STEP file is broken", failure));
  }
  if (parts.empty()) refuse(file, "the STEP file holds no solid");
  return parts;
}

}  // namespace linerwright
