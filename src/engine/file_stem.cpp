// A name for files made from a tag.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "linerwright/engine/fitting_files.hpp"

namespace linerwright {

namespace {

// FNV-1a, 32 bits (Fowler, Noll and Vo; constants from memory, any good hash would do).
unsigned check_sum(const std::string& text) {
  unsigned hash = 2166136261u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
  return hash;
}

// Names of devices, and of what stands beside the fittings' folders.
bool is_taken(std::string stem) {
  std::transform(stem.begin(), stem.end(), stem.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  const std::size_t dot = stem.rfind('.');
  const std::string ending = dot == std::string::npos || dot == 0 ? "" : stem.substr(dot);
  if (stem == k_boards_folder || stem == k_runs_folder || stem == k_again_folder ||
      (stem.rfind("index", 0) == 0 && ending == ".html") ||
      (stem.rfind("totals", 0) == 0 && (ending == ".json" || ending == ".csv")) ||
      (stem.rfind("made", 0) == 0 && ending == ".json"))
    return true;
  stem = stem.substr(0, stem.find('.'));
  constexpr std::array<const char*, 4> k_names{"con", "prn", "aux", "nul"};
  if (std::any_of(k_names.begin(), k_names.end(), [&](const char* name) { return stem == name; }))
    return true;
  const bool numbered = stem.size() == 4 && (stem.rfind("com", 0) == 0 || stem.rfind("lpt", 0) == 0);
  return numbered && stem[3] >= '0' && stem[3] <= '9';
}

}  // namespace

std::string file_stem(const std::string& tag) {
  constexpr std::size_t k_longest = 80;
  std::string stem;
  for (const char c : tag) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '-' || c == '_' || c == '.';
    stem += plain ? c : '_';
  }
  if (stem.size() > k_longest) stem.resize(k_longest);
  if (stem.empty() || stem.front() == '.' || stem.front() == '-') stem.insert(0, "_");
  if (stem.back() == '.') stem.back() = '_';
  if (stem != tag || is_taken(stem)) stem += fmt::format("-{:08x}", check_sum(tag));
  return is_taken(stem) ? "_" + stem : stem;
}

}  // namespace linerwright
