// Pages that open from disk with no network: one for a fitting, one for a job. They hold everything they
// show, scripts included, and allow nothing else to run or to be fetched.
#pragma once

#include <string>
#include <vector>

#include "linerwright/check.hpp"
#include "linerwright/fitting.hpp"
#include "linerwright/pattern.hpp"
#include "linerwright/solid.hpp"

namespace linerwright {

// A body of the 3D view.
struct PagePart {
  PartRole role;
  int piece = -1;  // index of the liner piece
  const Mesh* mesh;
};

// What a fitting's page shows; references must outlive the call.
struct FittingPage {
  const Fitting& fitting;
  const std::vector<Pattern>& patterns;
  std::vector<PagePart> parts;  // none: no 3D view
  std::vector<CheckResult> checks;
  std::vector<std::string> files;  // beside the page
  std::string picture;             // SVG for print; empty: a still of the 3D view stands in
};

// The page as HTML, UTF-8. Facets' corners are rounded to 1/65535 of the fitting's size.
std::string fitting_page(const FittingPage& page);

}  // namespace linerwright
