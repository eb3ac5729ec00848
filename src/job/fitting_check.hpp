// One fitting's section against its kind's keys and the liner's.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "value_check.hpp"

namespace linerwright {

// What all fittings of a job share.
struct FittingRules {
  const JobSchema* schema;
  Values liner;                         // of [liner], defaults filled in
  std::set<std::string> liner_written;  // its keys met, right or wrong
  std::set<std::string>
      liner_flags;  // its keys that flags beside the file set: they win over the fittings' own
  std::map<std::u32string, std::pair<std::string, int>>
      tags;                       // case-folded tag -> file and line of the first
  std::string size_is = "metal";  // of [job]
  std::map<std::string, std::vector<std::string>>
      converted{};  // size_is -> fittings whose sizes were converted
};

// What any fitting may say about how it stands in a run.
std::vector<KeySpec> joining_keys();

// The keys a fitting of `kind` may have; a kind's key hides the liner's of the same name.
std::vector<const KeySpec*> keys_of(const KindSchema& kind, const JobSchema& schema);

// What the sizes of a job or a fitting may state.
KeySpec size_is_key();

// The request, or nothing and its problems noted. Registers the tag either way.
std::optional<FittingRequest> check_fitting(const Section& section, FittingRules& rules, Checker checker);

}  // namespace linerwright
