// The folder of boards: a DXF for each, and tables.
#include "folder.hpp"
#include "linerwright/parallel.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

void write_boards(const FloorPlan& plan, const std::filesystem::path& out, const DxfOptions& options,
                  int threads, const std::vector<std::pair<std::string, std::string>>& tables) {
  const std::size_t count = plan.boards.size();
  std::vector<std::string> files(count);
  in_parallel(count, threads, [&](std::size_t i) { files[i] = board_dxf(plan, i, options); });
  const OutFolder hold(out);
  NewFolder folder(out, k_boards_folder, tables.front().first);
  for (std::size_t i = 0; i < count; ++i) folder.write(board_file(plan, i), files[i]);
  for (const auto& [name, bytes] : tables) folder.write(name, bytes);
  folder.keep();
}

}  // namespace linerwright
