#include "linerwright/report/shop_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

std::string mass_text(const Fitting& fitting, double kg) {
  return shown_quantity(Quantity::mass, kg, fitting.units);
}

std::string joined(const std::vector<std::string>& texts, const char* between = ", ") {
  std::string out;
  for (const std::string& text : texts) out += (out.empty() ? "" : between) + text;
  return out;
}

class Maker {
 public:
  Maker(const Fitting& fitting, const std::vector<Pattern>& patterns)
      : fitting_(fitting), patterns_(patterns) {}

  std::vector<std::pair<std::string, std::string>> figures() const {
    std::vector<std::pair<std::string, std::string>> figures;
    for (int layer = 0; layer < layer_count(fitting_); ++layer) {
      const LinerSpec& liner = layer_of(fitting_, layer);
      figures.emplace_back(layer == 0 ? "liner" : fmt::format("layer {}", layer + 1),
                           fmt::format("{}, cut with the {} face up", length(liner.thickness),
                                       face_word(liner, liner.face_up)));
    }
    for (const Passage& passage : fitting_.passages) {
      const Station& tight =
          *std::min_element(passage.stations.begin(), passage.stations.end(),
                            [](const Station& a, const Station& b) { return a.lined_area < b.lined_area; });
      const double share = tight.lined_area / (0.25 * k_pi * tight.bare_diameter * tight.bare_diameter);
      figures.emplace_back(fitting_.passages.size() > 1 ? passage.name : "bore",
                           fmt::format("{} clear of {}, {} % of the area", length(tight.lined_diameter),
                                       length(tight.bare_diameter), trimmed(100.0 * share, 1)));
    }
    double mass = 0.0;
    const std::vector<std::size_t> cut = patterns_to_cut(patterns_, true);
    for (const std::size_t i : cut) mass += cut_mass(fitting_, patterns_[i]);
    if (fitting_.request.values.has("note"))
      figures.emplace_back("note", fitting_.request.values.text("note"));
    figures.emplace_back("pieces", fmt::format("{}, {} of board", cut.size(), mass_text(fitting_, mass)));
    return figures;
  }

  SheetTable pieces() const {
    const std::string unit(unit_name(Quantity::length, fitting_.units));
    SheetTable table{"Pieces, in the order they go in",
                     {"in", "piece", "id", "seam", "around x along", "weight"},
                     4,
                     {},
                     {}};
    std::vector<const Pattern*> told;
    for (const int index : fitting_.insertion) {
      const Pattern* pattern = pattern_of(index);
      if (pattern == nullptr || std::find(told.begin(), told.end(), pattern) != told.end()) continue;
      told.push_back(pattern);
      const Piece& piece = fitting_.piece(index);
      table.rows.push_back({std::to_string(told.size()), pattern_name(fitting_, *pattern), pattern->id,
                            piece.seam_place, by_by(pattern->board),
                            mass_text(fitting_, cut_mass(fitting_, *pattern))});
    }
    return table;
  }

  std::vector<std::pair<std::string, std::string>> answers() const {
    std::vector<std::pair<std::string, std::string>> answers;
    const auto add = [&](const char* question, std::string answer) {
      if (!answer.empty()) answers.emplace_back(question, std::move(answer));
    };
    add("Which end is first", ends());
    const bool opens = !is_disc_alone(fitting_);
    add("Which way the air goes", opens ? air() : "");
    add("Which face is out", faces());
    add("Where the seam goes",
        opens ? fmt::format("as the table says; keep it clear of the duct's own seam ({})", k_usual)
              : "nowhere: nothing is rolled");
    add("Where tape goes", opens ? tape() : "nowhere: it has no seam");
    add("Where sealant goes", sealant());
    add("After a square cut", square_cut());
    add("How the knife leans", lean());
    add("Fasteners", fasteners());
    add("Angles and sizes", facts());
    return answers;
  }

