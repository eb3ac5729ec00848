// Collars of eccentric tapers in panels whose seams lie out of the plane of symmetry pass the full proof.
#include "support/cases.hpp"
#include "written.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::Written;

// Both collars and the taper; a short taper and a small board; one collar.
TEST(CollarPanels, BesideEccentricTapersPass) {
  const Flags taper{{"diameter", "1800"},
                    {"to_diameter", "1500"},
                    {"collar", "100"},
                    {"thickness", "25"},
                    {"board_width", "1220"}};
  for (const Flags& more : support::drawn<Flags>(
           "tapers",
           {Flags{{"length", "900"}, {"to_collar", "100"}, {"flat", "yes"}, {"board_length", "2440"}},
            Flags{{"length", "400"}, {"to_collar", "100"}, {"offset", "100"}, {"board_length", "1800"}},
            Flags{{"length", "600"}, {"flat", "yes"}, {"board_length", "2440"}}})) {
    const Flags flags = support::with(taper, more);
    SCOPED_TRACE(support::written("reducer", flags));
    const Written written("reducer", flags);
    EXPECT_TRUE(std::any_of(
        written.fitting.pieces.begin(), written.fitting.pieces.end(),
        [](const Piece& piece) { return piece.role.find("collar, panel 3 of") != std::string::npos; }));
    EXPECT_EQ(support::listed(written.check()), "");
  }
}

}  // namespace
}  // namespace linerwright
