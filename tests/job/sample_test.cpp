// The commented sample works as it stands and explains every key.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::test_schema;

TEST(Sample, ReadsBackWithoutProblem) {
  const JobSchema schema = test_schema();
  const Job job = read_job_text(sample_job(schema, ""), "sample.toml", schema);
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.units, Units::inch);
  ASSERT_EQ(job.fittings.size(), schema.kinds.size());
  EXPECT_EQ(job.fittings[0].tag, "ELBOW-1");
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("diameter"), 609.6);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("length"), 18.5 * 25.4);
  EXPECT_TRUE(job.fittings[1].values.flag("eccentric"));
  EXPECT_EQ(job.fittings[2].values.text("note"), "say \"up\" \\ down");
}

TEST(Sample, OfOneKind) {
  const JobSchema schema = test_schema();
  for (const KindSchema& kind : schema.kinds) {
    const Job job = read_job_text(sample_job(schema, kind.kind), "sample.toml", schema);
    EXPECT_EQ(lines(job.problems), "");
    ASSERT_EQ(job.fittings.size(), 1u);
    EXPECT_EQ(job.fittings[0].kind, kind.kind);
  }
}

TEST(Sample, ExplainsEveryKey) {
  const JobSchema schema = test_schema();
  const std::string sample = sample_job(schema, "");
  int keys = 0;
  const auto expect_key = [&](const KeySpec& key) {
    EXPECT_NE(sample.find("\n" + std::string(key.sample.empty() ? "# " : "") + key.name + " ="),
              std::string::npos)
        << key.name;
    EXPECT_NE(sample.find("  # " + key.help), std::string::npos) << key.help;
    ++keys;
  };
  for (const KindSchema& kind : schema.kinds) {
    for (const KeySpec& key : kind.keys) expect_key(key);
  }
  for (const KeySpec& key : schema.liner_keys) expect_key(key);
  EXPECT_EQ(keys, 15);
  EXPECT_NE(sample.find("# gores = 5  # segments of the bend (at least 2, at most 24; 5 if left out)\n"),
            std::string::npos);
  EXPECT_NE(
      sample.find("# collar =  # straight spigot at each end (over 0 in, at most 120 in; may be left out)\n"),
      std::string::npos);
}

// A key that is shown as a comment works once the # is taken away, where it has a default.
TEST(Sample, CommentedDefaultsAreValid) {
  const JobSchema schema = test_schema();
  std::string sample = sample_job(schema, "");
  int opened = 0;
  for (std::size_t at = 0; (at = sample.find("\n# ", at)) != std::string::npos; ++at) {
    const std::string line = sample.substr(at + 3, sample.find('\n', at + 1) - at - 3);
    if (line.find(" = ") == std::string::npos || line.find("if left out") == std::string::npos) continue;
    sample.erase(at + 1, 2);
    ++opened;
  }
  EXPECT_EQ(opened, 4);
  const Job job = read_job_text(sample, "sample.toml", schema);
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_TRUE(job.fittings[0].values.given("gores"));
}

TEST(Sample, OfAnUnknownKind) {
  try {
    sample_job(test_schema(), "elbwo");
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(
        lines(error.problems()),
        "kind = elbwo: unknown kind of fitting, did you mean elbow? (allowed: elbow, reducer, straight)\n");
  }
}

}  // namespace
}  // namespace linerwright
