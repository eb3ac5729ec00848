// A lining that stops short of its metal: 300 bare inside, lined 25, 1000 long, held back by 40 and 60.
#include <gtest/gtest.h>

#include <cmath>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

const Flags k_held{{"diameter", "300"},       {"length", "1000"},      {"thickness", "25"},
                   {"hold_back_start", "40"}, {"hold_back_end", "60"}, {"gauge", "1"}};

const Flags k_taper{{"diameter", "400"}, {"to_diameter", "250"},    {"length", "300"},
                    {"thickness", "25"}, {"hold_back_start", "30"}, {"hold_back_end", "40"},
                    {"gauge", "1"}};

}  // namespace

TEST(HoldBack, volumes_of_discs_and_rings) {
  const Fitting held = fitting_from("straight", k_held);
  EXPECT_NEAR(shell_volume(held, 0.0), k_pi * 150 * 150 * 1000, 1e-4);
  EXPECT_NEAR(shell_volume(held, 25.0), k_pi * (125.0 * 125.0 * 900 + 150.0 * 150.0 * 100), 1e-4);
  EXPECT_NEAR(metal_volume(held), k_pi * (151.0 * 151.0 - 150.0 * 150.0) * 1000, 1e-4);
  EXPECT_NEAR(metal_area(held), k_two_pi * 150 * 1000, 1e-6);
  EXPECT_NEAR(wall_area(held, 0, 0.0), k_two_pi * 150 * 900, 1e-6);
  EXPECT_NEAR(liner_end(held, 0, End::low, 1.0, 25.0), 40.0, 1e-12);
  EXPECT_NEAR(liner_end(held, 0, End::high, 1.0, 0.0), 940.0, 1e-12);
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
  EXPECT_NEAR(liner_end(held, 1, End::low, 0.0, 30.0), 40.0, 1e-12);
  EXPECT_NEAR(liner_end(held, 1, End::high, 0.0, 30.0), 940.0, 1e-12);
  EXPECT_NEAR(shell_volume(held, 40.0), k_pi * (110.0 * 110.0 * 900 + 150.0 * 150.0 * 100), 1e-4);
}

// Frustums: at height z the taper from 400 to 250 over 300 has the radius 200 - z/4; the liner takes t sqrt(1
// + 1/16) of it square to the axis. Bare over the first 30 and the last 40.
TEST(HoldBack, of_a_taper_is_bare_over_frustums) {
  const Fitting held = fitting_from("reducer", k_taper);
  const auto frustum = [](double from, double to, double less) {
    const double a = 200 - from / 4 - less;
    const double b = 200 - to / 4 - less;
    return k_pi * (to - from) / 3 * (a * a + a * b + b * b);
  };
  const double lost = 25 * std::sqrt(1 + 1.0 / 16);
  EXPECT_NEAR(shell_volume(held, 0.0), frustum(0, 300, 0), 1e-3);
  EXPECT_NEAR(shell_volume(held, 25.0), frustum(0, 30, 0) + frustum(30, 260, lost) + frustum(260, 300, 0),
              1e-3);
  const double gauge = std::sqrt(1 + 1.0 / 16);
  EXPECT_NEAR(metal_volume(held), frustum(0, 300, -gauge) - frustum(0, 300, 0), 1e-3);
  EXPECT_NEAR(metal_area(held), k_pi * (200 + 125) * std::hypot(300, 75), 1e-6);
  const std::vector<Station>& stations = held.passages.at(0).stations;
  EXPECT_EQ(stations.front().lined_diameter, stations.front().bare_diameter);
  EXPECT_NEAR(stations.front().bare_diameter, 400, 1e-9);
  EXPECT_EQ(stations[2].place, "lining begins");
  EXPECT_NEAR(stations[2].distance, 30, 0.002);
  EXPECT_NEAR(stations[2].lined_diameter, 2 * (200 - 7.5 - lost), 0.001);
  EXPECT_EQ(stations[stations.size() - 3].place, "lining ends");
  EXPECT_NEAR(stations[stations.size() - 3].lined_diameter, 2 * (200 - 65 - lost), 0.001);
  EXPECT_NEAR(stations.back().lined_diameter, 250, 1e-9);
}

// An oblique cone over a circle moved aside holds as much as a right one between the same planes (Cavalieri).
TEST(HoldBack, of_a_flat_taper_holds_as_much) {
  const Fitting right = fitting_from("reducer", k_taper);
  const Fitting flat = fitting_from("reducer", with(k_taper, {{"flat", "yes"}}));
  EXPECT_NEAR(shell_volume(flat, 0.0), shell_volume(right, 0.0), 1e-3);
  // from plane to plane by its sections, which are stated at the lining's ends
  const std::vector<Station>& stations = flat.passages.at(0).stations;
  EXPECT_NEAR(stations[1].bare_diameter, 2 * (200 - 7.5), 0.001);
  EXPECT_NEAR(stations[1].distance, 30 * std::hypot(300, 75) / 300, 0.002);
}

