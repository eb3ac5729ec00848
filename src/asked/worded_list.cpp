#include "worded_list.hpp"

#include <algorithm>
#include <sstream>

namespace linerwright::asked {

std::vector<Words> worded_list(const std::string& text, const std::vector<std::string>& words) {
  std::vector<Words> all(1);
  std::string spaced;
  for (const char c : text) spaced += c == ',' || c == ';' ? std::string(" , ") : std::string(1, c);
  std::istringstream in(spaced);
  std::string name;
  for (std::string word; in >> word;) {
    if (word == ",") {
      all.emplace_back();
      name.clear();
    } else if (std::find(words.begin(), words.end(), word) != words.end()) {
      name = word;
      all.back()[name] = "";
    } else {
      std::string& value = all.back()[name];
      value += value.empty() ? word : " " + word;
    }
  }
  return all;
}

}  // namespace linerwright::asked
