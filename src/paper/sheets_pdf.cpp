#include "linerwright/sheets_pdf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "board_pages.hpp"
#include "page_writer.hpp"

namespace linerwright {

namespace {

constexpr double k_margin = 12.0;
constexpr double k_column_gap = 6.0;
constexpr Style k_body{8.2};
constexpr double k_heading = 10.0;  // points
constexpr double k_caption = 8.5;   // mm above a drawing: its title and its note

// "1: 3, 4; 2: 1": boards and the order in which the pieces come free there, of each piece of a fitting.
std::map<std::string, std::string> boards_of(const FloorPlan& plan, const std::string& tag) {
  std::map<std::string, std::string> where;
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    std::map<std::string, std::string> here;
    for (std::size_t i = 0; i < plan.boards[b].pieces.size(); ++i) {
      const FloorPart& part = plan.parts[plan.boards[b].pieces[i].part];
      if (part.tag != tag) continue;
      std::string& numbers = here[part.piece];
      numbers += fmt::format("{}{}", numbers.empty() ? "" : ", ", i + 1);
    }
    for (const auto& [piece, numbers] : here) {
      std::string& all = where[piece];
      all += fmt::format("{}board {}: {}", all.empty() ? "" : "; ", b + 1, numbers);
    }
  }
  return where;
}

class Sheets {
 public:
  Sheets(const std::vector<ShopSheet>& sheets, const SheetsCover& cover, const FloorPlan& plan,
         const Paper& paper)
      : sheets_(sheets), cover_(cover), plan_(plan), page_(paper.size, k_margin, k_heading) {}

  std::string run() {
    front();
    for (const ShopSheet& sheet : sheets_) fitting(sheet);
    if (!plan_.boards.empty()) add_board_pages(page_.pdf(), page_.size(), plan_, cover_.head);
    return page_.finish(title() + ": sheets", cover_.head.version);
  }

 private:
  const std::vector<ShopSheet>& sheets_;
  const SheetsCover& cover_;
  const FloorPlan& plan_;
  Writer page_;

  std::string title() const { return cover_.head.job.empty() ? "Fittings" : cover_.head.job; }

  void front() {
    page_.entry(title());
    page_.paragraph(title(), {k_name, true});
    page_.paragraph(
        fmt::format("{}{} line{} of fittings, a sheet for each{}",
                    cover_.head.date.empty() ? "" : cover_.head.date + ". ", sheets_.size(),
                    sheets_.size() == 1 ? "" : "s",
                    plan_.boards.empty() ? "" : fmt::format("; {} boards behind them", plan_.boards.size())),
        {k_figure});
    SheetTable list{"Fittings", {"tag", "what", "sizes", "clear"}, 4, {}, {}};
    for (const ShopSheet& sheet : sheets_) {
      std::string clear;
      for (const auto& [name, value] : sheet.figures)
        if (value.find(" clear of ") != std::string::npos)
          clear += (clear.empty() ? "" : "; ") + value.substr(0, value.find(" clear of "));
      list.rows.push_back({sheet.tag, sheet.what, sheet.sizes, clear});
    }
    write_table(page_, list, k_least_letter);
    for (const SheetTable& table : cover_.totals) write_table(page_, table, k_least_letter);
    for (const std::string& note : cover_.notes) page_.paragraph(note, {k_small}, 3.0);
    items("Not made", cover_.not_made, false);
    cautions();
  }

  void items(const std::string& title, const std::vector<std::string>& texts, bool numbered) {
    if (texts.empty()) return;
    page_.title(title, 2.0 * k_body.pitch());
    for (std::size_t i = 0; i < texts.size(); ++i)
      page_.paragraph((numbered ? fmt::format("{}. ", i + 1) : std::string("\xE2\x80\xA2 ")) + texts[i],
                      k_body, 4.0);
  }

  void cautions() {
    page_.skip(2.0);
    page_.paragraph(
        "Gloves, eye protection, a dust mask and long sleeves with fibrous board; cut away from the body, "
        "hands off "
        "the table while it runs. Sheet metal edges cut: file or cover them before reaching in. Local codes, "
        "the board "
        "maker's instructions and the licensed designer decide.",
        {k_small});
  }

  void fitting(const ShopSheet& sheet) {
    page_.turn();
    page_.entry(sheet.tag);
    head(sheet);
    const double right = std::max(sheet.view.size.x, sections_width(sheet));
    const double top = page_.y() - 2.0;
    double bottom = top - sheet.view.size.y;
    page_.draw(sheet.view, {page_.left() + page_.width() - sheet.view.size.x, bottom});
    for (const ShopDrawing& section : sheet.sections) {
      bottom -= section.size.y + k_caption;
      put(section, {page_.left() + page_.width() - right, bottom});
    }
    page_.keep_clear(page_.width() - right - k_column_gap, bottom);
    for (const auto& [name, value] : sheet.figures) page_.paragraph(name + ": " + value, {k_text, true}, 4.0);
    items("Mind", sheet.warnings, false);
    items("How it goes in", sheet.fitting, true);
    page_.pass_clear();
    pieces(sheet);
    answers(sheet);
    items("Before and while cutting", sheet.cutting, true);
    patterns(sheet);
    cautions();
  }

