#include "page_script.hpp"

#include <fmt/format.h>

#include "html.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "packed.hpp"
#include "web_text.hpp"

namespace linerwright {

PageScript page_script(const std::string& address) {
  if (!address.empty())
    return {"'self'", fmt::format("<script defer src=\"{}\"></script>\n", html_text(address))};
  return {fmt::format("'{}'", web_text("bundle/view.hash")),
          packed_element("packed", from_base64(web_text("bundle/view.js.gz64")))};
}

std::string shared_script() {
  return std::string(web_text("bundle/view.js"));
}

}  // namespace linerwright
