#include "fitting_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "bore_graph.hpp"
#include "html.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "pattern_figure.hpp"
#include "scene.hpp"
#include "words.hpp"

namespace linerwright {

std::string key_figures(const Fitting& fitting) {
  const auto shown = [&](double mm) { return length_text(fitting, mm); };
  std::string out;
  for (int layer = 0; layer < layer_count(fitting); ++layer) {
    const LinerSpec& liner = layer_of(fitting, layer);
    out += html_figure(layer == 0 ? "liner" : fmt::format("layer {}", layer + 1), shown(liner.thickness),
                       fmt::format("cut with the {} face up", face_word(liner, liner.face_up)));
  }
  for (const Passage& passage : fitting.passages) {
    const Station& tight = narrowest(passage);
    out += html_figure(fitting.passages.size() > 1 ? passage.name : "bore",
                       shown(tight.lined_diameter) + " clear",
                       fmt::format("of {} bare; {} % of the area left", ends_text(fitting, passage),
                                   fixed(100.0 * free_share(tight), 1)));
  }
  std::string order;
  for (const int piece : fitting.insertion)
    order += (order.empty() ? "" : " \u2192 ") + fitting.piece(piece).id;
  const std::string count =
      fmt::format("{} piece{}", fitting.pieces.size(), fitting.pieces.size() == 1 ? "" : "s");
  constexpr std::size_t k_short = 30;  // bytes that stand on one line
  if (order.size() > k_short) return out + html_figure("go in", count, "in the order of the table below");
  return out + html_figure("pieces go in", order, count);
}

std::string layer_boxes(const FittingPage& page) {
  std::vector<std::size_t> order(page.parts.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto rank = [&](std::size_t i) {
    const PagePart& part = page.parts[i];
    return part.role == PartRole::liner   ? insertion_rank(page.fitting, part.piece.value())
           : part.role == PartRole::metal ? 0
                                          : 1000000;
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
  std::string out;
  for (const std::size_t i : order) {
    const PagePart& part = page.parts[i];
    std::string role;
    if (part.role == PartRole::liner) {
      const Piece& piece = page.fitting.piece(part.piece.value());
      const std::string name = piece_name(page.fitting, piece);
      if (name != piece.id) role = " <small>" + html_text(name) + "</small>";
    }
    out += fmt::format(
        "<label><input type=\"checkbox\" data-part=\"{}\"{}><span "
        "class=\"swatch\"></span><span>{}{}</span></label>\n",
        i, part.role == PartRole::bore ? "" : " checked", html_text(part_title(page.fitting, part)), role);
  }
  return out;
}

std::string pattern_figures(const FittingPage& page, PackedParts* packed) {
  const auto drawing = [&](const Pattern& pattern) {
    const std::string open = "<div class=\"scroll\" tabindex=\"0\"";
    std::string html = pattern_figure(page.fitting, pattern);
    return packed != nullptr ? packed->element(open, std::move(html)) : open + ">" + html + "</div>";
  };
  std::string out;
  for (const Pattern& pattern : page.patterns) {
    const std::string role = pattern_name(page.fitting, pattern);
    out += fmt::format(
        "<figure class=\"{}\"><figcaption>{} <small>{}; cut square: gap {}, overlap "
        "{}{}</small></figcaption>{}"
        "</figure>\n",
        pattern.is_blank ? "broad" : "", html_text(pattern.id), html_text(role),
        html_text(length_text(page.fitting, pattern.gap_square)),
        html_text(length_text(page.fitting, pattern.overlap_square)),
        pattern.not_cut > 0.0
            ? "; cut with a lean: up to " + html_text(length_text(page.fitting, pattern.not_cut)) +
                  " left to cut by hand"
            : "",
        drawing(pattern));
  }
  for (const Pattern& pattern : site_templates(page.fitting))
    out += fmt::format(
        "<figure><figcaption>{} <small>template of the hole, {}</small></figcaption>{}</figure>\n",
        html_text(pattern.id),
        pattern.placement.mirrored ? "against the duct's liner, seen from inside"
                                   : "around the duct's metal, seen from outside",
        drawing(pattern));
  return out;
}

std::string bore_graphs(const Fitting& fitting) {
  std::string out;
  for (const Passage& passage : fitting.passages)
    out += fmt::format(
        "<figure><figcaption>{}</figcaption><div class=\"scroll\" tabindex=\"0\">{}</div></figure>\n",
        html_text(passage.name), bore_graph(fitting, passage));
  return out;
}

}  // namespace linerwright
