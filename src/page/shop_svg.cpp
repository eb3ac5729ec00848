#include "shop_svg.hpp"

#include <fmt/format.h>

#include "html.hpp"
#include "linerwright/draw/page_text.hpp"

namespace linerwright {

namespace {

const char* class_of(ShopInk ink) {
  switch (ink) {
    case ShopInk::cut:
      return "cut";
    case ShopInk::mark:
      return "mark";
    case ShopInk::dimension:
      return "dimension";
    case ShopInk::air:
      return "air";
  }
  return "";
}

std::string number(double value) {
  return trimmed(value, 2);
}

}  // namespace

std::string shop_svg(const ShopDrawing& drawing) {
  constexpr double k_point = 25.4 / 72.0;  // mm
  std::string out = fmt::format(
      "<svg class=\"shop\" role=\"img\" aria-label=\"{}\" viewBox=\"0 0 {} {}\" style=\"width:{}mm\">",
      html_text(drawing.title.empty() ? "the fitting from the side" : drawing.title), number(drawing.size.x),
      number(drawing.size.y), number(drawing.size.x));
  // one path for each ink
  for (const ShopInk ink : {ShopInk::mark, ShopInk::dimension, ShopInk::air, ShopInk::cut}) {
    std::string way;
    for (const ShopLine& line : drawing.lines) {
      if (line.ink != ink) continue;
      for (std::size_t i = 0; i < line.points.size(); ++i)
        way += fmt::format("{}{} {}", i == 0 ? "M" : "L", number(line.points[i].x),
                           number(drawing.size.y - line.points[i].y));
      if (line.closed) way += "Z";
    }
    if (!way.empty()) out += fmt::format("<path class=\"{}\" d=\"{}\"/>", class_of(ink), way);
  }
  // texts of one lettering together, each as wide as it was laid out whatever face the reader has
  std::string before;
  for (const ShopText& text : drawing.texts) {
    const std::string lettering = fmt::format("<g font-size=\"{}\"{}{}>", number(text.points * k_point),
                                              text.align == ShopAlign::middle  ? " text-anchor=\"middle\""
                                              : text.align == ShopAlign::right ? " text-anchor=\"end\""
                                                                               : "",
                                              text.bold ? " font-weight=\"700\"" : "");
    if (lettering != before) out += (before.empty() ? "" : "</g>") + lettering;
    before = lettering;
    constexpr std::size_t k_short = 4;  // about as wide in every face
    const std::string wide = text.text.size() <= k_short
                                 ? std::string()
                                 : fmt::format(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"",
                                               number(text_width(text.text, text.points, text.bold)));
    out += fmt::format("<text x=\"{}\" y=\"{}\"{}>{}</text>", number(text.at.x),
                       number(drawing.size.y - text.at.y), wide, html_text(text.text));
  }
  return out + (before.empty() ? "" : "</g>") + "</svg>";
}

std::string shop_page_figures(const ShopSheet& sheet) {
  std::string out;
  for (const ShopDrawing& each : shop_pages(sheet, k_shop_paper)) out += shop_svg(each);
  return out;
}

std::string shop_figures(const std::vector<ShopDrawing>& drawings) {
  std::string out;
  for (const ShopDrawing& drawing : drawings)
    out += fmt::format("<figure>{}{}</figure>\n",
                       drawing.title.empty() ? ""
                                             : fmt::format("<figcaption>{} <small>{}</small></figcaption>",
                                                           html_text(drawing.title), html_text(drawing.note)),
                       shop_svg(drawing));
  return out;
}

std::string shop_answers(const ShopSheet& sheet) {
  std::string out = "<dl class=\"answers\">\n";
  for (const auto& [question, answer] : sheet.answers)
    out += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", html_text(question), html_text(answer));
  return out + "</dl>\n";
}

}  // namespace linerwright
