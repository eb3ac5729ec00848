// A second layer of liner inside the first: its keys, and its pieces on walls of its own.
#pragma once

#include "common.hpp"

namespace linerwright {

// The liner's keys of a second layer.
std::vector<KeySpec> second_layer_keys();
// The key that says so of the request's layer: "second_fit_allowance" for "fit_allowance" where it is there.
std::string key_of_layer(const FittingRequest& request, const std::string& key);
// A quantity of the request's layer: the layer's own, or the first layer's.
double of_layer(const FittingRequest& request, const std::string& key);
// Fills in what the request says of its layer alone.
void read_layer(const FittingRequest& request, LinerSpec& liner);

// Adds a reason for each key of a second layer that the request gives without one.
void require_second_layer(Reasons& reasons, const FittingRequest& request);

// Makes the second layer that a divided fitting of this kind asks for and adds its walls, joints and pieces.
// Its joints lie at its own depths; its seams are turned against the first layer's, the joints between its
// rings moved along. Throws InputError with every reason it cannot be made.
void add_second_layer(Fitting& fitting, const Kind& kind);

}  // namespace linerwright
