#include "linerwright/output/board_rest.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <fstream>
#include <sstream>

#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void refuse(const std::string& file, const std::string& value, const std::string& allowed,
                         const std::string& why) {
  throw InputError({Problem{file, 0, {}, "board and piece", value, allowed, why}});
}

const std::vector<JsonValue>& list_of(const JsonValue& object, const char* key, const std::string& file) {
  const JsonValue* list = object.find(key);
  if (list == nullptr || !list->is_array()) refuse(file, {}, {}, std::string("lists no ") + key);
  return list->items;
}

// How many cuts of the board are made when the piece's turn comes.
std::size_t cuts_before(const fs::path& list, BoardStop stop) {
  const JsonValue json = json_of(list);
  const std::vector<JsonValue>& boards = list_of(json, "boards", list.string());
  if (stop.board < 1 || stop.board > boards.size())
    refuse(list.string(), fmt::format("{}/{}", stop.board, stop.piece),
           fmt::format("board 1 to {}", boards.size()), "there is no such board");
  const std::vector<JsonValue>& pieces = list_of(boards[stop.board - 1], "pieces", list.string());
  if (stop.piece < 1 || stop.piece > pieces.size())
    refuse(list.string(), fmt::format("{}/{}", stop.board, stop.piece),
           fmt::format("piece 1 to {}", pieces.size()),
           fmt::format("board {} has no such piece", stop.board));
  if (stop.piece == 1) return 0;
  const JsonValue* cuts = pieces[stop.piece - 2].find("cuts");
  if (cuts == nullptr || !cuts->is_number() || cuts->number < 0.0)
    refuse(list.string(), {}, {}, "does not say after which cut a piece is free; nest again");
  return static_cast<std::size_t>(cuts->number);
}

}  // namespace

BoardStop board_stop(const std::string& written, const std::string& flag) {
  BoardStop stop;
  char rest = 0;
  if (std::sscanf(written.c_str(), "%6zu/%6zu%c", &stop.board, &stop.piece, &rest) != 2 || stop.board < 1 ||
      stop.piece < 1)
    throw InputError({Problem{{}, 0, {}, flag, written, "BOARD/PIECE, 3/7", "names no piece of a board"}});
  return stop;
}

std::string board_rest(const fs::path& boards, BoardStop stop, const DxfOptions& options) {
  const fs::path list = boards / "boards.json";
  const std::size_t before = cuts_before(list, stop);
  const std::size_t count = list_of(json_of(list), "boards", list.string()).size();
  const std::string name = fmt::format("board-{:0{}}.dxf", stop.board, std::to_string(count).size());
  std::ifstream in(boards / name, std::ios::binary);
  if (!in) throw InputError({Problem{(boards / name).string(), 0, {}, {}, {}, {}, "cannot be read"}});
  const DxfFile file = read_dxf(in, name);
  Drawing drawing;
  std::size_t cuts = 0;
  for (const DxfPolyline& line : file.lines) {
    const std::optional<Layer> layer = line.layer == "0" ? Layer::cut : layer_named(line.layer);
    if (!layer || (*layer != Layer::cut && *layer != Layer::stock && *layer != Layer::scale)) continue;
    if (*layer == Layer::cut && cuts++ < before) continue;
    drawing.lines.push_back({*layer, line.closed, line.points});
  }
  for (const DxfText& text : file.texts)
    if (const auto layer = layer_named(text.layer); layer && *layer != Layer::label)
      drawing.texts.push_back({*layer, text.at, text.height, text.angle, text.centred, text.text});
  DxfOptions dxf = options;
  dxf.version = file.version == "AC1009" ? DxfVersion::r12 : DxfVersion::r2000;
  dxf.units = file.units == DxfUnits::inch ? DxfUnits::inch : DxfUnits::millimetre;
  for (const std::string& comment : file.comments)
    if (comment.rfind("board ", 0) == 0 || comment.rfind("zero ", 0) == 0) dxf.comments.push_back(comment);
  dxf.comments.push_back(fmt::format("from piece {} on; {} cuts are made", stop.piece, before));
  std::ostringstream out;
  write_dxf(out, drawing, dxf);
  return out.str();
}

}  // namespace linerwright
