// Heads and kinds as the trade writes them. Common practice, no source, for every synonym here.
#include "words.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

const std::vector<std::string> k_keys = {"tag",          "diameter", "branch_diameter",
                                         "radius_ratio", "size_is",  "fit_allowance"};
const std::vector<std::string> k_kinds = {"straight", "elbow", "reducer", "tee", "offset", "square_to_round"};

std::string head(const std::string& text) {
  const HeadWords words = head_words(text, k_keys);
  return words.meaning + (words.unit.empty() ? "" : " " + words.unit) +
         (words.size_is.empty() ? "" : " " + words.size_is);
}

std::string kind(const std::string& text) {
  const auto words = kind_words(text, k_kinds);
  if (!words) return "unknown";
  std::string out = words->kind;
  if (!words->angle.empty()) out += " angle " + words->angle;
  if (!words->pieces.empty()) out += " pieces " + words->pieces;
  if (!words->gores.empty()) out += " gores " + words->gores;
  for (const auto& [key, value] : words->further) out += " " + key + " " + value;
  return out;
}

TEST(Heads, EveryTradeNameMeansItsKey) {
  for (const auto& [text, meaning] :
       std::vector<std::pair<std::string, std::string>>{{"Tag", "tag"},
                                                        {"MARK", "tag"},
                                                        {"Piece Mark", "tag"},
                                                        {"Type", "kind"},
                                                        {"Fitting Type", "kind"},
                                                        {"Qty", "count"},
                                                        {"QTY.", "count"},
                                                        {"No. Req'd", "count"},
                                                        {"Quantity", "count"},
                                                        {"Dia", "diameter"},
                                                        {"Dia.", "diameter"},
                                                        {"Size", "diameter"},
                                                        {"Duct Size", "diameter"},
                                                        {"Large End", "diameter"},
                                                        {"Small End", "to_diameter"},
                                                        {"From", "diameter"},
                                                        {"To", "to_diameter"},
                                                        {"To Dia", "to_diameter"},
                                                        {"Branch Dia", "branch_diameter"},
                                                        {"Branch", "branch_diameter"},
                                                        {"branch-diameter", "branch_diameter"},
                                                        {"Br. Length", "branch_length"},
                                                        {"Length", "length"},
                                                        {"LG.", "length"},
                                                        {"L", "length"},
                                                        {"Angle", "angle"},
                                                        {"Deg.", "angle"},
                                                        {"Gores", "gores"},
                                                        {"No. of Gores", "gores"},
                                                        {"Segments", "pieces"},
                                                        {"No. of Pieces", "pieces"},
                                                        {"Radius", "radius"},
                                                        {"CL Radius", "centreline_radius"},
                                                        {"Centerline Radius", "centreline_radius"},
                                                        {"Centre-line radius", "centreline_radius"},
                                                        {"Throat Radius", "throat_radius"},
                                                        {"Throat R", "throat_radius"},
                                                        {"R/D", "radius_ratio"},
                                                        {"Liner", "thickness"},
                                                        {"Liner Thk.", "thickness"},
                                                        {"Insulation Thickness", "thickness"},
                                                        {"Remarks", "note"},
                                                        {"Notes", "note"},
                                                        {"Comments", "note"},
                                                        {"Item", "item"},
                                                        {"Item No.", "item"},
                                                        {"No.", "number"},
                                                        {"#", "number"},
                                                        {"Description", "description"},
                                                        {"Weight", "left"},
                                                        {"Fit Allowance", "fit_allowance"},
                                                        {"Grade of happiness", ""}})
    EXPECT_EQ(head(text), meaning) << text;
}

