// Totals as a table, as comma-separated values and as JSON, and back from JSON.
#include <rapidjson/document.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/job/choice.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"
#include "linerwright/units/read_json.hpp"
#include "text_table.hpp"
#include "totals_units.hpp"

namespace linerwright {

namespace {

// What nobody asked for has no column.
std::vector<TotalsFigure> figures_in(const JobTotals& totals) {
  std::vector<TotalsFigure> figures;
  for (const TotalsFigure& figure : totals_figures())
    if (totals.rules.inner_gauge || std::string_view(figure.key).rfind("spared", 0) != 0)
      figures.push_back(figure);
  return figures;
}

void write_figures(JsonWriter& json, const TotalsFigures& figures) {
  json.begin_object();
  for (const TotalsFigure& figure : totals_figures())
    json.key(figure.key).number(figures.*figure.value, decimals_of(figure.unit));
  json.end_object();
}

void write_stock(JsonWriter& json, const TotalsStock& stock) {
  json.begin_object();
  if (!stock.name.empty()) json.key("name").text(stock.name);
  json.key("boards").integer(stock.boards);
  json.key("stock_area").number(stock.stock_area, decimals_of(TotalsUnit::area));
  json.key("piece_area").number(stock.piece_area, decimals_of(TotalsUnit::area));
  json.key("knife_length").number(stock.knife_length, decimals_of(TotalsUnit::length));
  json.key("cutting_time").number(stock.cutting_time, 6);
  json.key("cost");
  if (stock.cost) {
    json.number(*stock.cost, 6);
  } else {
    json.null();
  }
  json.key("yield").number(stock.yield(), 9);
  json.end_object();
}

[[noreturn]] void broken(const std::filesystem::path& file, const std::string& reason) {
  throw InputError({Problem{file.string(), 0, {}, {}, {}, {}, reason}});
}

// Members of one object of the file, or an error that names the key.
class Members {
 public:
  Members(const rapidjson::Value& object, const std::filesystem::path& file) : object_(object), file_(file) {
    if (!object.IsObject()) broken(file, "is no totals.json: a table of figures is missing");
  }
  const rapidjson::Value& at(const char* key) const {
    const auto found = object_.FindMember(key);
    if (found == object_.MemberEnd()) broken(file_, fmt::format("is no totals.json: {} is missing", key));
    return found->value;
  }
  std::string text(const char* key) const {
    if (!at(key).IsString()) broken(file_, fmt::format("is no totals.json: {} is no text", key));
    return at(key).GetString();
  }
  double number(const char* key) const {
    if (!at(key).IsNumber()) broken(file_, fmt::format("is no totals.json: {} is no number", key));
    return at(key).GetDouble();
  }
  long integer(const char* key) const {
    if (!at(key).IsInt64()) broken(file_, fmt::format("is no totals.json: {} is no whole number", key));
    return static_cast<long>(at(key).GetInt64());
  }
  bool flag(const char* key) const {
    if (!at(key).IsBool()) broken(file_, fmt::format("is no totals.json: {} is neither true nor false", key));
    return at(key).GetBool();
  }
  std::optional<double> maybe(const char* key) const {
    return at(key).IsNull() ? std::nullopt : std::optional<double>(number(key));
  }
  const rapidjson::Value& array(const char* key) const {
    if (!at(key).IsArray()) broken(file_, fmt::format("is no totals.json: {} is no list", key));
    return at(key);
  }

