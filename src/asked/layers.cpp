#include "layers.hpp"

#include <algorithm>

#include "kinds.hpp"

namespace linerwright::asked {

namespace {

constexpr char k_inner = 'i';

bool ends_with(const std::string& text, const std::string& ending) {
  return text.size() >= ending.size() &&
         text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

// The second layer's drawings in the words of the first one's.
std::string as_first(const std::string& drawing) {
  std::string text = drawing;
  for (const auto& [own, first] : {std::pair<const char*, const char*>{"OUTER_FACE", "DUCT_FACE"},
                                   {"INNER_FACE", "AIR_FACE"},
                                   {"outer face up", "duct face up"},
                                   {"inner face up", "air face up"}})
    text = replaced(std::move(text), own, first);
  return text;
}

// A table's lines of the second layer, without the letter before their piece; lines that name no piece stay.
std::string lines_of_second(const std::string& table, const MadeFitting& made) {
  std::string text;
  for (std::size_t at = 0; at < table.size();) {
    const std::size_t end = std::min(table.find('\n', at), table.size() - 1) + 1;
    const std::string line = table.substr(at, end - at);
    const std::string piece = line.substr(0, line.find(','));
    const bool names = std::any_of(made.pieces.begin(), made.pieces.end(),
                                   [&](const MadePiece& one) { return one.id == piece; });
    if (!names)
      text += line;
    else if (piece[0] == k_inner)
      text += line.substr(1);
    at = end;
  }
  return text;
}

Request request_of_second(Request request) {
  request.outer = request.value("thickness");
  const std::map<std::string, std::string> written = request.written;
  for (const auto& [key, text] : written)
    if (key == "second_seam") {  // turns the seams; `seam` is a bend's own word
      request.written.erase(key);
    } else if (key.compare(0, 7, "second_") == 0) {
      const std::string own = key == "second_layer" ? "thickness" : key.substr(7);
      request.written[own] = key == "second_face_up" ? (text == "inner" ? "air" : "duct") : text;
      request.written.erase(key);
    }
  if (request.kind == "reducer") request.written["pattern"] = "sector";  // inside notches, too
  return request;
}

// A drawing or picture of a second layer's piece; its name without the letter.
std::string name_as_first(const std::string& name, const MadeFitting& made) {
  for (const MadePiece& piece : made.pieces)
    for (const char* ending : {".dxf", ".svg"})
      if (piece.id[0] == k_inner && ends_with(name, "-" + piece.id + ending))
        return name.substr(0, name.size() - piece.id.size() - 4) + piece.id.substr(1) + ending;
  return {};
}

}  // namespace

Wanted Layer::walls(Wanted wanted) const {
  if (turned == 0.0 && seams) return wanted;
  for (Wall& wall : wanted.walls) {
    if (wall.seam) *wall.seam += turned;
    if (!seams || !liner_rims(wall).empty()) wall.seam.reset();
  }
  return wanted;
}

bool is_of_second(const Request& request, const std::string& piece) {
  return request.stated("second_layer") && !piece.empty() && piece[0] == k_inner;
}

std::vector<Layer> layers_of(const MadeFitting& made, const Files& files, const std::vector<Body>& bodies) {
  if (!made.request.stated("second_layer")) return {{made, files, bodies}};
  Layer first{made, {}, {}};
  Layer second{made, {}, {}};
  first.made.pieces.clear();
  second.made.pieces.clear();
  second.made.request = request_of_second(made.request);
  for (MadePiece piece : made.pieces) {
    if (!is_of_second(made.request, piece.id)) {
      first.made.pieces.push_back(piece);
      continue;
    }
    piece.id.erase(0, 1);
    for (std::string& held : piece.holds) held.erase(0, 1);
    second.made.pieces.push_back(piece);
  }
  for (const auto& [name, bytes] : files) {
    const std::string as = name_as_first(name, made);
    if (as.empty())
      first.files[name] = bytes;
    else
      second.files[as] = as_first(bytes);
    if (ends_with(name, "-ordinates.csv")) second.files[name] = lines_of_second(bytes, made);
  }
  for (Body body : bodies) {
    if (body.name.compare(0, 7, std::string("liner ") + k_inner) != 0) {
      first.bodies.push_back(body);
      continue;
    }
    body.name.erase(6, 1);
    second.bodies.push_back(body);
  }
  // pieces that are whole in both layers have their seams half a turn apart, or as asked; else the table of
  // ordinates says where they are
  const Wanted whole = wanted(made.request);
  const auto is_whole = [&](const MadePiece& piece) {
    return !piece.holds.empty() || std::any_of(whole.walls.begin(), whole.walls.end(),
                                               [&](const Wall& wall) { return wall.id == piece.id; });
  };
  second.turned = made.request.stated("second_seam") ? made.request.value("second_seam") : k_pi;
  for (const Layer* layer : {&first, &second})
    second.seams =
        second.seams && std::all_of(layer->made.pieces.begin(), layer->made.pieces.end(), is_whole);
  return {first, second};
}

}  // namespace linerwright::asked