  std::string sizes() const {
    std::vector<std::string> parts;
    for (const Kind& kind : fitting_kinds())
      if (kind.schema.kind == fitting_.kind)
        for (const KeySpec& key : kind.schema.keys) {
          const Value* value = fitting_.request.values.find(key.name);
          if (value == nullptr || !value->given || key.name == "note" || is_of_air(key.name)) continue;
          std::string name = key.name;
          std::replace(name.begin(), name.end(), '_', ' ');
          parts.push_back(name + " " + said(*value, key));
        }
    return joined(parts);
  }

  // The pattern whose cut leans most; none where all are square to the board.
  const Pattern* steepest_cut() const {
    const Pattern* steepest = nullptr;
    for (const std::size_t i : patterns_to_cut(patterns_, true))
      if (patterns_[i].max_tilt >= 5e-4 &&
          (steepest == nullptr || patterns_[i].max_tilt > steepest->max_tilt))
        steepest = &patterns_[i];
    return steepest;
  }

 private:
  const Fitting& fitting_;
  const std::vector<Pattern>& patterns_;

  std::string length(double mm) const { return shop_length(fitting_, mm); }

  // "74.65 x 19.1 in".
  std::string by_by(Vec2 size) const {
    const std::string first = length(size.x);
    return fmt::format("{} x {}", first.substr(0, first.rfind(' ')), length(size.y));
  }

  static bool is_of_air(const std::string& name) {
    return name.find("flow") != std::string::npos || name.find("velocity") != std::string::npos;
  }

  // In the sheet's own units, whatever the job was written in.
  std::string said(const Value& value, const KeySpec& key) const {
    if (const auto* number = std::get_if<double>(&value.data))
      return format_quantity(key.quantity, *number, fitting_.units, 2);
    if (const auto* list = std::get_if<std::vector<double>>(&value.data)) {
      std::vector<std::string> each;
      for (const double number : *list)
        each.push_back(format_quantity(key.quantity, number, fitting_.units, 2));
      return joined(each, " and ");
    }
    return value.written;
  }

  const Pattern* pattern_of(int piece) const {
    for (const std::size_t i : patterns_to_cut(patterns_, true)) {
      const std::vector<int>& held = patterns_[i].pieces;
      if (std::find(held.begin(), held.end(), piece) != held.end()) return &patterns_[i];
    }
    return nullptr;
  }

  std::string ends() const {
    std::vector<std::string> names;
    for (const Port& port : ports_of(fitting_)) {
      std::string at;
      for (const Piece& piece : fitting_.pieces)
        if (piece.wall == port.wall && at.empty()) at = piece_title(fitting_, piece);
      names.push_back(fmt::format("{}: {}, {}", opening_words(fitting_, port.wall, port.end, false), at,
                                  port_size(fitting_, port)));
    }
    return joined(names, "; ");
  }

  std::string air() const {
    std::vector<std::string> in, out;
    for (const Port& port : ports_of(fitting_)) {
      const std::string name = opening_words(fitting_, port.wall, port.end);
      if (port.flow == PortFlow::in) in.push_back(name);
      if (port.flow == PortFlow::out) out.push_back(name);
    }
    if (in.empty() && out.empty()) return "not marked: either way";
    std::string text;
    if (!in.empty()) text = "in at " + joined(in, " and ");
    if (!out.empty()) text += (text.empty() ? "" : ", ") + ("out at " + joined(out, " and "));
    return text + "; the arrow on each piece points that way";
  }

  std::string faces() const {
    std::string text = "the duct face lies against the metal, the air face inside";
    if (layer_count(fitting_) > 1) text += "; of layer 2 the outer face lies against layer 1";
    return text;
  }

  std::string tape() const {
    std::vector<std::string> each;
    double sum = 0.0;
    for (const Piece& piece : fitting_.pieces) sum += seam_length(fitting_, piece);
    std::string text = fmt::format(
        "each seam lengthways on the air face, with a tab across near either end: {} in all", length(sum));
    if (!fitting_.notched.empty()) text += "; each notch, on the air face";
    return fmt::format("{} ({})", text, k_usual);
  }

