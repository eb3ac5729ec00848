// The defaults as README and the help of `make` word them: 0.75in, 0.8mm and so on.
#include "request.hpp"

namespace linerwright::asked {

namespace {

using Keys = std::map<std::string, KeyMeaning>;

Keys with_liner(Keys keys) {
  keys.merge(Keys{{"thickness", {What::length, ""}},
                  {"gauge", {What::length, "0.8mm"}},
                  {"fit_allowance", {What::length, "0.75in"}},
                  {"end_allowance", {What::length, "0mm"}},
                  {"butt_allowance", {What::length, "0mm"}},
                  {"neutral_factor", {What::number, "0"}},
                  {"face_up", {What::word, "duct"}},
                  {"cut", {What::word, "outer"}},
                  {"joint", {What::word, "mitre"}},
                  {"flow_arrow", {What::word, "along"}},
                  {"stations", {What::number, "12"}},
                  {"min_taper", {What::length, "12in"}},
                  {"fold_above", {What::length, ""}},
                  {"fold_thickness", {What::length, ""}},
                  {"least_open_area", {What::number, ""}},
                  {"pins_above", {What::length, "60in"}},
                  {"pin_edge", {What::length, "3in"}},
                  {"pin_around", {What::length, "12in"}},
                  {"pin_along", {What::length, "18in"}},
                  {"density", {What::density, "48kg/m3"}},
                  {"conductivity", {What::conductivity, "0.036W/(m K)"}},
                  {"roughness", {What::length, "0.9mm"}},
                  {"metal_roughness", {What::length, "0.09mm"}},
                  {"max_velocity", {What::velocity, "6000fpm"}},
                  {"board_width", {What::length, ""}},
                  {"board_length", {What::length, ""}},
                  {"min_panel", {What::length, "100mm"}},
                  {"division", {What::word, ""}},
                  {"second_layer", {What::length, ""}},
                  {"second_seam", {What::angle, ""}},
                  {"second_fit_allowance", {What::length, ""}},
                  {"second_end_allowance", {What::length, ""}},
                  {"second_butt_allowance", {What::length, ""}},
                  {"second_neutral_factor", {What::number, ""}},
                  {"second_face_up", {What::word, ""}},
                  {"second_density", {What::density, ""}},
                  {"second_conductivity", {What::conductivity, ""}},
                  {"second_board_width", {What::length, ""}},
                  {"second_board_length", {What::length, ""}},
                  {"flow", {What::flow, ""}},
                  {"tilt_sign", {What::word, "air_right"}},
                  {"tilt_zero", {What::angle, "0"}},
                  {"pivot_height", {What::length, "0mm"}},
                  {"tilt_limit", {What::angle, "45"}},
                  {"loss_coefficient", {What::number, ""}},
                  {"bare_loss_coefficient", {What::number, ""}},
                  {"upstream", {What::word, ""}},
                  {"downstream", {What::word, ""}},
                  {"surface", {What::word, ""}},
                  {"note", {What::word, ""}},
                  {"openings", {What::word, ""}},
                  {"diameter", {What::length, ""}}});
  return keys;
}

}  // namespace

const std::map<std::string, KeyMeaning>& meanings(const std::string& kind) {
  static const std::map<std::string, Keys> all{
      {"straight", with_liner({{"length", {What::length, ""}},
                               {"duct_lengths", {What::length, ""}},
                               {"seam_at", {What::angle, "0"}},
                               {"hold_back_start", {What::length, "0mm"}},
                               {"hold_back_end", {What::length, "0mm"}}})},
      {"elbow", with_liner({{"angle", {What::angle, ""}},
                            {"pieces", {What::number, ""}},
                            {"radius_ratio", {What::number, "1.5"}},
                            {"centreline_radius", {What::length, ""}},
                            {"collar", {What::length, "0mm"}},
                            {"form", {What::word, "gored"}},
                            {"seam", {What::word, "throat"}},
                            {"gap_limit", {What::length, ""}},
                            {"hold_back_start", {What::length, "0mm"}},
                            {"hold_back_end", {What::length, "0mm"}}})},
      {"offset", with_liner({{"offset", {What::length, ""}},
                             {"rise", {What::length, ""}},
                             {"roll", {What::length, ""}},
                             {"length", {What::length, ""}},
                             {"angle", {What::angle, ""}},
                             {"pieces", {What::number, "3"}},
                             {"radius_ratio", {What::number, "1.5"}},
                             {"centreline_radius", {What::length, ""}},
                             {"form", {What::word, "gored"}},
                             {"gap_limit", {What::length, ""}},
                             {"collar", {What::length, "0mm"}},
                             {"hold_back_start", {What::length, "0mm"}},
                             {"hold_back_end", {What::length, "0mm"}},
                             {"seam", {What::word, "throat"}}})},
      {"reducer", with_liner({{"to_diameter", {What::length, ""}},
                              {"length", {What::length, ""}},
                              {"collar", {What::length, "0mm"}},
                              {"to_collar", {What::length, "0mm"}},
                              {"offset", {What::length, "0mm"}},
                              {"flat", {What::word, "false"}},
                              {"flat_at", {What::angle, "0"}},
                              {"seam_at", {What::angle, "180"}},
                              {"pattern", {What::word, "sector"}},
                              {"panels", {What::number, ""}},
                              {"split", {What::word, "none"}},
                              {"notches", {What::number, ""}},
                              {"kerf_pitch", {What::length, ""}},
                              {"trim", {What::length, "4in"}},
                              {"collar_trim", {What::length, "2in"}},
                              {"hold_back_start", {What::length, "0mm"}},
                              {"hold_back_end", {What::length, "0mm"}}})},
      {"tee", with_liner({{"length", {What::length, ""}},
                          {"branch_diameter", {What::length, ""}},
                          {"branch_length", {What::length, ""}},
                          {"angle", {What::angle, "90"}},
                          {"position", {What::length, ""}},
                          {"around", {What::angle, "0"}},
                          {"offset", {What::length, "0mm"}},
                          {"branch_base", {What::length, ""}},
                          {"branch_flow", {What::flow, ""}},
                          {"body_seam", {What::angle, ""}},
                          {"hold_back_start", {What::length, "0mm"}},
                          {"hold_back_end", {What::length, "0mm"}},
                          {"turn_to", {What::angle, ""}},
                          {"pieces", {What::number, "3"}},
                          {"radius_ratio", {What::number, "1.5"}},
                          {"centreline_radius", {What::length, ""}},
                          {"collar", {What::length, "0mm"}},
                          {"hold_back_branch", {What::length, "0mm"}},
                          {"branch_seam", {What::angle, ""}}})},
      {"tap", with_liner({{"hold_back_end", {What::length, "0mm"}},
                          {"branch_diameter", {What::length, ""}},
                          {"branch_length", {What::length, ""}},
                          {"angle", {What::angle, "90"}},
                          {"offset", {What::length, "0mm"}},
                          {"branch_base", {What::length, ""}},
                          {"branch_seam", {What::angle, ""}}})},
      {"cap", with_liner({{"length", {What::length, ""}},
                          {"seat", {What::word, "butt"}},
                          {"hold_back_start", {What::length, "0mm"}}})},
      {"square_to_round", with_liner({{"width", {What::length, ""}},
                                      {"height", {What::length, ""}},
                                      {"length", {What::length, ""}},
                                      {"shift_right", {What::length, "0mm"}},
                                      {"shift_up", {What::length, "0mm"}},
                                      {"round_collar", {What::length, "0mm"}},
                                      {"square_collar", {What::length, ""}},
                                      {"pieces", {What::number, "2"}},
                                      {"least_bend", {What::length, "6in"}}})},
      {"path", with_liner({{"hold_back_start", {What::length, "0mm"}},
                           {"hold_back_end", {What::length, "0mm"}},
                           {"parts", {What::word, ""}},
                           {"pieces", {What::number, "3"}},
                           {"radius_ratio", {What::number, "1.5"}},
                           {"centreline_radius", {What::length, ""}},
                           {"seam", {What::word, "throat"}}})},
      {"wye", with_liner({{"inlet_length", {What::length, ""}},
                          {"legs", {What::number, "2"}},
                          {"leg_diameter", {What::length, ""}},
                          {"leg_length", {What::length, ""}},
                          {"angle", {What::angle, ""}},
                          {"around", {What::angle, ""}},
                          {"branch_flow", {What::flow, ""}},
                          {"hold_back_start", {What::length, "0mm"}},
                          {"hold_back_leg", {What::length, "0mm"}},
                          {"leg_seam", {What::angle, "0"}},
                          {"inlet_seam", {What::angle, "45"}}})}};
  const auto found = all.find(kind);
  if (found == all.end()) throw Unreadable("'" + kind + "' is no kind of fitting");
  return found->second;
}

bool Request::stated(const std::string& key) const {
  if (written.count(key) > 0) return true;
  const auto meaning = meanings(kind).find(key);
  return meaning != meanings(kind).end() && !meaning->second.otherwise.empty();
}

std::string Request::word(const std::string& key) const {
  const auto found = written.find(key);
  if (found != written.end()) return found->second;
  if (!stated(key)) throw Unreadable(key + " is not written");
  return meanings(kind).at(key).otherwise;
}

bool Request::flag(const std::string& key) const {
  const std::string written_as = word(key);
  return written_as.empty() || written_as == "true" || written_as == "yes";
}

double Request::value(const std::string& key) const {
  return value(key, 0);
}

double Request::allowance(bool open) const {
  return value(open ? "end_allowance" : "butt_allowance");
}

namespace {

std::vector<std::string> parts_of(const std::string& text) {
  std::vector<std::string> parts;
  std::size_t at = 0;
  for (std::size_t next = text.find('&'); next != std::string::npos; next = text.find('&', at)) {
    parts.push_back(text.substr(at, next - at));
    at = next + 1;
  }
  parts.push_back(text.substr(at));
  for (std::string& part : parts) {
    while (!part.empty() && part.front() == ' ') part.erase(0, 1);
    while (!part.empty() && part.back() == ' ') part.pop_back();
  }
  return parts;
}

}  // namespace

double Request::value(const std::string& key, std::size_t i) const {
  const std::vector<std::string> parts = parts_of(word(key));
  const auto meaning = meanings(kind).find(key);
  if (meaning == meanings(kind).end()) throw Unreadable("'" + key + "' is no key of a " + kind);
  // a default is in the unit that it names; a bare number in it is in degrees or without unit
  return value_of(parts.size() == 1 ? parts[0] : parts.at(i), meaning->second.what, inches);
}

bool Request::stated(const std::string& key, std::size_t i) const {
  if (!stated(key)) return false;
  const std::vector<std::string> parts = parts_of(word(key));
  const std::string& part = parts.size() == 1 ? parts[0] : i < parts.size() ? parts[i] : std::string();
  return !part.empty() && part != "-";
}

std::size_t Request::count(const std::string& key) const {
  return parts_of(word(key)).size();
}

}  // namespace linerwright::asked
