// Fittings with openings, and caps, for the suites that look at what was made of a request.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "support/requests.hpp"

namespace linerwright::support {

inline Flags opened_tee() {
  return {{"diameter", "500"},        {"length", "1200"},
          {"branch_diameter", "300"}, {"branch_length", "600"},
          {"thickness", "25"},        {"openings", "sensor piece branch at 200mm around 90 diameter 20mm"}};
}

// A second layer and a hole, for a disc of 400.
inline Flags opened_disc() {
  return {{"second_layer", "15"},
          {"openings", "test hole at 185mm around 30 diameter 100mm bevel splayed metal yes"}};
}

inline std::vector<std::pair<std::string, Flags>> openings_and_caps() {
  return {
      {"straight",
       {{"diameter", "600"},
        {"length", "1200"},
        {"hold_back_start", "30"},
        {"thickness", "25"},
        {"seam_at", "200"},
        {"neutral_factor", "0.3"},
        {"openings",
         "test hole at 200mm around 60 diameter 150mm bevel straight, test hole at 500mm around 0 diameter "
         "150mm "
         "bevel splayed splay 30 setback 10mm, access door at 850mm around 90 width 200mm length 300mm "
         "setback 20mm "
         "bevel straight metal yes"}}},
      {"straight",
       {{"diameter", "24in"},
        {"length", "8ft"},
        {"thickness", "1in"},
        {"second_layer", "0.5in"},
        {"board_width", "4ft"},
        {"openings",
         "damper shaft at 48in around 30 diameter 1in metal yes, sensor at 10in around 200 diameter 1in"}}},
      {"elbow",
       {{"diameter", "400"},
        {"angle", "60"},
        {"pieces", "3"},
        {"thickness", "25"},
        {"face_up", "air"},
        {"openings", "test hole piece 2 at 90mm around 60 diameter 60mm bevel radial"}}},
      {"tee",
       with(opened_tee(), {{"openings",
                            "access door piece body at 600mm around 110 width 150mm length 200mm, sensor "
                            "piece branch at 200mm around 90 diameter 20mm"}})},
      {"cap",
       {{"diameter", "400"},
        {"length", "300"},
        {"thickness", "25"},
        {"hold_back_start", "20"},
        {"butt_allowance", "2"}}},
      {"cap",
       {{"diameter", "24in"},
        {"length", "1ft"},
        {"thickness", "1in"},
        {"seat", "inside"},
        {"second_layer", "0.5in"}}},
      {"cap",
       {{"diameter", "500"},
        {"length", "200"},
        {"thickness", "25"},
        {"seat", "mitre"},
        {"face_up", "air"},
        {"cut", "mid"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "600"},
        {"length", "320"},
        {"thickness", "25"},
        {"cut", "mid"},
        {"face_up", "air"},
        {"openings",
         "access door at 150mm around 90 width 200mm length 120mm bevel radial setback 10mm, access door at "
         "150mm around -90 width 200mm length 120mm bevel straight metal yes"}}},
      // over the flat side of an eccentric taper, where its faces usually meet, and beside it
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "400"},
        {"length", "500"},
        {"flat", "yes"},
        {"flat_at", "40"},
        {"collar", "80"},
        {"thickness", "25"},
        {"second_layer", "15"},
        {"openings",
         "access door piece taper at 250mm around 0 width 200mm length 120mm bevel straight setback 10mm "
         "metal "
         "yes, "
         "test hole piece taper at 150mm around 80 diameter 90mm bevel splayed splay 20 setback 5mm"}}},
      {"reducer",
       {{"diameter", "300"},
        {"to_diameter", "500"},
        {"length", "400"},
        {"offset", "70"},
        {"thickness", "25"},
        {"cut", "tilt"},
        {"face_up", "air"},
        {"openings",
         "access door at 200mm around -90 width 150mm length 120mm bevel radial setback 10mm metal yes, test "
         "hole at "
         "200mm around 20 diameter 60mm bevel straight"}}},
      // between the notches of a taper, and in the collar on its blank
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "450"},
        {"length", "400"},
        {"collar", "150"},
        {"pattern", "notched"},
        {"notches", "8"},
        {"thickness", "25"},
        {"openings",
         "access door piece taper at 200mm around 45 width 90mm length 120mm setback 10mm bevel straight, "
         "test "
         "hole "
         "piece taper at 120mm around -90 diameter 60mm bevel splayed, sensor piece collar at 70mm around 60 "
         "diameter "
         "25mm metal yes"}}},
      {"reducer",
       {{"diameter", "300"},
        {"to_diameter", "450"},
        {"length", "350"},
        {"flat", "yes"},
        {"pattern", "notched"},
        {"notches", "6"},
        {"thickness", "20"},
        {"face_up", "air"},
        {"cut", "mid"},
        {"openings", "test hole at 180mm around 60 diameter 70mm bevel radial metal yes"}}},
      {"tee", with(opened_tee(), {{"joint", "through"}})},
      // over the middle line of a flat, in rounded corners, in a collar
      {"square_to_round",
       {{"width", "600"},
        {"height", "400"},
        {"diameter", "400"},
        {"length", "400"},
        {"thickness", "25"},
        {"openings",
         "access door at 190mm around 90 width 120mm length 150mm setback 10mm bevel straight metal yes, "
         "test "
         "hole at 260mm around 45 diameter 60mm bevel splayed, sensor piece 2 at 250mm around 228 diameter "
         "25mm bevel radial metal yes"}}},
      {"square_to_round",
       {{"width", "24in"},
        {"height", "18in"},
        {"diameter", "20in"},
        {"length", "16in"},
        {"shift_right", "2in"},
        {"round_collar", "5in"},
        {"thickness", "1in"},
        {"pieces", "1"},
        {"face_up", "air"},
        {"cut", "duct"},
        {"openings",
         "test hole at 11in around 140 diameter 2in bevel straight metal yes, sensor piece collar at 3in "
         "around 30 diameter 1in metal yes, access door at 9in around 230 width 3in length 2in bevel "
         "radial"}}},
      {"cap",
       {{"diameter", "400"},
        {"length", "0"},
        {"thickness", "25"},
        {"butt_allowance", "2"},
        {"openings",
         "access door at 170mm around 30 width 150mm length 120mm bevel straight metal yes, test hole at "
         "60mm "
         "around 200 diameter 40mm bevel splayed setback 5mm"}}},
      {"cap",
       {{"diameter", "24in"},
        {"length", "0"},
        {"thickness", "1in"},
        {"seat", "inside"},
        {"second_layer", "0.5in"}}},
      {"cap",
       {{"diameter", "500"},
        {"length", "0"},
        {"thickness", "25"},
        {"second_layer", "15"},
        {"seat", "mitre"},
        {"face_up", "air"},
        {"cut", "tilt"}}},
      {"cap",
       {{"diameter", "400"},
        {"length", "300"},
        {"thickness", "25"},
        {"seat", "inside"},
        {"face_up", "air"},
        {"openings",
         "test hole piece disc at 190mm around 30 diameter 100mm bevel splayed metal yes, access door piece "
         "disc "
         "at 80mm around 200 width 60mm length 50mm setback 5mm, sensor piece ring at 100mm around 30 "
         "diameter "
         "20mm"}}}};
}

}  // namespace linerwright::support
