#include "linerwright/paper/sheets_pdf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "linerwright/report/board_sheets.hpp"
#include "page_writer.hpp"

namespace linerwright {

namespace {

constexpr double k_margin = 12.0;
constexpr Style k_body{8.2};
constexpr double k_heading = 10.0;  // points

// "1: 3, 4; 2: 1": boards and the order in which the pieces come free there, of each piece of a fitting.
std::map<std::string, std::string> boards_of(const BoardPlan& plan, const std::string& tag) {
  std::map<std::string, std::string> where;
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    std::map<std::string, std::string> here;
    for (std::size_t i = 0; i < plan.boards[b].pieces.size(); ++i) {
      const BoardPart& part = plan.parts[plan.boards[b].pieces[i].part];
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
  Sheets(const std::vector<ShopSheet>& sheets, const SheetsCover& cover, const BoardPlan& plan,
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
  const BoardPlan& plan_;
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
    if (!cover_.not_made.empty()) page_.title("Not made", 2.0 * k_body.pitch());
    for (const std::string& each : cover_.not_made) page_.paragraph("\xE2\x80\xA2 " + each, k_body, 4.0);
    page_.skip(2.0);
    page_.paragraph(k_shop_cautions, {k_small});
  }

  void fitting(const ShopSheet& sheet) {
    bool first = true;
    for (const ShopDrawing& each : shop_pages(on_boards(sheet), page_.size())) {
      page_.turn();
      if (first) page_.entry(sheet.tag);
      page_.draw(each, {});
      first = false;
    }
  }

  // With the boards that its pieces lie on.
  ShopSheet on_boards(const ShopSheet& sheet) const {
    ShopSheet out = sheet;
    const std::map<std::string, std::string> where = boards_of(plan_, sheet.tag);
    if (where.empty()) return out;
    out.pieces.heads.emplace_back("on");
    for (auto& row : out.pieces.rows) {
      const auto found = where.find(row[2]);
      row.push_back(found == where.end() ? std::string() : found->second);
    }
    out.pieces.words = out.pieces.heads.size();
    for (const auto& [piece, boards] : where)  // blanks that hold several of its pieces
      if (std::none_of(out.pieces.rows.begin(), out.pieces.rows.end(),
                       [&, &id = piece](const auto& row) { return row[2] == id; }))
        out.notes.push_back(fmt::format("{} holds all of them: {}", piece, boards));
    return out;
  }
};

}  // namespace

std::string sheets_pdf(const std::vector<ShopSheet>& sheets, const SheetsCover& cover, const BoardPlan& plan,
                       const Paper& paper) {
  if (paper.roll) throw std::invalid_argument("sheets are printed on paper of a size, not on a roll");
  return Sheets(sheets, cover, plan, paper).run();
}

}  // namespace linerwright
