// Advance widths of the two letterings that every PDF reader has, in thousandths of the size, by the codes of
// WinAnsiEncoding from 32 on. Source: the font metrics that Adobe publishes for the fourteen standard fonts.
#pragma once

#include <array>

namespace linerwright {

using LetterWidths = std::array<int, 224>;
extern const LetterWidths k_helvetica;
extern const LetterWidths k_helvetica_bold;

}  // namespace linerwright