TEST(Heads, CarryUnitsAndWhichDiameter) {
  EXPECT_EQ(head("Dia (mm)"), "diameter mm");
  EXPECT_EQ(head("Length [in]"), "length in");
  EXPECT_EQ(head("LENGTH, MM"), "length mm");
  EXPECT_EQ(head("Length in mm"), "length mm");
  EXPECT_EQ(head("Length in inches"), "length in");
  EXPECT_EQ(head("Size (\")"), "diameter in");
  EXPECT_EQ(head("\xC3\x98 (mm)"), "diameter mm");
  EXPECT_EQ(head("Angle (deg)"), "angle deg");
  EXPECT_EQ(head("Airflow (cfm)"), "flow cfm");
  EXPECT_EQ(head("I.D. (in)"), "diameter in metal");
  EXPECT_EQ(head("Inside Dia"), "diameter metal");
  EXPECT_EQ(head("OD"), "diameter outside");
  EXPECT_EQ(head("Clear Diameter (mm)"), "diameter mm clear");
  EXPECT_EQ(head("Branch Dia (ID)"), "branch_diameter metal");
}

TEST(Kinds, EveryTradeNameMeansItsKind) {
  for (const auto& [text, meaning] : std::vector<std::pair<std::string, std::string>>{
           {"Elbow", "elbow"},
           {"ELL", "elbow"},
           {"90 Ell", "elbow angle 90"},
           {"90\xC2\xB0 elbow", "elbow angle 90"},
           {"45 deg. bend", "elbow angle 45"},
           {"22.5\xC2\xB0 Bend", "elbow angle 22.5"},
           {"90deg 5pc gored elbow", "elbow angle 90 pieces 5"},
           {"5-piece 90\xC2\xB0 elbow", "elbow angle 90 pieces 5"},
           {"5 gore elbow 90 deg", "elbow angle 90 gores 5"},
           {"Pressed bend", "elbow form smooth"},
           {"Duct", "straight"},
           {"Pipe", "straight"},
           {"Spiral Pipe", "straight"},
           {"Straight", "straight"},
           {"Reducer", "reducer"},
           {"Taper", "reducer"},
           {"Transition", "reducer"},
           {"Conc. Reducer", "reducer"},
           {"ECC. REDUCER", "reducer flat true"},
           {"Eccentric reducer", "reducer flat true"},
           {"Tee", "tee"},
           {"Lateral", "tee angle 45"},
           {"30 deg lateral", "tee angle 30"},
           {"Tees", "tee"},
           {"Wye", "wye"},
           {"offset", "offset"},
           {"long radius elbow", "elbow radius_ratio 1.5"},
           {"Gored Ell", "elbow"},
           {"Ecc. Red.", "reducer flat true"},
           {"Galv. spiral duct", "straight"},
           {"Round duct elbow 90", "elbow angle 90"},
           {"Lateral tee", "tee angle 45"},
           {"S-bend", "offset"},
           {"T-piece", "tee"},
           {"Reducing tee", "tee"},
           {"Y-branch", "wye"},
           {"Straight duct", "straight"},
           {"Straight tee", "tee"},
           {"Sq. to Rd.", "square_to_round"},
           {"Rectangular to round transition", "square_to_round"},
           {"Round to square, galv.", "square_to_round"},
           {"Square tee", "tee"},
           {"Bend reducer", "unknown"},
           {"Access door", "unknown"},
           {"", "unknown"},
           {"5 elbow", "unknown"}})
    EXPECT_EQ(kind(text), meaning) << text;
  EXPECT_NE(kind_words("Lateral", k_kinds)->assumed, "");
  EXPECT_EQ(kind_words("30 deg lateral", k_kinds)->assumed, "");
  EXPECT_EQ(kind_words("conical tee", k_kinds)->needs, "branch_base");
}

TEST(Kinds, OwnKindsCountByTheirName) {
  EXPECT_EQ(kind_words("square to round", {"square_to_round"})->kind, "square_to_round");
  EXPECT_FALSE(kind_words("square to round", {"tee"}));
}

TEST(Totals, AreTold) {
  for (const char* text : {"Total", "TOTALS:", "Grand total", "Sub-total", "Sum"})
    EXPECT_TRUE(says_total(text)) << text;
  for (const char* text : {"T-1", "Totem", "Summit duct", ""}) EXPECT_FALSE(says_total(text)) << text;
}

}  // namespace
}  // namespace linerwright
