// Random fittings of all kinds, not all of which can be made.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "support/cases.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

class Chance {
 public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  bool one_in(int n) { return between(0.0, n) < 1.0; }
  std::string number(double low, double high) { return fixed(between(low, high), 3); }
  const char* pick(std::initializer_list<const char*> all) {
    return *(all.begin() + static_cast<std::ptrdiff_t>(between(0.0, static_cast<double>(all.size()) - 1e-9)));
  }

 private:
  std::mt19937 engine_;
};

inline Flags random_flags(Chance& chance, const std::string& kind) {
  const double d = chance.between(150.0, 900.0);
  Flags flags{{"diameter", fixed(d, 3)}, {"thickness", chance.number(8.0, std::min(50.0, 0.25 * d))}};
  flags["face_up"] = chance.pick({"duct", "air"});
  flags["cut"] = chance.pick({"outer", "mid", "duct", "air", "tilt"});
  if (chance.one_in(3)) flags["neutral_factor"] = chance.number(0.0, 0.6);
  if (chance.one_in(3)) flags["end_allowance"] = chance.number(1.0, 30.0);
  if (chance.one_in(4)) flags["butt_allowance"] = chance.number(0.5, 3.0);
  if (kind == "straight") {
    flags["length"] = chance.number(50.0, 3000.0);
  } else if (kind == "elbow") {
    flags["angle"] = chance.number(15.0, 120.0);
    flags["pieces"] = chance.pick({"2", "3", "4", "5", "7"});
    flags["radius_ratio"] = chance.number(1.0, 2.0);
    flags["collar"] = chance.number(0.0, 120.0);
    flags["form"] = chance.pick({"gored", "smooth"});
    flags["seam"] = chance.pick({"throat", "heel"});
  } else if (kind == "reducer") {
    flags["to_diameter"] = fixed(d * chance.between(0.6, 1.4), 3);
    flags["length"] = fixed(d * chance.between(0.5, 2.0), 3);
    flags["collar"] = chance.pick({"0", "60", "120"});
    flags["to_collar"] = chance.pick({"0", "60", "120"});
    flags["flat_at"] = chance.number(0.0, 360.0);
    if (chance.one_in(2))
      flags["flat"] = "yes";
    else if (chance.one_in(2))
      flags["offset"] = fixed(d * chance.between(0.0, 0.2), 3);
    if (chance.one_in(3)) flags["pattern"] = "notched";
  } else {
    const double angle = chance.between(35.0, 145.0);
    const double branch = d * chance.between(0.35, 1.0);
    const double reach = (d + branch) / std::sin(angle * k_pi / 180.0);
    flags["branch_diameter"] = fixed(branch, 3);
    flags["angle"] = fixed(angle, 3);
    flags["length"] = fixed(2.0 * reach + 200.0, 3);
    flags["branch_length"] = fixed(1.2 * reach + 150.0, 3);
    flags["offset"] = fixed(0.5 * (d - branch) * chance.between(-0.9, 0.9), 3);
    flags["around"] = chance.number(-180.0, 180.0);
    flags["joint"] = chance.pick({"mitre", "mitre", "over"});
  }
  return flags;
}

}  // namespace linerwright::support
