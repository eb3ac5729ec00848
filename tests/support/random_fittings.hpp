// Random fittings of every kind, not all of which can be made: the one place where a new kind is added.
#pragma once

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "support/chance.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

namespace random {

inline void straight(Chance& chance, Flags& flags, double) {
  flags["length"] = chance.number(50.0, 3000.0);
}

inline void elbow(Chance& chance, Flags& flags, double) {
  flags["angle"] = chance.number(15.0, 120.0);
  flags["pieces"] = chance.pick({"2", "3", "4", "5", "7"});
  flags["radius_ratio"] = chance.number(1.0, 2.0);
  flags["collar"] = chance.number(0.0, 120.0);
  flags["form"] = chance.pick({"gored", "smooth"});
  flags["seam"] = chance.pick({"throat", "heel"});
}

inline void offset(Chance& chance, Flags& flags, double d) {
  const double angle = chance.between(10.0, 75.0);
  const double centreline = d * chance.between(0.8, 2.0);
  const double turns = 2.0 * centreline * (1.0 - std::cos(angle * k_pi / 180.0));
  flags["angle"] = fixed(angle, 3);
  flags["offset"] = fixed(turns + d * chance.between(0.0, 3.0), 3);
  flags["centreline_radius"] = fixed(centreline, 3);
  flags["pieces"] = chance.pick({"2", "3", "4", "5"});
  flags["collar"] = chance.number(0.0, 120.0);
  flags["seam"] = chance.pick({"throat", "heel"});
  if (chance.one_in(3)) flags["form"] = "smooth";
}

inline void reducer(Chance& chance, Flags& flags, double d) {
  flags["to_diameter"] = fixed(d * chance.between(0.6, 1.4), 3);
  flags["length"] = fixed(d * chance.between(0.5, 2.0), 3);
  flags["collar"] = chance.pick({"0", "60", "120"});
  flags["to_collar"] = chance.pick({"0", "60", "120"});
  flags["flat_at"] = chance.number(0.0, 360.0);
  if (chance.one_in(3)) flags["seam_at"] = chance.number(-360.0, 360.0);
  if (chance.one_in(2))
    flags["flat"] = "yes";
  else if (chance.one_in(2))
    flags["offset"] = fixed(d * chance.between(0.0, 0.2), 3);
  if (!chance.one_in(3)) return;
  flags["pattern"] = "notched";
  flags["split"] = chance.pick({"none", "seam"});
}

inline void tee(Chance& chance, Flags& flags, double d) {
  const double angle = chance.between(35.0, 145.0);
  const double branch = d * (chance.one_in(4) ? chance.pick({0.9999, 1.0}) : chance.between(0.35, 1.0));
  const double reach = (d + branch) / std::sin(angle * k_pi / 180.0);
  flags["branch_diameter"] = fixed(branch, 3);
  flags["angle"] = fixed(angle, 3);
  flags["length"] = fixed(2.0 * reach + 200.0, 3);
  flags["branch_length"] = fixed(1.2 * reach + 150.0, 3);
  flags["offset"] = fixed(0.5 * (d - branch) * chance.between(-0.9, 0.9), 3);
  flags["around"] = chance.number(-180.0, 180.0);
  flags["joint"] = chance.pick({"mitre", "mitre", "over"});
}

inline void tap(Chance& chance, Flags& flags, double d) {
  tee(chance, flags, d);
  flags.erase("length");
  flags.erase("around");
  const double branch = parse_quantity(Quantity::length, flags["branch_diameter"], Units::metric);
  if (branch > 0.6 * d) return;  // a wide one passes no liner, and a wide cone slips off the duct's side
  flags["joint"] = chance.pick({"mitre", "over", "through"});
  if (!chance.one_in(2)) return;
  flags["branch_base"] = flags["branch_diameter"];
  flags["branch_diameter"] = fixed(branch * chance.between(0.6, 0.95), 3);
}

// Some of them turn behind their saddle.
inline void tee_or_turned(Chance& chance, Flags& flags, double d) {
  tee(chance, flags, d);
  if (!chance.one_in(3)) return;
  flags["turn_to"] = chance.pick({"0", "90", "180", chance.number(0.0, 180.0).c_str()});
  flags["pieces"] = chance.pick({"2", "3", "4", "5"});
  flags["radius_ratio"] = chance.number(0.7, 2.0);
  flags["collar"] = chance.number(0.0, 120.0);
  if (chance.one_in(4))
    flags["branch_base"] = fixed(
        std::min(d, 1.2 * parse_quantity(Quantity::length, flags["branch_diameter"], Units::metric)), 3);
}

inline void path(Chance& chance, Flags& flags, double d) {
  const auto millimetres = [](double length) { return fixed(length, 3) + "mm"; };
  double diameter = d;
  std::string parts;
  for (int left = chance.whole(2, 6), tapers = 0; left > 0; --left) {
    parts += parts.empty() ? "" : ", ";
    const int form = chance.whole(0, 3);
    if (form == 0) {
      parts += "straight " + millimetres(d * chance.between(0.1, 2.0));
    } else if (form == 1 && tapers < 2) {
      ++tapers;
      diameter *= chance.pick({0.7, 0.85, 1.2});
      parts += "taper to " + millimetres(diameter) + " over " + millimetres(d * chance.between(0.4, 1.5));
    } else {
      parts += "bend " + chance.number(15.0, 75.0) + " turn " + chance.number(-180.0, 180.0) + " pieces " +
               chance.pick({"2", "3", "4"});
    }
  }
  flags["parts"] = parts;
  flags["radius_ratio"] = chance.number(1.1, 2.0);
  flags["seam"] = chance.pick({"throat", "heel"});
}

inline void wye(Chance& chance, Flags& flags, double d) {
  const int legs = chance.one_in(3) ? 3 : 2;
  const bool flat = legs == 2 || chance.one_in(2);
  const char* const keys[] = {"leg_diameter", "leg_length", "angle", "around"};
  for (int i = 0; i < legs; ++i) {
    const double side = flat ? (i == 0 ? 0.0 : 180.0) : 360.0 * i / legs + chance.between(-30.0, 30.0);
    const double angle = flat && i == 2 ? 0.0 : chance.between(legs == 2 ? 12.0 : 35.0, 80.0);
    const double end = d * (chance.one_in(4) ? 1.0 : chance.between(0.4, 1.1));
    const double values[] = {end, d * chance.between(1.2, 3.0), angle, side};
    for (int k = 0; k < 4; ++k) flags[keys[k]] += (i > 0 ? "&" : "") + fixed(values[k], 3);
  }
  flags["legs"] = std::to_string(legs);
  flags["inlet_length"] = fixed(d * chance.between(0.5, 1.5), 3);
  flags["leg_seam"] = chance.number(-180.0, 180.0);
  flags["inlet_seam"] = chance.number(-180.0, 180.0);
}

inline void cap(Chance& chance, Flags& flags, double d) {
  flags["length"] = chance.one_in(4) ? "0" : fixed(d * chance.between(0.15, 1.5), 3);
  flags["seat"] = chance.pick({"butt", "inside", "mitre"});
}

// Linings that stop short of the metal, at any of the kind's ends.
inline void held_back(Chance& chance, Flags& flags, const KindSchema& schema) {
  if (!chance.one_in(3) || (flags.count("form") > 0 && flags["form"] == "smooth")) return;
  if (schema.kind == "cap" && flags["length"] == "0") return;  // no end is there
  for (const KeySpec& key : schema.keys)
    if (key.name.compare(0, 10, "hold_back_") == 0) flags[key.name] = chance.pick({"0", "12", "40"});
}

inline void square_to_round(Chance& chance, Flags& flags, double d) {
  const double width = d * chance.between(0.8, 1.6);
  const double height = d * chance.between(0.8, 1.6);
  flags["width"] = fixed(width, 3);
  flags["height"] = fixed(height, 3);
  // short ones end in arcs about the rectangle's corners
  const double least = chance.one_in(4) ? 0.2 : 0.5;
  flags["length"] = fixed(std::max(width, height) * chance.between(least, 4.0 * least), 3);
  if (chance.one_in(2)) {
    flags["shift_right"] = fixed(width * chance.between(-0.12, 0.12), 3);
    flags["shift_up"] = fixed(height * chance.between(-0.12, 0.12), 3);
  }
  flags["pieces"] = chance.pick({"1", "2", "4"});
  flags["thickness"] = chance.number(8.0, std::min(50.0, 0.12 * d));
  flags["cut"] = chance.pick({"outer", "duct"});
  flags.erase("neutral_factor");
  if (chance.one_in(2)) flags["round_collar"] = chance.number(40.0, 300.0);
  if (chance.one_in(3)) flags["square_collar"] = chance.number(30.0, 300.0);
}

// An access door, shaft or test hole in a piece that is rolled, where there may be room for it.
inline void openings(Chance& chance, Flags& flags, const std::string& kind, double d) {
  if (!chance.one_in(4) || kind == "square_to_round") return;
  const auto length = [&](const char* key) {
    return parse_quantity(Quantity::length, flags.at(key), Units::metric);
  };
  const auto stated = [&](const char* key) { return flags.count(key) > 0; };
  double at = 0.25 * d;
  std::string piece = "1";
  if (kind == "straight" || kind == "cap")
    at = length("length") * chance.between(0.2, 0.7);
  else if (kind == "tee" || kind == "tap") {
    at = 0.15 * length(kind == "tee" ? "length" : "branch_length");
    piece = kind == "tee" ? "body" : "branch";
    if (kind == "tap" && stated("branch_base")) return;
  } else if (kind == "reducer") {
    at = 0.5 * length("length");
    piece = "taper";
  } else if (kind == "wye") {
    piece = chance.pick({"main", "leg1"});
    at = piece == "main" ? 0.2 * length("inlet_length") : 0.6 * std::stod(flags.at("leg_length"));
  }
  const bool alone = kind == "cap" && flags.at("length") == "0";
  if (kind == "cap") piece = alone ? "disc" : "ring";
  if (alone) at = 0.25 * d;
  std::string text = chance.pick({"sensor", "damper shaft", "test hole", "access door"});
  text += " piece " + piece + " at " + fixed(at, 3) + "mm around " + chance.number(-180.0, 180.0);
  const auto size = [&] { return fixed(std::min(0.3 * d, 0.6 * at) * chance.between(0.1, 1.0), 3) + "mm"; };
  const bool round = chance.one_in(2);
  text += round ? " diameter " + size() : " width " + size() + " length " + size();
  text += std::string(" bevel ") + (alone ? chance.pick({"square", "straight", "splayed"})
                                          : chance.pick({"square", "radial", "straight", "splayed"}));
  if (chance.one_in(3)) text += " setback " + chance.number(1.0, 20.0) + "mm";
  if (chance.one_in(3) && !stated("form")) text += " metal yes";
  flags["openings"] = text;
}

struct Kind {
  const char* name;
  void (*ask)(Chance&, Flags&, double diameter);
};

inline constexpr Kind k_kinds[] = {{"straight", straight}, {"elbow", elbow},
                                   {"offset", offset},     {"reducer", reducer},
                                   {"tee", tee_or_turned}, {"tap", tap},
                                   {"wye", wye},           {"path", path},
                                   {"cap", cap},           {"square_to_round", square_to_round}};

}  // namespace random

