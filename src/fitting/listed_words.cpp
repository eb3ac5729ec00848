#include "listed_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>
#include <stdexcept>

namespace linerwright {

std::vector<std::string> split_list(const std::string& text) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == ',' || c == ';')
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

Words words_of(const std::string& thing, const std::vector<const char*>& names, bool leads) {
  std::istringstream in(thing);
  Words words;
  std::string name;
  for (std::string word; in >> word;) {
    if (std::any_of(names.begin(), names.end(), [&](const char* each) { return word == each; })) {
      if (!words.emplace(word, "").second) throw std::invalid_argument("'" + word + "' stands in it twice");
      name = word;
      continue;
    }
    if (name.empty() && !leads) throw std::invalid_argument("it begins with '" + word + "'");
    std::string& value = words[name];
    value += (value.empty() ? "" : " ") + word;
  }
  if (words.empty()) throw std::invalid_argument("it is empty");
  return words;
}

double number_in(const Words& words, const std::string& name, Quantity quantity, double least, double most) {
  const auto found = words.find(name);
  if (found == words.end() || found->second.empty())
    throw std::invalid_argument("'" + name + "' has no value");
  const std::string& text = found->second;
  const double value = parse_quantity(quantity, text, Units::metric);
  if (quantity == Quantity::length && value != parse_quantity(quantity, text, Units::inch))
    throw std::invalid_argument("'" + text + "' names no unit");
  if (!(value >= least && value <= most))
    throw std::invalid_argument(fmt::format("{} {} lies outside {} to {}", name, text,
                                            format_quantity(quantity, least, Units::metric),
                                            format_quantity(quantity, most, Units::metric)));
  return value;
}

void require_only(const Words& words, const std::vector<const char*>& known, const std::string& of) {
  for (const auto& [name, value] : words)
    if (std::none_of(known.begin(), known.end(),
                     [&, &name = name](const char* each) { return name == each; }))
      throw std::invalid_argument("'" + name + "' says nothing of such " + of);
}

}  // namespace linerwright
