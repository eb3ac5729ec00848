#include "linerwright/check/check_written.hpp"

#include "beside.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

bool says(const JsonValue& json, const char* key, const std::string& expected) {
  const JsonValue* found = json.find(key);
  return found != nullptr && found->text == expected;
}

// The file speaks of this request, and of nothing looser than what it was made with. A check sum of another
// program than this one says nothing; that the file is as it was written then has to be enough.
std::vector<CheckResult> as_asked(const JsonValue& json, const std::string& bytes,
                                  const WrittenPromises& promises) {
  Tally tally("figures of origin");
  std::vector<CheckResult> notes;
  tally.number("format", json.find("format"), k_json_format, 0.0);
  const bool this_program = !promises.made_from || says(json, "made_from", *promises.made_from);
  if (this_program) {
    tally.require(!promises.state || says(json, "state", *promises.state),
                  "state is not the digest of what was asked for");
  } else if (as_it_was_written(json, bytes)) {
    notes.push_back(noted("figures of origin", "made by another version of this program"));
  } else {
    tally.wrong("made_from does not follow from the program, the parameters and the options that are stated");
  }
  notes.insert(notes.begin(), tally.result("marks of origin"));
  return notes;
}

}  // namespace

std::vector<CheckResult> check_written(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const CheckFiles& files, const WrittenPromises& promises) {
  std::string bytes;
  JsonValue json;
  try {
    bytes = file_bytes(files.folder / "fitting.json", k_largest_json);
    json = read_json(bytes, "fitting.json");
  } catch (const InputError& error) {
    return {undone("fitting.json", error.what())};
  }
  std::vector<CheckResult> results = as_asked(json, bytes, promises);
  const auto add = [&](const std::vector<CheckResult>& more) {
    results.insert(results.end(), more.begin(), more.end());
  };
  std::vector<Pattern> drawn = patterns;  // and templates of holes, which are no pieces
  for (Pattern& pattern : site_templates(fitting)) drawn.push_back(std::move(pattern));
  add(prove_figures(fitting, patterns, json));
  add(prove_templates(fitting, json));
  add(prove_files(fitting, drawn, files, json, bytes));
  results.push_back(prove_ordinates(fitting, drawn, files));
  add(prove_pictures(drawn, files, json));
  return results;
}

}  // namespace linerwright
