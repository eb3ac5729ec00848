#include "linerwright/boards/remnant_list.hpp"

#include "linerwright/units/json.hpp"

namespace linerwright {

std::vector<Remnant> remnants_of(const BoardPlan& plan, const std::string& job) {
  std::vector<Remnant> all;
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    const PlannedBoard& board = plan.boards[b];
    const BoardStock& stock = plan.stock[board.stock];
    for (const BoardRemnant& remnant : board.remnants) {
      const Vec2 size = remnant.box.high - remnant.box.low;
      all.push_back({remnant.id,
                     stock.name,
                     board.thickness,
                     board.density,
                     size.y,
                     size.x,
                     stock.trim,
                     stock.kerf_pitch,
                     stock.mass,
                     job,
                     b + 1,
                     {}});
    }
  }
  return all;
}

std::string remnants_json(const std::vector<Remnant>& remnants) {
  JsonWriter json;
  const auto text = [&](const char* key, const std::string& value) {
    json.key(key);
    value.empty() ? json.null() : json.text(value);
  };
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("units").text(
      "mm, kg/m3, kg/m2; width along the duct, length around it; trim left, right, bottom, top");
  json.key("remnants").begin_array();
  for (const Remnant& one : remnants) {
    json.begin_object().key("id").text(one.id);
    text("stock", one.stock);
    json.key("thickness").number(one.thickness).key("density").number(one.density);
    json.key("width").number(one.width, 3).key("length").number(one.length, 3);
    json.key("trim").begin_array();
    for (const double edge : {one.trim.start, one.trim.end, one.trim.below, one.trim.above})
      json.number(edge);
    json.end_array();
    json.key("kerf_pitch").number(one.kerf_pitch).key("mass").number(one.mass);
    text("job", one.job);
    json.key("board").integer(static_cast<long>(one.board));
    text("used_by", one.used_by);
    json.end_object();
  }
  json.end_array().end_object();
  return json.str();
}

}  // namespace linerwright
