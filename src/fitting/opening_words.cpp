#include "opening_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "listed_words.hpp"

namespace linerwright {

namespace {

constexpr const char* k_grammar =
    "access door, damper shaft, sensor or test hole; [piece ID] at LENGTH around ANGLE; diameter LENGTH, or "
    "width LENGTH length LENGTH; [setback LENGTH] [bevel square|radial|straight|splayed] [splay ANGLE] "
    "[metal "
    "yes|no] [pair yes|no]; a comma between two openings";
constexpr std::size_t k_most_openings = 40;
constexpr double k_usual_splay = 0.25 * k_pi;
constexpr double k_steepest = 75.0 / 180.0 * k_pi;  // of a splay
constexpr const char* k_whats[] = {"access door", "damper shaft", "sensor", "test hole"};
const std::vector<const char*> k_names = {"piece",   "at",    "around", "diameter", "width", "length",
                                          "setback", "bevel", "splay",  "metal",    "pair"};

std::string word(const Words& words, const std::string& name, const std::vector<std::string>& allowed) {
  const std::string& said = words.at(name);
  if (std::find(allowed.begin(), allowed.end(), said) != allowed.end()) return said;
  std::string list;
  for (const std::string& each : allowed) list += (list.empty() ? "" : ", ") + each;
  throw std::invalid_argument(
      fmt::format("{}{}is none of {}", name, said.empty() ? " " : " " + said + " ", list));
}

bool said_yes(const Words& words, const std::string& name, bool otherwise) {
  return words.count(name) == 0 ? otherwise : word(words, name, {"yes", "no"}) == "yes";
}

void read_size(const Words& words, OpeningWish& wish) {
  const auto length = [&](const char* name) { return number_in(words, name, Quantity::length, 3.0, 5000.0); };
  const bool round = words.count("diameter") != 0;
  const bool sides = words.count("width") != 0 || words.count("length") != 0;
  if (round && sides) throw std::invalid_argument("it has a diameter, and sides beside it");
  if (!round && !sides) throw std::invalid_argument("it has no size: a diameter, or width and length");
  if (round) {
    wish.diameter = length("diameter");
    return;
  }
  wish.width = length("width");
  wish.length = length("length");
}

void read_bevel(const Words& words, OpeningWish& wish) {
  static const std::vector<std::pair<std::string, OpeningBevel>> bevels{{"square", OpeningBevel::square},
                                                                        {"radial", OpeningBevel::radial},
                                                                        {"straight", OpeningBevel::straight},
                                                                        {"splayed", OpeningBevel::splayed}};
  if (words.count("bevel") != 0) {
    std::vector<std::string> names;
    for (const auto& [name, bevel] : bevels) names.push_back(name);
    const std::string said = word(words, "bevel", names);
    for (const auto& [name, bevel] : bevels)
      if (name == said) wish.bevel = bevel;
  }
  const bool splayed = wish.bevel == OpeningBevel::splayed;
  if (words.count("splay") != 0) {
    if (!splayed) throw std::invalid_argument("a splay belongs to bevel splayed");
    wish.splay = number_in(words, "splay", Quantity::angle, k_pi / 180.0, k_steepest);
  } else if (splayed) {
    wish.splay = k_usual_splay;
  }
}

OpeningWish wish_of(const Words& words) {
  std::vector<const char*> known = k_names;
  known.push_back("");
  require_only(words, known, "an opening");
  OpeningWish wish;
  const auto what = words.find("");
  const bool named =
      what != words.end() && std::any_of(std::begin(k_whats), std::end(k_whats),
                                         [&](const char* each) { return what->second == each; });
  if (!named)
    throw std::invalid_argument(what == words.end() ? "it does not say what it is for"
                                                    : "'" + what->second + "' is no such opening");
  wish.what = what->second;
  if (words.count("piece") != 0) wish.piece = words.at("piece");
  wish.at = number_in(words, "at", Quantity::length, 0.0, 50000.0);
  wish.around = number_in(words, "around", Quantity::angle, -k_two_pi, k_two_pi);
  read_size(words, wish);
  if (words.count("setback") != 0) wish.setback = number_in(words, "setback", Quantity::length, 0.0, 300.0);
  read_bevel(words, wish);
  wish.metal = said_yes(words, "metal", false);
  wish.pair = said_yes(words, "pair", wish.what == "damper shaft");
  return wish;
}

}  // namespace

KeySpec openings_key() {
  KeySpec key = optional_key(text_key(k_openings,
                                      "access doors, damper shafts, sensors, test holes: \"sensor at 12in "
                                      "around 90 diameter 1in\"; or tables "
                                      "[[fitting.opening]] in a job file"));
  return key;
}

std::vector<OpeningWish> read_openings(const FittingRequest& request, Reasons& reasons) {
  std::vector<OpeningWish> wishes;
  if (!request.values.has(k_openings)) return wishes;
  const std::vector<std::string> texts = split_list(request.values.text(k_openings));
  if (texts.size() > k_most_openings) {
    reasons.add(k_openings, fmt::format("at most {} openings", k_most_openings),
                fmt::format("lists {}", texts.size()));
    return wishes;
  }
  for (std::size_t i = 0; i < texts.size(); ++i) try {
      wishes.push_back(wish_of(words_of(texts[i], k_names, true)));
    } catch (const std::invalid_argument& error) {
      reasons.add(k_openings, k_grammar, fmt::format("opening {}: {}", i + 1, error.what()));
    }
  return wishes;
}

}  // namespace linerwright
