// Kinds of fitting as the trade calls them. Common practice, no source, for every word here.
#include <algorithm>
#include <map>
#include <set>

#include "words.hpp"

namespace linerwright {

namespace {

struct Noun {
  std::string kind;
  std::string angle;
  std::vector<std::pair<std::string, std::string>> further;
  std::string assumed;
};

const std::map<std::string, Noun, std::less<>>& nouns() {
  static const std::string flat = "an eccentric reducer is flat on one side";
  static const std::map<std::string, Noun, std::less<>> table = {
      {"straight", {"straight", "", {}, ""}}, {"straight length", {"straight", "", {}, ""}}, {"pipe", {"straight", "", {}, ""}},
      {"duct", {"straight", "", {}, ""}}, {"tube", {"straight", "", {}, ""}}, {"spiral", {"straight", "", {}, ""}},
      {"spiral pipe", {"straight", "", {}, ""}}, {"spiral duct", {"straight", "", {}, ""}}, {"str", {"straight", "", {}, ""}},
      {"straight duct", {"straight", "", {}, ""}}, {"straight pipe", {"straight", "", {}, ""}},
      {"elbow", {"elbow", "", {}, ""}}, {"ell", {"elbow", "", {}, ""}}, {"el", {"elbow", "", {}, ""}}, {"elb", {"elbow", "", {}, ""}},
      {"bend", {"elbow", "", {}, ""}}, {"gored elbow", {"elbow", "", {}, ""}}, {"gored bend", {"elbow", "", {}, ""}},
      {"segmented elbow", {"elbow", "", {}, ""}}, {"segmented bend", {"elbow", "", {}, ""}}, {"mitred elbow", {"elbow", "", {}, ""}},
      {"mitered elbow", {"elbow", "", {}, ""}}, {"mitred bend", {"elbow", "", {}, ""}}, {"lobster back bend", {"elbow", "", {}, ""}},
      {"pressed elbow", {"elbow", "", {{"form", "smooth"}}, ""}}, {"pressed bend", {"elbow", "", {{"form", "smooth"}}, ""}},
      {"smooth elbow", {"elbow", "", {{"form", "smooth"}}, ""}}, {"smooth bend", {"elbow", "", {{"form", "smooth"}}, ""}},
      {"stamped elbow", {"elbow", "", {{"form", "smooth"}}, ""}}, {"die formed elbow", {"elbow", "", {{"form", "smooth"}}, ""}},
      {"reducer", {"reducer", "", {}, ""}}, {"red", {"reducer", "", {}, ""}}, {"taper", {"reducer", "", {}, ""}},
      {"transition", {"reducer", "", {}, ""}}, {"increaser", {"reducer", "", {}, ""}}, {"expander", {"reducer", "", {}, ""}},
      {"concentric reducer", {"reducer", "", {}, ""}}, {"conc reducer", {"reducer", "", {}, ""}}, {"con reducer", {"reducer", "", {}, ""}},
      {"concentric taper", {"reducer", "", {}, ""}}, {"reducer concentric", {"reducer", "", {}, ""}}, {"reducer conc", {"reducer", "", {}, ""}},
      {"eccentric reducer", {"reducer", "", {{"flat", "true"}}, flat}}, {"ecc reducer", {"reducer", "", {{"flat", "true"}}, flat}},
      {"eccentric taper", {"reducer", "", {{"flat", "true"}}, flat}}, {"reducer eccentric", {"reducer", "", {{"flat", "true"}}, flat}},
      {"reducer ecc", {"reducer", "", {{"flat", "true"}}, flat}}, {"flat reducer", {"reducer", "", {{"flat", "true"}}, ""}},
      {"offset", {"offset", "", {}, ""}}, {"s bend", {"offset", "", {}, ""}}, {"s piece", {"offset", "", {}, ""}}, {"ogee", {"offset", "", {}, ""}},
      {"tee", {"tee", "", {}, ""}}, {"t", {"tee", "", {}, ""}}, {"straight tee", {"tee", "", {}, ""}}, {"branch", {"tee", "", {}, ""}},
      {"t piece", {"tee", "", {}, ""}}, {"tee piece", {"tee", "", {}, ""}}, {"equal tee", {"tee", "", {}, ""}},
      {"lateral", {"tee", "45", {}, "a lateral leaves at 45 degrees"}}, {"lat", {"tee", "45", {}, "a lateral leaves at 45 degrees"}},
      {"lateral tee", {"tee", "45", {}, "a lateral leaves at 45 degrees"}}, {"angled tee", {"tee", "", {}, ""}},
      {"wye", {"wye", "", {}, ""}}, {"y", {"wye", "", {}, ""}}, {"y piece", {"wye", "", {}, ""}}, {"y branch", {"wye", "", {}, ""}},
      {"wye branch", {"wye", "", {}, ""}}};
  return table;
}

bool is_number(const std::string& word) {
  return !word.empty() && word.find_first_not_of("0123456789") == std::string::npos;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : text + " ") {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

// "22.5" without its point is two words; decimals of an angle are put together again before words are told apart.
std::string with_decimals_kept(std::string_view cell) {
  std::string out;
  for (std::size_t i = 0; i < cell.size(); ++i) {
    const auto digit = [&](std::size_t at) { return at < cell.size() && cell[at] >= '0' && cell[at] <= '9'; };
    const bool decimal = (cell[i] == '.' || cell[i] == ',') && i > 0 && digit(i - 1) && digit(i + 1);
    out += decimal ? std::string("\x80") : std::string(1, cell[i]);
  }
  return out;
}

std::string number_with_point(std::string word) {
  std::replace(word.begin(), word.end(), '\x80', '.');
  return word;
}

bool is_decimal(const std::string& word) {
  std::string digits = word;
  digits.erase(std::remove(digits.begin(), digits.end(), '\x80'), digits.end());
  return is_number(digits) && word.size() <= digits.size() + 1;
}

// Takes the numbers out of `words`: with the word that says what they count, or an angle.
bool take_numbers(std::vector<std::string>& words, KindWords& out) {
  static const std::set<std::string, std::less<>> degrees = {"deg", "degs", "degree", "degrees", "d"};
  static const std::set<std::string, std::less<>> pieces = {"pc", "pcs", "piece", "pieces", "seg", "segs", "segment", "segments"};
  static const std::set<std::string, std::less<>> gores = {"gore", "gores"};
  std::vector<std::string> rest;
  for (std::size_t i = 0; i < words.size(); ++i) {
    // "5pc", "90deg"
    const std::size_t letters = words[i].find_first_not_of("0123456789\x80");
    if (letters != std::string::npos && letters > 0) {
      const std::string unit = words[i].substr(letters);
      words[i].erase(letters);
      words.insert(words.begin() + static_cast<std::ptrdiff_t>(i) + 1, unit);
    }
    if (!is_decimal(words[i])) {
      rest.push_back(words[i]);
      continue;
    }
    const std::string next = i + 1 < words.size() ? words[i + 1] : "";
    std::string& place = pieces.count(next) != 0 ? out.pieces : gores.count(next) != 0 ? out.gores : out.angle;
    if (!place.empty()) return false;
    place = number_with_point(words[i]);
    // a small number alone can be pieces as well as degrees
    const bool named = degrees.count(next) != 0 || pieces.count(next) != 0 || gores.count(next) != 0;
    if (!named && words[i].size() < 2) return false;
    if (named) ++i;
  }
  words = rest;
  return true;
}

std::string singular(const std::string& phrase) {
  return phrase.size() > 3 && phrase.back() == 's' ? phrase.substr(0, phrase.size() - 1) : phrase;
}

}  // namespace

std::optional<KindWords> kind_words(std::string_view cell, const std::vector<std::string>& kinds) {
  std::vector<std::string> words = words_of(plain_words(with_decimals_kept(cell)));
  if (words.empty() || words.size() > 12) return std::nullopt;
  KindWords out;
  if (!take_numbers(words, out)) return std::nullopt;
  std::string own;
  for (const std::string& word : words) own += (own.empty() ? "" : "_") + word;
  if (std::find(kinds.begin(), kinds.end(), own) != kinds.end()) {
    out.kind = own;
    return out;
  }
  std::string phrase;
  for (const std::string& word : words) {
    if (word == "round" || word == "lined" || word == "fitting") continue;
    if ((word == "long" || word == "short" || word == "lr" || word == "sr") && out.further.empty()) {
      const bool is_long = word == "long" || word == "lr";
      out.further.emplace_back("radius_ratio", is_long ? "1.5" : "1");
      out.assumed = is_long ? "long radius is 1.5 diameters" : "short radius is 1 diameter";
    } else if (!(word == "radius" && !out.further.empty())) {
      phrase += (phrase.empty() ? "" : " ") + word;
    }
  }
  const auto& table = nouns();
  auto noun = table.find(phrase);
  if (noun == table.end()) noun = table.find(singular(phrase));
  if (noun == table.end()) return std::nullopt;
  out.kind = noun->second.kind;
  if (out.angle.empty() && !noun->second.angle.empty()) {
    out.angle = noun->second.angle;
    out.assumed = noun->second.assumed;
  } else if (out.assumed.empty() && noun->second.angle.empty()) {
    out.assumed = noun->second.assumed;
  }
  out.further.insert(out.further.end(), noun->second.further.begin(), noun->second.further.end());
  return out;
}

}  // namespace linerwright
