#include "linerwright/output/job_list.hpp"

#include <rapidjson/document.h>

#include <fmt/format.h>

#include "contents.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr int k_decimals = 9;

void write_texts(JsonWriter& json, const char* key, const std::vector<std::string>& texts) {
  json.key(key).begin_array();
  for (const std::string& text : texts) json.text(text);
  json.end_array();
}

void write_row(JsonWriter& json, const JobRow& row) {
  json.key("made_count").integer(row.count);
  json.key("folder").text(row.folder);
  write_texts(json, "files", row.files);
  json.key("picture").text(row.picture);
  json.key("liner").text(row.liner);
  json.key("bare").text(row.bare);
  json.key("clear").text(row.clear);
  json.key("share").number(row.share, k_decimals);
  json.key("pieces").integer(static_cast<long>(row.pieces));
  write_texts(json, "warnings", row.warnings);
}

void write_fitting(JsonWriter& json, const ListedFitting& fitting) {
  json.begin_object();
  json.key("tag").text(fitting.tag);
  json.key("kind").text(fitting.kind);
  json.key("count").integer(fitting.count);
  json.key("asked").text(fitting.asked);
  json.key("made").text(fitting.made);
  json.key("counted").text(fitting.counted);
  json.key("counted_count").integer(fitting.counted_count);
  json.key("failure").text(fitting.failure);
  if (!fitting.made.empty()) write_row(json, fitting.row);
  json.key("each").begin_object();
  if (!fitting.counted.empty())
    for (const TotalsFigure& figure : totals_figures())
      json.key(figure.key).number(fitting.each.*figure.value, k_decimals);
  json.end_object();
  json.end_object();
}

void write_stock(JsonWriter& json, const TotalsStock& stock) {
  json.begin_object();
  json.key("name").text(stock.name);
  json.key("boards").integer(stock.boards);
  json.key("stock_area").number(stock.stock_area, k_decimals);
  json.key("piece_area").number(stock.piece_area, k_decimals);
  json.key("knife_length").number(stock.knife_length, k_decimals);
  json.key("cutting_time").number(stock.cutting_time, k_decimals);
  if (stock.cost) json.key("cost").number(*stock.cost, k_decimals);
  json.end_object();
}

// Members of an object; what is missing or of another type is empty.
class Members {
 public:
  explicit Members(const rapidjson::Value& object) : object_(object) {}
  const rapidjson::Value* at(const char* key) const {
    if (!object_.IsObject()) return nullptr;
    const auto found = object_.FindMember(key);
    return found == object_.MemberEnd() ? nullptr : &found->value;
  }
  std::string text(const char* key) const {
    const rapidjson::Value* value = at(key);
    return value != nullptr && value->IsString() ? value->GetString() : "";
  }
  std::optional<double> maybe(const char* key) const {
    const rapidjson::Value* value = at(key);
    return value != nullptr && value->IsNumber() ? std::optional<double>(value->GetDouble()) : std::nullopt;
  }
  double number(const char* key) const { return maybe(key).value_or(0.0); }
  long integer(const char* key) const {
    const rapidjson::Value* value = at(key);
    return value != nullptr && value->IsInt64() ? static_cast<long>(value->GetInt64()) : 0;
  }
  template <class Each>
  void each(const char* key, const Each& use) const {
    const rapidjson::Value* value = at(key);
    if (value != nullptr && value->IsArray())
      for (const auto& entry : value->GetArray()) use(entry);
  }
  std::vector<std::string> texts(const char* key) const {
    std::vector<std::string> all;
    each(key, [&](const rapidjson::Value& entry) {
      if (entry.IsString()) all.emplace_back(entry.GetString());
    });
    return all;
  }

 private:
  const rapidjson::Value& object_;
};

