#include "linerwright/asked/asked.hpp"

#include <algorithm>
#include <exception>
#include <functional>

#include "hull_proofs.hpp"
#include "kinds.hpp"
#include "layers.hpp"
#include "proofs.hpp"
#include "seal.hpp"

namespace linerwright::asked {

namespace {

void unread(std::vector<Finding>& findings, const std::string& name, const std::string& why) {
  findings.push_back({name, 1.0, 0.0, false, "unread", why});
}

using Proofs = std::vector<std::pair<const char*, std::function<void()>>>;

// Of walls that are rolled, or flat all over.
Proofs proofs_of_walls(Case& asked, const Layer& layer) {
  return {{"division", [&] { prove_division(asked); }},
          {"patterns", [&] { prove_patterns(asked); }},
          {"ordinates", [&] { prove_ordinates(asked); }},
          {"blanks", [&] { prove_blanks(asked); }},
          {"notched", [&] { prove_notched(asked); }},
          {"bodies", [&] { prove_bodies(asked, layer.bodies); }},
          {"templates", [&] { prove_templates(asked); }},
          {"duct joints", [&] { prove_duct_joints(asked, layer.bodies); }},
          {"meshes",
           [&asked] {
             if (asked.made.request.outer == 0.0) prove_meshes(asked);
           }},
          {"figures",
           [&asked] {
             if (asked.made.request.outer == 0.0) prove_figures(asked);
           }},
          {"facts", [&] { prove_facts(asked); }},
          {"words", [&] { prove_words(asked); }}};
}

// Of a wall that is partly flat.
Proofs proofs_of_hull(Case& asked, const Layer& layer, const Hull& hull) {
  return {{"patterns", [&] { prove_hull_patterns(asked, hull); }},
          {"ordinates", [&] { prove_hull_ordinates(asked, hull); }},
          {"bodies", [&] { prove_hull_bodies(asked, hull, layer.bodies); }},
          {"meshes", [&] { prove_hull_meshes(asked, hull); }},
          {"lengths", [&] { prove_hull_lengths(asked, hull); }},
          {"figures", [&] { prove_figures(asked); }},
          {"bore", [&] { prove_hull_bore(asked, hull); }},
          {"words", [&] { prove_words(asked); }}};
}

void run(const Proofs& proofs, std::vector<Finding>& findings) {
  for (const auto& [name, prove] : proofs) {
    try {
      prove();
    } catch (const std::exception& error) {
      unread(findings, name, error.what());
    }
  }
}

// The straight collar on a square-to-round: its pieces are those of a wall that is rolled.
void prove_collar(const Layer& layer, const Wanted& wanted, std::vector<Finding>& all) {
  if (wanted.walls.empty()) return;
  std::vector<Finding> findings;
  MadeFitting made = layer.made;
  const auto other = [](const MadePiece& piece) { return !belongs(piece.id, "collar"); };
  made.pieces.erase(std::remove_if(made.pieces.begin(), made.pieces.end(), other), made.pieces.end());
  Case asked{layer.files, made, wanted, wanted, {}, findings};
  asked.cuts = cuts_of(made, wanted, findings);
  run({{"division", [&] { prove_division(asked); }},
       {"patterns", [&] { prove_patterns(asked); }},
       {"ordinates", [&] { prove_ordinates(asked); }}},
      findings);
  for (Finding& finding : findings) {
    finding.name = "collar " + finding.name;
    all.push_back(std::move(finding));
  }
}

void prove_layer(const Layer& layer, std::vector<Finding>& all) {
  std::vector<Finding> findings;
  MadeFitting made = layer.made;
  const bool partly_flat = made.request.kind == "square_to_round";
  const Wanted as_written = layer.walls(wanted(made.request));
  const Wanted shells = partly_flat ? as_written : shells_of(made.request);
  Case asked{layer.files, made, as_written, shells, {}, findings};
  Hull hull;
  if (partly_flat) {
    hull = hull_of(made.request);
    prove_collar(layer, as_written, findings);
    const auto of_collar = [](const MadePiece& piece) { return belongs(piece.id, "collar"); };
    if (hull.collar > 0.0)
      made.pieces.erase(std::remove_if(made.pieces.begin(), made.pieces.end(), of_collar), made.pieces.end());
    prove_hull_panels(layer.files, made, hull, findings);
    const auto of_panel = [](const MadePiece& piece) { return panel_side(piece.id) >= 0; };
    if (hull.square > 0.0)
      made.pieces.erase(std::remove_if(made.pieces.begin(), made.pieces.end(), of_panel), made.pieces.end());
    for (const MadePiece& piece : made.pieces) asked.cuts.push_back({&piece, {}, 0.0, false});
  } else {
    asked.cuts = cuts_of(made, as_written, findings);
  }
  run(partly_flat ? proofs_of_hull(asked, layer, hull) : proofs_of_walls(asked, layer), findings);
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
    prove_seal(json->second, findings);
    for (const Layer& layer : layers_of(made, files, bodies)) prove_layer(layer, findings);
  } catch (const std::exception& error) {
    unread(findings, "request", error.what());
  }
  return findings;
}

}  // namespace linerwright::asked
