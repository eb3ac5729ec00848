// What is stepped up to, against the closed form of the fitting made anew at each size.
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <sstream>

#include "fittings.hpp"
#include "linerwright/units/error.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

BoreReport stepped(const Fitting& fitting) {
  BoreOptions options;
  options.step_up = StepUpCriterion::area;
  return bore_report({fitting}, nullptr, options);
}

std::string exactly(double value) {
  return fixed(value, 9);
}

// The largest gores in a pressed bend touch its heel on their mitres and its throat in their middles: with
// the mitre angle a, (rho + R) cos a = rho' + R' and rho - R = rho' - R'; the liner takes t from R'.
double bore_in_pressed(double diameter, double centreline, double angle, int pieces, double thickness) {
  const double a = angle / 180.0 * k_pi / (2.0 * (pieces - 1));
  const double r = 0.5 * diameter;
  return (centreline + r) * std::cos(a) - (centreline - r) - 2.0 * thickness;
}

double share_of(double bore, double bare) {
  return bore * bore / (bare * bare);
}

// The first size of a series, not under `from`, whose bore gives `from` back; 0: none.
double first_size(double from, DiameterSeries series, const std::function<double(double)>& bore) {
  for (const double diameter : diameters(series))
    if (diameter > from && bore(diameter) >= from * (1.0 - 1e-9)) return diameter;
  return 0.0;
}

}  // namespace

// 200 mm, 90 degrees, 3 pieces, R/D 1.5, lined 50 mm: at 315 mm, whose metal less the lining would do, the
// gores leave 69.8 % of the bare area; 400 mm gives it back.
TEST(Remade, smooth_elbow) {
  const Fitting elbow = fitting_from("elbow", {{"diameter", "200"},
                                               {"angle", "90"},
                                               {"pieces", "3"},
                                               {"form", "smooth"},
                                               {"radius_ratio", "1.5"},
                                               {"thickness", "50"}});
  EXPECT_NEAR(share_of(bore_in_pressed(315, 1.5 * 315, 90, 3, 50), 200), 0.698, 5e-4);
  const BoreRow row = stepped(elbow).rows.at(0);
  ASSERT_EQ(row.steps.size(), 1U);
  const LinedSize& size = row.steps[0].found.size.value();
  EXPECT_NEAR(size.diameter, 400.0, 1e-9);
  EXPECT_NEAR(size.bore, bore_in_pressed(400, 600, 90, 3, 50), 1e-9);
  EXPECT_NEAR(size.share, share_of(size.bore, 200), 1e-12);
}

// 12 in, 60 degrees, 5 pieces, R/D 1.5, lined 1 in: 14 in is too small, 15 in gives the area back.
TEST(Remade, smooth_elbow_in_inches) {
  const Fitting elbow = make_fitting(request_from_flags(
      "elbow", {{"diameter", "12"}, {"angle", "60"}, {"pieces", "5"}, {"form", "smooth"}, {"thickness", "1"}},
      Units::inch, job_schema()));
  EXPECT_LT(bore_in_pressed(14, 21, 60, 5, 1), 12.0);
  const LinedSize size = stepped(elbow).rows.at(0).steps.at(0).found.size.value();
  EXPECT_NEAR(size.diameter / 25.4, 15.0, 1e-9);
  EXPECT_NEAR(size.bore / 25.4, bore_in_pressed(15, 22.5, 60, 5, 1), 1e-9);
}

TEST(Remade, smooth_elbows_of_all_sizes) {
  int found = 0;
  int larger = 0;
  for (const double diameter : {160.0, 250.0, 400.0, 630.0})
    for (const int pieces : {3, 5, 7})
      for (const int angle : {45, 90})
        for (const double ratio : {1.0, 1.5})
          for (const double t : {13.0, 25.0, 50.0}) {
            const Flags flags{{"diameter", exactly(diameter)},    {"angle", std::to_string(angle)},
                              {"pieces", std::to_string(pieces)}, {"form", "smooth"},
                              {"radius_ratio", exactly(ratio)},   {"thickness", exactly(t)}};
            Fitting elbow;
            try {
              elbow = fitting_from("elbow", flags);
            } catch (const InputError&) {
              continue;
            }
            SCOPED_TRACE(support::written("elbow", flags));
            const auto bore = [&](double d) { return bore_in_pressed(d, ratio * d, angle, pieces, t); };
            const double expected = first_size(diameter, DiameterSeries::en1506, bore);
            const StepUp step = stepped(elbow).rows.at(0).steps.at(0).found;
            ASSERT_EQ(step.size.has_value(), expected > 0.0);
            if (!step.size) continue;
            EXPECT_NEAR(step.size->diameter, expected, 1e-9);
            EXPECT_NEAR(step.size->share, share_of(bore(expected), diameter), 1e-9);
            ++found;
            larger +=
                expected > first_size(diameter, DiameterSeries::en1506, [&](double d) { return d - 2 * t; });
          }
  EXPECT_GT(found, 100);
  EXPECT_GT(larger, 10) << "where the metal less the lining would have named too small a size";
}