ListedFitting fitting_from(const rapidjson::Value& json) {
  const Members members(json);
  ListedFitting fitting;
  fitting.tag = members.text("tag");
  fitting.kind = members.text("kind");
  fitting.count = members.integer("count");
  fitting.asked = members.text("asked");
  fitting.made = members.text("made");
  fitting.counted = members.text("counted");
  fitting.counted_count = members.integer("counted_count");
  fitting.failure = members.text("failure");
  JobRow& row = fitting.row;
  row.tag = fitting.tag;
  row.kind = fitting.kind;
  row.count = members.integer("made_count");
  row.folder = members.text("folder");
  row.files = members.texts("files");
  row.picture = members.text("picture");
  row.liner = members.text("liner");
  row.bare = members.text("bare");
  row.clear = members.text("clear");
  row.share = members.number("share");
  row.pieces = static_cast<std::size_t>(members.integer("pieces"));
  row.warnings = members.texts("warnings");
  if (const rapidjson::Value* each = members.at("each"))
    for (const TotalsFigure& figure : totals_figures())
      fitting.each.*figure.value = Members(*each).number(figure.key);
  return fitting;
}

ListedBoards boards_from(const rapidjson::Value& json) {
  const Members members(json);
  ListedBoards boards;
  members.each("of", [&](const rapidjson::Value& entry) {
    boards.of.emplace_back(Members(entry).text("tag"), Members(entry).text("state"));
  });
  members.each("stock", [&](const rapidjson::Value& entry) {
    const Members stock(entry);
    boards.stock.push_back({stock.text("name"), stock.integer("boards"), stock.number("stock_area"),
                            stock.number("piece_area"), stock.number("knife_length"),
                            stock.number("cutting_time"), stock.maybe("cost")});
  });
  return boards;
}

}  // namespace

std::string job_list_stem(std::size_t share, std::size_t of) {
  return of == 1 ? "made" : fmt::format("made-{}-{}", share, of);
}

std::string job_list_json(const JobList& list) {
  JsonWriter json;
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("list_of").text("linerwright make");
  json.key("job").text(list.job);
  json.key("file").text(list.file);
  json.key("fittings").begin_array();
  for (const ListedFitting& fitting : list.fittings) write_fitting(json, fitting);
  json.end_array();
  if (list.boards) {
    json.key("boards").begin_object();
    json.key("of").begin_array();
    for (const auto& [tag, state] : list.boards->of)
      json.begin_object().key("tag").text(tag).key("state").text(state).end_object();
    json.end_array();
    json.key("stock").begin_array();
    for (const TotalsStock& stock : list.boards->stock) write_stock(json, stock);
    json.end_array();
    json.end_object();
  }
  write_texts(json, "runs", list.runs);
  json.key("beside").begin_object();
  for (const auto& [name, sums] : list.beside) write_texts(json, name.c_str(), sums);
  json.end_object();
  write_seal(json);
  json.end_object();
  return sealed(json.str());
}

std::optional<JobList> read_job_list(const fs::path& file) {
  std::error_code error;
  if (fs::symlink_status(file, error).type() == fs::file_type::not_found) return std::nullopt;
  const auto broken = [&] {
    throw InputError(
        {Problem{file.string(),
                 0,
                 {},
                 {},
                 {},
                 {},
                 "is not the list that this program writes, or was changed since; move it elsewhere "
                 "and make the job again"}});
  };
  if (!fs::is_regular_file(fs::symlink_status(file, error))) broken();
  const std::string text = bytes_of_file(file);
  rapidjson::Document json;
  json.Parse<rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag>(text.c_str());
  if (json.HasParseError() || !json.IsObject()) broken();
  const Members members(json);
  if (members.text("list_of") != "linerwright make" || members.integer("format") < 1 ||
      members.integer("format") > k_json_format || !seal_holds(text))
    broken();
  JobList list;
  list.job = members.text("job");
  list.file = members.text("file");
  members.each("fittings",
               [&](const rapidjson::Value& entry) { list.fittings.push_back(fitting_from(entry)); });
  if (const rapidjson::Value* boards = members.at("boards")) list.boards = boards_from(*boards);
  list.runs = members.texts("runs");
  if (const rapidjson::Value* beside = members.at("beside"))
    if (beside->IsObject())
      for (const auto& entry : beside->GetObject())
        list.beside[entry.name.GetString()] = Members(*beside).texts(entry.name.GetString());
  return list;
}

}  // namespace linerwright
