#include "options.hpp"

#include <array>
#include <stdexcept>

#include "linerwright/units/units.hpp"

namespace linerwright {

namespace {

constexpr double k_degree = k_pi / 180.0;

const char* word(DxfVersion version) {
  return version == DxfVersion::r12 ? "r12" : "r2000";
}

const char* word(DxfUnits units) {
  return units == DxfUnits::inch ? "in" : "mm";
}

const char* word(TextStyle style) {
  return style == TextStyle::entities ? "entities" : "strokes";
}

// The sizes of bands, by their names.
template <class Sheet>
auto sizes_of(Sheet& sheet) {
  auto& [thickness, width, lap, bolt] = sheet;
  return std::array<std::pair<const char*, decltype((thickness))>, 4>{
      {{"sheet", thickness}, {"width", width}, {"lap", lap}, {"bolt", bolt}}};
}

// Writes each option; a new table begins where its name changes.
class OptionWriter {
 public:
  explicit OptionWriter(JsonWriter& json) : json_(json) {}
  ~OptionWriter() { enter(""); }
  OptionWriter(const OptionWriter&) = delete;
  OptionWriter& operator=(const OptionWriter&) = delete;

  template <class Option>
  void add(const std::string& table, const char* name, const Option& option) {
    if (is_left_out(option)) return;
    enter(table);
    json_.key(name);
    write(option);
  }

 private:
  JsonWriter& json_;
  std::string table_;

  void enter(const std::string& table) {
    if (table == table_) return;
    if (!table_.empty()) json_.end_object();
    if (!table.empty()) json_.key(table).begin_object();
    table_ = table;
  }
  // Layers without names of the user's own are not mentioned.
  static bool is_left_out(const LayerTable& layers) { return layers.names.empty() && layers.order.empty(); }
  // Nor are bands where none are made.
  static bool is_left_out(const std::optional<BandSheet>& bands) { return !bands; }
  template <class Option>
  static bool is_left_out(const Option&) {
    return false;
  }
  void write(const LayerTable& layers) {
    json_.begin_array();
    for (const LayerName& own : layers.names) {
      json_.begin_object().key("layer").text(layer_name(own.layer)).key("name").text(own.name);
      if (own.colour) json_.key("colour").integer(*own.colour);
      json_.end_object();
    }
    for (const Layer layer : layers.order)
      json_.begin_object().key("next").text(layer_name(layer)).end_object();
    json_.end_array();
  }
  void write(bool flag) { json_.boolean(flag); }
  void write(double number) { json_.number(number, 9); }
  void write(InDegrees<const double> angle) { json_.number(angle.radians / k_degree, 9); }
  void write(const std::optional<Paper>& paper) {
    if (paper) {
      json_.text(paper->name);
    } else {
      json_.null();
    }
  }
  void write(const std::optional<BandSheet>& bands) {
    json_.begin_object();
    for (const auto& [name, number] : sizes_of(*bands)) json_.key(name).number(number, 9);
    json_.end_object();
  }
  template <class Choice>
  void write(Choice choice) {
    json_.text(word(choice));
  }
};

template <class Choice>
void read_choice(const rapidjson::Value& json, Choice& option, std::initializer_list<Choice> choices) {
  for (const Choice choice : choices)
    if (json.IsString() && json.GetString() == std::string(word(choice))) option = choice;
}

void read(const rapidjson::Value& json, DxfVersion& version) {
  read_choice(json, version, {DxfVersion::r2000, DxfVersion::r12});
}

void read(const rapidjson::Value& json, DxfUnits& units) {
  read_choice(json, units, {DxfUnits::millimetre, DxfUnits::inch});
}

void read(const rapidjson::Value& json, TextStyle& style) {
  read_choice(json, style, {TextStyle::strokes, TextStyle::entities});
}

void read(const rapidjson::Value& json, bool& flag) {
  if (json.IsBool()) flag = json.GetBool();
}

void read(const rapidjson::Value& json, LayerTable& layers) {
  if (!json.IsArray()) return;
  const auto text = [](const rapidjson::Value& one, const char* key) -> std::string {
    return one.IsObject() && one.HasMember(key) && one[key].IsString() ? one[key].GetString() : "";
  };
  for (const rapidjson::Value& one : json.GetArray()) {
    if (const auto next = layer_named(text(one, "next"))) layers.order.push_back(*next);
    const auto layer = layer_named(text(one, "layer"));
    if (!layer || text(one, "name").empty()) continue;
    layers.names.push_back({*layer, text(one, "name"), {}});
    if (one.HasMember("colour") && one["colour"].IsInt()) layers.names.back().colour = one["colour"].GetInt();
  }
}

void read(const rapidjson::Value& json, double& number) {
  if (json.IsNumber()) number = json.GetDouble();
}

void read(const rapidjson::Value& json, InDegrees<double> angle) {
  if (json.IsNumber()) angle.radians = json.GetDouble() * k_degree;
}

void read(const rapidjson::Value& json, std::optional<Paper>& paper) {
  if (!json.IsString()) return;
  try {
    paper = paper_named(json.GetString());
  } catch (const std::invalid_argument&) {
    // a paper that this program does not know is left out
  }
}

void read(const rapidjson::Value& json, std::optional<BandSheet>& bands) {
  if (!json.IsObject()) return;
  bands.emplace();
  for (auto& [name, number] : sizes_of(*bands))
    if (const auto found = json.FindMember(name); found != json.MemberEnd()) read(found->value, number);
}

}  // namespace

void write_options(JsonWriter& json, const OutputOptions& options) {
  OptionWriter writer(json);
  each_option(options, [&](const char* table, const char* name, const auto& option) {
    writer.add(table, name, option);
  });
}

void read_options(const rapidjson::Value& json, OutputOptions* options) {
  each_option(*options, [&](const std::string& table, const char* name, auto&& option) {
    const rapidjson::Value* from = &json;
    if (!table.empty()) {
      const auto found = json.FindMember(table.c_str());
      if (found == json.MemberEnd() || !found->value.IsObject()) return;
      from = &found->value;
    }
    const auto found = from->FindMember(name);
    if (found != from->MemberEnd()) read(found->value, option);
  });
}

}  // namespace linerwright
