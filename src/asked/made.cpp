#include "made.hpp"

#include <rapidjson/document.h>
#include <rapidjson/error/en.h>

#include "space.hpp"

namespace linerwright::asked {

namespace {

using Json = rapidjson::Value;

const Json& member(const Json& object, const char* key) {
  if (!object.IsObject() || !object.HasMember(key))
    throw Unreadable(std::string("fitting.json has no ") + key);
  return object[key];
}

double number(const Json& object, const char* key) {
  const Json& value = member(object, key);
  if (!value.IsNumber()) throw Unreadable(std::string("fitting.json: ") + key + " is no number");
  return value.GetDouble();
}

std::string text(const Json& object, const char* key) {
  const Json& value = member(object, key);
  if (!value.IsString()) throw Unreadable(std::string("fitting.json: ") + key + " is no text");
  return value.GetString();
}

void pair(const Json& object, const char* key, double (&out)[2]) {
  const Json& value = member(object, key);
  if (!value.IsArray() || value.Size() != 2 || !value[0].IsNumber() || !value[1].IsNumber())
    throw Unreadable(std::string("fitting.json: ") + key + " is no pair of numbers");
  out[0] = value[0].GetDouble();
  out[1] = value[1].GetDouble();
}

const Json& list(const Json& object, const char* key) {
  const Json& value = member(object, key);
  if (!value.IsArray()) throw Unreadable(std::string("fitting.json: ") + key + " is no list");
  return value;
}

MadePiece piece_of(const Json& json) {
  MadePiece piece;
  piece.id = text(json, "id");
  piece.role = text(json, "role");
  piece.count = number(json, "count");
  piece.stretch_out = number(json, "stretch_out");
  piece.around = number(member(json, "board"), "around");
  piece.along = number(member(json, "board"), "along");
  piece.area = number(json, "area");
  if (json.HasMember("holds"))
    for (const Json& id : list(json, "holds").GetArray())
      if (id.IsString()) piece.holds.push_back(id.GetString());
  if (json.HasMember("ordinates"))
    for (const Json& row : list(json, "ordinates").GetArray())
      piece.ordinates.push_back({radians(number(row, "angle")), number(row, "x"), number(row, "y"),
                                 number(row, "duct_low"), number(row, "duct_high"), number(row, "air_low"),
                                 number(row, "air_high")});
  if (json.HasMember("notch_ordinates"))
    for (const Json& row : list(json, "notch_ordinates").GetArray()) {
      MadeNotch notch;
      notch.angle = radians(number(row, "angle"));
      pair(row, "point", notch.tip);
      pair(row, "duct_left", notch.duct_left);
      pair(row, "duct_right", notch.duct_right);
      pair(row, "air_left", notch.air_left);
      pair(row, "air_right", notch.air_right);
      piece.notches.push_back(notch);
    }
  if (json.HasMember("hole_ordinates"))
    for (const Json& row : list(json, "hole_ordinates").GetArray()) {
      MadeHole hole;
      hole.hole = static_cast<int>(number(row, "hole"));
      hole.angle = radians(number(row, "branch_angle"));
      pair(row, "duct", hole.duct);
      pair(row, "air", hole.air);
      piece.holes.push_back(hole);
    }
  return piece;
}

MadeTemplate template_of(const Json& json) {
  MadeTemplate made{text(json, "id"), text(json, "seen_from") == "inside", {}};
  for (const Json& row : list(json, "hole").GetArray())
    made.hole.push_back({number(row, "x"), number(row, "y")});
  return made;
}

void read_bore(const Json& bore, std::vector<MadeStation>& stations) {
  if (!bore.IsObject()) throw Unreadable("fitting.json: bore is no table");
  for (const auto& passage : bore.GetObject()) {
    if (!passage.value.IsArray()) continue;
    for (const Json& row : passage.value.GetArray())
      stations.push_back({passage.name.GetString(), text(row, "place"), number(row, "distance"),
                          number(row, "bare_diameter"), number(row, "lined_diameter"),
                          number(row, "free_area"), number(row, "share"), number(row, "velocity_factor")});
  }
}

}  // namespace

MadeFitting read_made(const std::string& json) {
  rapidjson::Document document;
  document.Parse<rapidjson::kParseIterativeFlag>(json.data(), json.size());
  if (document.HasParseError())
    throw Unreadable(std::string("fitting.json: ") + rapidjson::GetParseError_En(document.GetParseError()));
  MadeFitting made;
  made.request.tag = text(document, "tag");
  made.request.kind = text(document, "kind");
  made.count = number(document, "count");
  if (document.HasMember("insertion_order"))
    for (const Json& id : list(document, "insertion_order").GetArray())
      if (id.IsString()) made.insertion.push_back(id.GetString());
  if (document.HasMember("state")) made.state = text(document, "state");
  for (const auto& word : member(document, "written").GetObject())
    if (word.value.IsString()) made.request.written[word.name.GetString()] = word.value.GetString();
  made.request.inches = made.request.written["units"] == "in";
  made.request.written.erase("units");
  for (const auto& value : member(document, "parameters").GetObject()) {
    if (value.value.IsNumber()) made.numbers[value.name.GetString()] = value.value.GetDouble();
    if (value.value.IsString()) made.words[value.name.GetString()] = value.value.GetString();
    if (value.value.IsArray())
      for (const Json& one : value.value.GetArray())
        made.lists[value.name.GetString()].push_back(one.IsNumber() ? one.GetDouble() : NAN);
    if (value.value.IsBool()) made.words[value.name.GetString()] = value.value.GetBool() ? "true" : "false";
  }
  for (const Json& piece : list(document, "pieces").GetArray()) made.pieces.push_back(piece_of(piece));
  if (document.HasMember("holes"))
    for (const Json& one : list(document, "holes").GetArray()) made.templates.push_back(template_of(one));
  if (document.HasMember("volumes") && document["volumes"].IsObject())
    for (const auto& volume : document["volumes"].GetObject())
      if (volume.value.IsNumber()) made.volumes[volume.name.GetString()] = volume.value.GetDouble();
  read_bore(member(document, "bore"), made.bore);
  for (const Json& fact : list(document, "facts").GetArray())
    if (member(fact, "value").IsNumber()) made.facts[text(fact, "key")] = number(fact, "value");
  const Json& dxf = member(document, "dxf");
  made.version = text(dxf, "version");
  made.inch_drawings = text(dxf, "units") == "in";
  for (const char* key : {"cut_only", "single_layer"})
    made.bare_drawings = made.bare_drawings || (dxf.HasMember(key) && dxf[key].IsTrue());
  if (document.HasMember("mesh")) made.deflection = number(document["mesh"], "deflection");
  return made;
}

std::string name_ending(const Files& files, const std::string& ending) {
  for (const auto& [name, bytes] : files)
    if (name.size() >= ending.size() && name.compare(name.size() - ending.size(), ending.size(), ending) == 0)
      return name;
  return {};
}

}  // namespace linerwright::asked
