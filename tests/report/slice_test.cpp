// The reported bore against the solid of the bore, sliced where each station says.
#include <gtest/gtest.h>

#include "fittings.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright {
namespace {

TEST(Slices, ShowTheReportedBore) {
  struct Line {
    const char* kind;
    Flags flags;
  };
  for (const Line& line :
       {Line{"elbow",
             {{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}, {"collar", "60"}}},
        Line{
            "elbow",
            {{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}, {"form", "smooth"}}},
        Line{"reducer",
             {{"diameter", "400"},
              {"to_diameter", "250"},
              {"length", "300"},
              {"thickness", "25"},
              {"collar", "80"},
              {"to_collar", "60"}}},
        Line{"reducer",
             {{"diameter", "400"},
              {"to_diameter", "250"},
              {"length", "300"},
              {"thickness", "25"},
              {"flat", "yes"}}},
        Line{"reducer",
             {{"diameter", "500"},
              {"to_diameter", "400"},
              {"length", "25"},
              {"thickness", "50"},
              {"collar", "100"},
              {"to_collar", "100"}}},
        Line{"reducer",
             {{"diameter", "930"},
              {"to_diameter", "302"},
              {"length", "60"},
              {"thickness", "50"},
              {"collar", "100"},
              {"to_collar", "100"},
              {"offset", "150"}}},
        Line{"tee",
             {{"diameter", "300"},
              {"length", "1000"},
              {"branch_diameter", "200"},
              {"branch_length", "450"},
              {"thickness", "25"},
              {"angle", "60"},
              {"offset", "30"}}}}) {
    SCOPED_TRACE(support::written(line.kind, line.flags));
    const Fitting fitting = fitting_from(line.kind, line.flags);
    const Model model = build_model(fitting);
    const Part* bore = nullptr;
    for (const Part& part : model.parts)
      if (part.role == PartRole::bore) bore = &part;
    ASSERT_NE(bore, nullptr);
    const BoreReport report = bore_report({fitting}, nullptr, {});
    ASSERT_EQ(report.rows.size(), fitting.passages.size());
    int sliced = 0;
    for (std::size_t p = 0; p < report.rows.size(); ++p) {
      const std::vector<Station>& stations = fitting.passages[p].stations;
      // a neighbour's bore, which a pressed bend's steps are counted from, is not of this solid
      std::vector<BorePlace> places;
      for (const BorePlace& place : report.rows[p].places)
        if (place.place != "lined neighbour") places.push_back(place);
      ASSERT_EQ(places.size(), stations.size());
      double least = 1e300;
      for (std::size_t i = 0; i < stations.size(); ++i) {
        least = std::min(least, places[i].free_area);
        // in an end's own plane there is a face, no slice: straight ends are cut a millimetre inside
        PlaneTarget plane = stations[i].plane;
        if (i == 0 || i + 1 == stations.size()) {
          if (std::string(line.kind) == "reducer" && line.flags.count("collar") == 0) continue;
          plane.point = plane.point + (i == 0 ? 1.0 : -1.0) * plane.normal;
        }
        EXPECT_NEAR(slice_area_at(bore->solid, plane) / places[i].free_area, 1.0, 1e-6)
            << report.rows[p].passage << " at " << stations[i].distance;
        ++sliced;
      }
      EXPECT_EQ(report.rows[p].narrowest_place().free_area, least);
    }
    EXPECT_GT(sliced, 0);
  }
}

// A straight length's bore is a cylinder: its volume over its length.
TEST(Slices, OfAStraightLength) {
  const Fitting fitting = straight("250", "25");
  const BoreRow row = bore_report({fitting}, nullptr, {}).rows.at(0);
  EXPECT_NEAR(build_model(fitting).bore_volume / row.length / row.narrowest_place().free_area, 1.0, 1e-9);
}

}  // namespace
}  // namespace linerwright
