#include "linerwright/page/bench_page.hpp"

#include <stdexcept>

#include "bench_engine.hpp"
#include "html.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "packed.hpp"
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
  const std::string script = packed_element("packed", from_base64(web_text("bundle/bench.js.gz64")));
  const std::string code = packed_element("engine-code", from_base64(k_engine_code));
  const std::string bytes = packed_element("engine-bytes", from_base64(k_engine_bytes));
  return filled(web_text("bench.html"), {{"style", style},
                                         {"unpack", web_text("bundle/unpack.js")},
                                         {"unpack_hash", web_text("bundle/unpack.hash")},
                                         {"packed", script},
                                         {"script_hash", web_text("bundle/bench.hash")},
                                         {"model", model},
                                         {"cautions", web_text("cautions.html")},
                                         {"engine_code", code},
                                         {"engine_bytes", bytes}});
}

}  // namespace linerwright
