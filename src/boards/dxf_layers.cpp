// The user's own layers, from the table [dxf].
#include <fmt/format.h>

#include <algorithm>

#include "linerwright/boards/boards.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_longest = 31;  // characters that an R12 file allows in a layer's name
constexpr int k_colours = 255;

class LayerReader {
 public:
  LayerReader(const Values& table, const std::string& file) : table_(table), file_(file) {}

  LayerTable read() {
    for (const Layer layer : k_all_layers)
      if (const Value* value = table_.find(key_of(layer))) read_name(layer, *value);
    if (const Value* value = table_.find("layers.order")) read_order(*value);
    for (const LayerName& one : made_.names)
      for (const LayerName& other : made_.names)
        if (&one != &other && one.name == other.name)
          complain(
              key_of(one.layer), *table_.find(key_of(one.layer)), "a name of its own",
              fmt::format("{} has the same name: the two could not be told apart", layer_name(other.layer)));
    if (!problems_.empty()) throw InputError(std::move(problems_));
    return std::move(made_);
  }

 private:
  const Values& table_;
  const std::string& file_;
  LayerTable made_;
  std::vector<Problem> problems_;

  static std::string key_of(Layer layer) { return fmt::format("layers.{}", layer_name(layer)); }

  void complain(const std::string& key, const Value& value, const std::string& allowed,
                const std::string& why) {
    problems_.push_back({file_, value.line, {}, key, value.written, allowed, why});
  }

  static std::vector<std::string> listed(const std::string& text) {
    std::vector<std::string> words(1);
    for (const char c : text) {
      if (c == ',')
        words.emplace_back();
      else if (c != ' ' && c != '\t')
        words.back() += c;
    }
    return words;
  }

  void read_name(Layer layer, const Value& value) {
    const std::vector<std::string> words = listed(value.written);
    LayerName own{layer, words.front(), {}};
    const bool plain = std::all_of(own.name.begin(), own.name.end(), [](char c) {
      return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
             c == '-';
    });
    if (own.name.empty() || own.name.size() > k_longest || !plain || own.name == "0" ||
        own.name.find_first_not_of("-") == std::string::npos)
      complain(key_of(layer), value, "1 to 31 letters, digits, - and _",
               "is no name that every reader of DXF takes for a layer");
    const auto ours = layer_named(own.name);
    if (ours && *ours != layer)
      complain(key_of(layer), value, "another name", "is the name of another layer of these files");
    if (words.size() > 1) {
      int colour = 0;
      for (const char c : words[1])
        colour = c >= '0' && c <= '9' && colour <= k_colours ? 10 * colour + (c - '0') : k_colours + 1;
      if (words.size() > 2 || colour < 1 || colour > k_colours)
        complain(key_of(layer), value, "NAME, or NAME and a number from 1 to 255, \"KNIFE, 5\"",
                 "names no colour of DXF");
      own.colour = colour;
    }
    made_.names.push_back(std::move(own));
  }

  void read_order(const Value& value) {
    for (const std::string& word : listed(value.written)) {
      const auto layer = layer_named(word);
      const bool twice = layer && made_.rank(*layer) < made_.order.size();
      if (!layer || twice) {
        complain("layers.order", value, "layers of these files, each once: LABEL, MARK, CUT",
                 fmt::format("{} is {}", word, twice ? "there twice" : "no layer of these files"));
        return;
      }
      made_.order.push_back(*layer);
    }
  }
};

}  // namespace

LayerTable dxf_layers(const Values* table, const std::string& file) {
  return table == nullptr ? LayerTable{} : LayerReader(*table, file).read();
}

}  // namespace linerwright
