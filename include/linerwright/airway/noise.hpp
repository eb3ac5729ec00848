// Sound of a straight duct beside what its lining takes: what bare metal takes, and the noise of the air
// itself. Pure functions; all are estimates.
#pragma once

#include <array>

#include "linerwright/airway/airway.hpp"

namespace linerwright {

constexpr std::array<double, 8> k_octaves = {63, 125, 250, 500, 1000, 2000, 4000, 8000};  // Hz

// What `length` mm of straight bare round duct take, dB per octave band; `diameter` mm inside the metal, to
// 60 in. The table ends at 4000 Hz; at 8000 Hz the same is taken.
std::array<double, 8> bare_attenuation(double diameter, double length);

// Sound power level in dB, re 1e-12 W, of the noise that air makes in a straight duct, by octave band; for 2
// to 20 m/s only.
std::array<double, 8> flow_noise(double velocity, double area);
constexpr double k_least_noise_velocity = 2.0;  // m/s
constexpr double k_most_noise_velocity = 20.0;

}  // namespace linerwright
