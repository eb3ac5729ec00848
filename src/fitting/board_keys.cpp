// How large a board is: the keys that say so, and what a job's stock says of each fitting's board.
#include "divider.hpp"
#include "layers.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/stock_fits.hpp"

#include <algorithm>
#include <limits>

namespace linerwright {

namespace {

bool has_key(const std::string& kind, const std::string& key) {
  for (const Kind& each : fitting_kinds())
    if (each.schema.kind == kind)
      return std::any_of(each.schema.keys.begin(), each.schema.keys.end(),
                         [&](const KeySpec& spec) { return spec.name == key; });
  return false;
}

}  // namespace

BoardRoom room_of(const FittingRequest& request) {
  constexpr double k_unlimited = std::numeric_limits<double>::infinity();
  const auto size = [&](const char* key) {
    return request.values.maybe(key_of_layer(request, key)).value_or(k_unlimited);
  };
  BoardRoom room{size("board_width"), size("board_length"), request.values.quantity("min_panel"),
                 duct_joints(request)};
  room.full_rings = !room.other_joints.empty();
  return room;
}

std::vector<KeySpec> board_keys() {
  return {
      optional_key(length_key("board_width",
                              "width of the board, along the duct: longer pieces become rings (default: the "
                              "stock's)",
                              {}, 50.0, 100000.0)),
      optional_key(length_key("board_length",
                              "length of the board, around the duct: larger pieces become panels (default: "
                              "the stock's)",
                              {}, 50.0, 1000000.0)),
      with_default(length_key("min_panel", "no ring or panel is smaller than this", {}, 1.0, 1000.0),
                   "100mm"),
  };
}

// What a job says of its tilting head holds for each fitting that does not say otherwise.
void apply_head(Job& job) {
  const auto table = job.tables.find("knife");
  if (table == job.tables.end()) return;
  for (FittingRequest& request : job.fittings)
    for (const KeySpec& key : head_keys()) {
      const Value* value = table->second.find(key.name);
      if (value == nullptr || request.values.given(key.name)) continue;
      std::string written = value->written;
      if (const auto* number = std::get_if<double>(&value->data))
        written = key.quantity == Quantity::angle ? trimmed(*number * 180.0 / k_pi, 9) + "deg"
                                                  : trimmed(*number, 9) + "mm";
      request.values.set(key.name, {value->data, written, false, 0, {}});
    }
}

namespace {

bool never_divides(const Job& job) {
  const auto table = job.tables.find("boards");
  return table != job.tables.end() && chosen(table->second, "divide", k_divide_choices) == Divide::never;
}

// The largest board of the thickness of the request's layer, unless the request names one; of a job whose
// pieces are never divided only what does not divide them.
void take_stock(FittingRequest& request, const std::vector<Values>& list, bool never) {
  const Values* largest = nullptr;
  double width = 0.0;
  double length = 0.0;
  for (const Values& stock : list) {
    if (!stock_fits(stock.maybe("thickness"), of_layer(request, "thickness"))) continue;
    const auto trim = [&](const char* key) {
      return stock.maybe(key).value_or(stock.maybe("edge_trim").value_or(0.0));
    };
    const double across = stock.quantity("width") - (trim("trim_bottom") + trim("trim_top"));
    const double around = stock.quantity("length") - (trim("trim_left") + trim("trim_right"));
    if (largest != nullptr && across * around <= width * length) continue;
    largest = &stock;
    width = across;
    length = around;
  }
  const auto take = [&](const char* key, double value) {
    if (!request.values.given(key) && value > 0.0)
      request.values.set(key, {value, trimmed(value, 6) + "mm", false, 0, {}});
  };
  if (largest == nullptr) return;
  if (!never) {
    take(request.layer == 0 ? "board_width" : "second_board_width", width);
    take(request.layer == 0 ? "board_length" : "second_board_length", length);
  }
  if (request.layer == 0 && has_key(request.kind, "kerf_pitch"))
    take("kerf_pitch", largest->maybe("kerf_pitch").value_or(0.0));
}

}  // namespace

void apply_stock(Job& job) {
  apply_head(job);
  const auto list = job.lists.find("stock");
  if (list == job.lists.end()) return;
  const bool never = never_divides(job);
  for (FittingRequest& request : job.fittings) {
    take_stock(request, list->second, never);
    if (!request.values.has("second_layer")) continue;
    request.layer = 1;
    take_stock(request, list->second, never);
    request.layer = 0;
  }
}

}  // namespace linerwright