  std::string sealant() const {
    double sum = 0.0;
    int count = 0;
    for (int i = 0; i < static_cast<int>(fitting_.joints.size()); ++i) {
      const double sealed = seal_length(fitting_, i);
      sum += sealed;
      count += sealed > 0.0 ? 1 : 0;
    }
    if (count == 0) return "between this liner and its neighbours', where the duct is joined";
    if (is_disc_alone(fitting_))
      return fmt::format(
          "on the air face all along the rim, where it meets the lining of the duct: {} in all", length(sum));
    return fmt::format("on the air face along each joint between pieces: {} joint{}, {} in all", count,
                       count == 1 ? "" : "s", length(sum));
  }

  // Patterns that leave the same, together.
  std::string square_cut() const {
    std::vector<std::pair<std::string, std::string>> groups;  // what is left, where
    for (const std::size_t i : patterns_to_cut(patterns_, true)) {
      const Pattern& pattern = patterns_[i];
      const std::string left =
          pattern.gap_square < 5e-3 && pattern.overlap_square < 5e-3
              ? "nothing"
              : fmt::format("gap {}, overlap {}", length(pattern.gap_square), length(pattern.overlap_square));
      const auto found =
          std::find_if(groups.begin(), groups.end(), [&](const auto& group) { return group.first == left; });
      if (found == groups.end())
        groups.emplace_back(left, pattern.id);
      else
        found->second += ", " + pattern.id;
    }
    std::vector<std::string> texts;
    for (const auto& [left, where] : groups)
      texts.push_back(
          fmt::format("{} {} {}", where, where.find(',') == std::string::npos ? "leaves" : "leave", left));
    return joined(texts, "; ");
  }

  std::string lean() const {
    const Pattern* steepest = steepest_cut();
    if (steepest == nullptr) return "nowhere: all edges are square to the board";
    return fmt::format("up to {} degrees, on {}; the drawings show the board's edge",
                       trimmed(steepest->max_tilt * 180.0 / k_pi, 1), steepest->id);
  }

  std::string fasteners() const {
    int count = 0;
    for (const Piece& piece : fitting_.pieces) count += fastener_count(fitting_, piece);
    if (count == 0) return fmt::format("none: no diameter is over {}", length(fitting_.liner.pins_above));
    return fmt::format("{}, one at each small cross", count);
  }

  // What is told of several legs or branches alike, once: "leg1, leg2".
  std::string facts() const {
    std::vector<std::pair<std::string, std::string>> told;  // label and value
    for (const Fact& fact : fitting_.facts) {
      if (fact.quantity != Quantity::length && fact.quantity != Quantity::angle) continue;
      if (fact.key.rfind("rule_of_thumb", 0) == 0) continue;  // for those who compare
      const std::string value = fact.quantity == Quantity::length
                                    ? length(fact.value)
                                    : trimmed(fact.value * 180.0 / k_pi, 2) + "\u00b0";
      const auto same = std::find_if(told.begin(), told.end(), [&](const auto& earlier) {
        return earlier.second == value && !joined_names(earlier.first, fact.label).empty();
      });
      if (same == told.end())
        told.emplace_back(fact.label, value);
      else
        same->first = joined_names(same->first, fact.label);
    }
    std::vector<std::string> texts;
    for (const auto& [label, value] : told) texts.push_back(fmt::format("{} {}", label, value));
    return joined(texts, "; ");
  }

  // "crotch of leg1" and "crotch of leg2": "crotch of leg1, leg2"; labels that differ otherwise: nothing.
  std::string joined_names(const std::string& one, const std::string& other) const {
    for (const Passage& first : fitting_.passages)
      for (const Passage& second : fitting_.passages) {
        const std::size_t at = other.find(second.name);
        if (first.name == second.name || at == std::string::npos) continue;
        const std::string rest = other.substr(at + second.name.size());
        const std::size_t named = one.rfind(first.name);
        if (named != std::string::npos && one.substr(0, at) == other.substr(0, at) &&
            one.substr(named + first.name.size()) == rest)
          return one.substr(0, named + first.name.size()) + ", " + second.name + rest;
      }
    return {};
  }
};

// How large drawings may be without their words, and the view with them, mm.
struct Sizes {
  Vec2 pattern, view;
};

