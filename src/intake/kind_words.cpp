// Kinds of fitting as the trade calls them. Common practice, no source, for every word here.
#include <algorithm>
#include <regex>
#include <set>

#include "words.hpp"

namespace linerwright {

namespace {

using Words = std::set<std::string, std::less<>>;

// One kind: the words that name it, and those that may stand beside and change nothing.
struct Noun {
  std::string kind;
  Words names;
  Words beside;
};

const std::vector<Noun>& nouns() {
  static const std::vector<Noun> table = {
      {"elbow",
       {"elbow", "ell", "el", "elb", "bend"},
       {"gored", "segmented", "mitred", "mitered", "lobster", "back", "radius", "standard", "std"}},
      {"reducer",
       {"reducer", "red", "taper", "transition", "increaser", "expander"},
       {"concentric", "conc", "con", "symmetrical"}},
      {"offset", {"offset", "ogee", "s_bend", "s_piece"}, {"gored"}},
      {"tee",
       {"tee", "t", "branch", "t_piece", "tee_piece", "lateral", "lat"},
       {"straight", "equal", "reducing", "unequal", "square", "angled", "angle"}},
      {"wye", {"wye", "y", "y_piece"}, {"branch", "tee", "fitting"}},
      {"straight",
       {"straight", "pipe", "duct", "tube", "spiral", "str", "length", "piece"},
       {"straight", "spiral", "pipe", "duct", "section", "length", "piece", "run"}}};
  return table;
}

// Words of every fitting's make.
const Words& makes() {
  static const Words words = {"round",      "lined", "fitting", "spiral", "duct", "galv", "galvanised",
                              "galvanized", "steel", "metal",   "welded", "lock", "seam", "of"};
  return words;
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

// "22.5" without its point is two words; decimals of an angle are put together again before words are told
// apart.
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
  static const std::set<std::string, std::less<>> pieces = {"pc",  "pcs",  "piece",   "pieces",
                                                            "seg", "segs", "segment", "segments"};
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
    std::string& place = pieces.count(next) != 0  ? out.pieces
                         : gores.count(next) != 0 ? out.gores
                                                  : out.angle;
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

// Takes the size out of the cell: whole numbers or fractions with an inch mark, a unit or a diameter sign,
// several of them with x or / between. False where more than one place could be it, or a number has a mark
// within.
bool take_size(std::string& cell, std::string& size) {
  constexpr std::size_t k_longest = 120;  // no kind is named by more
  if (cell.size() > k_longest) return true;
  static const std::string k_sign = "(?:\xC3\x98|\xC3\xB8|\xE2\x8C\x80)";
  static const std::string k_unit =
      "(?:\"|''|\xE2\x80\x9D|\xE2\x80\xB3|(?:mm|cm|in|inch|inches)(?![A-Za-z]))";
  static const std::string k_one = "(?:" + k_sign + "\\s*)?\\d+(?:[ -]\\d+/\\d+)?\\s*(?:" + k_unit + ")?";
  static const std::regex sizes(k_one + "(?:\\s*(?:x|X|\xC3\x97|/)\\s*" + k_one + ")*");
  static const std::regex marked(k_sign + "|" + k_unit);
  const std::string text = cell;
  for (std::sregex_iterator each(text.begin(), text.end(), sizes), end; each != end; ++each) {
    const std::string found = each->str();
    if (!std::regex_search(found, marked)) continue;
    const auto at = static_cast<std::size_t>(each->position());
    const auto digit_mark = [&](std::size_t i) {
      return i < text.size() && (text[i] == '.' || text[i] == ',');
    };
    const bool begins_within = at > 0 && (digit_mark(at - 1) || text[at - 1] == '\'' || text[at - 1] == '-');
    if (!size.empty() || begins_within) return false;
    size = found;
    cell.replace(at, found.size(), " ");
  }
  return true;
}

std::string singular(const std::string& word) {
  return word.size() > 3 && word.back() == 's' ? word.substr(0, word.size() - 1) : word;
}

// "s bend", "t piece", "y piece": two words that are one.
void join_letters(std::vector<std::string>& words) {
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    const bool letter = words[i] == "s" || words[i] == "t" || words[i] == "y" || words[i] == "tee";
    if (!letter || (words[i + 1] != "bend" && words[i + 1] != "piece")) continue;
    words[i] += "_" + words[i + 1];
    words.erase(words.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
}

// Takes the words that say how a fitting is formed; false where two of them disagree.
bool take_forms(std::vector<std::string>& words, const std::string& kind, KindWords& out) {
  static const Words smooth = {"smooth", "pressed", "stamped", "die", "formed"};
  static const Words flat = {"eccentric", "ecc", "flat"};
  bool is_smooth = false, is_flat = false;
  std::vector<std::string> rest;
  for (const std::string& word : words) {
    if (kind == "elbow" && smooth.count(word) != 0) {
      is_smooth = true;
    } else if (kind == "reducer" && flat.count(word) != 0) {
      is_flat = true;
      if (word != "flat") out.assumed = "an eccentric reducer is flat on one side";
    } else if (kind == "elbow" && (word == "long" || word == "lr" || word == "short" || word == "sr")) {
      if (!out.further.empty()) return false;
      const bool is_long = word == "long" || word == "lr";
      out.further.emplace_back("radius_ratio", is_long ? "1.5" : "1");
      out.assumed = is_long ? "long radius is 1.5 diameters" : "short radius is 1 diameter";
    } else if (kind == "tee" && word == "conical") {
      out.needs = "branch_base";
    } else {
      rest.push_back(word);
    }
  }
  if (is_smooth) out.further.emplace_back("form", "smooth");
  if (is_flat) out.further.emplace_back("flat", "true");
  words = rest;
  return true;
}

// "sq to rd", "rectangular to round transition", "round to square".
bool says_square_to_round(const std::vector<std::string>& words) {
  static const Words square = {"square", "sq", "rectangle", "rectangular", "rect"};
  static const Words round = {"round", "rd", "rnd", "circle", "circular"};
  static const Words beside = {"to",          "2",          "transition",  "trans", "concentric", "conc",
                               "symmetrical", "transform",  "transformer", "piece", "fitting",    "duct",
                               "galv",        "galvanised", "galvanized",  "steel", "metal",      "lined"};
  const auto any = [&](const Words& of) {
    return std::any_of(words.begin(), words.end(),
                       [&](const std::string& word) { return of.count(word) != 0; });
  };
  return any(square) && any(round) && std::all_of(words.begin(), words.end(), [&](const std::string& word) {
           return square.count(word) != 0 || round.count(word) != 0 || beside.count(word) != 0;
         });
}

}  // namespace

std::optional<KindWords> kind_words(std::string_view cell, const std::vector<std::string>& kinds) {
  KindWords out;
  std::string text(cell);
  if (!take_size(text, out.size)) return std::nullopt;
  std::vector<std::string> words = words_of(plain_words(with_decimals_kept(text)));
  if (words.empty() || words.size() > 12) return std::nullopt;
  if (!take_numbers(words, out)) return std::nullopt;
  std::string own;
  for (const std::string& word : words) own += (own.empty() ? "" : "_") + word;
  if (std::find(kinds.begin(), kinds.end(), own) != kinds.end()) {
    out.kind = own;
    return out;
  }
  if (std::find(kinds.begin(), kinds.end(), "square_to_round") != kinds.end() &&
      says_square_to_round(words)) {
    out.kind = "square_to_round";
    return out;
  }
  join_letters(words);
  for (const Noun& noun : nouns()) {
    std::vector<std::string> rest;
    bool named = false, lateral = false;
    for (const std::string& written : words) {
      const std::string word = noun.names.count(written) != 0 ? written : singular(written);
      const bool names = noun.names.count(word) != 0;
      named = named || names;
      lateral = lateral || (noun.kind == "tee" && (word == "lateral" || word == "lat"));
      if (!names) rest.push_back(written);
    }
    KindWords read = out;
    if (!named || !take_forms(rest, noun.kind, read)) continue;
    const bool known = std::all_of(rest.begin(), rest.end(), [&](const std::string& word) {
      return noun.beside.count(word) != 0 || makes().count(word) != 0;
    });
    if (!known) continue;
    read.kind = noun.kind;
    if (lateral && read.angle.empty()) {
      read.angle = "45";
      read.assumed = "a lateral leaves at 45 degrees";
    }
    return read;
  }
  return std::nullopt;
}

}  // namespace linerwright
