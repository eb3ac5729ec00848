// The air that a job's runs bring to its fittings, from their run.json.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/run/run.hpp"

namespace linerwright {

class AirInRuns {
 public:
  // Reads the run.json of these folders; one that cannot be read brings no air.
  explicit AirInRuns(const std::vector<std::filesystem::path>& runs);
  // As the fitting is reported; nothing where no run knows its air.
  std::optional<AirOfTag> of(const Fitting& fitting) const;

 private:
  struct Place {
    std::string in, out;
    std::map<std::string, double> air;  // by port
    std::map<std::string, bool> joined;
  };
  std::map<std::string, std::map<long, Place>> places_;  // by tag and number
};

}  // namespace linerwright
