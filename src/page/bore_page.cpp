#include "linerwright/page/bore_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "html.hpp"
#include "linerwright/units/units.hpp"
#include "web_text.hpp"

namespace linerwright {

namespace {

std::string section(const char* kind, const std::string& title, const std::string& content) {
  return fmt::format("<section class=\"{}\"><h2>{}</h2>\n{}</section>\n", kind, html_text(title), content);
}

std::string bars_html(const SheetBars& group) {
  double longest = 0.0;
  for (const SheetBar& bar : group.bars) longest = std::max({longest, bar.bare, bar.lined});
  if (longest <= 0.0) return {};
  const auto line = [&](const char* kind, double value, const std::string& text) {
    return fmt::format("<div class=\"bar{}\" style=\"width:{}%\"></div><div class=\"value\">{}</div>\n", kind,
                       trimmed(100.0 * value / longest, 2), html_text(text));
  };
  std::string out = "<p class=\"legend\"><i></i>bare<i class=\"clear\"></i>lined</p>\n<div class=\"bars\">\n";
  for (const SheetBar& bar : group.bars)
    out += "<div class=\"name\">" + html_name(bar.name) + "</div>" + line("", bar.bare, bar.bare_text) +
           line(" clear", bar.lined, bar.lined_text);
  return section("graph", group.title, out + "</div>\n");
}

std::string table_html(const SheetTable& table) {
  const auto escaped = [](const std::vector<std::string>& cells) {
    std::vector<std::string> out;
    for (const std::string& cell : cells) out.push_back(html_text(cell));
    return out;
  };
  HtmlTable html{{}, escaped(table.heads), table.words, {}};
  for (const auto& row : table.rows) html.rows.push_back(escaped(row));
  std::string out = html_of(html);
  if (!table.notes.empty()) {
    out += "<div class=\"below\">";
    for (const std::string& note : table.notes) out += "<p>" + html_text(note) + "</p>";
    out += "</div>\n";
  }
  return section("rows", table.title, out);
}

}  // namespace

std::string bore_page(const BoreSheet& sheet) {
  std::string figures;
  for (const auto& [name, value] : sheet.figures) figures += html_figure(name, value, "");
  std::string bars;
  for (const SheetBars& group : sheet.bars) bars += bars_html(group);
  std::string tables;
  for (const SheetTable& table : sheet.tables) tables += table_html(table);
  const std::string job = sheet.head.job.empty() ? "Bore report" : sheet.head.job;
  std::string made = html_text(sheet.head.date);
  made += fmt::format("{}Linerwright {}", made.empty() ? "" : "<br>", html_text(sheet.head.version));
  const std::string title = html_text(job + ": bore");
  const std::string state =
      sheet.head.state.empty()
          ? std::string()
          : fmt::format("<meta name=\"made-from\" content=\"{}\">\n", html_text(sheet.head.state));
  const std::string name = html_text(job);
  const std::string style = std::string(web_text("page.css")) + std::string(web_text("bore.css"));
  const std::string warnings =
      sheet.warnings.empty() ? ""
                             : section("warnings", "Warnings and notes", html_list(sheet.warnings, false));
  const std::string basis =
      sheet.basis.empty() ? "" : section("basis", "What the figures rest on", html_list(sheet.basis, false));
  const std::string cautions = section("cautions", "Cautions", html_list(sheet.cautions, false));
  return filled(web_text("bore.html"), {{"title", title},
                                        {"state", state},
                                        {"style", style},
                                        {"job", name},
                                        {"made", made},
                                        {"figures", figures},
                                        {"warnings", warnings},
                                        {"bars", bars},
                                        {"tables", tables},
                                        {"basis", basis},
                                        {"cautions", cautions}});
}

}  // namespace linerwright