TEST(HoldBack, of_every_kind_at_every_port) {
  const std::vector<std::pair<const char*, Flags>> all{
      {"elbow",
       {{"diameter", "300"}, {"angle", "60"}, {"pieces", "3"}, {"collar", "90"}, {"thickness", "20"}}},
      {"offset",
       {{"diameter", "300"},
        {"offset", "300"},
        {"angle", "40"},
        {"pieces", "3"},
        {"collar", "90"},
        {"thickness", "20"}}},
      {"reducer",
       {{"diameter", "300"},
        {"to_diameter", "200"},
        {"length", "400"},
        {"collar", "90"},
        {"to_collar", "90"},
        {"thickness", "20"}}},
      {"path",
       {{"diameter", "300"}, {"parts", "straight 300mm, bend 30, straight 200mm"}, {"thickness", "20"}}},
      {"tee",
       {{"diameter", "300"},
        {"length", "900"},
        {"branch_diameter", "200"},
        {"branch_length", "400"},
        {"thickness", "20"}}},
      {"tap",
       {{"diameter", "300"}, {"branch_diameter", "200"}, {"branch_length", "400"}, {"thickness", "20"}}},
      {"wye",
       {{"diameter", "300"},
        {"inlet_length", "300"},
        {"leg_length", "500"},
        {"angle", "40"},
        {"thickness", "20"}}}};
  int ports = 0;
  for (const auto& [kind, flags] : all) {
    const Fitting whole = fitting_from(kind, flags);
    for (const Port& port : ports_of(whole)) {
      const std::string key = "hold_back_" + port.name.substr(0, port.name.find_first_of("0123456789"));
      const Fitting held = fitting_from(kind, with(flags, {{key, "35"}}));
      int bare = 0;
      for (const Port& now : ports_of(held)) {
        if (now.bare_diameter - now.lined_diameter > 1.0) continue;
        ++bare;
        EXPECT_EQ("hold_back_" + now.name.substr(0, now.name.find_first_of("0123456789")), key) << kind;
      }
      EXPECT_GE(bare, 1) << kind << " " << key;
      // rings as thick as the liner, 35 long, of each end that is a cylinder of the port's diameter
      double rings = 0.0;
      for (const Port& now : ports_of(held))
        if (now.bare_diameter - now.lined_diameter < 1.0) rings += k_pi * 20 * (now.bare_diameter - 20) * 35;
      EXPECT_NEAR(shell_volume(held, 20.0) - shell_volume(whole, 20.0), rings, 1e-2) << kind << " " << key;
      EXPECT_NEAR(metal_volume(held), metal_volume(whole), 1e-2) << kind << " " << key;
      ++ports;
    }
  }
  EXPECT_EQ(ports, 2 + 2 + 2 + 2 + 3 + 1 + 3);
}

TEST(HoldBack, keeps_clear_of_holes_mitres_and_pressed_bends) {
  const Flags tee{{"diameter", "300"},
                  {"length", "600"},
                  {"branch_diameter", "200"},
                  {"branch_length", "400"},
                  {"thickness", "20"}};
  // the hole of 200 in the middle of 600 leaves 200, less 0.8 of metal, of which it needs 5
  EXPECT_TRUE(has(refusal("tee", with(tee, {{"hold_back_start", "196"}})), "at most 194.2 mm"));
  EXPECT_NO_THROW(fitting_from("tee", with(tee, {{"hold_back_start", "194.1"}})));
  // the branch's crotch lies 150 from the axis
  EXPECT_TRUE(
      has(refusal("tee", with(tee, {{"hold_back_branch", "260"}})), "no lining is left of the branch"));
  EXPECT_TRUE(has(refusal("tee", with(tee, {{"hold_back_branch", "10&20"}})), "2 values for 1 ends"));
  const Flags bend{
      {"diameter", "300"}, {"angle", "90"}, {"pieces", "4"}, {"collar", "50"}, {"thickness", "20"}};
  // (450 - 150) tan 15 = 80.38 of the throat and 50 of collar
  EXPECT_TRUE(has(refusal("elbow", with(bend, {{"hold_back_end", "130"}})), "at most 129.38 mm"));
  EXPECT_TRUE(has(refusal("elbow", with(bend, {{"hold_back_end", "10"}, {"form", "smooth"}})),
                  "stand free of the metal"));
}

TEST(HoldBack, leaves_some_lining) {
  // told once, of the end that is held back further
  const std::string both =
      refusal("straight", with(k_held, {{"hold_back_start", "450"}, {"hold_back_end", "600"}}));
  EXPECT_TRUE(has(both, "--hold-back-end = 600")) << both;
  EXPECT_FALSE(has(both, "--hold-back-start")) << both;
  EXPECT_TRUE(has(both, "both ends together at most 999 mm")) << both;
  EXPECT_TRUE(has(refusal("straight", with(k_held, {{"hold_back_end", "960"}})), "no lining is left"));
}
