#include <fmt/format.h>

#include <memory>

#include "commands.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

void add_sample(CLI::App& command, Program& program) {
  auto kind = std::make_shared<std::string>();
  command.add_option("KIND", *kind, "only this kind of fitting");
  command.callback([&program, kind] {
    program.action = [kind] {
      fmt::print("{}", sample_job(job_schema(), *kind));
      return 0;
    };
  });
}

}  // namespace linerwright
