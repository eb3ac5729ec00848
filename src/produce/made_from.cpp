// What a result was made from, as check sums.
#include <fmt/format.h>

#include "linerwright/digest.hpp"
#include "linerwright/error.hpp"
#include "options.hpp"

namespace linerwright {

namespace {

// Texts run together with their lengths before them, so that no two lists give the same.
class Texts {
 public:
  void add(const std::string& text) { all_ += fmt::format("{}:{};", text.size(), text); }
  std::string sum() const { return digest(all_); }

 private:
  std::string all_;
};

void add_request(Texts& texts, const FittingRequest& request) {
  texts.add(request.kind);
  texts.add(std::to_string(request.count));
  texts.add(request.units == Units::inch ? "in" : "mm");
  for (const auto& [key, value] : request.values.all()) {
    texts.add(key);
    texts.add(value.written);
  }
}

}  // namespace

std::string state_of(const FittingRequest& request) {
  Texts texts;
  texts.add(request.tag);
  add_request(texts, request);
  return texts.sum();
}

std::string state_of(const Job& job, const std::string& version) {
  Texts texts;
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
    add_request(texts, request);
    for (const auto& [key, value] : request.joining.all()) {
      texts.add(key);
      texts.add(value.written);
    }
  }
  return texts.sum();
}

std::string made_from(const FittingRequest& request, const ProduceOptions& options, bool with_tag) {
  Texts texts;
  texts.add(k_sources);
  if (with_tag) texts.add(request.tag);
  add_request(texts, request);
  JsonWriter json;
  json.begin_object();
  write_options(json, options);
  json.end_object();
  texts.add(json.str());
  return texts.sum();
}

}  // namespace linerwright
