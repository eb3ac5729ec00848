#include "words.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

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

// Words that change nothing: "size of the branch" is "size branch".
bool says_nothing(const std::string& word) {
  static const std::array<std::string_view, 9> filler = {"of",      "the",  "a",   "nominal", "nom",
                                                         "fitting", "duct", "per", "overall"};
  return std::find(filler.begin(), filler.end(), word) != filler.end();
}

// One spelling for each word of a head.
std::string spelled(const std::string& word) {
  static const std::map<std::string, std::string, std::less<>> same = {
      {"dia", "diameter"},       {"diam", "diameter"},     {"diameters", "diameter"}, {"diametre", "diameter"},
      {"sizes", "size"},         {"len", "length"},        {"lg", "length"},          {"lgth", "length"},
      {"lengths", "length"},     {"l", "length"},          {"qty", "quantity"},       {"quant", "quantity"},
      {"quan", "quantity"},      {"qnty", "quantity"},     {"count", "quantity"},     {"pcs", "quantity"},
      {"nos", "quantity"},       {"off", "quantity"},      {"ea", "quantity"},        {"each", "quantity"},
      {"br", "branch"},          {"brch", "branch"},       {"branches", "branch"},    {"tap", "branch"},
      {"takeoff", "branch"},     {"lateral", "branch"},    {"rad", "radius"},         {"radii", "radius"},
      {"centerline", "centreline"}, {"cl", "centreline"},  {"num", "no"},             {"nr", "no"},
      {"number", "no"},          {"ang", "angle"},         {"degree", "deg"},         {"degrees", "deg"},
      {"degs", "deg"},           {"thk", "thickness"},     {"thick", "thickness"},    {"thkness", "thickness"},
      {"liner", "lining"},       {"insulation", "lining"}, {"insul", "lining"},       {"insulated", "lining"},
      {"tags", "tag"},           {"mk", "mark"},           {"marks", "mark"},         {"types", "type"},
      {"gore", "gores"},         {"segment", "segments"},  {"segs", "segments"},      {"piece", "pieces"},
      {"pc", "pieces"},          {"remark", "note"},       {"remarks", "note"},       {"notes", "note"},
      {"comment", "note"},       {"comments", "note"},     {"desc", "description"},   {"descr", "description"},
      {"lrg", "large"},          {"lge", "large"},         {"larger", "large"},       {"sml", "small"},
      {"smaller", "small"},      {"ht", "length"},         {"height", "length"},      {"d", "diameter"},
      {"r", "radius"},           {"main", "body"},         {"run", "body"},           {"through", "body"},
      {"airflow", "flow"},       {"volume", "flow"},       {"ofs", "offset"},         {"offs", "offset"},
  };
  const auto found = same.find(word);
  return found == same.end() ? word : found->second;
}