  static double sections_width(const ShopSheet& sheet) {
    double widest = 0.0;
    for (const ShopDrawing& section : sheet.sections) widest = std::max(widest, section.size.x);
    return widest;
  }

  void head(const ShopSheet& sheet) {
    const Style name{k_name, true};
    std::string of = sheet.head.job;
    if (!sheet.head.date.empty()) of += (of.empty() ? "" : ", ") + sheet.head.date;
    const Style small{k_text};
    const std::string shown = cut_to(sheet.tag, name, 0.62 * page_.width());
    page_.line(shown, name);
    const std::string job = cut_to(of, small, 0.36 * page_.width());
    page_.write(job, small, page_.left() + page_.width() - small.width(job));
    page_.paragraph(sheet.what + ": " + sheet.sizes, {k_figure});
  }

  void pieces(const ShopSheet& sheet) {
    SheetTable table = sheet.pieces;
    const std::map<std::string, std::string> where = boards_of(plan_, sheet.tag);
    if (!where.empty()) {
      table.heads.emplace_back("on");
      for (auto& row : table.rows) {
        const auto found = where.find(row[2]);
        row.push_back(found == where.end() ? std::string() : found->second);
      }
    }
    table.words = table.heads.size();
    write_table(page_, table, k_least_letter);
    // blanks that hold several of its pieces
    for (const auto& [piece, boards] : where)
      if (std::none_of(table.rows.begin(), table.rows.end(),
                       [&, &id = piece](const auto& row) { return row[2] == id; }))
        page_.paragraph(fmt::format("{} holds all of them: {}", piece, boards), k_body);
  }

  // Questions in bold, answers beside them.
  void answers(const ShopSheet& sheet) {
    page_.title("What is asked on site", 2.0 * k_body.pitch());
    const Style question{k_body.points, true};
    double in = 0.0;
    for (const auto& each : sheet.answers) in = std::max(in, question.width(each.first) + 3.0);
    for (const auto& each : sheet.answers) {
      const std::vector<std::string> lines = broken(each.second, k_body, page_.width() - in);
      page_.need(static_cast<double>(lines.size()) * k_body.pitch());
      for (std::size_t i = 0; i < lines.size(); ++i) {
        page_.line(i == 0 ? each.first : std::string(), question);
        page_.write(lines[i], k_body, page_.left() + in);
      }
    }
  }

  // A drawing with its title and its note above it.
  void put(const ShopDrawing& drawing, Vec2 low) {
    page_.draw(drawing, low);
    const Style title{k_text, true};
    const Style note{k_small};
    const double top = low.y + drawing.size.y;
    page_.pdf().text({low.x, top + 4.2}, cut_to(drawing.title, title, drawing.size.x), title.points, true);
    page_.pdf().text({low.x, top + 0.9}, cut_to(drawing.note, note, drawing.size.x), note.points);
  }

  void patterns(const ShopSheet& sheet) {
    if (sheet.patterns.empty()) return;
    const double wide = sheet.patterns.front().size.x;
    const auto columns = std::max<std::size_t>(
        1, static_cast<std::size_t>((page_.width() + k_column_gap) / (wide + k_column_gap)));
    page_.title("Patterns, to scale; sizes as cut, heights on the duct face",
                sheet.patterns.front().size.y + k_caption);
    for (std::size_t i = 0; i < sheet.patterns.size(); i += columns) {
      double tallest = 0.0;
      const std::size_t end = std::min(sheet.patterns.size(), i + columns);
      for (std::size_t k = i; k < end; ++k) tallest = std::max(tallest, sheet.patterns[k].size.y);
      page_.need(tallest + k_caption + 2.0);
      const double top = page_.y() - k_caption;
      for (std::size_t k = i; k < end; ++k)
        put(sheet.patterns[k], {page_.left() + static_cast<double>(k - i) * (wide + k_column_gap),
                                top - sheet.patterns[k].size.y});
      page_.skip(tallest + k_caption + 2.0);
    }
  }
};

}  // namespace

std::string sheets_pdf(const std::vector<ShopSheet>& sheets, const SheetsCover& cover, const FloorPlan& plan,
                       const Paper& paper) {
  if (paper.roll) throw std::invalid_argument("sheets are printed on paper of a size, not on a roll");
  return Sheets(sheets, cover, plan, paper).run();
}

}  // namespace linerwright
