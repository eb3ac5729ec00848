// How fittings and their ports are written in a run.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/run/run.hpp"

namespace linerwright {

// What a text of a path or a `from` names.
struct Named {
  RunPart part;
  std::vector<std::string> ports;  // none, one, or two with > between
};

// Tags of a job and how many there are of each.
using Counts = std::map<std::string, long>;

// Takes "TAG", "TAG#2", "TAG:PORT" or "TAG:PORT>PORT" apart; a tag may itself hold these signs. Says in
// `fault` why it cannot.
std::optional<Named> named(const std::string& written, const Counts& counts, std::string& fault);

}  // namespace linerwright
