#include <fmt/format.h>

#include <memory>

#include "commands.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

void add_sample(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("sample", "print a commented job file that works as it stands");
  auto kind = std::make_shared<std::string>();
  command->add_option("KIND", *kind, "only this kind of fitting");
  command->callback([&action, kind] {
    action = [kind] {
      fmt::print("{}", sample_job(job_schema(), *kind));
      return 0;
    };
  });
}

}  // namespace linerwright
