// The part of the audit that concerns what the knife follows.
#pragma once

#include "findings.hpp"
#include "linerwright/draw/draw.hpp"

namespace linerwright {

// Contours, directions, doubled and crossing lines, short segments and labels of a file whose numbers are all
// finite.
void audit_cuts(const DxfFile& file, const AuditExpectations& expected, Findings& findings);

}  // namespace linerwright