 private:
  const rapidjson::Value& object_;
  const std::filesystem::path& file_;
};

}  // namespace

std::vector<TotalsCells> totals_cells(const JobTotals& totals) {
  const Units units = totals.units;
  const std::vector<TotalsFigure> figures = figures_in(totals);
  TotalsCells needs{{"totals", "fittings"}, {}};
  for (const TotalsFigure& figure : figures) {
    const std::string_view unit = unit_of(figure.unit, units);
    needs.heads.push_back(figure.label + (unit.empty() ? "" : " " + std::string(unit)));
  }
  const auto add = [&](const std::string& name, const std::vector<TotalsRow>& rows) {
    long count = 0;
    for (const TotalsRow& row : rows) count += row.count;
    std::vector<std::string> cells{name, std::to_string(count)};
    const TotalsFigures sum = sum_of(rows);
    for (const TotalsFigure& figure : figures) cells.push_back(shown(figure.unit, sum.*figure.value, units));
    needs.rows.push_back(std::move(cells));
  };
  std::vector<std::string> kinds;
  for (const TotalsRow& row : totals.rows)
    if (std::find(kinds.begin(), kinds.end(), row.kind) == kinds.end()) kinds.push_back(row.kind);
  for (const std::string& kind : kinds) {
    std::vector<TotalsRow> rows;
    std::copy_if(totals.rows.begin(), totals.rows.end(), std::back_inserter(rows),
                 [&](const TotalsRow& row) { return row.kind == kind; });
    add(kind_title(kind), rows);
  }
  if (kinds.size() > 1) add("all", totals.rows);
  std::vector<TotalsCells> tables{std::move(needs)};
  if (totals.stock.empty()) return tables;
  const std::string area(unit_of(TotalsUnit::area, units));
  TotalsCells boards{{"stock", "boards", "area " + area, "yield", "waste " + area,
                      "knife " + std::string(unit_of(TotalsUnit::length, units)), "time min:s", "cost"},
                     {}};
  const auto add_stock = [&](const TotalsStock& stock, const std::string& name) {
    boards.rows.push_back({name, std::to_string(stock.boards),
                           shown(TotalsUnit::area, stock.stock_area, units),
                           fixed(100.0 * stock.yield(), 1) + " %",
                           shown(TotalsUnit::area, stock.stock_area - stock.piece_area, units),
                           shown(TotalsUnit::length, stock.knife_length, units),
                           shown_time(stock.cutting_time), stock.cost ? fixed(*stock.cost, 2) : ""});
  };
  for (const TotalsStock& stock : totals.stock) add_stock(stock, stock.name);
  if (totals.stock.size() > 1) add_stock(sum_of(totals.stock), "all");
  tables.push_back(std::move(boards));
  return tables;
}

std::vector<std::string> totals_notes(const JobTotals& totals) {
  const auto fittings = [](long count) {
    return count == 1 ? std::string("one fitting") : fmt::format("{} fittings", count);
  };
  std::vector<std::string> notes;
  if (totals.left_out > 0)
    notes.push_back(fmt::format("without {} that could not be made", fittings(totals.left_out)));
  if (totals.missing > 0)
    notes.push_back(fmt::format("without {} of the job that {} not been made yet", fittings(totals.missing),
                                totals.missing == 1 ? "has" : "have"));
  if (totals.older > 0)
    notes.push_back(fmt::format("with {} as made before the job was changed", fittings(totals.older)));
  if (totals.boards_older) notes.emplace_back("the boards are of another state of the job: nest again");
  return notes;
}

std::string totals_table(const JobTotals& totals) {
  std::string text;
  for (const TotalsCells& cells : totals_cells(totals)) {
    std::vector<Column> columns;
    for (const std::string& head : cells.heads) columns.push_back({head, columns.empty()});
    text += (text.empty() ? "" : "\n") + text_table(columns, cells.rows);
  }
  for (const std::string& note : totals_notes(totals)) text += note + "\n";
  return text;
}

std::string totals_csv(const JobTotals& totals) {
  constexpr int k_decimals = 6;
  const Units units = totals.units;
  const std::vector<TotalsFigure> figures = figures_in(totals);
  const bool nested = !totals.stock.empty();
  const auto head = [&](const std::string& key, TotalsUnit unit) {
    const std::string_view name = unit_of(unit, units);
    return name.empty() ? key : fmt::format("{}_{}", key, name);
  };
  const auto cell = [&](TotalsUnit unit, double value) {
    return trimmed(in_unit(unit, value, units), k_decimals);
  };
  std::string text = "what,kind,count";
  for (const TotalsFigure& figure : figures) text += "," + head(figure.key, figure.unit);
  if (nested)
    text += "," + head("stock_area", TotalsUnit::area) + "," + head("piece_area", TotalsUnit::area) +
            ",yield," + head("knife_length", TotalsUnit::length) + ",cutting_time_s,cost";
  text += "\n";
  const std::string no_stock = nested ? ",,,,,," : "";
  const auto add = [&](const std::string& name, const std::string& kind, long count,
                       const TotalsFigures& sum) {
    text += fmt::format("{},{},{}", csv_cell(name), kind, count);
    for (const TotalsFigure& figure : figures) text += "," + cell(figure.unit, sum.*figure.value);
    text += no_stock + "\n";
  };
  long count = 0;
  for (const TotalsRow& row : totals.rows) {
    add(row.tag, row.kind, row.count, sum_of({row}));
    count += row.count;
  }
  add("all", "fittings", count, sum_of(totals.rows));
  const auto add_stock = [&](const std::string& name, const std::string& kind, const TotalsStock& stock) {
    text += fmt::format("{},{},{}{}", csv_cell(name), kind, stock.boards, std::string(figures.size(), ','));
    text += fmt::format(",{},{},{},{},{},{}\n", cell(TotalsUnit::area, stock.stock_area),
                        cell(TotalsUnit::area, stock.piece_area), trimmed(stock.yield(), k_decimals),
                        cell(TotalsUnit::length, stock.knife_length), trimmed(stock.cutting_time, 3),
                        stock.cost ? trimmed(*stock.cost, k_decimals) : "");
  };
  for (const TotalsStock& stock : totals.stock) add_stock(stock.name, "stock", stock);
  if (nested) add_stock("all", "boards", sum_of(totals.stock));
  return text;
}

std::string totals_json(const JobTotals& totals) {
  JsonWriter json;
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("version").text(totals.version);
  json.key("units").text("mm, mm2, kg, s; `each` is of one fitting, `sums` of all, each times its count");
  json.key("job").text(totals.job);
  json.key("shown_units").text(totals.units == Units::inch ? "in" : "mm");
  json.key("left_out").integer(totals.left_out);
  json.key("missing").integer(totals.missing);
  json.key("older").integer(totals.older);
  json.key("boards_older").boolean(totals.boards_older);
  json.key("rules").begin_object();
  json.key("metal_density").number(totals.rules.metal_density, 9);
  json.key("inner_gauge");
  if (totals.rules.inner_gauge) {
    json.number(*totals.rules.inner_gauge, 9);
  } else {
    json.null();
  }
  json.key("inner_open").number(totals.rules.inner_open, 9);
  json.end_object();
  json.key("fittings").begin_array();
  for (const TotalsRow& row : totals.rows) {
    json.begin_object();
    json.key("tag").text(row.tag);
    json.key("kind").text(row.kind);
    json.key("count").integer(row.count);
    json.key("each");
    write_figures(json, row.each);
    json.end_object();
  }
  json.end_array();
  json.key("sums");
  write_figures(json, sum_of(totals.rows));
  json.key("stock").begin_array();
  for (const TotalsStock& stock : totals.stock) write_stock(json, stock);
  json.end_array();
  if (!totals.stock.empty()) {
    json.key("boards");
    write_stock(json, sum_of(totals.stock));
  }
  json.end_object();
  return json.str();
}

JobTotals totals_from_json(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) broken(file, "cannot be read");
  std::ostringstream bytes;
  bytes << in.rdbuf();
  read_json(bytes.str(), file.string());  // refuses what is broken or without end
  rapidjson::Document document;
  document.Parse<rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag>(bytes.str().c_str());
  if (document.HasParseError()) broken(file, "is no totals.json: it is no JSON");
  const Members all(document, file);
  if (all.integer("format") != k_json_format) broken(file, "has a format that this program does not know");
  JobTotals totals;
  totals.job = all.text("job");
  totals.version = all.text("version");
  totals.units = meaning_of(k_units_choices, all.text("shown_units"));
  totals.left_out = all.integer("left_out");
  totals.missing = all.integer("missing");
  totals.older = all.integer("older");
  totals.boards_older = all.flag("boards_older");
  const Members rules(all.at("rules"), file);
  totals.rules = {rules.number("metal_density"), rules.maybe("inner_gauge"), rules.number("inner_open")};
  for (const auto& entry : all.array("fittings").GetArray()) {
    const Members row(entry, file);
    TotalsRow made{row.text("tag"), row.text("kind"), row.integer("count"), {}};
    const Members each(row.at("each"), file);
    for (const TotalsFigure& figure : totals_figures()) made.each.*figure.value = each.number(figure.key);
    totals.rows.push_back(std::move(made));
  }
  for (const auto& entry : all.array("stock").GetArray()) {
    const Members stock(entry, file);
    totals.stock.push_back({stock.text("name"), stock.integer("boards"), stock.number("stock_area"),
                            stock.number("piece_area"), stock.number("knife_length"),
                            stock.number("cutting_time"), stock.maybe("cost")});
  }
  return totals;
}

}  // namespace linerwright
