// What a fitting's fitting.json says, as far as the request can answer for it.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/asked/asked.hpp"
#include "request.hpp"

namespace linerwright::asked {

struct MadeOrdinate {
  double angle = 0.0;  // radians
  double x = 0.0, y = 0.0;
  double duct_low = 0.0, duct_high = 0.0, air_low = 0.0, air_high = 0.0;
};

struct MadeHole {
  int hole = 0;        // from 1
  double angle = 0.0;  // radians, around the branch
  double duct[2] = {0.0, 0.0};
  double air[2] = {0.0, 0.0};
};

struct MadeNotch {
  double angle = 0.0;
  double tip[2] = {0.0, 0.0};
  double duct_left[2] = {0.0, 0.0}, duct_right[2] = {0.0, 0.0};
  double air_left[2] = {0.0, 0.0}, air_right[2] = {0.0, 0.0};
};

struct MadePiece {
  std::string id;
  std::string role;
  double count = 0.0;
  double stretch_out = 0.0;
  double around = 0.0, along = 0.0;
  double area = 0.0;
  std::vector<std::string> holds;
  std::vector<MadeOrdinate> ordinates;
  std::vector<MadeHole> holes;
  std::vector<MadeNotch> notches;
};

struct MadeStation {
  std::string passage;
  std::string place;
  double distance = 0.0, bare = 0.0, lined = 0.0, area = 0.0, share = 0.0, velocity = 0.0;
};

// Several pieces of one layer with shared cuts.
inline bool is_blank(const MadePiece& piece) {
  return piece.holds.size() > 1 && piece.id.find("blank") < 2;  // of a second layer behind its letter
}

// Of the hole that a tap needs.
struct MadeTemplate {
  std::string id;
  bool inside = false;  // seen from
  std::vector<std::array<double, 2>> hole;
};

struct MadeFitting {
  Request request;
  double count = 0.0;
  std::string state;                                 // a sum of all that was asked for
  std::map<std::string, double> numbers;             // parameters that are one number, as stated there
  std::map<std::string, std::string> words;          // and those that are words
  std::map<std::string, std::vector<double>> lists;  // and those with a number for each branch
  std::vector<MadePiece> pieces;
  std::vector<std::string> insertion;  // pieces' ids in the order in which they go in
  std::vector<MadeTemplate> templates;
  std::map<std::string, double> volumes;
  std::vector<MadeStation> bore;
  std::map<std::string, double> facts;
  bool inch_drawings = false;
  bool bare_drawings = false;  // nothing but cuts in the DXF files
  std::string version;         // r2000 or r12
  double deflection = 0.1;     // of the meshes
};

// Throws Unreadable.
MadeFitting read_made(const std::string& json);

// The one name of a file that ends so, "-body.dxf"; empty where there is none.
std::string name_ending(const Files& files, const std::string& ending);

}  // namespace linerwright::asked
