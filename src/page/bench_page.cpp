#include "linerwright/page/bench_page.hpp"

#include <stdexcept>

#include "bench_engine.hpp"
#include "html.hpp"
#include "web_text.hpp"

namespace linerwright {

std::string bench_page() {
  if (!k_no_engine.empty())
    throw std::runtime_error("this program has no bench: " + std::string(k_no_engine));
  const std::string style = std::string(web_text("page.css")) + std::string(web_text("pattern.css")) +
                            std::string(web_text("fitting.css")) + std::string(web_text("bench.css"));
  const std::string model = filled(web_text("model.html"), {{"layers", ""},
                                                            {"lost", ""},
                                                            {"heights", ""},
                                                            {"coarser", ""},
                                                            {"cut_open", web_text("cut_open.html")}});
  return filled(web_text("bench.html"), {{"style", style},
                                         {"unpack", web_text("bundle/unpack.js")},
                                         {"unpack_hash", web_text("bundle/unpack.hash")},
                                         {"packed", web_text("bundle/bench.js.gz64")},
                                         {"script_hash", web_text("bundle/bench.hash")},
                                         {"model", model},
                                         {"cautions", web_text("cautions.html")},
                                         {"engine_code", k_engine_code},
                                         {"engine_bytes", k_engine_bytes}});
}

}  // namespace linerwright
