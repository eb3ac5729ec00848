#include "words.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "trade_words.hpp"

namespace linerwright {

namespace {

using Words = std::vector<std::string>;

Words split(const std::string& text) {
  Words words;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    if (end > at) words.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return words;
}

std::string together(const Words& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : " ") + word;
  return out;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Takes out of `words` what says which diameter is meant.
std::string take_size_is(Words& words) {
  static const std::map<std::string, std::string, std::less<>> said = {
      {"id", "metal"},   {"inside", "metal"},    {"internal", "metal"},   {"bare", "metal"},
      {"od", "outside"}, {"outside", "outside"}, {"external", "outside"}, {"clear", "clear"},
      {"net", "clear"},  {"finished", "clear"}};
  std::string size_is;
  Words rest;
  for (std::size_t i = 0; i < words.size(); ++i) {
    // "i d" and "o d", written with points
    std::string word = words[i];
    std::size_t taken = 1;
    if (i + 1 < words.size() && words[i + 1] == "d" && (word == "i" || word == "o")) {
      word += "d";
      taken = 2;
    }
    const bool radius = i + 1 < words.size() && spelled(words[i + 1]) == "radius";
    const auto found = said.find(word);
    if (found == said.end() || radius) {
      rest.push_back(words[i]);
      continue;
    }
    size_is = found->second;
    i += taken - 1;
    const bool diameter_follows =
        i + 1 < words.size() && (spelled(words[i + 1]) == "diameter" || words[i + 1] == "size");
    const bool diameter_before =
        !rest.empty() && (spelled(rest.back()) == "diameter" || rest.back() == "size");
    if (!diameter_follows && !diameter_before) rest.emplace_back("diameter");
  }
  words = rest;
  return size_is;
}

// The text outside brackets, and what stands in each pair of them.
std::string without_brackets(std::string_view head, Words& inside) {
  std::string outside;
  for (std::size_t i = 0; i < head.size(); ++i) {
    const std::size_t close = head[i] == '('   ? head.find(')', i)
                              : head[i] == '[' ? head.find(']', i)
                                               : std::string_view::npos;
    if (close == std::string_view::npos) {
      outside += head[i];
      continue;
    }
    inside.emplace_back(head.substr(i + 1, close - i - 1));
    outside += ' ';
    i = close;
  }
  return outside;
}

// Words that are written as one or as two.
Words joined_pairs(const Words& words) {
  Words out;
  for (const std::string& word : words) {
    const bool line = word == "line" && !out.empty() &&
                      (out.back() == "centre" || out.back() == "center" || out.back() == "c");
    const bool required = word == "d" && !out.empty() && out.back() == "req";
    if (line)
      out.back() = "centreline";
    else if (required)
      out.back() = "reqd";
    else
      out.push_back(word);
  }
  return out;
}

std::string meaning_of(const Words& as_written, const std::vector<std::string>& keys) {
  const Words written = joined_pairs(as_written);
  std::string key = together(written);
  std::replace(key.begin(), key.end(), ' ', '_');
  const auto own = std::find(keys.begin(), keys.end(), key);
  for (const bool all : {true, false}) {
    Words words;
    for (const std::string& word : written)
      if (all || !says_nothing(word)) words.push_back(spelled(word));
    if (std::string found = meaning_of_words(together(words)); !found.empty()) return found;
    if (all && own != keys.end()) return key;
    // "Leg Dia" is leg_diameter
    std::string as_key = together(words);
    std::replace(as_key.begin(), as_key.end(), ' ', '_');
    if (std::find(keys.begin(), keys.end(), as_key) != keys.end()) return as_key;
  }
  return {};
}

}  // namespace

std::string plain_words(std::string_view text) {
  static const std::array<std::pair<std::string_view, std::string_view>, 9> signs = {
      {{"\xC3\x98", " dia "},
       {"\xC3\xB8", " dia "},
       {"\xE2\x8C\x80", " dia "},
       {"\xC2\xB0", " deg "},
       {"\xC2\xBA", " deg "},
       {"\xC2\xA0", " "},
       {"\xE2\x80\x9D", "\""},
       {"\xC2\xB2", "2"},
       {"\xC2\xB3", "3"}}};
  std::string spaced;
  for (std::size_t i = 0; i < text.size();) {
    const auto sign = std::find_if(signs.begin(), signs.end(), [&](const auto& one) {
      return text.substr(i, one.first.size()) == one.first;
    });
    if (sign != signs.end()) {
      spaced += sign->second;
      i += sign->first.size();
      continue;
    }
    const char c = text[i++];
    const unsigned char byte = static_cast<unsigned char>(c);
    if (c >= 'A' && c <= 'Z')
      spaced += static_cast<char>(c - 'A' + 'a');
    else if ((c >= 'a' && c <= 'z') || is_digit(c) || byte >= 0x80)
      spaced += c;
    else
      spaced += c == '#' ? " no " : " ";
  }
  return together(split(spaced));
}

HeadWords head_words(std::string_view head, const std::vector<std::string>& keys) {
  HeadWords out;
  Words brackets;
  std::string outside = without_brackets(head, brackets);
  Words words = split(plain_words(outside));
  for (const std::string& bracket : brackets) {
    const std::string said = plain_words(bracket);
    if (const std::string unit = unit_in_head(said); !unit.empty()) {
      out.unit = unit;
    } else if (is_feet_and_inches(said)) {
      continue;
    } else if (bracket == "\"" || bracket == "''") {
      out.unit = "in";
    } else if (bracket == "'") {
      out.unit = "ft";
    } else {
      for (const std::string& word : split(said)) words.push_back(word);
    }
  }
  if (out.unit.empty() && outside.find('"') != std::string::npos) out.unit = "in";
  // "Length ft-in"
  for (const std::size_t taken : {3u, 2u})
    if (words.size() > taken &&
        is_feet_and_inches(together({words.end() - static_cast<std::ptrdiff_t>(taken), words.end()})))
      words.resize(words.size() - taken);
  // "Length mm", "Dia in inches"
  if (out.unit.empty() && words.size() > 1) {
    if (const std::string unit = unit_in_head(words.back()); !unit.empty() && unit != "deg") {
      out.unit = unit;
      words.pop_back();
      if (words.size() > 1 && words.back() == "in") words.pop_back();
    }
  }
  out.size_is = take_size_is(words);
  out.meaning = meaning_of(words, keys);
  if (out.meaning.empty()) {
    // a plural: "Tees", "Angles"
    Words single = words;
    if (!single.empty() && single.back().size() > 3 && single.back().back() == 's') single.back().pop_back();
    out.meaning = meaning_of(single, keys);
  }
  if (out.meaning == "flow" && out.unit.empty() && plain_words(head).find("cfm") != std::string::npos)
    out.unit = "cfm";
  return out;
}

bool says_total(std::string_view cell) {
  const std::string words = plain_words(cell);
  for (const std::string_view word :
       {"total", "subtotal", "sub total", "grand total", "sum", "totals", "sums"}) {
    if (words == word || words.substr(0, word.size() + 1) == std::string(word) + " ") return true;
  }
  return cell.substr(0, 2) == "\xCE\xA3";  // capital sigma
}

}  // namespace linerwright
