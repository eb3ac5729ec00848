// A fitting.json read back: what was asked for, and how the files beside it were written.
#include <rapidjson/document.h>

#include "earlier.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/error.hpp"
#include "options.hpp"

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

std::optional<Earlier> earlier_result(const std::filesystem::path& folder) {
  std::error_code error;
  if (!std::filesystem::exists(folder / "fitting.json", error)) return std::nullopt;
  try {
    const rapidjson::Document json = parsed(folder / "fitting.json");
    Earlier earlier;
    earlier.made_from = text_at(json, "made_from");
    read_options(json, &earlier.options);
    earlier.files = texts_at(json, "files");
    earlier.warnings = texts_at(json, "warnings");
    earlier.whole = !earlier.files.empty();
    for (const std::string& file : earlier.files)
      if (!std::filesystem::is_regular_file(folder / file, error)) earlier.whole = false;
    if (json.HasMember("checks") && json["checks"].IsArray())
      for (const auto& check : json["checks"].GetArray())
        if (!flag_at(check, "pass")) earlier.whole = false;
    return earlier;
  } catch (const InputError&) {
    return std::nullopt;
  }
}

FittingRequest request_from_json(const std::filesystem::path& file, OutputOptions* options) {
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
  if (options != nullptr) read_options(json, options);
  return request;
}

}  // namespace linerwright
