// What a job says about its stock and the knife table; the kinds know nothing of either.
#include <fmt/format.h>

#include "common.hpp"

namespace linerwright {

namespace {

KeySpec of(KeySpec key, Quantity quantity) {
  key.quantity = quantity;
  return key;
}

KeySpec edge_key(const char* name, const std::string& where) {
  return optional_key(length_key(
      name, "kept free " + where + ", in the place of edge_trim (default: edge_trim)", {}, 0.0, 500.0));
}

}  // namespace

std::vector<KeySpec> stock_keys() {
  return {
      optional_key(text_key("name", "what you call it")),
      length_key("width", "along the duct's axis", "48in", 50.0, 20000.0),
      length_key("length", "around the duct: the board bends only this way; of a roll all there is on it",
                 "120in", 50.0, 100000.0),
      choice_key("form", "a roll is cut off at the used length", k_stock_choices, StockForm::sheet),
      optional_key(integer_key("quantity", "how many there are; as many as needed where nothing is said", {},
                               0, 1000000)),
      optional_key(
          length_key("thickness", "of the liner it is for; any where nothing is said", {}, 1.0, 300.0)),
      with_default(length_key("edge_trim", "kept free along all four edges", {}, 0.0, 500.0), "0mm"),
      edge_key("trim_left", "at the beginning of the length, where x is 0"),
      edge_key("trim_right", "at the end of the length"),
      edge_key("trim_bottom", "along the edge where y is 0"),
      edge_key("trim_top", "along the other long edge"),
      with_default(
          length_key("gap", "least distance between pieces; the largest of all stock counts", {}, 0.0, 200.0),
          "3mm"),
      optional_key(length_key("kerf_pitch", "of a board with kerfs across: shown along its long edges", {},
                              2.0, 1000.0)),
      optional_key(of(length_key("cost", "of one board or of the whole roll, in your money", {}, 0.0, 1e9),
                      Quantity::number)),
      optional_key(
          of(length_key("mass", "per area; thickness times the liner's density where nothing is said", {},
                        0.01, 200.0),
             Quantity::area_mass)),
  };
}

std::vector<KeySpec> division_keys() {
  return {
      choice_key("divide",
                 "pieces larger than their board: never; evenly, into the fewest equal ones; if needed, as "
                 "the boards are best used; if it saves: others, too",
                 k_divide_choices, Divide::if_needed),
      quantity_key("seam_cost", Quantity::number,
                   "what a metre of seam that an even division does not have must save, in boards", "0.01",
                   0.0, 10.0),
      choice_key("sequence",
                 "boards and pieces in the order of the shortest way, or so that each fitting is complete "
                 "soonest",
                 k_sequence_choices, BoardOrder::by_board),
      choice_key("zero", "the corner of the board that is the table's zero", k_zero_choices, ZeroCorner{}),
      choice_key(
          "turn",
          "by how many degrees, counter-clockwise, the board's length is turned away from the table's x",
          k_turn_choices, 0),
      with_default(length_key("pen_width", "of the pen that draws QR codes", {}, 0.2, 2.0), "0.5mm")};
}

std::vector<KeySpec> sticker_keys() {
  const auto size = [](const char* name, const char* help, double least, double most) {
    return optional_key(length_key(name, help, {}, least, most));
  };
  return {
      optional_choice_key("paper", "of the sheets (default: letter where the job is in inches, else a4)",
                          k_paper_choices),
      size("width", "of a sticker (default: 70 mm on a4, 2.625 in on letter)", 20.0, 280.0),
      size("height", "of a sticker (default: 37 mm on a4, 1 in on letter)", 10.0, 280.0),
      size("left", "from the sheet's left edge to the first (default: 0 mm on a4, 0.1875 in on letter)", 0.0,
           150.0),
      size("top", "from the sheet's upper edge to the first (default: 0.5 mm on a4, 0.5 in on letter)", 0.0,
           150.0),
      size("across", "from one to the next beside it (default: 0 mm on a4, 0.125 in on letter)", 0.0, 100.0),
      size("down", "from one to the next below it (default: 0 mm)", 0.0, 100.0)};
}

std::vector<KeySpec> dxf_keys() {
  std::vector<KeySpec> keys;
  for (const char* layer :
       {"CUT", "DUCT_FACE", "AIR_FACE", "OUTER_FACE", "INNER_FACE", "MARK", "LABEL", "SCALE", "STOCK"})
    keys.push_back(optional_key(
        text_key(fmt::format("layers.{}", layer),
                 "your name for this layer, and its colour by number after a comma, \"KNIFE, 5\"")));
  keys.push_back(
      optional_key(text_key("layers.order",
                            "layers in the order of their lines in the file, \"LABEL, MARK, CUT\"; the rest "
                            "stays behind them")));
  return keys;
}

std::vector<KeySpec> rate_keys() {
  const auto money = [](const char* name, const char* help) {
    return optional_key(of(length_key(name, help, {}, 0.0, 1e9), Quantity::number));
  };
  const auto pace = [](const char* name, const char* help) {
    return optional_key(of(length_key(name, help, {}, 0.0, 1e4), Quantity::number));
  };
  return {
      optional_key(text_key("currency", "name of the money, printed in the heads")),
      optional_key(integer_key("boards_in_pack", "boards are bought in packs of so many", {}, 1, 10000)),
      optional_key(length_key("tape_roll", "length of tape on a roll", {}, 100.0, 1e6)),
      money("tape_roll_price", "of a roll"),
      optional_key(length_key("sealant_tube", "length of joint that a tube seals", {}, 100.0, 1e6)),
      money("sealant_tube_price", "of a tube"),
      optional_key(
          of(length_key("adhesive_tube", "area of liner that a tube glues", {}, 1e3, 1e9), Quantity::area)),
      money("adhesive_tube_price", "of a tube"),
      optional_key(of(length_key("pin_box", "pins in a box", {}, 1.0, 1e6), Quantity::number)),
      money("pin_box_price", "of a box"),
      money("hour_price", "of an hour of work"),
      pace("minutes_per_m_of_cut", "minutes of work for each metre of cut"),
      pace("minutes_per_ft_of_cut", "minutes of work for each foot of cut"),
      pace("minutes_per_piece", "minutes to roll and fit a piece"),
      pace("minutes_per_m2", "minutes more for each square metre of liner"),
      pace("minutes_per_ft2", "minutes more for each square foot of liner"),
  };
}

std::vector<KeySpec> head_keys() {
  const double quarter = 0.5 * k_pi;
  return {
      optional_choice_key("tilt_sign",
                          "tilting head: above tilt_zero the air face is cut further to the right of the "
                          "heading (air_right), or the blade's lower end lies to its right or left "
                          "(default: air_right)",
                          k_tilt_sign_choices),
      optional_key(
          of(length_key("tilt_zero", "tilting head: what it shows with the blade upright (default: 0)", {},
                        -k_pi, k_pi),
             Quantity::angle)),
      optional_key(length_key("pivot_height",
                              "tilting head: height of its pivot above the board's upper face (default: 0)",
                              {}, 0.0, 2000.0)),
      optional_key(
          of(length_key("tilt_limit",
                        "tilting head: how far it leans; more is a warning (default: 45, common practice, no "
                        "source)",
                        {}, 0.0, quarter),
             Quantity::angle)),
  };
}

std::vector<KeySpec> knife_keys() {
  const std::string practice = " (common practice, no source)";
  std::vector<KeySpec> keys{
      quantity_key("cut_speed", Quantity::velocity, "of the knife" + practice, "0.25m/s", 0.001, 10.0),
      quantity_key("mark_speed", Quantity::velocity, "of the pen" + practice, "0.4m/s", 0.001, 10.0),
      quantity_key("travel_speed", Quantity::velocity, "in the air" + practice, "0.8m/s", 0.001, 10.0),
      quantity_key("entry_time", Quantity::number, "seconds to lower and lift the knife" + practice, "0.8",
                   0.0, 60.0),
      quantity_key("mark_time", Quantity::number, "seconds to lower and lift the pen" + practice, "0.15", 0.0,
                   60.0),
      quantity_key("board_time", Quantity::number, "seconds to load and clear a board" + practice, "120", 0.0,
                   3600.0),
      with_default(length_key("overcut", "how far a closed cut runs on over its beginning", {}, 0.0, 20.0),
                   "0mm"),
  };
  KeySpec corner = text_key("corner",
                            "where a cut turns sharply: none, it turns there; stop, it lifts there; run past "
                            "3mm, it runs on into waste by so much and lifts");
  corner.default_value = "none";
  keys.push_back(corner);
  for (KeySpec& key : head_keys()) keys.push_back(std::move(key));
  return keys;
}

}  // namespace linerwright
