// What a result was made from, as check sums.
#include "linerwright/units/error.hpp"
#include "options.hpp"

namespace linerwright {

std::string state_of(const Job& job, const std::string& version) {
  SumOfTexts texts;
  texts.add(k_sources);
  texts.add(version);
  texts.add(job.name);
  for (const auto& [name, table] : job.tables)
    for (const auto& [key, value] : table.all()) {
      texts.add(name + "." + key);
      texts.add(value.written);
    }
  if (const auto runs = job.lists.find("run"); runs != job.lists.end())  // they carry the air
    for (const Values& run : runs->second)
      for (const auto& [key, value] : run.all()) {
        texts.add(key);
        texts.add(value.written);
      }
  for (const Problem& problem : job.problems) texts.add(one_line(problem));
  for (const FittingRequest& request : job.fittings) {
    texts.add(request.tag);
    texts.add(request);
    for (const auto& [key, value] : request.joining.all()) {
      texts.add(key);
      texts.add(value.written);
    }
  }
  return texts.sum();
}

std::string made_from(const FittingRequest& request, const OutputOptions& options, bool with_tag) {
  SumOfTexts texts;
  texts.add(k_sources);
  if (with_tag) texts.add(request.tag);
  texts.add(request);
  JsonWriter json;
  json.begin_object();
  write_options(json, options);
  json.end_object();
  texts.add(json.str());
  return texts.sum();
}

}  // namespace linerwright