// How far down the first page is drawn on, mm above its lower edge.
double foot_of(const ShopDrawing& page) {
  double lowest = page.size.y;
  for (const ShopLine& line : page.lines)
    for (const Vec2 p : line.points) lowest = std::min(lowest, p.y);
  return lowest;
}

// With the boards that its pieces may come to lie on.
ShopSheet with_boards(ShopSheet sheet) {
  sheet.pieces.heads.emplace_back("on");
  for (auto& row : sheet.pieces.rows) row.emplace_back("board 10: 10");
  sheet.pieces.words = sheet.pieces.heads.size();
  return sheet;
}

// As large as one page lets them be. Where none does, on as few as they can be, the largest that fill the
// first.
void draw_patterns(ShopSheet& sheet, const Fitting& fitting, const std::vector<Pattern>& patterns,
                   Vec2 paper) {
  constexpr Sizes k_sizes[] = {{{67.0, 46.0}, {88.0, 66.0}}, {{67.0, 38.0}, {88.0, 56.0}},
                               {{67.0, 30.0}, {88.0, 48.0}}, {{67.0, 26.0}, {88.0, 38.0}},
                               {{36.0, 34.0}, {88.0, 56.0}}, {{36.0, 28.0}, {88.0, 44.0}},
                               {{36.0, 22.0}, {80.0, 38.0}}};
  constexpr double k_full = 60.0;  // mm: no row of drawings is lower
  std::vector<std::vector<const Pattern*>> groups = drawn_once(fitting, patterns);
  const std::vector<Pattern> templates = site_templates(fitting);
  for (const Pattern& pattern : templates) groups.push_back({&pattern});
  std::optional<ShopSheet> best;
  std::size_t least = 0;
  double lowest = 0.0;
  for (const Sizes& most : k_sizes) {
    sheet.view = side_view(fitting, most.view);
    sheet.patterns.clear();
    for (const auto& group : groups) sheet.patterns.push_back(pattern_drawing(fitting, group, most.pattern));
    const std::vector<ShopDrawing> pages = shop_pages(with_boards(sheet), paper);
    if (pages.size() == 1) return;
    const double foot = foot_of(pages.front());
    if (best && (pages.size() > least || (pages.size() == least && (lowest < k_full || foot >= lowest))))
      continue;
    best = sheet;
    least = pages.size();
    lowest = foot;
  }
  sheet = std::move(*best);
}

// What is done before anything is cut, and what is held to while it is.
std::vector<std::string> cutting_steps(const Fitting& fitting, bool leans) {
  std::string up = face_word(fitting.liner, fitting.liner.face_up);
  for (const LinerSpec& liner : fitting.inner_layers)
    up += fmt::format(" face up, those of layer 2 with the {}", face_word(liner, liner.face_up));
  return {
      "Cut one piece first, measure it against the sizes beside its drawing, and try it in the duct before "
      "the "
      "rest.",
      fmt::format("Cut with the {} face up{}.", up,
                  leans
                      ? "; lean the knife as the sections and the tilt table show, or cut square and accept "
                        "the gap and the overlap that are stated"
                      : ", square to the board"),
      "Turn a pattern by half a turn if that saves board, never by less, and never over: the board bends "
      "only "
      "around the duct.",
      "Write the tag, the piece, the arrow and the letters of its edges on each."};
}

}  // namespace

ShopSheet shop_sheet(const Fitting& fitting, const std::vector<Pattern>& patterns,
                     const std::vector<std::string>& warnings, const SheetHead& head, Vec2 paper) {
  const Maker maker(fitting, patterns);
  ShopSheet sheet;
  sheet.tag = fitting.tag;
  sheet.what = fmt::format("{}, {} to make", kind_title(fitting.kind), fitting.count);
  sheet.sizes = maker.sizes();
  sheet.head = head;
  sheet.figures = maker.figures();
  sheet.warnings = warnings;
  sheet.sections = knife_sections(fitting, patterns);
  sheet.pieces = maker.pieces();
  sheet.cutting = cutting_steps(fitting, maker.steepest_cut() != nullptr);
  sheet.fitting = fitting.steps;
  sheet.answers = maker.answers();
  draw_patterns(sheet, fitting, patterns, paper);
  return sheet;
}

}  // namespace linerwright