// Both ends of an open taper lose t / cos(half angle) in radius: 26 to 22 in leaves 97.65 % of the 20 in end.
TEST(Remade, open_taper) {
  const auto bore = [](double large, double small, double end) {
    return end - 2.0 / std::cos(std::atan2(0.5 * (large - small), 4.0));
  };
  EXPECT_NEAR(share_of(bore(26, 22, 22), 20), 0.9765, 5e-5);
  const Fitting taper = make_fitting(request_from_flags(
      "reducer", {{"diameter", "24"}, {"to_diameter", "20"}, {"length", "4"}, {"thickness", "1"}},
      Units::inch, job_schema()));
  const BoreRow row = stepped(taper).rows.at(0);
  ASSERT_EQ(row.steps.size(), 2U);
  const LinedSize first = row.steps[0].found.size.value();
  const LinedSize second = row.steps[1].found.size.value();
  const double large = first.diameter / 25.4;
  const double small = second.diameter / 25.4;
  EXPECT_NEAR(first.bore / 25.4, bore(large, small, large), 1e-9);
  EXPECT_NEAR(second.bore / 25.4, bore(large, small, small), 1e-9);
  EXPECT_GE(first.share, 1.0);
  EXPECT_GE(second.share, 1.0);
  // no pair of sizes with less metal does
  for (const double d1 : diameters(DiameterSeries::inch))
    for (const double d2 : diameters(DiameterSeries::inch)) {
      const double a = d1 / 25.4;
      const double b = d2 / 25.4;
      if (a == b || a < 24 || b < 20 || a + b >= large + small - 1e-9) continue;
      EXPECT_FALSE(bore(a, b, a) >= 24.0 && bore(a, b, b) >= 20.0) << a << " to " << b;
    }
}

// A branch grows at its square end alone; its base, where it is conical, stays.
TEST(Remade, conical_branch) {
  const Flags tee{{"diameter", "500"},      {"length", "1200"},     {"branch_diameter", "160"},
                  {"branch_length", "450"}, {"branch_base", "300"}, {"thickness", "25"}};
  const BoreRow row = stepped(fitting_from("tee", tee)).rows.at(1);
  ASSERT_EQ(row.steps.size(), 1U) << "no step for the section above the crotch: nobody makes one";
  const LinedSize size = row.steps[0].found.size.value();
  EXPECT_NEAR(size.diameter, 250.0, 1e-9);
  // from 300 where the axis enters the body to 250 at the end, 450 - 250 further on
  EXPECT_NEAR(size.bore, 250.0 - 50.0 / std::cos(std::atan2(25.0, 200.0)), 1e-9);
  // with a base of 240, 250 and all that is larger would be wider at the end than at the body
  const BoreRow none = stepped(fitting_from("tee", support::with(tee, {{"branch_base", "240"}}))).rows.at(1);
  EXPECT_FALSE(none.steps.at(0).found.size);
  ASSERT_FALSE(none.passed_over.empty());
  EXPECT_NEAR(none.passed_over[0].diameters.at(0), 250.0, 1e-9);
  ASSERT_FALSE(none.notes.empty());
  EXPECT_NE(none.notes.back().find("250"), std::string::npos);
  EXPECT_NE(none.notes.back().find("larger at the body"), std::string::npos) << none.notes.back();
}

// Of several branches only the one grows that is asked about; no branch outgrows its body.
TEST(Remade, branches_and_their_body) {
  const Fitting tee = fitting_from("tee", {{"diameter", "250"},
                                           {"length", "1200"},
                                           {"branch_diameter", "160&200"},
                                           {"branch_length", "400"},
                                           {"position", "300&800"},
                                           {"thickness", "25"}});
  const BoreReport report = stepped(tee);
  ASSERT_EQ(report.rows.size(), 3U);
  EXPECT_NEAR(report.rows[0].steps.at(0).found.size.value().diameter, 315.0, 1e-9);
  EXPECT_NEAR(report.rows[1].steps.at(0).found.size.value().diameter, 250.0, 1e-9);
  EXPECT_NEAR(report.rows[2].steps.at(0).found.size.value().diameter, 250.0, 1e-9);
  const BoreRow equal = stepped(fitting_from("tee", {{"diameter", "250"},
                                                     {"length", "1200"},
                                                     {"branch_diameter", "250"},
                                                     {"branch_length", "400"},
                                                     {"thickness", "25"}}))
                            .rows.at(1);
  EXPECT_FALSE(equal.steps.at(0).found.size);
  ASSERT_FALSE(equal.passed_over.empty());
  EXPECT_NE(equal.passed_over[0].reason.find("larger than the body"), std::string::npos);
}

