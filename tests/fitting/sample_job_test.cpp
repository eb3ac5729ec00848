// The commented sample of every kind is a job that can be made as it stands.
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {
namespace {

std::string lines(const std::vector<Problem>& problems) {
  std::string out;
  for (const Problem& problem : problems) out += one_line(problem) + "\n";
  return out;
}

Job read(const std::string& text) {
  return read_job_text(text, "sample.toml", job_schema());
}

// The sample with the # taken off every key that has a default; returns how many in `opened`.
std::string with_defaults_written(std::string sample, int& opened) {
  for (std::size_t at = 0; (at = sample.find("\n# ", at)) != std::string::npos; ++at) {
    const std::string line = sample.substr(at + 3, sample.find('\n', at + 1) - at - 3);
    if (line.find(" = ") == std::string::npos || line.find(" if left out)") == std::string::npos) continue;
    sample.erase(at + 1, 2);
    ++opened;
  }
  return sample;
}

TEST(SampleJob, OfEveryKindCanBeMade) {
  ASSERT_GE(job_schema().kinds.size(), 4u);
  for (const KindSchema& kind : job_schema().kinds) {
    SCOPED_TRACE(kind.kind);
    const Job job = read(sample_job(job_schema(), kind.kind));
    ASSERT_EQ(lines(job.problems), "");
    ASSERT_EQ(job.fittings.size(), 1u);
    EXPECT_EQ(job.fittings[0].kind, kind.kind);
    const Fitting fitting = make_fitting(job.fittings[0]);
    EXPECT_FALSE(fitting.pieces.empty());
  }
}

TEST(SampleJob, OfAllKindsHoldsEach) {
  const Job job = read(sample_job(job_schema(), ""));
  ASSERT_EQ(lines(job.problems), "");
  std::set<std::string> kinds;
  for (const FittingRequest& request : job.fittings) {
    kinds.insert(request.kind);
    EXPECT_NO_THROW(make_fitting(request)) << request.kind;
  }
  EXPECT_EQ(kinds.size(), job_schema().kinds.size());
}

// What the sample says a key is if left out is what it is: written out, it makes the same request.
TEST(SampleJob, DefaultsAreAsItSays) {
  for (const KindSchema& kind : job_schema().kinds) {
    SCOPED_TRACE(kind.kind);
    const std::string sample = sample_job(job_schema(), kind.kind);
    int opened = 0;
    const Job written = read(with_defaults_written(sample, opened));
    ASSERT_EQ(lines(written.problems), "");
    EXPECT_GT(opened, 3);
    const Job left_out = read(sample);
    ASSERT_EQ(written.fittings.size(), 1u);
    ASSERT_EQ(left_out.fittings.size(), 1u);
    const auto& all = written.fittings[0].values.all();
    const auto& fewer = left_out.fittings[0].values.all();
    EXPECT_EQ(all.size(), fewer.size());
    for (const auto& [key, value] : fewer) {
      ASSERT_EQ(all.count(key), 1u) << key;
      EXPECT_EQ(all.at(key).data, value.data) << key;
    }
    EXPECT_EQ(make_fitting(written.fittings[0]).pieces.size(),
              make_fitting(left_out.fittings[0]).pieces.size());
  }
}

// A cross: one value a branch, in a job and as flags.
TEST(SampleJob, ListsOfBranchesCanBeMade) {
  const Job job = read(
      "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[fitting]]\ntag = \"X\"\nkind = \"tee\"\ndiameter = "
      "24\n"
      "length = 48\nbranch_diameter = [12, \"8in\"]\nbranch_length = 30\naround = [0, 180]\n");
  ASSERT_EQ(lines(job.problems), "");
  const FittingRequest& request = job.fittings.at(0);
  std::map<std::string, std::string> flags;
  for (const auto& [key, value] : request.values.all())
    if (value.given) flags[key] = value.written;
  ASSERT_EQ(flags.at("branch_diameter"), "12 & 8in");
  const FittingRequest again = request_from_flags("tee", flags, Units::inch, job_schema());
  for (const auto& [key, value] : request.values.all())
    EXPECT_EQ(again.values.find(key)->data, value.data) << key;
  EXPECT_EQ(make_fitting(again).pieces.size(), make_fitting(request).pieces.size());
  EXPECT_GE(make_fitting(request).pieces.size(), 3u);
}

}  // namespace
}  // namespace linerwright
