// Lengths, angles and other quantities as people write them: 24in, 1-1/2", 2' 6", 600 mm, 90deg, 48kg/m3.
#pragma once

#include <stdexcept>
#include <string>

namespace linerwright::asked {

// Text that is no quantity, or a file that is not what it should be.
class Unreadable : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class What { length, angle, number, density, area_mass, conductivity, velocity, flow, word };

// The value in mm, radians, kg/m3, kg/m2, W/(m K), m/s or m3/s. A bare number is in inches, degrees, and the
// other inch-pound units where `inches`, else in the metric ones. Throws Unreadable.
double value_of(const std::string& text, What what, bool inches);

}  // namespace linerwright::asked
