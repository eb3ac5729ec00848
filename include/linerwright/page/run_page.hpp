// The page of a run.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/page/page.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

// A body in its place, in space.
struct RunPagePart {
  std::size_t fitting;  // index in the run
  PartRole role;
  Mesh mesh;
};

struct RunPage {
  const LaidRun& run;
  const BoreRun& losses;
  std::vector<RunPagePart> parts;  // none: no 3D view
  std::vector<std::string> pages;  // of each fitting, from the run's folder; empty: none
  std::vector<std::string> files;  // beside the page
  std::string script{};            // address of shared_script(); empty: the page carries it
};

// The page as HTML, UTF-8: the run in 3D (cut open, walked along, bore by velocity), line drawing, fittings,
// joints, bore, losses and order of work.
std::string run_page(const RunPage& page);

}  // namespace linerwright
