// The folder of boards: a DXF for each, and tables.
#include "contents.hpp"
#include "folder.hpp"
#include "linerwright/cut_list.hpp"
#include "linerwright/digest.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr const char* k_list = "boards.json";

// The folder lists the same files, and they are still what was written.
bool is_same(const fs::path& folder, const Contents& digests, const std::string& list) {
  const std::optional<Contents> there = contents_of(folder, k_boards_folder);
  std::error_code error;
  if (!there || there->size() != digests.size() + 1 || bytes_of_file(folder / k_list) != list) return false;
  for (const auto& [name, sum] : digests)
    if (!fs::is_regular_file(folder / name, error) || digest(bytes_of_file(folder / name)) != sum)
      return false;
  return true;
}

std::string board_list(const FloorPlan& plan, const std::vector<std::pair<std::string, std::string>>& of,
                       std::vector<std::string> files, const Contents& digests) {
  files.emplace_back(k_list);
  return sealed(boards_json(plan, [&](JsonWriter& json) {
    json.key("of").begin_array();
    for (const auto& [tag, state] : of)
      json.begin_object().key("tag").text(tag).key("state").text(state).end_object();
    json.end_array();
    write_contents(json, files, digests);
    write_seal(json);
  }));
}

}  // namespace

std::map<std::string, std::string> write_boards(const DrawnFloor& floor,
                                                const std::vector<std::pair<std::string, std::string>>& of,
                                                const OutFolder& out) {
  const FloorPlan& plan = floor.plan;
  std::vector<std::pair<std::string, std::string>> files;
  for (std::size_t i = 0; i < plan.boards.size(); ++i)
    files.emplace_back(board_file(plan, i), floor.files[i]);
  files.emplace_back("cutlist.csv", cut_list_csv(plan));
  files.emplace_back("boards.csv", boards_csv(plan));
  std::vector<std::string> names;
  Contents digests;
  for (const auto& [name, bytes] : files) {
    names.push_back(name);
    digests[name] = digest(bytes);
  }
  const std::string list = board_list(plan, of, names, digests);
  if (is_same(out.path() / k_boards_folder, digests, list)) return {};
  NewFolder folder(out.path(), k_boards_folder);
  for (const auto& [name, bytes] : files) folder.write(name, bytes);
  folder.write(k_list, list);
  folder.carry();
  out.sync();
  folder.place();
  return folder.kept();
}

}  // namespace linerwright