const std::map<std::string, std::string, std::less<>>& meanings() {
  static const std::map<std::string, std::string, std::less<>> table = {
      {"tag", "tag"}, {"mark", "tag"}, {"tag no", "tag"}, {"mark no", "tag"}, {"piece mark", "tag"},
      {"pieces mark", "tag"}, {"id no", "tag"}, {"ref", "tag"}, {"reference", "tag"}, {"fitting tag", "tag"},
      {"item", "item"}, {"item no", "item"}, {"description", "description"}, {"no", "number"}, {"pos", "item"},
      {"type", "kind"}, {"kind", "kind"}, {"shape", "kind"}, {"component", "kind"}, {"type kind", "kind"},
      {"quantity", "count"}, {"no quantity", "count"}, {"no reqd", "count"}, {"reqd", "count"}, {"required", "count"}, {"quantity reqd", "count"},
      {"quantity required", "count"}, {"no required", "count"}, {"no pieces quantity", "count"}, {"no quantity off", "count"},
      {"diameter", "diameter"}, {"size", "diameter"}, {"size diameter", "diameter"}, {"diameter size", "diameter"},
      {"body diameter", "diameter"}, {"body size", "diameter"}, {"body", "diameter"}, {"large end", "diameter"},
      {"large diameter", "diameter"}, {"large end diameter", "diameter"}, {"diameter large end", "diameter"},
      {"large", "diameter"}, {"size large", "diameter"}, {"diameter 1", "diameter"}, {"d1", "diameter"}, {"size 1", "diameter"},
      {"from", "diameter"}, {"from diameter", "diameter"}, {"diameter from", "diameter"}, {"from size", "diameter"},
      {"inlet", "diameter"}, {"inlet diameter", "diameter"}, {"round", "diameter"}, {"round size", "diameter"},
      {"to", "to_diameter"}, {"to diameter", "to_diameter"}, {"diameter to", "to_diameter"}, {"to size", "to_diameter"},
      {"small end", "to_diameter"}, {"small diameter", "to_diameter"}, {"small end diameter", "to_diameter"},
      {"diameter small end", "to_diameter"}, {"small", "to_diameter"}, {"size small", "to_diameter"}, {"diameter 2", "to_diameter"},
      {"d2", "to_diameter"}, {"size 2", "to_diameter"}, {"outlet", "to_diameter"}, {"outlet diameter", "to_diameter"},
      {"reduce to", "to_diameter"}, {"reduces to", "to_diameter"}, {"reduced to", "to_diameter"}, {"second size", "to_size"},
      {"branch", "branch_diameter"}, {"branch diameter", "branch_diameter"}, {"branch size", "branch_diameter"},
      {"diameter branch", "branch_diameter"}, {"size branch", "branch_diameter"}, {"d3", "branch_diameter"},
      {"branch length", "branch_length"}, {"length branch", "branch_length"},
      {"length", "length"}, {"body length", "length"}, {"length body", "length"},
      {"angle", "angle"}, {"deg", "angle"}, {"bend angle", "angle"}, {"angle bend", "angle"}, {"turn", "angle"},
      {"angle deg", "angle"}, {"branch angle", "angle"}, {"angle branch", "angle"}, {"elbow angle", "angle"},
      {"pieces", "pieces"}, {"no pieces", "pieces"}, {"pieces no", "pieces"}, {"segments", "pieces"}, {"no segments", "pieces"},
      {"gores", "gores"}, {"no gores", "gores"}, {"gores no", "gores"},
      {"radius", "radius"}, {"bend radius", "radius"}, {"centreline radius", "centreline_radius"}, {"clr", "centreline_radius"},
      {"radius centreline", "centreline_radius"}, {"throat radius", "throat_radius"}, {"throat", "throat_radius"},
      {"radius throat", "throat_radius"}, {"inside radius", "throat_radius"}, {"radius diameter", "radius_ratio"},
      {"radius ratio", "radius_ratio"}, {"clr diameter", "radius_ratio"}, {"centreline radius diameter", "radius_ratio"},
      {"offset", "offset"}, {"position", "position"}, {"branch position", "position"}, {"collar", "collar"},
      {"lining", "thickness"}, {"lining thickness", "thickness"}, {"thickness lining", "thickness"}, {"board thickness", "thickness"},
      {"lined", "thickness"}, {"gauge", "gauge"}, {"metal thickness", "gauge"}, {"metal gauge", "gauge"}, {"flow", "flow"},
      {"air flow", "flow"}, {"cfm", "flow"}, {"note", "note"}, {"special instructions", "note"}, {"instructions", "note"},
      {"weight", "left"}, {"wt", "left"}, {"area", "left"}, {"surface", "left"}, {"surface area", "left"}, {"price", "left"},
      {"cost", "left"}, {"unit price", "left"}, {"amount", "left"}, {"level", "left"}, {"floor", "left"}, {"location", "left"},
      {"zone", "left"}, {"room", "left"}, {"system", "left"}, {"drawing", "left"}, {"drawing no", "left"}, {"dwg", "left"},
      {"dwg no", "left"}, {"rev", "left"}, {"revision", "left"}, {"date", "left"}, {"status", "left"}, {"material", "left"},
      {"sheet", "left"}, {"by", "left"}, {"checked", "left"}, {"line", "left"}, {"line no", "left"}, {"row", "left"},
  };
  return table;
}

