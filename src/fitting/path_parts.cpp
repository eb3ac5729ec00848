#include "path_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <sstream>
#include <stdexcept>

namespace linerwright {

namespace {

constexpr const char* k_grammar =
    "straight LENGTH, bend ANGLE [turn ANGLE] [pieces N] [radius LENGTH], taper to DIAMETER over LENGTH; a "
    "comma "
    "between them";
constexpr std::size_t k_most_parts = 40;

// What stands behind each of a part's words.
using Words = std::map<std::string, std::string>;

std::vector<std::string> split(const std::string& text) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == ',' || c == ';')
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

Words words_of(const std::string& part) {
  static const char* const k_names[] = {"straight", "bend",   "taper", "turn",
                                        "pieces",   "radius", "to",    "over"};
  std::istringstream in(part);
  Words words;
  std::string name;
  for (std::string word; in >> word;) {
    if (std::any_of(std::begin(k_names), std::end(k_names), [&](const char* each) { return word == each; })) {
      if (!words.emplace(word, "").second) throw std::invalid_argument("'" + word + "' stands in it twice");
      name = word;
      continue;
    }
    if (name.empty()) throw std::invalid_argument("it begins with '" + word + "'");
    std::string& value = words[name];
    value += (value.empty() ? "" : " ") + word;
  }
  if (words.empty()) throw std::invalid_argument("it is empty");
  return words;
}

// A number in its range; lengths name their unit, so that it does not matter which one the job counts in.
double number(const Words& words, const std::string& name, Quantity quantity, double least, double most) {
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

void require_only(const Words& words, const std::vector<const char*>& known) {
  for (const auto& [name, value] : words)
    if (std::none_of(known.begin(), known.end(),
                     [&, &name = name](const char* each) { return name == each; }))
      throw std::invalid_argument("'" + name + "' says nothing of such a part");
}

PathPart part_of(const Words& words, const Values& values, double diameter) {
  PathPart part;
  if (words.count("straight") != 0) {
    require_only(words, {"straight"});
    part.length = number(words, "straight", Quantity::length, 1.0, 50000.0);
  } else if (words.count("bend") != 0) {
    require_only(words, {"bend", "turn", "pieces", "radius"});
    part.form = PathPart::Form::bend;
    part.angle = number(words, "bend", Quantity::angle, k_pi / 180.0, k_pi);
    if (words.count("turn") != 0) part.turn = number(words, "turn", Quantity::angle, -k_two_pi, k_two_pi);
    part.pieces = static_cast<int>(values.integer("pieces"));
    if (words.count("pieces") != 0) {
      const double pieces = number(words, "pieces", Quantity::number, 2.0, 12.0);
      part.pieces = static_cast<int>(pieces);
      if (part.pieces != pieces) throw std::invalid_argument("pieces is a whole number");
    }
    part.centreline = values.maybe("centreline_radius").value_or(values.quantity("radius_ratio") * diameter);
    if (words.count("radius") != 0)
      part.centreline = number(words, "radius", Quantity::length, 12.0, 50000.0);
  } else if (words.count("taper") != 0) {
    require_only(words, {"taper", "to", "over"});
    if (!words.at("taper").empty()) throw std::invalid_argument("'taper' is followed by 'to'");
    part.form = PathPart::Form::taper;
    part.to_diameter = number(words, "to", Quantity::length, 25.0, 5000.0);
    part.length = number(words, "over", Quantity::length, 5.0, 20000.0);
  } else {
    throw std::invalid_argument("it is neither a straight, a bend nor a taper");
  }
  return part;
}

}  // namespace

std::vector<PathPart> read_parts(const FittingRequest& request, Reasons& reasons) {
  const Values& values = request.values;
  if (values.has("centreline_radius") && values.given("radius_ratio"))
    reasons.add("centreline_radius", "one of the two", "radius_ratio says the same thing; give only one");
  const std::vector<std::string> texts = split(values.text("parts"));
  std::vector<PathPart> parts;
  if (texts.size() > k_most_parts) {
    reasons.add("parts", fmt::format("at most {} parts", k_most_parts),
                fmt::format("lists {}", texts.size()));
    return parts;
  }
  double diameter = values.quantity("diameter");
  for (std::size_t i = 0; i < texts.size(); ++i) {
    try {
      parts.push_back(part_of(words_of(texts[i]), values, diameter));
    } catch (const std::invalid_argument& error) {
      reasons.add("parts", k_grammar, fmt::format("part {}: {}", i + 1, error.what()));
      continue;
    }
    if (parts.back().form == PathPart::Form::taper) diameter = parts.back().to_diameter;
  }
  return parts;
}

}  // namespace linerwright
