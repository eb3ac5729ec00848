// The choices of a fitting's keys and of the tables beside them.
#pragma once

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/job/choice.hpp"

namespace linerwright {

// [liner]
inline constexpr Choice<Face> k_face_up_choices[] = {{"duct", Face::duct}, {"air", Face::air}};
inline constexpr Choice<Face> k_second_face_up_choices[] = {{"outer", Face::duct}, {"inner", Face::air}};
inline constexpr Choice<CutPolicy> k_cut_choices[] = {{"outer", CutPolicy::outer},
                                                      {"mid", CutPolicy::mid},
                                                      {"duct", CutPolicy::duct},
                                                      {"air", CutPolicy::air},
                                                      {"tilt", CutPolicy::tilt}};
inline constexpr Choice<JointStyle> k_joint_choices[] = {
    {"mitre", JointStyle::mitre}, {"over", JointStyle::over}, {"through", JointStyle::through}};
inline constexpr Choice<Flow> k_flow_choices[] = {{"along", Flow::along},
                                                  {"against", Flow::against},
                                                  {"to_branch", Flow::to_branch},
                                                  {"from_branch", Flow::from_branch},
                                                  {"unmarked", Flow::unmarked}};

// Of a bend.
enum class BendForm { gored, smooth };
inline constexpr Choice<BendForm> k_form_choices[] = {{"gored", BendForm::gored},
                                                      {"smooth", BendForm::smooth}};
// Where the first piece's seam lies.
enum class FirstSeam { throat, heel };
inline constexpr Choice<FirstSeam> k_seam_choices[] = {{"throat", FirstSeam::throat},
                                                       {"heel", FirstSeam::heel}};

// Of a taper.
enum class TaperPattern { sector, notched };
inline constexpr Choice<TaperPattern> k_pattern_choices[] = {{"sector", TaperPattern::sector},
                                                             {"notched", TaperPattern::notched}};
// Large collar and taper from one blank, or a seam between them.
enum class TaperSplit { none, seam };
inline constexpr Choice<TaperSplit> k_split_choices[] = {{"none", TaperSplit::none},
                                                         {"seam", TaperSplit::seam}};

// Of a cap: how the disc meets the ring, which is the joint's lead.
inline constexpr Choice<JointStyle> k_seat_choices[] = {
    {"butt", JointStyle::through}, {"inside", JointStyle::over}, {"mitre", JointStyle::mitre}};

// The liner's air side.
enum class AirSurface { faced, coated };
inline constexpr Choice<AirSurface> k_surface_choices[] = {{"faced", AirSurface::faced},
                                                           {"coated", AirSurface::coated}};
// What the air comes from and goes on into.
enum class DuctBeside { lined, metal };
inline constexpr Choice<DuctBeside> k_beside_choices[] = {{"lined", DuctBeside::lined},
                                                          {"metal", DuctBeside::metal}};

// [knife]: to which side a blade leans where the table's tilt is above what the head shows with the blade
// upright.
enum class TiltSign {
  air_right,    // the air face is cut further to the right of the heading than the duct face
  lower_right,  // the blade's lower end lies to the right of the heading
  lower_left,   // to the left
};
inline constexpr Choice<TiltSign> k_tilt_sign_choices[] = {{"air_right", TiltSign::air_right},
                                                           {"lower_right", TiltSign::lower_right},
                                                           {"lower_left", TiltSign::lower_left}};

// [[stock]]
enum class StockForm { sheet, roll };
inline constexpr Choice<StockForm> k_stock_choices[] = {{"sheet", StockForm::sheet},
                                                        {"roll", StockForm::roll}};
// [boards]: which pieces may be divided otherwise than evenly into the fewest.
enum class Divide { never, evenly, if_needed, if_it_saves };
inline constexpr Choice<Divide> k_divide_choices[] = {{"never", Divide::never},
                                                      {"evenly", Divide::evenly},
                                                      {"if needed", Divide::if_needed},
                                                      {"if it saves", Divide::if_it_saves}};
enum class BoardOrder { by_board, by_fitting };
inline constexpr Choice<BoardOrder> k_sequence_choices[] = {{"by board", BoardOrder::by_board},
                                                            {"by fitting", BoardOrder::by_fitting}};
// The corner of the board that is the table's zero.
struct ZeroCorner {
  bool right, upper;
  bool operator==(const ZeroCorner& other) const { return right == other.right && upper == other.upper; }
};
inline constexpr Choice<ZeroCorner> k_zero_choices[] = {{"lower left", {false, false}},
                                                        {"lower right", {true, false}},
                                                        {"upper left", {false, true}},
                                                        {"upper right", {true, true}}};
// Quarter turns of the board's length away from the table's x.
inline constexpr Choice<int> k_turn_choices[] = {{"0", 0}, {"90", 1}, {"180", 2}, {"270", 3}};
// [stickers]
enum class StickerPaper { a4, letter };
inline constexpr Choice<StickerPaper> k_paper_choices[] = {{"a4", StickerPaper::a4},
                                                           {"letter", StickerPaper::letter}};

}  // namespace linerwright