// A unit that stands in a head, as the units are written; empty: none.
std::string unit_in_head(const std::string& words) {
  static const std::map<std::string, std::string, std::less<>> units = {
      {"mm", "mm"}, {"cm", "cm"}, {"m", "m"}, {"in", "in"}, {"ins", "in"}, {"inch", "in"}, {"inches", "in"}, {"ft", "ft"},
      {"feet", "ft"}, {"deg", "deg"}, {"degrees", "deg"}, {"cfm", "cfm"}, {"l s", "l/s"}, {"m3 s", "m3/s"}, {"m3 h", "m3/h"},
      {"lb", "lb"}, {"lbs", "lb"}, {"kg", "kg"}, {"kgs", "kg"}, {"sq ft", "ft2"}, {"sqft", "ft2"}, {"m2", "m2"},
      {"millimetres", "mm"}, {"millimeters", "mm"}, {"metres", "m"}, {"meters", "m"}};
  const auto found = units.find(words);
  return found == units.end() ? "" : found->second;
}

// Takes out of `words` what says which diameter is meant.
std::string take_size_is(Words& words) {
  static const std::map<std::string, std::string, std::less<>> said = {
      {"id", "metal"}, {"inside", "metal"}, {"internal", "metal"}, {"bare", "metal"}, {"od", "outside"},
      {"outside", "outside"}, {"external", "outside"}, {"clear", "clear"}, {"net", "clear"}, {"finished", "clear"}};
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
    const bool diameter_follows = i + 1 < words.size() && (spelled(words[i + 1]) == "diameter" || words[i + 1] == "size");
    const bool diameter_before = !rest.empty() && (spelled(rest.back()) == "diameter" || rest.back() == "size");
    if (!diameter_follows && !diameter_before) rest.emplace_back("diameter");
  }
  words = rest;
  return size_is;
}

// The text outside brackets, and what stands in each pair of them.
std::string without_brackets(std::string_view head, Words& inside) {
  std::string outside;
  for (std::size_t i = 0; i < head.size(); ++i) {
    const std::size_t close =
        head[i] == '(' ? head.find(')', i) : head[i] == '[' ? head.find(']', i) : std::string_view::npos;
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
    const bool line = word == "line" && !out.empty() && (out.back() == "centre" || out.back() == "center" || out.back() == "c");
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
  const auto& table = meanings();
  for (const bool all : {true, false}) {
    Words words;
    for (const std::string& word : written)
      if (all || !says_nothing(word)) words.push_back(spelled(word));
    const auto found = table.find(together(words));
    if (found != table.end()) return found->second;
    if (all && own != keys.end()) return key;
  }
  return {};
}

}  // namespace

std::string plain_words(std::string_view text) {
  static const std::array<std::pair<std::string_view, std::string_view>, 9> signs = {{{"\xC3\x98", " dia "},
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
    const auto sign = std::find_if(signs.begin(), signs.end(),
                                   [&](const auto& one) { return text.substr(i, one.first.size()) == one.first; });
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
    } else if (bracket == "\"" || bracket == "''") {
      out.unit = "in";
    } else if (bracket == "'") {
      out.unit = "ft";
    } else {
      for (const std::string& word : split(said)) words.push_back(word);
    }
  }
  if (out.unit.empty() && outside.find('"') != std::string::npos) out.unit = "in";
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
  if (out.meaning == "flow" && out.unit.empty() && plain_words(head).find("cfm") != std::string::npos) out.unit = "cfm";
  return out;
}

bool says_total(std::string_view cell) {
  const std::string words = plain_words(cell);
  for (const std::string_view word : {"total", "subtotal", "sub total", "grand total", "sum", "totals", "sums"}) {
    if (words == word || words.substr(0, word.size() + 1) == std::string(word) + " ") return true;
  }
  return cell.substr(0, 2) == "\xCE\xA3";  // capital sigma
}

}  // namespace linerwright
