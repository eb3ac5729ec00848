#include "path_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "listed_words.hpp"

namespace linerwright {

namespace {

constexpr const char* k_grammar =
    "straight LENGTH, bend ANGLE [turn ANGLE] [pieces N] [radius LENGTH], taper to DIAMETER over LENGTH; a "
    "comma "
    "between them";
constexpr std::size_t k_most_parts = 40;
const std::vector<const char*> k_names = {"straight", "bend",   "taper", "turn",
                                          "pieces",   "radius", "to",    "over"};

PathPart part_of(const Words& words, const Values& values, double diameter) {
  PathPart part;
  if (words.count("straight") != 0) {
    require_only(words, {"straight"}, "a part");
    part.length = number_in(words, "straight", Quantity::length, 1.0, 50000.0);
  } else if (words.count("bend") != 0) {
    require_only(words, {"bend", "turn", "pieces", "radius"}, "a part");
    part.form = PathPart::Form::bend;
    part.angle = number_in(words, "bend", Quantity::angle, k_pi / 180.0, k_pi);
    if (words.count("turn") != 0) part.turn = number_in(words, "turn", Quantity::angle, -k_two_pi, k_two_pi);
    part.pieces = static_cast<int>(values.integer("pieces"));
    if (words.count("pieces") != 0) {
      const double pieces = number_in(words, "pieces", Quantity::number, 2.0, 12.0);
      part.pieces = static_cast<int>(pieces);
      if (part.pieces != pieces) throw std::invalid_argument("pieces is a whole number");
    }
    part.centreline = values.maybe("centreline_radius").value_or(values.quantity("radius_ratio") * diameter);
    if (words.count("radius") != 0)
      part.centreline = number_in(words, "radius", Quantity::length, 12.0, 50000.0);
  } else if (words.count("taper") != 0) {
    require_only(words, {"taper", "to", "over"}, "a part");
    if (!words.at("taper").empty()) throw std::invalid_argument("'taper' is followed by 'to'");
    part.form = PathPart::Form::taper;
    part.to_diameter = number_in(words, "to", Quantity::length, 25.0, 5000.0);
    part.length = number_in(words, "over", Quantity::length, 5.0, 20000.0);
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
  const std::vector<std::string> texts = split_list(values.text("parts"));
  std::vector<PathPart> parts;
  if (texts.size() > k_most_parts) {
    reasons.add("parts", fmt::format("at most {} parts", k_most_parts),
                fmt::format("lists {}", texts.size()));
    return parts;
  }
  double diameter = values.quantity("diameter");
  for (std::size_t i = 0; i < texts.size(); ++i) {
    try {
      parts.push_back(part_of(words_of(texts[i], k_names), values, diameter));
    } catch (const std::invalid_argument& error) {
      reasons.add("parts", k_grammar, fmt::format("part {}: {}", i + 1, error.what()));
      continue;
    }
    if (parts.back().form == PathPart::Form::taper) diameter = parts.back().to_diameter;
  }
  return parts;
}

}  // namespace linerwright
