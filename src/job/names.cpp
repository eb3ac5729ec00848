#include "names.hpp"

#include <algorithm>

namespace linerwright {

namespace {

// Insertions, deletions, replacements and swaps of neighbours that turn one into the other (optimal string
// alignment distance).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0u : 1u)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before_last[j - 2] + 1);
      }
    }
    before_last.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

}  // namespace

std::string nearest_name(std::string_view written, const std::vector<std::string>& known) {
  const std::string form = key_form(written);
  std::string nearest;
  std::size_t least = 0;
  for (const std::string& name : known) {
    const std::size_t longer = std::max(form.size(), name.size());
    const std::size_t shorter = std::min(form.size(), name.size());
    if ((longer - shorter) * 3 > longer) continue;
    const std::size_t distance = edit_distance(form, key_form(name));
    if (distance * 3 > longer) continue;
    if (nearest.empty() || distance < least) {
      nearest = name;
      least = distance;
    }
  }
  return nearest;
}

std::string shown_key(const std::string& key, const std::string& file) {
  if (!file.empty()) return key;
  std::string flag = "--" + key;
  std::replace(flag.begin(), flag.end(), '_', '-');
  return flag;
}

std::string key_form(std::string_view written) {
  std::string out;
  for (const char c : without_ends(written)) {
    if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else {
      out += c == ' ' || c == '-' ? '_' : c;
    }
  }
  return out;
}

std::string_view without_ends(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string joined(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

std::vector<std::string> names_of(const std::vector<KindSchema>& kinds) {
  std::vector<std::string> names;
  for (const KindSchema& kind : kinds) names.push_back(kind.kind);
  return names;
}

std::vector<std::string> names_of(const std::vector<const KeySpec*>& keys) {
  std::vector<std::string> names;
  for (const KeySpec* key : keys) names.push_back(key->name);
  return names;
}

std::string unknown(const std::string& what, std::string_view written,
                    const std::vector<std::string>& known) {
  const std::string nearest = nearest_name(written, known);
  return "unknown " + what + (nearest.empty() ? "" : ", did you mean " + nearest + "?");
}

const KindSchema& kind_named(const std::string& name, const JobSchema& schema) {
  for (const KindSchema& kind : schema.kinds) {
    if (key_form(kind.kind) == key_form(name)) return kind;
  }
  const std::vector<std::string> known = names_of(schema.kinds);
  throw InputError({{"", 0, "", "kind", name, joined(known), unknown("kind of fitting", name, known)}});
}

}  // namespace linerwright
