// The tilt table as it stands on disk.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "linerwright/pattern/tilt_table.hpp"

namespace linerwright {

// A row as written, lengths in mm, angles in radians.
struct TiltFileRow {
  int contour = 0;
  Vec2 at;
  double heading = 0.0;
  double reading = 0.0;  // what the head shows
  double left = 0.0;
  Vec2 pivot{};  // only where the head has one above the board
};

struct TiltFile {
  Face face_up = Face::duct;
  double board = 0.0;  // thickness, mm
  KnifeHead head;
  std::map<std::string, std::vector<TiltFileRow>> pieces;  // by pattern
};

// Throws InputError with file, line and reason.
TiltFile read_tilt_file(const std::filesystem::path& file);

}  // namespace linerwright
