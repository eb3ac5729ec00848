// Jobs of random fittings as the texts of job files.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "linerwright/job/job_text.hpp"
#include "support/random_fittings.hpp"

namespace linerwright::support {

// How a job file writes a key; null: in quotes.
inline const KeySpec* spec_named(const std::string& kind, const std::string& key) {
  for (const KindSchema& schema : job_schema().kinds)
    if (schema.kind == kind)
      for (const std::vector<KeySpec>* keys : {&schema.keys, &job_schema().liner_keys})
        for (const KeySpec& spec : *keys)
          if (spec.name == key) return &spec;
  return nullptr;
}

// A job in millimetres with `count` fittings, kinds in turn where that is asked for.
inline std::string random_job(Chance& chance, int count) {
  JobText job("[job]\nname = \"Tide mill\"\nunits = \"mm\"\n", "job.toml");
  const std::vector<std::string> kinds = random_kinds();
  for (int i = 0; i < count; ++i) {
    const std::string kind = kinds[static_cast<std::size_t>(i) % kinds.size()];
    std::vector<std::pair<std::string, std::string>> values{{"tag", fmt::format("F-{}", i + 1)},
                                                            {"kind", kind}};
    for (const auto& [key, value] : random_flags(chance, kind)) values.emplace_back(key, value);
    std::vector<const KeySpec*> specs;
    for (const auto& [key, value] : values) specs.push_back(spec_named(kind, key));
    job.add(values, specs);
  }
  return job.text();
}

}  // namespace linerwright::support
