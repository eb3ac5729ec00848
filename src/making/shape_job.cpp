#include "linerwright/making/shape_job.hpp"

#include <exception>
#include <map>
#include <utility>

#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/units/parallel.hpp"

namespace linerwright {

namespace {

// Indices of requests that one thread makes one after the other.
std::vector<std::vector<std::size_t>> alike_of(std::size_t count, Shaping& shaping) {
  std::vector<std::vector<std::size_t>> groups;
  std::map<std::string, std::size_t> group_of;
  for (std::size_t i = 0; i < count; ++i) {
    const std::string word = shaping.alike(i);
    const auto known = word.empty() ? group_of.end() : group_of.find(word);
    if (known != group_of.end()) {
      groups[known->second].push_back(i);
      continue;
    }
    if (!word.empty()) group_of.emplace(word, groups.size());
    groups.push_back({i});
  }
  return groups;
}

}  // namespace

Shaped shape(const FittingRequest& request) {
  Fitting fitting = make_fitting(request);
  std::vector<Pattern> patterns = make_patterns(fitting);
  for (std::string& warning : tilt_warnings(fitting, patterns))
    fitting.warnings.push_back(std::move(warning));
  return {std::move(fitting), std::move(patterns)};
}

MakingFailed why_not_made(const FittingRequest& request) {
  MakingFailed why;
  const auto because = [&](const std::string& reason) {
    why.problems.push_back({request.file, request.line, request.tag, {}, {}, {}, reason});
    why.lines.push_back(request.tag + ": " + reason);
  };
  try {
    throw;
  } catch (const InputError& error) {
    why.exit_code = 2;
    why.problems = error.problems();
    for (const Problem& problem : why.problems) why.lines.push_back(one_line(problem));
  } catch (const WriteError& error) {
    why.exit_code = 3;
    because(error.what());
    why.lines = {error.what()};  // it names the file
  } catch (const std::exception& error) {
    because(error.what());
  } catch (...) {
    because("failed for a reason that is not known");
  }
  return why;
}

void shape_all(const std::vector<FittingRequest>& requests, int threads, Shaping& shaping, bool patterns) {
  const std::vector<std::vector<std::size_t>> groups = alike_of(requests.size(), shaping);
  in_parallel(groups.size(), threads, [&](std::size_t group) {
    for (const std::size_t i : groups[group]) {
      shaping.begins(i);
      try {
        shaping.shaped(i, patterns ? shape(requests[i]) : Shaped{make_fitting(requests[i]), {}});
      } catch (...) {
        shaping.failed(i, why_not_made(requests[i]));
      }
    }
  });
}

}  // namespace linerwright
