#include "linerwright/report/board_folder.hpp"

#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/digest.hpp"

namespace linerwright {

namespace {

std::string board_list(const BoardPlan& plan, const std::vector<std::pair<std::string, std::string>>& of,
                       const BoardFolder& folder) {
  std::vector<std::string> names;
  for (const auto& [name, bytes] : folder.files) names.push_back(name);
  names.emplace_back(k_board_list);
  return sealed(boards_json(plan, [&](JsonWriter& json) {
    json.key("of").begin_array();
    for (const auto& [tag, state] : of)
      json.begin_object().key("tag").text(tag).key("state").text(state).end_object();
    json.end_array();
    write_contents(json, names, folder.digests);
    write_seal(json);
  }));
}

}  // namespace

BoardFolder board_folder(const DrawnBoards& drawn, const std::vector<std::pair<std::string, std::string>>& of,
                         const StickerSheet& stickers, const SheetHead& head, const std::string& division) {
  const BoardPlan& plan = drawn.plan;
  BoardFolder folder;
  auto& files = folder.files;
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    files.emplace_back(board_file(plan, b), drawn.files[b]);
  files.emplace_back("cutlist.csv", cut_list_csv(plan));
  files.emplace_back("boards.csv", boards_csv(plan));
  files.emplace_back("jobsheet.pdf", jobsheet_pdf(plan, head));
  files.emplace_back("stickers.pdf", stickers_pdf(plan, stickers, head));
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    files.emplace_back(board_pdf_file(plan, b), board_pdf(plan, b, head));
  if (!division.empty()) files.emplace_back(k_division_file, division);
  for (const auto& [name, bytes] : files) folder.digests[name] = digest(bytes);
  folder.list = board_list(plan, of, folder);
  return folder;
}

}  // namespace linerwright
