#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/page/bench_page.hpp"
#include "text_out.hpp"

namespace linerwright {

void add_bench(CLI::App& command, Program& program) {
  auto out = std::make_shared<std::string>("bench.html");
  auto force = std::make_shared<bool>(false);
  command.add_option("--out", *out, "the page")->capture_default_str();
  command.add_flag("--force", *force, "write over a file of that name");
  command.callback([&program, out, force] {
    program.action = [out, force] {
      const std::string page = bench_page();
      refuse_existing(*out, *force);
      write_text_out(*out, page);
      fmt::print("{}: {} kB; open it in a browser\n", *out, page.size() / 1000);
      return 0;
    };
  });
}

}  // namespace linerwright
