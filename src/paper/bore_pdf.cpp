#include "linerwright/paper/bore_pdf.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "page_writer.hpp"

namespace linerwright {

namespace {

constexpr Vec2 k_a4{210.0, 297.0};
constexpr Vec2 k_letter{215.9, 279.4};
constexpr const char* k_bare = "#d9a28f";
constexpr const char* k_lined = "#4f9bbd";

void add_bars(Writer& page, const SheetBars& group) {
  const Style name{k_text, true};
  const Style value{k_small};
  double longest = 0.0;
  double names = 0.0;
  double values = 0.0;
  for (const SheetBar& bar : group.bars) {
    longest = std::max({longest, bar.bare, bar.lined});
    names = std::max(names, name.width(bar.name));
    values = std::max({values, value.width(bar.bare_text), value.width(bar.lined_text)});
  }
  if (longest <= 0.0) return;
  constexpr double k_bar = 2.7;
  constexpr double k_each = 2.0 * k_bar + 1.8;
  page.title(group.title, 3.0 * k_each);
  names = std::min(names, 0.3 * page.width());
  const double from = page.left() + names + 3.0;
  const double room = page.width() - names - values - 6.0;
  const auto key = [&](const char* colour, const char* text, double x) {
    page.bar(colour, x, 8.0, k_bar);
    page.write_lower(0.35, text, value, x + 10.0);
  };
  page.skip(k_bar + 0.5);
  key(k_bare, "bare", from);
  key(k_lined, "lined", from + 25.0);
  page.skip(1.8);
  for (const SheetBar& bar : group.bars) {
    page.need(k_each);
    const auto one = [&](const char* colour, double amount, const std::string& text) {
      const double length = room * amount / longest;
      page.skip(k_bar);
      page.bar(colour, from, length, k_bar);
      page.write_lower(0.35, text, value, from + length + 1.5);
    };
    one(k_bare, bar.bare, bar.bare_text);
    page.write_lower(2.1, cut_to(bar.name, name, names), name, page.left());  // between its two bars
    one(k_lined, bar.lined, bar.lined_text);
    page.skip(1.8);
  }
}

void add_list(Writer& page, const std::string& title, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  page.title(title, 2.0 * Style{}.pitch());
  for (const std::string& line : lines) page.paragraph("\xE2\x80\xA2 " + line, {}, 3.0);
}

void add_figures(Writer& page, const BoreSheet& sheet) {
  const Style name{k_figure};
  double widest = 0.0;
  for (const auto& figure : sheet.figures) widest = std::max(widest, name.width(figure.first));
  const double in = widest + 5.0;
  for (const auto& figure : sheet.figures) {
    const std::vector<std::string> lines = broken(figure.second, {k_figure, true}, page.width() - in);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      page.line(i == 0 ? figure.first : std::string(), name);
      page.write(lines[i], {k_figure, true}, page.left() + in);
    }
  }
}

}  // namespace

std::string bore_pdf(const BoreSheet& sheet) {
  Writer page(sheet.units == Units::inch ? k_letter : k_a4);
  const std::string job = sheet.head.job.empty() ? "Bore report" : sheet.head.job;
  page.paragraph(job, {k_name, true});
  page.paragraph("What the lining leaves of the bore, and what it costs", {k_title});
  page.paragraph(fmt::format("{}{}Linerwright {}", sheet.head.date, sheet.head.date.empty() ? "" : ", ",
                             sheet.head.version),
                 {});
  page.skip(2.0);
  add_figures(page, sheet);
  add_list(page, "Warnings and notes", sheet.warnings);
  for (const SheetBars& group : sheet.bars) add_bars(page, group);
  for (const SheetTable& table : sheet.tables) write_table(page, table);
  add_list(page, "What the figures rest on", sheet.basis);
  add_list(page, "Cautions", sheet.cautions);
  return page.finish(job + ": bore", sheet.head.version);
}

}  // namespace linerwright
