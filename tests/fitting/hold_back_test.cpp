// A lining that stops short of its metal: 300 bare inside, lined 25, 1000 long, held back by 40 and 60.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"
#include "linerwright/port.hpp"

using namespace linerwright;

namespace {

const Flags k_held{{"diameter", "300"},       {"length", "1000"},      {"thickness", "25"},
                   {"hold_back_start", "40"}, {"hold_back_end", "60"}, {"gauge", "1"}};

}  // namespace

TEST(HoldBack, volumes_of_discs_and_rings) {
  const Fitting held = fitting_from("straight", k_held);
  EXPECT_NEAR(shell_volume(held, 0.0), k_pi * 150 * 150 * 1000, 1e-4);
  EXPECT_NEAR(shell_volume(held, 25.0), k_pi * (125.0 * 125.0 * 900 + 150.0 * 150.0 * 100), 1e-4);
  EXPECT_NEAR(metal_volume(held), k_pi * (151.0 * 151.0 - 150.0 * 150.0) * 1000, 1e-4);
  EXPECT_NEAR(metal_area(held), k_two_pi * 150 * 1000, 1e-6);
  EXPECT_NEAR(wall_area(held, 0, 0.0), k_two_pi * 150 * 900, 1e-6);
  EXPECT_NEAR(end_height(held, 0, false, 1.0, 25.0), 40.0, 1e-12);
  EXPECT_NEAR(end_height(held, 0, true, 1.0, 0.0), 940.0, 1e-12);
}

TEST(HoldBack, ends_are_the_metals_and_the_bore_steps) {
  const Fitting held = fitting_from("straight", with(k_held, {{"hold_back_end", "0"}}));
  const std::vector<Port> ports = ports_of(held);
  ASSERT_EQ(ports.size(), 2U);
  EXPECT_NEAR(ports[0].frame.origin.z, 0.0, 1e-12);
  EXPECT_NEAR(ports[0].lined_diameter, 300.0, 1e-9);
  EXPECT_NEAR(ports[1].frame.origin.z, 1000.0, 1e-12);
  EXPECT_NEAR(ports[1].lined_diameter, 250.0, 1e-9);
  const std::vector<Station>& stations = held.passages.at(0).stations;
  ASSERT_EQ(stations.size(), 4U);
  EXPECT_EQ(stations[1].distance, 40.0);
  EXPECT_EQ(stations[1].lined_diameter, 300.0);
  EXPECT_EQ(stations[2].distance, 40.0);
  EXPECT_EQ(stations[2].lined_diameter, 250.0);
}

TEST(HoldBack, a_second_layer_ends_with_the_first) {
  const Fitting held = fitting_from("straight", with(k_held, {{"second_layer", "15"}}));
  ASSERT_EQ(held.walls.size(), 2U);
  EXPECT_NEAR(end_height(held, 1, false, 0.0, 30.0), 40.0, 1e-12);
  EXPECT_NEAR(end_height(held, 1, true, 0.0, 30.0), 940.0, 1e-12);
  EXPECT_NEAR(shell_volume(held, 40.0), k_pi * (110.0 * 110.0 * 900 + 150.0 * 150.0 * 100), 1e-4);
}

TEST(HoldBack, leaves_some_lining) {
  EXPECT_TRUE(has(refusal("straight", with(k_held, {{"hold_back_end", "960"}})), "no lining is left"));
}
