#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "html.hpp"
#include "job_parts.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/page/page.hpp"
#include "web_text.hpp"
#include "words.hpp"

namespace linerwright {

JobRow job_row(const Fitting& fitting, const std::vector<Pattern>& patterns, std::string folder,
               std::vector<std::string> files) {
  JobRow row;
  row.tag = fitting.tag;
  row.kind = fitting.kind;
  row.count = fitting.count;
  if (std::find(files.begin(), files.end(), folder + ".svg") != files.end()) row.picture = folder + ".svg";
  row.folder = std::move(folder);
  row.files = std::move(files);
  row.liner = length_text(fitting, fitting.liner.thickness);
  for (const LinerSpec& liner : fitting.inner_layers)
    row.liner += " + " + length_text(fitting, liner.thickness);
  row.pieces = patterns_to_cut(patterns, true).size();
  row.warnings = fitting.warnings;
  for (const Passage& passage : fitting.passages) {
    const Station& tight = narrowest(passage);
    const std::string between = row.bare.empty() ? "" : "; ";
    row.bare += between + ends_text(fitting, passage);
    row.clear += between + length_text(fitting, tight.lined_diameter);
    row.share = std::min(row.share, free_share(tight));
  }
  return row;
}

namespace {

bool ends_with(const std::string& text, std::string_view ending) {
  return text.size() >= ending.size() &&
         text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

// The page of a fitting among its files, or none.
std::string page_of(const JobRow& row) {
  const auto found = std::find_if(row.files.begin(), row.files.end(),
                                  [](const std::string& file) { return ends_with(file, ".html"); });
  return found == row.files.end() ? "" : *found;
}

// What the fitting's page is told of the job that leads to it.
std::string job_query(const JobPage& page) {
  std::string query;
  for (const auto& [key, value] : {std::pair{"job", &page.name}, std::pair{"date", &page.date}})
    if (!value->empty())
      query += fmt::format("{}{}={}", query.empty() ? '?' : '&', key, percent_encoded(*value));
  return query;
}

// "6 DXF, 3 STL", opening to links.
std::string files_cell(const JobRow& row) {
  if (row.files.empty()) return {};
  std::map<std::string, int> kinds;
  std::string links;
  for (const std::string& file : row.files) {
    std::string ending = file.substr(file.rfind('.') + 1);
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    ++kinds[ending];
    links += "<li>" + html_link(row.folder, file, html_text(file)) + "</li>";
  }
  std::string summary;
  for (const auto& [kind, count] : kinds)
    summary += fmt::format("{}{}{}", summary.empty() ? "" : ", ",
                           count > 1 ? std::to_string(count) + " " : "", html_text(kind));
  return fmt::format("<details><summary>{}</summary><ul>{}</ul></details>", summary, links);
}

// `late`: the picture is loaded when it comes into view.
std::string row_html(const JobRow& row, bool late, const std::string& query) {
  const std::string page = page_of(row);
  const auto to_page = [&](const std::string& shown) {
    return page.empty() ? shown : html_link(row.folder, page + query, shown);
  };
  const std::string picture = row.picture.empty()
                                  ? ""
                                  : to_page(fmt::format("<img{} alt=\"picture of {}\" src=\"{}/{}\">",
                                                        late ? " loading=\"lazy\"" : "", html_text(row.tag),
                                                        html_text(row.folder), html_text(row.picture)));
  std::string notes;
  if (!row.failure.empty()) notes = "<p class=\"fail\">not made: " + html_text(row.failure) + "</p>";
  for (const std::string& warning : row.warnings) notes += "<p>" + html_text(warning) + "</p>";
  const bool made = row.failure.empty();
  const auto number = [&](const std::string& text) { return made ? text : std::string(); };
  return fmt::format(
      "<tr data-kind=\"{0}\" data-noted=\"{1}\"><td class=\"picture\">{2}</td><th scope=\"row\">{3}</th>"
      "<td data-label=\"kind\">{14}</td><td class=\"number\" data-label=\"to make\">{4}</td><td "
      "class=\"number\" data-label=\"pieces\">{5}</td>"
      "<td data-label=\"liner\">{6}</td><td data-label=\"bare\">{7}</td><td data-label=\"clear\">{8}</td>"
      "<td class=\"number\" data-label=\"area left\" data-sort=\"{9}\">{10}</td><td class=\"notes\" "
      "data-label=\"notes\" data-sort=\"{11}\">{12}</td>"
      "<td class=\"screen\" data-label=\"files\">{13}</td></tr>\n",
      html_text(row.kind), notes.empty() ? 0 : 1, picture, to_page(html_name(row.tag)), row.count,
      number(std::to_string(row.pieces)), html_size(row.liner), html_size(row.bare), html_size(row.clear),
      made ? fixed(row.share, 6) : "2", number(fixed(100.0 * row.share, 1) + " %"),
      row.warnings.size() + (made ? 0 : 1000), notes, files_cell(row), html_text(kind_title(row.kind)));
}

std::string kind_options(const std::vector<JobRow>& rows) {
  std::map<std::string, int> kinds;
  for (const JobRow& row : rows) ++kinds[row.kind];
  std::string out;
  for (const auto& [kind, count] : kinds)
    out += fmt::format("<option value=\"{0}\">{1} ({2})</option>", html_text(kind),
                       html_text(kind_title(kind)), count);
  return out;
}

std::string key_figures(const std::vector<JobRow>& rows) {
  long fittings = 0;
  long pieces = 0;
  std::size_t warned = 0;
  std::size_t failed = 0;
  const JobRow* tightest = nullptr;
  for (const JobRow& row : rows) {
    if (!row.failure.empty()) {
      ++failed;
      continue;
    }
    fittings += row.count;
    pieces += row.count * static_cast<long>(row.pieces);
    warned += row.warnings.empty() ? 0 : 1;
    if (tightest == nullptr || row.share < tightest->share) tightest = &row;
  }
  const std::size_t lines = rows.size() - failed;
  std::string out = html_figure("fittings", std::to_string(fittings),
                                fmt::format("on {} line{}", lines, lines == 1 ? "" : "s"));
  out += html_figure("liner pieces", std::to_string(pieces), "to roll and fit");
  if (tightest != nullptr)
    out += html_figure("least area left", fixed(100.0 * tightest->share, 1) + " %", tightest->tag);
  out += html_figure("with notes", std::to_string(warned), warned == 1 ? "line" : "lines");
  if (failed > 0) out += html_figure("not made", std::to_string(failed), failed == 1 ? "line" : "lines");
  return out;
}

std::string runs_html(const std::vector<PageRun>& runs) {
  std::string out;
  for (const PageRun& run : runs) {
    const std::string picture =
        run.picture.empty() ? "" : fmt::format("<img alt=\"\" src=\"{}\">", html_text(run.picture));
    const std::string shown = picture + html_name(run.name);
    out += fmt::format("<li>{} <small>{}</small></li>\n",
                       run.page.empty() ? shown : html_link({}, run.page, shown), html_text(run.words));
  }
  return out.empty() ? out : "<ul class=\"runs\">\n" + out + "</ul>\n";
}

std::string section(const char* id, const char* title, const std::string& content) {
  return content.empty() ? ""
                         : fmt::format("<section id=\"{}\"><h2>{}</h2>\n{}</section>\n", id, title, content);
}

}  // namespace

std::string job_page(const JobPage& page) {
  std::string rows;
  const std::string query = job_query(page);
  constexpr std::size_t k_many = 1000;  // fewer are loaded at once, so that all of them print
  for (const JobRow& row : page.rows) rows += row_html(row, page.rows.size() > k_many, query);
  std::string totals;
  for (const PageTable& table : page.totals) totals += table_html(table);
  const std::string boards = boards_html(page.boards);
  std::string jumps;
  const auto jump = [&](const char* id, const char* title, bool there) {
    if (there) jumps += fmt::format("<a href=\"#{}\">{}</a>", id, title);
  };
  jump("runs", "Runs", !page.runs.empty());
  jump("totals", "Totals", !totals.empty());
  jump("boards", "Boards", !boards.empty());
  const std::string sheets =
      page.sheets.empty() ? std::string() : html_link({}, page.sheets, "Print all sheets");
  return filled(web_text("job.html"),
                {{"name", page.name.empty() ? "Fittings" : html_text(page.name)},
                 {"date", page.date.empty() ? "" : "; " + html_text(page.date)},
                 {"style", std::string(web_text("page.css")) + std::string(web_text("pattern.css")) +
                               std::string(web_text("job.css"))},
                 {"script", web_text("bundle/job.js")},
                 {"script_hash", web_text("bundle/job.hash")},
                 {"figures", key_figures(page.rows)},
                 {"kinds", kind_options(page.rows)},
                 {"jumps", jumps},
                 {"sheets", sheets},
                 {"rows", rows},
                 {"cautions", web_text("cautions.html")},
                 {"runs", section("runs", "Runs", runs_html(page.runs))},
                 {"totals", section("totals", "Totals", totals)},
                 {"boards", section("boards", "Boards",
                                    boards.empty() ? "" : "<div class=\"boards\">" + boards + "</div>\n")}});
}

}  // namespace linerwright
