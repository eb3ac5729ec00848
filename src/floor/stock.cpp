#include <algorithm>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "linerwright/floor.hpp"

namespace linerwright {

std::vector<FloorStock> floor_stock(const std::vector<Values>& list, Units units, const std::string& file) {
  std::vector<FloorStock> all;
  std::vector<Problem> problems;
  for (const Values& values : list) {
    FloorStock stock;
    stock.width = values.quantity("width");
    stock.length = values.quantity("length");
    stock.roll = values.text("form") == "roll";
    if (values.has("quantity")) stock.quantity = static_cast<int>(values.integer("quantity"));
    stock.thickness = values.maybe("thickness");
    stock.trim = values.quantity("edge_trim");
    stock.gap = values.quantity("gap");
    stock.kerf_pitch = values.maybe("kerf_pitch");
    stock.cost = values.maybe("cost");
    stock.mass = values.maybe("mass");
    const std::string size = fmt::format(
        "{} x {} {}", trimmed(to_units(Quantity::length, stock.width, units), 2),
        trimmed(to_units(Quantity::length, stock.length, units), 2), unit_name(Quantity::length, units));
    stock.name = values.has("name") ? values.text("name") : size;
    const double shorter = std::min(stock.width, stock.length);
    if (2.0 * stock.trim >= shorter) {
      const Value* trim = values.find("edge_trim");
      const bool flag = file.empty();
      problems.push_back({file,
                          trim->line,
                          {},
                          flag ? "--stock-edge-trim" : "edge_trim",
                          trim->written,
                          "under " + format_quantity(Quantity::length, 0.5 * shorter, units),
                          fmt::format("trimmed on both sides nothing is left of stock {}", stock.name)});
    }
    all.push_back(std::move(stock));
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return all;
}

Knife floor_knife(const Values* table) {
  Values defaults;
  if (table == nullptr) {
    defaults = table_from_flags(job_schema().tables.at("knife"), {}, Units::metric);
    table = &defaults;
  }
  return {table->quantity("cut_speed"),  table->quantity("mark_speed"), table->quantity("travel_speed"),
          table->quantity("entry_time"), table->quantity("mark_time"),  table->quantity("board_time"),
          table->quantity("overcut")};
}

}  // namespace linerwright
