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

std::map<std::string, std::string> write_boards(
    const DrawnFloor& floor, const std::vector<std::pair<std::string, std::string>>& of,
    const std::vector<std::pair<std::string, std::string>>& beside, const OutFolder& out) {
  const FloorPlan& plan = floor.plan;
  std::vector<std::pair<std::string, std::string>> files;
  for (std::size_t i = 0; i < plan.boards.size(); ++i)
    files.emplace_back(board_file(plan, i), floor.files[i]);
  files.emplace_back("cutlist.csv", cut_list_csv(plan));
  files.emplace_back("boards.csv", boards_csv(plan));
  files.insert(files.end(), beside.begin(), beside.end());
  std::vector<std::string> names;
  Contents digests;
  for (const auto& [name, bytes] : files) {
    names.push_back(name);
    digests[name] = digest(bytes);
  }
  const std::string list = board_list(plan, of, names, digests);
  if (holds_these(out.path() / k_boards_folder, k_boards_folder, Shelf::fittings, digests, list)) return {};
  NewFolder folder(out.path(), k_boards_folder);
  for (const auto& [name, bytes] : files) folder.write(name, bytes);
  folder.write(k_list, list);
  folder.carry();
  out.sync();
  folder.place();
  return folder.kept();
}

}  // namespace linerwright