// A stated centreline radius stays: at the size that would do, 630 mm, the throat has no length left.
TEST(Remade, stated_centreline_radius) {
  const Flags flags{{"diameter", "400"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "60"}};
  const BoreRow none =
      stepped(fitting_from("elbow", support::with(flags, {{"centreline_radius", "300"}}))).rows.at(0);
  EXPECT_FALSE(none.steps.at(0).found.size) << "300 - 315 < 0";
  ASSERT_FALSE(none.passed_over.empty());
  EXPECT_NEAR(none.passed_over[0].diameters.at(0), 630.0, 1e-9);
  EXPECT_NE(none.passed_over[0].reason.find("throat"), std::string::npos);
  for (const Flags& other : {Flags{{"centreline_radius", "450"}}, Flags{{"radius_ratio", "1"}}})
    EXPECT_NEAR(stepped(fitting_from("elbow", support::with(flags, other)))
                    .rows.at(0)
                    .steps.at(0)
                    .found.size.value()
                    .diameter,
                630.0, 1e-9);
}

// Of a list of ends, "220 & 180", or of one value for all, the one that is asked about.
void grow_end(Flags& flags, const std::string& key, std::size_t end, double diameter) {
  std::vector<std::string> all;
  std::istringstream words(flags.at(key));
  for (std::string word; std::getline(words, word, '&');) all.push_back(word);
  (all.size() == 1 ? all.front() : all.at(end)) = exactly(diameter);
  std::string joined;
  for (const std::string& word : all) joined += (joined.empty() ? "" : "&") + word;
  flags[key] = joined;
}

// Whatever is proposed for random fittings of all kinds holds when it is made by its flags, and nothing
// smaller of the series does where one diameter is asked about.
TEST(Remade, random_fittings) {
  support::Chance chance(77);
  const std::vector<std::string> kinds = support::random_kinds();
  int found = 0;
  for (int i = 0; i < support::cases(60); ++i) {
    const std::string kind = kinds[static_cast<std::size_t>(i) % kinds.size()];
    const Flags flags = support::random_flags(chance, kind);
    SCOPED_TRACE(support::written(kind, flags));
    BoreReport report;
    try {
      report = stepped(fitting_from(kind, flags));
    } catch (const InputError&) {
      continue;
    }
    for (std::size_t p = 0; p < report.rows.size(); ++p) {
      const BoreRow& row = report.rows[p];
      const auto narrowest = [&](double first, double second) {
        Flags other = flags;
        if (p == 0 && kind == "tap")
          other["branch_diameter"] = exactly(first);
        else if (p == 0)
          other["diameter"] = exactly(first);
        else
          grow_end(other, kind == "wye" ? "leg_diameter" : "branch_diameter", p - 1, first);
        if (second > 0.0) other["to_diameter"] = exactly(second);
        double least = 1e9;
        const Fitting made = fitting_from(kind, other);
        for (const Station& station : made.passages.at(p).stations)
          least = std::min(least, station.lined_diameter);
        return least;
      };
      if (row.steps.empty() || !row.steps[0].found.size) continue;
      double now = row.steps[0].asked.diameter;
      for (const BoreStep& step : row.steps) now = std::min(now, step.asked.diameter);
      const double first = row.steps[0].found.size->diameter;
      const double second = row.steps.size() > 1 ? row.steps[1].found.size.value().diameter : 0.0;
      EXPECT_GE(narrowest(first, second), now * (1.0 - 1e-8));
      ++found;
      if (row.steps.size() > 1) continue;
      for (const double smaller : diameters(DiameterSeries::en1506)) {
        if (smaller < now || smaller >= first) continue;
        try {
          EXPECT_LT(narrowest(smaller, 0.0), now) << smaller;
        } catch (const InputError&) {
          EXPECT_TRUE(
              std::any_of(row.passed_over.begin(), row.passed_over.end(),
                          [&](const BorePassedOver& each) { return each.diameters.at(0) == smaller; }) ||
              smaller - 2.0 * row.steps[0].asked.lining_thickness < now)
              << smaller;
        }
      }
    }
  }
  EXPECT_GT(found, support::cases(60) / 3);
}

}  // namespace linerwright
