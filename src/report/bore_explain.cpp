#include "linerwright/report/bore.hpp"
#include "linerwright/units/error.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

std::string text_of(const Explanation& entry) {
  std::string text = std::string(entry.figure) + '\n' + wrapped("  formula: ", entry.formula) +
                     wrapped("  source:  ", entry.source);
  if (!entry.doubts.empty()) text += wrapped("  doubts:  ", entry.doubts);
  return text;
}

}  // namespace

std::string explain_text(const std::string& figure) {
  if (figure.empty() || figure == "all") {
    std::string text;
    for (const Explanation& entry : explanations()) text += text_of(entry);
    return text;
  }
  if (const Explanation* entry = explain(figure)) return text_of(*entry);
  std::string known;
  for (const Explanation& entry : explanations())
    known += (known.empty() ? "" : ", ") + std::string(entry.figure);
  throw InputError({Problem{{}, 0, {}, "--explain", figure, known, "no figure has this name"}});
}

}  // namespace linerwright