// The kinds there are. Throws std::logic_error where one has no random fittings.
inline std::vector<std::string> all_random_kinds() {
  std::vector<std::string> kinds;
  for (const linerwright::Kind& kind : fitting_kinds()) {
    const std::string& name = kind.schema.kind;
    if (std::none_of(std::begin(random::k_kinds), std::end(random::k_kinds),
                     [&](const random::Kind& one) { return name == one.name; }))
      throw std::logic_error("no random fittings of kind " + name);
    kinds.push_back(name);
  }
  return kinds;
}

// Those that are rolled: square-to-rounds, which are folded, have tests of their own beside them.
inline std::vector<std::string> random_kinds() {
  std::vector<std::string> kinds = all_random_kinds();
  kinds.erase(std::remove(kinds.begin(), kinds.end(), "square_to_round"), kinds.end());
  return kinds;
}

// What a shop might ask for: a duct of 150 to 900 mm.
inline Flags random_flags(Chance& chance, const std::string& kind) {
  const double d = chance.between(150.0, 900.0);
  Flags flags{{"diameter", fixed(d, 3)}, {"thickness", chance.number(8.0, std::min(50.0, 0.25 * d))}};
  flags["face_up"] = chance.pick({"duct", "air"});
  flags["cut"] = chance.pick({"outer", "mid", "duct", "air", "tilt"});
  if (chance.one_in(3)) flags["neutral_factor"] = chance.number(0.0, 0.6);
  if (chance.one_in(3)) flags["end_allowance"] = chance.number(1.0, 30.0);
  if (chance.one_in(4)) flags["butt_allowance"] = chance.number(0.5, 3.0);
  for (const random::Kind& one : random::k_kinds)
    if (kind == one.name) one.ask(chance, flags, d);
  for (const linerwright::Kind& one : fitting_kinds())
    if (kind == one.schema.kind) random::held_back(chance, flags, one.schema);
  random::openings(chance, flags, kind, d);
  return flags;
}

// The same of any kind that is rolled.
inline std::pair<std::string, Flags> random_fitting(Chance& chance) {
  static const std::vector<std::string> kinds = random_kinds();
  const std::string& kind =
      kinds[static_cast<std::size_t>(chance.whole(0, static_cast<int>(kinds.size()) - 1))];
  return {kind, random_flags(chance, kind)};
}

}  // namespace linerwright::support
