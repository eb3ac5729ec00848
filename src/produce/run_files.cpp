#include "run_files.hpp"

namespace linerwright {

void RunContents::write(JsonWriter&) const {}

RunContents write_run_files(NewFolder&, const std::string&, const LaidRun&, const ProduceOptions&) {
  return {};
}

}  // namespace linerwright
