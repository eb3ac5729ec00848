// What the pages say of a fitting and of a job, and what their 3D data holds.
#include "linerwright/page/page.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/read_json.hpp"
#include "support/unpacked.hpp"

namespace linerwright {
namespace {

Fitting elbow(const std::string& tag) {
  return make_fitting(request_from_flags(
      "elbow", {{"tag", tag}, {"diameter", "24in"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "1in"}},
      Units::inch, job_schema()));
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

TEST(FittingPage, SaysWhatThePersonWithThePieceAsks) {
  const Fitting fitting = elbow("E-1");
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const std::string page = fitting_page({fitting, patterns, {}, {}, {}, {"E-1-1.dxf"}, {}});
  // 22 in clear of 24 in: (22/24)^2 = 0.840
  for (const char* said : {"24 in", "22 in", "84.0 %", "3 \u2192 4 \u2192 2 \u2192 5 \u2192 1", "dust mask",
                           "licensed designer", "href=\"E-1-1.dxf\""})
    EXPECT_NE(page.find(said), std::string::npos) << said;
  // on the screen each pattern and passage, the fitting from the side and two sections; on paper a sheet
  EXPECT_EQ(count_of(page, "<figure"), patterns.size() + fitting.passages.size() + 3);
  // drawings are packed, in the order of their places; what is said beside them is not
  const JsonValue drawn = read_json(support::unpacked(page, "drawn"), "drawn");
  ASSERT_EQ(drawn.items.size(), patterns.size() + 1);
  EXPECT_EQ(count_of(page, " data-packed>"), drawn.items.size());
  for (std::size_t i = 0; i < patterns.size(); ++i)
    EXPECT_NE(drawn.items[i].text.find("class=\"duct-face\""), std::string::npos);
  EXPECT_EQ(count_of(drawn.items.back().text, "aria-label=\"E-1, sheet "), 1U);
  EXPECT_EQ(page.find("id=\"scene\""), std::string::npos) << "a 3D view without bodies";
}

TEST(FittingPage, SameInputSameBytes) {
  const Fitting fitting = elbow("E-1");
  const std::vector<Pattern> patterns = make_patterns(fitting);
  EXPECT_EQ(fitting_page({fitting, patterns, {}, {}, {}, {}, {}}),
            fitting_page({fitting, patterns, {}, {}, {}, {}, {}}));
}

TEST(FittingPage, FailedCheckIsShownAsFailed) {
  const Fitting fitting = elbow("E-1");
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const std::string page =
      fitting_page({fitting, patterns, {}, {}, {{"fill", 0.5, 0.1, false, "mm", "a & b"}}, {}, {}});
  EXPECT_NE(page.find("<span class=\"fail\">FAIL</span>"), std::string::npos);
  EXPECT_NE(page.find("a &amp; b"), std::string::npos);
}

TEST(JobPage, EveryLineIsThereWithItsFigures) {
  JobPage page;
  page.name = "A <job>";
  const Fitting fitting = elbow("E-1");
  page.rows.push_back(
      job_row(fitting, make_patterns(fitting), "E-1", {"E-1.html", "E-1-1.dxf", "E-1-2.dxf", "E-1.svg"}));
  JobRow failed;
  failed.tag = "E-2";
  failed.failure = "liner closes the bore";
  page.rows.push_back(failed);
  page.totals.push_back({"Board", {"what", "area"}, 1, {{"all", "12.5"}}});
  Drawing drawing;
  drawing.lines.push_back({Layer::cut, true, {{0, 0}, {1000, 0}, {1000, 500}, {0, 500}}});
  page.boards.push_back({"board 1", "83 % used", "", drawing, {{"E-1 <1>", {{0, 0}, {1000, 500}}}}});
  const std::string html = job_page(page);
  for (const char* said :
       {"A &lt;job&gt;", "href=\"E-1/E-1.html?job=A%20%3Cjob%3E\"", "84.0 %", "2 DXF", "src=\"E-1/E-1.svg\"",
        "not made: liner closes the bore", "12.5", "83 % used", "E-1 &lt;1&gt;</text>"})
    EXPECT_NE(html.find(said), std::string::npos) << said;
  EXPECT_EQ(count_of(html, "<tr data-kind"), 2u);
}

TEST(JobPage, LeastAreaIsThatOfTheNarrowestPassage) {
  const Fitting tee = make_fitting(request_from_flags("tee",
                                                      {{"tag", "T"},
                                                       {"diameter", "20in"},
                                                       {"length", "48in"},
                                                       {"branch_diameter", "12in"},
                                                       {"branch_length", "22in"},
                                                       {"thickness", "1in"}},
                                                      Units::inch, job_schema()));
  // (10/12)^2 of the branch, under (18/20)^2 of the body
  EXPECT_NEAR(job_row(tee, make_patterns(tee), "T", {}).share, 100.0 / 144.0, 1e-9);
}

}  // namespace
}  // namespace linerwright
