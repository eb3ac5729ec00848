// One bit of a file flipped, hundreds of times for each kind of file: a check fails with one line, or what
// the file says is unchanged. Nothing crashes. LINERWRIGHT_CASES multiplies the number of flips.
#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <random>
#include <sstream>

#include "beside.hpp"
#include "linerwright/check/check_written.hpp"
#include "made_files.hpp"
#include "proof.hpp"
#include "read_table.hpp"
#include "support/cases.hpp"

namespace linerwright {
namespace {

int flips() {
  return support::cases(200);
}

const MadeFiles& made() {
  static const MadeFiles files("tee", {{"diameter", "300"},
                                       {"length", "700"},
                                       {"branch_diameter", "150"},
                                       {"branch_length", "300"},
                                       {"position", "280"},
                                       {"thickness", "25"}});
  return files;
}

const std::vector<Pattern>& patterns() {
  static const std::vector<Pattern> all = make_patterns(made().fitting);
  return all;
}

// Calls check(position) with the file spoilt each time; afterwards it is as it was.
void each_flip(const std::filesystem::path& file, unsigned seed,
               const std::function<void(const std::string& where)>& check) {
  const std::string good = bytes_of(file);
  std::mt19937 random(seed);
  for (int i = 0; i < flips(); ++i) {
    std::string spoilt = good;
    const std::size_t at = random() % spoilt.size();
    const unsigned bit = random() % 8;
    spoilt[at] = static_cast<char>(static_cast<unsigned char>(spoilt[at]) ^ (1U << bit));
    put_bytes(file, spoilt);
    check(fmt::format("{}, byte {}, bit {}: {}", file.filename().string(), at, bit,
                      spoilt.substr(at - std::min<std::size_t>(at, 60), 90)));
    if (testing::Test::HasFailure()) break;
  }
  put_bytes(file, good);
}

bool one_line_each(const std::vector<CheckResult>& results) {
  return std::all_of(results.begin(), results.end(),
                     [](const CheckResult& each) { return one_line(each).find('\n') == std::string::npos; });
}

bool all_pass(const std::vector<CheckResult>& results) {
  return std::all_of(results.begin(), results.end(), [](const CheckResult& each) { return each.pass; });
}

std::vector<CheckResult> written_checks() {
  return check_written(made().fitting, patterns(), made().files, {});
}

TEST(Flips, GoodFilesPass) {
  EXPECT_EQ(listed(written_checks()), "");
}

TEST(Flips, FiguresNeverPass) {
  each_flip(made().files.folder / "fitting.json", 11, [](const std::string& where) {
    const std::vector<CheckResult> results = written_checks();
    EXPECT_TRUE(one_line_each(results)) << where;
    EXPECT_FALSE(all_pass(results)) << where;
  });
}

TEST(Flips, TableOfOrdinates) {
  const auto path = made().file("-ordinates.csv");
  const TableFile good = read_table(path);
  int passed = 0;
  each_flip(path, 12, [&](const std::string& where) {
    const CheckResult result = prove_ordinates(made().fitting, patterns(), made().files);
    EXPECT_EQ(one_line(result).find('\n'), std::string::npos) << where;
    if (!result.pass) return;
    ++passed;
    const TableFile now = read_table(path);
    ASSERT_EQ(now.rows.size(), good.rows.size()) << where;
    for (std::size_t i = 0; i < good.rows.size(); ++i)
      for (std::size_t k = 0; k < good.heads.size(); ++k)
        if (now.rows[i].cells[k] != good.rows[i].cells[k]) {
          EXPECT_NEAR(now.number(i, good.heads[k]), good.number(i, good.heads[k]), 1.1e-3) << where;
        }
  });
  EXPECT_LT(passed, std::max(1, flips() / 20));
}

TEST(Flips, Pictures) {
  const auto path = made().file("-branch.svg");
  each_flip(path, 13, [](const std::string& where) {
    EXPECT_FALSE(all_pass(written_checks())) << where;  // by its digest, if by nothing else
  });
}

std::vector<const Part*> liners() {
  static const std::vector<Part> parts = read_step(made().file(".step"));
  std::vector<const Part*> all;
  for (const Part& part : parts)
    if (part.role == PartRole::liner) all.push_back(&part);
  return all;
}

TEST(Flips, Patterns) {
  const auto pattern = std::find_if(patterns().begin(), patterns().end(),
                                    [](const Pattern& each) { return each.id == "branch"; });
  ASSERT_NE(pattern, patterns().end());
  const auto path = made().file("-branch.dxf");
  const auto content = [&] {
    std::ifstream in(path, std::ios::binary);
    return read_dxf(in, "branch");
  };
  const DxfFile good = content();
  int passed = 0;
  each_flip(path, 14, [&](const std::string& where) {
    const std::vector<CheckResult> results =
        prove_dxf(made().fitting, *pattern, path, made().options.dxf, liners());
    EXPECT_TRUE(one_line_each(results)) << where;
    if (!all_pass(results)) return;
    ++passed;
    const DxfFile now = content();
    ASSERT_EQ(now.lines.size(), good.lines.size()) << where;
    for (std::size_t i = 0; i < good.lines.size(); ++i) {
      EXPECT_EQ(now.lines[i].layer, good.lines[i].layer) << where;
      ASSERT_EQ(now.lines[i].points.size(), good.lines[i].points.size()) << where;
      for (std::size_t k = 0; k < good.lines[i].points.size(); ++k)
        EXPECT_LT(distance(now.lines[i].points[k], good.lines[i].points[k]), 4e-4) << where;
    }
  });
  EXPECT_LT(passed, flips() * 2 / 3);  // handles, owners, subclass names: no reader needs them
}

TEST(Flips, Meshes) {
  const std::vector<Part> parts = read_step(made().file(".step"));
  for (const char* name : {"-liner.stl", "-bore.stl"}) {
    const auto path = made().file(name);
    const auto content = [&] {
      std::ifstream in(path, std::ios::binary);
      return read_stl(in, name);
    };
    const Mesh good = content();
    each_flip(path, 15, [&](const std::string& where) {
      const std::vector<CheckResult> results =
          prove_meshes(made().fitting, made().files, parts, made().options.mesh);
      EXPECT_TRUE(one_line_each(results)) << where;
      if (!all_pass(results)) return;
      const Mesh now = content();  // a header, a normal, or the sign of a zero: nothing of the body
      EXPECT_EQ(now.triangles, good.triangles) << where;
      ASSERT_EQ(now.points.size(), good.points.size()) << where;
      for (std::size_t i = 0; i < good.points.size(); ++i)
        EXPECT_LT(distance(now.points[i], good.points[i]), 1e-9) << where;
    });
  }
}

}  // namespace
}  // namespace linerwright
