// Heat through a lined duct that hangs in a room, and whether water settles on its metal. Pure functions of
// numbers; lengths in mm, temperatures in degrees Celsius, SI otherwise. They throw std::invalid_argument as
// airway.hpp does.
#pragma once

#include <optional>

#include "linerwright/airway/airway.hpp"

namespace linerwright {

constexpr double k_galvanised_emissivity = 0.26;  // clean galvanized sheet

struct DuctInRoom {
  double metal_diameter = 0.0;     // inside the metal
  double gauge = 0.0;              // of the metal
  double lining_resistance = 0.0;  // m K/W of one metre, 0: bare
  double bore = 0.0;               // where the air runs
  double flow = 0.0;               // m3/s, over 0
  double air_temperature = 20.0;   // in the duct
  double room_temperature = 20.0;
  double emissivity = k_galvanised_emissivity;  // of the metal's outside, over 0 to 1
  Air air;
};

struct DuctHeat {
  double per_metre = 0.0;            // W that the air gains; under 0: loses
  double surface_temperature = 0.0;  // of the metal's outside
  std::optional<double>
      inside_film;  // W/(m2 K); empty: the flow is not turbulent enough for the formula, none counted
  double outside_film = 0.0;  // W/(m2 K), convection and radiation
};
DuctHeat duct_heat(const DuctInRoom& duct);

// Film of air that runs through a round bore, W/(m2 K); empty under a Reynolds number of 10 000.
std::optional<double> inside_film(double bore, double flow, double air_temperature, double wall_temperature,
                                  const Air& air);
// Film of still air and of radiation around a horizontal cylinder, W/(m2 K).
double outside_film(double outside_diameter, double surface_temperature, double room_temperature,
                    double emissivity);

// The least thickness in mm of a lining of that conductivity at which the metal's outside is not colder than
// `dew_point`; 0 where the bare duct is dry. Empty: no thickness that leaves a tenth of the diameter as bore
// does it. `duct.lining_resistance` and `duct.bore` are not read.
std::optional<double> least_dry_thickness(const DuctInRoom& duct, double conductivity, double dew_point);

}  // namespace linerwright
