#include "row_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "cells.hpp"

namespace linerwright {

namespace {

// Whether the text is zero: how sheets say that a column does not apply.
bool is_zero(const std::string& text) {
  const bool digits = text.find_first_of("0123456789") != std::string::npos;
  return digits && text.find_first_of("123456789") == std::string::npos;
}

bool same_length(const std::string& a, const std::string& unit, const std::string& b) {
  const auto millimetres = [&](const std::string& text) {
    const SizesText sizes = sizes_text(text, false);
    if (sizes.sizes.size() != 1) throw std::invalid_argument("several sizes");
    return parse_quantity(Quantity::length, length_text(sizes.sizes[0], unit).text, Units::metric);
  };
  try {
    return trimmed_text(a) == trimmed_text(b) || millimetres(a) == millimetres(b);
  } catch (const std::invalid_argument&) {
    return false;
  }
}

}  // namespace

void RowFitting::fail(const std::string& key, const std::string& value, const std::string& allowed,
                      const std::string& reason) {
  context_.problems.push_back({context_.file, fitting_.line, fitting_.tag, key, value, allowed, reason});
  failed_ = true;
}

void RowFitting::ask(const std::string& what, const std::string& value, const std::string& answer,
                     const std::string& reason) {
  context_.questions.emplace(
      what, Problem{context_.file, fitting_.line, fitting_.tag, what, value, answer, reason});
  failed_ = true;
}

void RowFitting::add(const IntakeColumn& column, const GridCell& cell) {
  const std::string& meaning = column.words.meaning;
  if (meaning.empty() || meaning == "left" || says_nothing_at_all(cell.text)) return;
  if (meaning == "note") {
    note_ += (note_.empty() ? "" : "; ") + cell.text;
    return;
  }
  if (meaning == "tag") fitting_.tag = cell.text;
  Measure measure{cell.text, column.words.unit, column.head, column.words.size_is};
  if (!cell.number && is_measure(meaning, context_.schema)) {
    std::string fault;
    measure.text = context_.marks.plain(cell.text, fault);
    if (!fault.empty()) fail(column.head, cell.text, "", fault);
  }
  cells_.emplace(meaning, std::move(measure));
}

bool RowFitting::is_size(const std::string& key) const {
  const KeySpec* spec = intake_key(context_.schema, fitting_.kind, key);
  return spec != nullptr && spec->duct_size;
}

void RowFitting::set(const std::string& key, const std::string& value) {
  const auto same = std::find_if(fitting_.values.begin(), fitting_.values.end(),
                                 [&](const auto& one) { return one.first == key; });
  if (same == fitting_.values.end()) {
    fitting_.values.emplace_back(key, value);
  } else if (same->second != value) {
    fail(key, value, "", fmt::format("another cell of the row says {}", same->second));
  }
}

void RowFitting::set_length(const std::string& key, const Measure& measure, const std::string& text) {
  try {
    std::string unit = measure.unit;
    if (unit.empty() && context_.units) unit = *context_.units == Units::inch ? "in" : "mm";
    const LengthText length = length_text(text, unit);
    if (length.bare) {
      ask("units", text, "--units mm or --units in, or the unit in the head: " + measure.head + " (mm)",
          "a length without a unit");
      return;
    }
    const bool inch = length.text.find_first_of("\"'") != std::string::npos ||
                      length.text.find("in") != std::string::npos ||
                      length.text.find('f') != std::string::npos;
    (inch ? context_.rows.inches : context_.rows.metric) += 1;
    set(key, length.text);
  } catch (const std::invalid_argument& error) {
    fail(measure.head, text, "", error.what());
  }
}

// The kind and what its words say besides.
bool RowFitting::settle_kind() {
  const auto cell = cells_.find("kind");
  if (cell == cells_.end()) {
    fail("kind", "", "elbow, tee, reducer and what else the trade calls them",
         "is missing: this row names no kind of fitting");
    return false;
  }
  std::optional<KindWords> words = kind_words(cell->second.text, context_.kinds);
  if (!words) {
    std::string known;
    for (const std::string& kind : context_.kinds) known += (known.empty() ? "" : ", ") + kind;
    fail(cell->second.head, cell->second.text, known + " or what the trade calls these",
         "is no kind of round fitting that is known");
    return false;
  }
  if (words->kind == "wye") {
    if (context_.answers.wye.empty()) {
      ask("wye", cell->second.text, "--wye lateral or --wye y",
          "can be a lateral (a branch on a body) or a Y (two legs)");
      return false;
    }
    words->kind = context_.answers.wye == "lateral" ? "tee" : "wye";
    if (words->kind == "tee" && words->angle.empty() && cells_.count("angle") == 0) {
      words->angle = "45";
      words->assumed = "a lateral leaves at 45 degrees";
    }
  }
  if (std::find(context_.kinds.begin(), context_.kinds.end(), words->kind) == context_.kinds.end()) {
    fail(cell->second.head, cell->second.text, "", "a Y of two legs is not among the kinds that are made");
    return false;
  }
  fitting_.kind = words->kind;
  const bool own_angle = cells_.count("angle") != 0;
  if (!words->angle.empty() && !(own_angle && !words->assumed.empty())) set("angle", words->angle);
  if (!words->assumed.empty() && !(own_angle && words->assumed.find("degrees") != std::string::npos))
    assume(words->assumed);
  if (!words->size.empty()) {
    const auto [stated, is_new] = cells_.emplace("diameter", Measure{words->size, "", cell->second.head, ""});
    if (!is_new && !same_length(stated->second.text, stated->second.unit, words->size))
      fail(cell->second.head, cell->second.text, "",
           "names another size than the row's " + stated->second.text);
  }
  if (!words->pieces.empty()) set("pieces", words->pieces);
  if (!words->gores.empty()) settle_gores(words->gores);
  for (const auto& [key, value] : words->further) set(key, value);
  if (!words->needs.empty() && cells_.count(words->needs) == 0)
    fail(cell->second.head, cell->second.text, "a column headed " + words->needs,
         "needs the diameter that the branch has where it enters the body");
  return true;
}

void RowFitting::settle_gores(const std::string& gores) {
  if (context_.answers.gores.empty()) {
    ask("gores", gores, "--gores all or --gores between",
        "can be all pieces of the bend, or those between its two ends");
    return;
  }
  try {
    const double count = parse_quantity(Quantity::number, count_text(gores), Units::metric);
    set("pieces", trimmed(context_.answers.gores == "all" ? count : count + 2.0, 3));
  } catch (const std::invalid_argument& error) {
    fail("gores", gores, "a whole number", error.what());
  }
}

// The key of a row's second size: the other end, the branch, the legs.
std::string RowFitting::second_size() const {
  for (const char* key : {"to_diameter", "branch_diameter", "leg_diameter"})
    if (intake_key(context_.schema, fitting_.kind, key) != nullptr) return key;
  return {};
}

// What a kind calls a size of a column that is headed otherwise: the legs of a wye are its branches and its
// outlets.
std::string RowFitting::own_key(const std::string& key) const {
  if (fitting_.kind != "wye") return key;
  if (key == "to_diameter" || key == "branch_diameter") return "leg_diameter";
  return key == "branch_length" ? "leg_length" : key;
}

// One size or several of a cell, to the keys of the row's kind.
void RowFitting::place_sizes(const std::string& meaning, const Measure& measure,
                             std::vector<std::string> sizes) {
  const std::string second = second_size();
  if (sizes.size() == 3 && second == "branch_diameter" && sizes[0] == sizes[1]) sizes.erase(sizes.begin());
  if (sizes.size() == 1) return set_length(meaning, measure, sizes[0]);
  if (meaning != "diameter" || second.empty() || sizes.size() != 2) {
    const bool reducing = sizes.size() == 3 && second == "branch_diameter";
    return fail(measure.head, measure.text, "",
                reducing ? "the two ends of the body differ: write the reducer and the tee as two fittings"
                         : fmt::format("holds {} sizes, and a round {} takes {}", sizes.size(), fitting_.kind,
                                       second.empty() ? "one" : "two"));
  }
  set_length("diameter", measure, sizes[0]);
  set_length(second, measure, sizes[1]);
}

void RowFitting::settle_sizes() {
  for (const char* head : {"diameter", "to_diameter", "branch_diameter", "leg_diameter"}) {
    const auto cell = cells_.find(head);
    if (cell == cells_.end()) continue;
    const std::string key = own_key(head);
    const Measure measure = cell->second;
    cells_.erase(cell);
    const bool second_needed =
        cells_.count("to_diameter") == 0 && cells_.count("branch_diameter") == 0 && key == "diameter";
    const SizesText sizes = sizes_text(measure.text, second_needed);
    if (intake_key(context_.schema, fitting_.kind, key) == nullptr) {
      // both ends of a fitting that has one size
      const auto first = std::find_if(fitting_.values.begin(), fitting_.values.end(),
                                      [](const auto& one) { return one.first == "diameter"; });
      try {
        if (is_zero(measure.text)) continue;
        const std::string unit = !measure.unit.empty() ? measure.unit
                                 : context_.units ? std::string(unit_name(Quantity::length, *context_.units))
                                                  : "";
        if (first != fitting_.values.end() && length_text(sizes.sizes[0], unit).text == first->second)
          continue;
      } catch (const std::invalid_argument&) {
      }
      fail(measure.head, measure.text, "", fmt::format("a {} has no such size", fitting_.kind));
      continue;
    }
    if (is_zero(measure.text)) continue;
    const std::string said = sizes.size_is.empty() ? measure.size_is : sizes.size_is;
    if (!size_is_.empty() && !said.empty() && said != size_is_)
      fail(measure.head, measure.text, "", "the row states sizes of two sorts");
    if (!said.empty()) size_is_ = said;
    // what one size of a row says holds for the others
    if (size_is_.empty() && context_.answers.size_is.empty())
      ask("size_is", measure.text,
          "--size-is metal, --size-is clear or --size-is outside, or ID or OD in the head",
          "can be the metal's inside, what must be left clear after lining, or the metal's outside");
    if (is_size(key)) place_sizes(key, measure, sizes.sizes);
  }
}

std::optional<double> RowFitting::millimetres(const std::string& key) const {
  for (const auto& [name, value] : fitting_.values)
    if (name == key) return parse_quantity(Quantity::length, value, Units::metric);
  return std::nullopt;
}

// Gores and throats: what the job file knows by other names.
void RowFitting::settle_bend() {
  if (const auto gores = cells_.find("gores"); gores != cells_.end()) {
    if (!is_zero(gores->second.text)) settle_gores(gores->second.text);
    cells_.erase("gores");
  }
  const auto throat = cells_.find("throat_radius");
  if (throat == cells_.end()) return;
  const Measure measure = throat->second;
  cells_.erase(throat);
  if (is_zero(measure.text) && intake_key(context_.schema, fitting_.kind, "centreline_radius") == nullptr)
    return;
  set_length("throat_radius", measure, measure.text);
  const std::optional<double> radius = millimetres("throat_radius");
  const std::optional<double> diameter = millimetres("diameter");
  fitting_.values.erase(std::remove_if(fitting_.values.begin(), fitting_.values.end(),
                                       [](const auto& one) { return one.first == "throat_radius"; }),
                        fitting_.values.end());
  if (!radius || !diameter) return;
  if (!(size_is_.empty() ? context_.answers.size_is == "metal" : size_is_ == "metal"))
    return fail(measure.head, measure.text, "",
                "a throat's radius needs the metal's inside diameter to tell the centreline's");
  set("centreline_radius", trimmed(*radius + 0.5 * *diameter, 6) + " mm");
  assume("the centreline's radius is the throat's and half a diameter");
}

// The keys of the row's kind that measure what `key` does in other kinds.
std::string RowFitting::keys_beside(const std::string& key) const {
  std::optional<Quantity> quantity;
  for (const KindSchema& kind : context_.schema.kinds)
    if (const KeySpec* spec = intake_key(context_.schema, kind.kind, key)) quantity = spec->quantity;
  const auto of_all = [&](const std::string& name) {
    return std::all_of(
        context_.schema.kinds.begin(), context_.schema.kinds.end(),
        [&](const KindSchema& kind) { return intake_key(context_.schema, kind.kind, name) != nullptr; });
  };
  std::string keys;
  for (const KindSchema& kind : context_.schema.kinds) {
    if (kind.kind != fitting_.kind) continue;
    for (const KeySpec& spec : kind.keys)
      if (spec.type == ValueType::quantity && spec.quantity == quantity &&
          (spec.name == "diameter" || !of_all(spec.name)))
        keys += (keys.empty() ? "" : ", ") + spec.name;
  }
  return keys;
}

void RowFitting::set_measure(const std::string& head, const Measure& measure) {
  const std::string key = own_key(head);
  const KeySpec* spec = intake_key(context_.schema, fitting_.kind, key);
  if (spec == nullptr && is_zero(measure.text)) return;
  if (spec == nullptr)
    return fail(measure.head, measure.text, keys_beside(key),
                fmt::format("a {} has no {}", fitting_.kind, key));
  if (spec->type == ValueType::integer) return set(key, count_text(measure.text));
  if (spec->type != ValueType::quantity) return set(key, measure.text);
  // "1.5 D" of a radius is a multiple of the diameter
  const std::string stated = trimmed_text(measure.text);
  if (key == "centreline_radius" && !stated.empty() && (stated.back() == 'D' || stated.back() == 'd'))
    return set("radius_ratio", ratio_text(measure.text));
  if (spec->quantity == Quantity::length) return set_length(key, measure, measure.text);
  if (spec->quantity == Quantity::number) return set(key, ratio_text(measure.text));
  std::string text = trimmed_text(measure.text);
  try {
    parse_quantity(spec->quantity, text, Units::metric);
    const bool bare = text.find_first_not_of("0123456789. ") == std::string::npos;
    if (bare && !measure.unit.empty()) text += " " + measure.unit;
    if (bare && measure.unit.empty() && spec->quantity != Quantity::angle)
      return ask("unit of " + key, text, "the unit in the head", "a number without a unit");
    if (spec->quantity == Quantity::angle && !measure.unit.empty() && measure.unit != "deg")
      return fail(measure.head, measure.text, "degrees", "an angle is not measured in " + measure.unit);
    parse_quantity(spec->quantity, text, Units::metric);
    set(key, text);
  } catch (const std::invalid_argument& error) {
    fail(measure.head, measure.text, "", error.what());
  }
}

std::optional<std::pair<IntakeFitting, long>> RowFitting::finished() {
  if (fitting_.tag.empty()) {
    if (!context_.answers.tags.empty()) {
      fitting_.tag = fmt::format("row-{}", fitting_.line);
    } else {
      fail("tag", "", "", "is missing: this row has no tag");
    }
  }
  long count = 1;
  if (const auto cell = cells_.find("count"); cell != cells_.end()) {
    fitting_.count = count_text(cell->second.text);
    try {
      const double number = parse_quantity(Quantity::number, fitting_.count, Units::metric);
      if (number == 0.0) {
        context_.rows.left.push_back(fmt::format("line {}: none wanted: {}", fitting_.line, fitting_.tag));
        return std::nullopt;
      }
      if (number < 1.0 || number > 1e5 || number != static_cast<double>(static_cast<long>(number)))
        fail(cell->second.head, cell->second.text, "1 to 100000", "cannot be how many of a fitting are made");
      else
        count = static_cast<long>(number);
      fitting_.count = trimmed(number, 3);
    } catch (const std::invalid_argument& error) {
      fail(cell->second.head, cell->second.text, "a whole number", error.what());
    }
  } else if (context_.counted) {
    fail("count", "", "a whole number; 0 leaves the row out", "is blank: the row does not say how many");
  }
  if (!settle_kind()) return std::nullopt;
  settle_sizes();
  settle_bend();
  for (const auto& [key, measure] : cells_)
    if (key != "tag" && key != "kind" && key != "count" && key != "size_is") set_measure(key, measure);
  const auto stated = cells_.find("size_is");
  const std::string size_is = stated != cells_.end() ? stated->second.text : size_is_;
  if (!size_is.empty()) set("size_is", size_is);
  if (!size_is_.empty()) context_.rows.size_said = true;
  if (!note_.empty()) set("note", note_);
  if (failed_) return std::nullopt;
  return std::make_pair(fitting_, count);
}

}  // namespace linerwright
