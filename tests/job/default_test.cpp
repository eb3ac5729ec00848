// [[default]] and size_is: what a job says for its fittings.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright::testing {
namespace {

JobSchema sized_schema() {
  JobSchema schema = test_schema();
  for (KindSchema& kind : schema.kinds)
    for (KeySpec& key : kind.keys) key.duct_size = key.name == "diameter" || key.name == "to_diameter";
  return schema;
}

const std::string k_job = "[job]\nunits = \"mm\"\n[liner]\nthickness = 25\n";

TEST(Defaults, FillInWhatIsNotSaid) {
  const std::string text =
      k_job +
      "[[default]]\nkind = \"elbow\"\nangle_up_to = 45\ngores = 3\n"
      "[[default]]\nkind = \"elbow\"\ngores = 7\ncollar = 40\n"
      "[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = 600\nangle = 45\n"
      "[[fitting]]\ntag = \"B\"\nkind = \"elbow\"\ndiameter = 600\n"
      "[[fitting]]\ntag = \"C\"\nkind = \"elbow\"\ndiameter = 600\ngores = 4\ncollar = 10\n"
      "[[fitting]]\ntag = \"D\"\nkind = \"straight\"\ndiameter = 600\nlength = 900\n";
  const Job job = read_job_text(text, "job.toml", test_schema());
  EXPECT_TRUE(job.problems.empty()) << lines(job.problems);
  ASSERT_EQ(job.fittings.size(), 4u);
  EXPECT_EQ(job.fittings[0].values.integer("gores"), 3);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("collar"), 40.0);
  EXPECT_EQ(job.fittings[1].values.integer("gores"), 7) << "a right angle where none is said";
  EXPECT_EQ(job.fittings[2].values.integer("gores"), 4);
  EXPECT_DOUBLE_EQ(job.fittings[2].values.quantity("collar"), 10.0);
  EXPECT_FALSE(job.fittings[3].values.has("collar"));
  EXPECT_EQ(job.notes, (std::vector<std::string>{"collar = 40 by [[default]] of line 9: A, B",
                                                 "gores = 3 by [[default]] of line 5: A",
                                                 "gores = 7 by [[default]] of line 9: B"}));
}

TEST(Defaults, MistakesNameTheirLine) {
  const std::string fitting = "[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = 600\n";
  EXPECT_EQ(refusal(k_job + "[[default]]\nkind = \"elbo\"\n" + fitting),
            "job.toml:6: kind = elbo: unknown kind of fitting, did you mean elbow? (allowed: elbow, reducer, "
            "straight)\n");
  EXPECT_EQ(refusal(k_job + "[[default]]\ngores = 3\n" + fitting),
            "job.toml:5: kind: is missing: [[default]] fills in fittings of one kind (allowed: elbow, "
            "reducer, straight)\n");
  EXPECT_EQ(refusal(k_job + "[[default]]\nkind = \"elbow\"\ngores = 3.5\n" + fitting),
            "job.toml:7: gores = 3.5: must be a whole number (allowed: at least 2, at most 24)\n");
  EXPECT_EQ(refusal(k_job + "[[default]]\nkind = \"elbow\"\nlength = 3\n" + fitting),
            "job.toml:7: length = 3: unknown key of kind elbow\n");
}

TEST(SizeIs, TheMetalFollowsFromWhatIsStated) {
  const auto diameter = [&](const std::string& job_says, const std::string& fitting_says) {
    const Job job =
        read_job_text("[job]\nunits = \"mm\"\n" + job_says +
                          "[liner]\nthickness = 25\n[[fitting]]\ntag = \"A\"\nkind = \"reducer\"\n" +
                          fitting_says + "diameter = 600\nto_diameter = 500\nlength = 300\n",
                      "job.toml", sized_schema());
    EXPECT_TRUE(job.problems.empty()) << lines(job.problems);
    EXPECT_DOUBLE_EQ(
        job.fittings.at(0).values.quantity("diameter") - job.fittings.at(0).values.quantity("to_diameter"),
        100.0);
    EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("length"), 300.0);
    return job.fittings.at(0).values.quantity("diameter");
  };
  EXPECT_DOUBLE_EQ(diameter("", ""), 600.0);
  EXPECT_DOUBLE_EQ(diameter("size_is = \"clear\"\n", ""), 650.0);
  EXPECT_DOUBLE_EQ(diameter("", "size_is = \"clear\"\n"), 650.0);
  EXPECT_DOUBLE_EQ(diameter("size_is = \"clear\"\n", "size_is = \"metal\"\n"), 600.0);
}

TEST(SizeIs, RequestsReadTheSameAgainAndAreTold) {
  const Job job = read_job_text(
      "# units = "
      "mm\ntag,kind,diameter,length,thickness,size_is\nA,straight,600,900,25,clear\nB,straight,600,900,25,\n",
      "plan.csv", sized_schema());
  ASSERT_EQ(job.fittings.size(), 2u);
  EXPECT_EQ(job.fittings[0].values.find("diameter")->written, "650 mm");
  EXPECT_DOUBLE_EQ(made_again(job.fittings[0], sized_schema()).values.quantity("diameter"), 650.0);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("diameter"), 600.0);
  EXPECT_EQ(
      job.notes,
      (std::vector<std::string>{"sizes of A are stated clear: the metal is larger by twice the liner"}));
}

// 24 in and twice 1 in are 26 in, not 660.3999999999999 mm.
TEST(SizeIs, SumsAreAsTheyAreWritten) {
  const Job job =
      read_job_text("# units = in\ntag,kind,diameter,length,thickness,size_is\nA,straight,24,24,1,clear\n",
                    "plan.csv", sized_schema());
  EXPECT_EQ(job.fittings.at(0).values.find("diameter")->written, "26 in");
  EXPECT_EQ(job.fittings.at(0).values.quantity("diameter"), 660.4);
}

TEST(SizeIs, RangesHoldForTheMetal) {
  const Job job =
      read_job_text("# units = in\ntag,kind,diameter,length,thickness,size_is\nA,straight,119.5,24,1,clear\n",
                    "plan.csv", sized_schema());
  EXPECT_EQ(lines(job.problems),
            "plan.csv:3: A: diameter = 119.5: stated clear, is 121.5 in of the metal (allowed: over 0 in, at "
            "most 120 in)\n");
  EXPECT_EQ(refusal("[job]\nunits = \"mm\"\nsize_is = \"bore\"\n[[fitting]]\ntag = \"A\"\n").substr(0, 60),
            "job.toml:3: size_is = bore: unknown choice (allowed: metal, ");
}

}  // namespace
}  // namespace linerwright::testing
