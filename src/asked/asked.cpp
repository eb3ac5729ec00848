#include "linerwright/asked.hpp"

#include <exception>
#include <functional>

#include "kinds.hpp"
#include "layers.hpp"
#include "proofs.hpp"

namespace linerwright::asked {

namespace {

void unread(std::vector<Finding>& findings, const std::string& name, const std::string& why) {
  findings.push_back({name, 1.0, 0.0, false, "unread", why});
}

void prove_layer(const Layer& layer, std::vector<Finding>& all) {
  std::vector<Finding> findings;
  const MadeFitting& made = layer.made;
  const Wanted as_written = layer.walls(wanted(made.request));
  const Wanted shells = shells_of(made.request);
  Case asked{layer.files, made, as_written, shells, {}, findings};
  asked.cuts = cuts_of(made, as_written, findings);
  const std::pair<const char*, std::function<void()>> parts[] = {
      {"division", [&] { prove_division(asked); }},
      {"patterns", [&] { prove_patterns(asked); }},
      {"ordinates", [&] { prove_ordinates(asked); }},
      {"blanks", [&] { prove_blanks(asked); }},
      {"notched", [&] { prove_notched(asked); }},
      {"bodies", [&] { prove_bodies(asked, layer.bodies); }},
      {"templates", [&] { prove_templates(asked); }},
      {"duct joints", [&] { prove_duct_joints(asked, layer.bodies); }},
      {"meshes",
       [&] {
         if (made.request.outer == 0.0) prove_meshes(asked);
       }},
      {"figures",
       [&] {
         if (made.request.outer == 0.0) prove_figures(asked);
       }},
      {"words", [&] { prove_words(asked); }}};
  for (const auto& [name, prove] : parts) {
    try {
      prove();
    } catch (const std::exception& error) {
      unread(findings, name, error.what());
    }
  }
  for (Finding& finding : findings) {
    if (made.request.outer > 0.0) finding.name = "layer 2 " + finding.name;
    all.push_back(std::move(finding));
  }
}

}  // namespace

std::vector<Finding> prove_asked(const Files& files, const std::vector<Body>& bodies) {
  std::vector<Finding> findings;
  try {
    const auto json = files.find("fitting.json");
    if (json == files.end()) throw Unreadable("fitting.json is missing");
    const MadeFitting made = read_made(json->second);
    for (const Layer& layer : layers_of(made, files, bodies)) prove_layer(layer, findings);
  } catch (const std::exception& error) {
    unread(findings, "request", error.what());
  }
  return findings;
}

}  // namespace linerwright::asked
