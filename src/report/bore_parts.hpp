// Parts of the bore's tables, and what they share.
#pragma once

#include <string>
#include <vector>

#include "bore_units.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

using TableRows = std::vector<std::vector<std::string>>;

// A fitting with one passage needs no word for it. A fitting's rows, of those of `report`, follow each other.
std::string passage_word(const BoreReport& report, const BoreRow& row);
// Tag and passage.
std::string row_name(const BoreReport& report, const BoreRow& row);
struct NamedText {
  std::string name, text;
};
// Each text once, in order, behind the names it stands with: "A, B: text".
std::vector<std::string> grouped(const std::vector<NamedText>& named);
// "bare mm"
std::string table_head(const char* name, Figure figure, Units units);

// "*" where a published formula's coefficient is in it, "+" where something is left out of it.
std::string loss_marks(const BoreLoss& loss);
// What no sum of losses holds.
extern const char* const k_sum_remark;

// What the figures rest on: air, roughnesses, conductivity, thicknesses, limits, a line each.
std::vector<std::string> basis_lines(const BoreReport& report);
// What a sum leaves out, in words; empty: nothing but what every sum does.
std::string leaves_out(const BoreSum& sum);
// Published formulas used, each once: "mitred bend: sum of Weisbach ...".
std::vector<std::string> formulas_used(const BoreReport& report);
// What losses leave out, a line for each fitting.
std::vector<std::string> losses_left_out(const BoreReport& report);

// Heat gained or lost and sound, as far as they were asked for; no rows: they were not.
SheetTable gain_table(const BoreReport& report);
SheetTable sound_table(const BoreReport& report);

std::string air_part(const BoreReport& report);
std::string loss_part(const BoreReport& report);
std::string heat_part(const BoreReport& report);
std::string sound_part(const BoreReport& report);
std::string basis_part(const BoreReport& report);

}  // namespace linerwright
