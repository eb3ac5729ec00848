// The parts of the proof. Each adds its lines to `findings`; they throw Unreadable for files that cannot be
// read.
#pragma once

#include <map>
#include <optional>
#include <tuple>

#include "flat.hpp"
#include "made.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// A pattern's part of the fitting, with what fitting.json says of it.
struct Cut {
  const MadePiece* made = nullptr;
  Part part;
  double lift = 0.0;        // of a cylinder: y on the board of height 0, from the first ordinate
  bool known_edges = true;  // a ring whose cuts are no square ones is held by its sums alone
};

// Volumes that bodies and meshes are both held against, integrated once: liners by wall and depths, what lies
// inside a depth, the metal.
struct Integrals {
  std::map<std::tuple<std::string, double, double>, double> liners;
  std::map<double, double> insides;
  std::optional<double> metal;
};

// What is proved, and from what.
struct Case {
  const Files& files;
  const MadeFitting& made;
  const Wanted& wanted;
  const Wanted& shells;  // the same with mitred joints: metal and bore follow these
  std::vector<Cut> cuts;
  std::vector<Finding>& findings;
  Integrals integrals{};
};

// Finds each piece's wall by its id: "2", "bodyb", "taperp1". Adds what is missing or too much as a finding.
std::vector<Cut> cuts_of(const MadeFitting& made, const Wanted& wanted, std::vector<Finding>& findings);

void prove_division(Case& asked);   // rings and panels that are stated
void prove_patterns(Case& asked);   // girths, contours, cuts
void prove_ordinates(Case& asked);  // heights at stations, holes
void prove_blanks(Case& asked);     // gores from one board
void prove_notched(Case& asked);
void prove_templates(Case& asked);  // of the hole that a tap needs
void prove_bodies(Case& asked, const std::vector<Body>& bodies);
void prove_duct_joints(Case& asked, const std::vector<Body>& bodies);  // lengths of duct inside one lining
void prove_meshes(Case& asked);
void prove_figures(Case& asked);  // parameters, volumes, bore
void prove_facts(Case& asked);    // what a bend, a cone, a joint measures
void prove_words(Case& asked);    // labels, comments, units, layers

// Whether a pattern's piece belongs to the wall: its id, and a ring's letter and a panel's number after it.
bool belongs(const std::string& piece, const std::string& wall);
// Which ring of the wall it is, from its low end on; nothing where the wall is not cut into rings.
std::optional<std::size_t> ring_of(const std::string& piece, const std::string& wall);

}  // namespace linerwright::asked
