#include "contents.hpp"

#include <rapidjson/document.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "linerwright/check/file_bytes.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr const char* k_fitting_proof = "fitting.json";
constexpr const char* k_boards_proof = "boards.json";
constexpr const char* k_run_proof = "run.json";

bool is_sum(const rapidjson::Value& json, const char* key) {
  const auto found = json.FindMember(key);
  if (found == json.MemberEnd() || !found->value.IsString()) return false;
  const std::string text = found->value.GetString();
  return text.size() >= 32 && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

bool is_text(const rapidjson::Value& json, const char* key) {
  const auto found = json.FindMember(key);
  return found != json.MemberEnd() && found->value.IsString() && found->value.GetStringLength() > 0;
}

bool is_list(const rapidjson::Value& json, const char* key) {
  const auto found = json.FindMember(key);
  return found != json.MemberEnd() && found->value.IsArray();
}

bool is_format(const rapidjson::Value& json) {
  const auto found = json.FindMember("format");
  return found != json.MemberEnd() && found->value.IsInt() && found->value.GetInt() >= 1;
}

// Before folders of boards listed their files.
Contents boards_by_name(const fs::path& folder) {
  Contents contents{{k_boards_proof, {}}, {"boards.csv", {}}, {"cutlist.csv", {}}};
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    if (name.rfind("board-", 0) == 0 && entry.path().extension() == ".dxf") contents[name];
  }
  return contents;
}

}  // namespace

const char* proof_of(const std::string& stem, Shelf shelf) {
  if (shelf == Shelf::runs) return k_run_proof;
  return stem == k_boards_folder ? k_boards_proof : k_fitting_proof;
}

std::string bytes_of_file(const fs::path& file) {
  errno = 0;
  std::ifstream in(file, std::ios::binary);
  std::ostringstream bytes;
  if (in && in.peek() != std::ifstream::traits_type::eof()) bytes << in.rdbuf();
  if (!in.is_open() || in.bad() || !bytes)
    throw WriteError(fmt::format("{}: cannot be read: {}", file.string(), std::strerror(errno)));
  return bytes.str();
}

std::string digest_of_file(const fs::path& file) {
  errno = 0;
  std::ifstream in(file, std::ios::binary);
  std::string sum = in ? digest(in) : std::string();
  if (sum.empty() || in.bad())
    throw WriteError(fmt::format("{}: cannot be read: {}", file.string(), std::strerror(errno)));
  return sum;
}

std::optional<std::string> json_text_of(const fs::path& file) {
  try {
    std::string text = file_bytes(file, k_largest_json);
    read_json(text, file.string());
    return text;
  } catch (const InputError&) {
    return std::nullopt;
  }
}

std::optional<Contents> contents_of(const fs::path& folder, const std::string& stem, Shelf shelf) {
  const char* proof = proof_of(stem, shelf);
  std::error_code error;
  if (!fs::is_regular_file(fs::symlink_status(folder / proof, error))) return std::nullopt;
  const std::optional<std::string> text = json_text_of(folder / proof);
  if (!text) return std::nullopt;
  rapidjson::Document json;
  json.Parse<rapidjson::kParseIterativeFlag>(text->c_str());
  if (json.HasParseError() || !json.IsObject() || !is_format(json)) return std::nullopt;
  Contents contents;
  if (shelf == Shelf::runs) {
    if (!is_sum(json, "made_from") || !is_list(json, "files") || !is_text(json, "name") ||
        file_stem(json["name"].GetString()) != stem)
      return std::nullopt;
  } else if (stem == k_boards_folder) {
    if (!is_list(json, "boards") || !json.HasMember("yield")) return std::nullopt;
    if (!is_list(json, "files")) return boards_by_name(folder);
  } else if (!is_sum(json, "made_from") || !is_text(json, "kind") || !is_list(json, "files") ||
             !is_text(json, "tag") || file_stem(json["tag"].GetString()) != stem) {
    return std::nullopt;
  }
  for (const auto& file : json["files"].GetArray())
    if (file.IsString()) contents[file.GetString()];
  if (json.HasMember("digests") && json["digests"].IsObject())
    for (const auto& entry : json["digests"].GetObject())
      if (entry.value.IsString()) contents[entry.name.GetString()] = entry.value.GetString();
  if (seal_holds(*text)) {
    contents[proof].clear();
  } else {
    contents[proof] = "changed";
  }
  return contents;
}

bool holds_these(const fs::path& folder, const std::string& stem, Shelf shelf, const Contents& digests,
                 const std::string& proof) {
  const std::optional<Contents> there = contents_of(folder, stem, shelf);
  std::error_code error;
  if (!there || there->size() != digests.size() + 1 || bytes_of_file(folder / proof_of(stem, shelf)) != proof)
    return false;
  for (const auto& [name, sum] : digests)
    if (!fs::is_regular_file(folder / name, error) || digest_of_file(folder / name) != sum) return false;
  return true;
}

}  // namespace linerwright
