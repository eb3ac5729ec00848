// A fitting.json read back: what was asked for, and how the files beside it were written.
#include <rapidjson/document.h>

#include "earlier.hpp"
#include "linerwright/error.hpp"
#include "linerwright/file_bytes.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

namespace {

[[noreturn]] void broken(const std::filesystem::path& file, const std::string& reason) {
  throw InputError({Problem{file.string(), 0, {}, {}, {}, {}, reason}});
}

std::string text_at(const rapidjson::Value& object, const char* key) {
  if (!object.IsObject() || !object.HasMember(key) || !object[key].IsString()) return {};
  return object[key].GetString();
}

double number_at(const rapidjson::Value& object, const char* key, double otherwise) {
  return object.IsObject() && object.HasMember(key) && object[key].IsNumber() ? object[key].GetDouble()
                                                                              : otherwise;
}

bool flag_at(const rapidjson::Value& object, const char* key) {
  return object.IsObject() && object.HasMember(key) && object[key].IsBool() && object[key].GetBool();
}

}  // namespace

namespace {

rapidjson::Document parsed(const std::filesystem::path& file) {
  const std::string text = file_bytes(file, k_largest_json);
  read_json(text, file.string());  // refuses what is broken or without end
  rapidjson::Document json;
  constexpr unsigned k_safe = rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag;
  json.Parse<k_safe>(text.c_str());
  if (json.HasParseError() || !json.IsObject()) broken(file, "is no fitting.json");
  return json;
}

std::vector<std::string> texts_at(const rapidjson::Value& object, const char* key) {
  std::vector<std::string> texts;
  if (object.HasMember(key) && object[key].IsArray())
    for (const auto& each : object[key].GetArray())
      if (each.IsString()) texts.emplace_back(each.GetString());
  return texts;
}

}  // namespace

bool earlier_result(const std::filesystem::path& folder, const std::string& from, Made* made) {
  std::error_code error;
  if (!std::filesystem::exists(folder / "fitting.json", error)) return false;
  try {
    const rapidjson::Document json = parsed(folder / "fitting.json");
    if (text_at(json, "made_from") != from) return false;
    made->files = texts_at(json, "files");
    if (made->files.empty()) return false;
    for (const std::string& file : made->files)
      if (!std::filesystem::is_regular_file(folder / file, error)) return false;
    if (json.HasMember("checks") && json["checks"].IsArray())
      for (const auto& check : json["checks"].GetArray())
        if (!flag_at(check, "pass")) return false;
    made->warnings = texts_at(json, "warnings");
    made->folder = folder;
    made->unchanged = true;
    return true;
  } catch (const InputError&) {
    return false;  // a broken one is made again
  }
}

FittingRequest request_from_json(const std::filesystem::path& file, ProduceOptions* options) {
  const rapidjson::Document json = parsed(file);
  const std::string kind = text_at(json, "kind");
  const std::string tag = text_at(json, "tag");
  if (kind.empty() || tag.empty() || !json.HasMember("written") || !json["written"].IsObject())
    broken(file, "lacks the kind, the tag or what was written");
  std::map<std::string, std::string> flags{{"tag", tag}};
  for (const auto& member : json["written"].GetObject())
    if (std::string(member.name.GetString()) != "units" && member.value.IsString())
      flags[member.name.GetString()] = member.value.GetString();
  const Units units = text_at(json["written"], "units") == "in" ? Units::inch : Units::metric;
  FittingRequest request = request_from_flags(kind, flags, units, job_schema());
  const double count = number_at(json, "count", 1.0);
  if (!(count >= 1.0 && count <= 1e5)) broken(file, "says how many there are in no number that can be");
  request.count = static_cast<long>(count);
  if (options != nullptr && json.HasMember("dxf") && json.HasMember("mesh")) {
    options->dxf.version = text_at(json["dxf"], "version") == "r12" ? DxfVersion::r12 : DxfVersion::r2000;
    options->dxf.units = text_at(json["dxf"], "units") == "in" ? DxfUnits::inch : DxfUnits::millimetre;
    options->dxf.cut_only = flag_at(json["dxf"], "cut_only");
    options->dxf.single_layer = flag_at(json["dxf"], "single_layer");
    options->mesh.deflection = number_at(json["mesh"], "deflection", options->mesh.deflection);
    options->mesh.angle = number_at(json["mesh"], "angle", options->mesh.angle * 180.0 / k_pi) / 180.0 * k_pi;
  }
  return request;
}

}  // namespace linerwright
