// Random fittings, whole and divided for a board that is too small for them, pass the full proof from their
// files. LINERWRIGHT_CASES multiplies how many are tried.
#include "linerwright/units/error.hpp"
#include "support/random_fittings.hpp"
#include "written.hpp"

namespace linerwright {
namespace {

using support::Chance;
using support::Flags;
using support::Written;

struct Tried {
  int made = 0;
  int refused = 0;
  int divided = 0;
};

Tried prove(const std::string& kind, int count, unsigned seed, bool divided) {
  Chance chance(seed);
  Tried tried;
  for (int i = 0; i < support::cases(count); ++i) {
    Flags flags = support::random_flags(chance, kind);
    if (divided) {
      // a ring has to be wide enough for the hole in it, or for a saddle; a disc is cut in one, alone or not
      if (kind == "cap" && flags["length"] == "0") flags["length"] = "500";
      const double across = parse_quantity(Quantity::length, flags["diameter"], Units::metric) + 20.0;
      const double least = kind == "tee" ? 900.0 : kind == "cap" ? across : kind == "tap" ? 500.0 : 300.0;
      flags["board_width"] = chance.number(least, 3.0 * least);
      flags["board_length"] = chance.number(1.5 * least, 5.0 * least);
      flags["min_panel"] = chance.pick({"20", "60", "100"});
    }
    SCOPED_TRACE(support::written(kind, flags));
    try {
      const Written written(kind, flags);
      ++tried.made;
      if (std::any_of(written.fitting.pieces.begin(), written.fitting.pieces.end(),
                      [](const Piece& piece) { return piece.role.find(" of ") != std::string::npos; }))
        ++tried.divided;
      EXPECT_EQ(support::listed(written.check()), "");
    } catch (const InputError&) {
      ++tried.refused;
    } catch (const std::exception& error) {
      ADD_FAILURE() << error.what();
    }
  }
  return tried;
}

class Random : public testing::TestWithParam<std::string> {};

TEST_P(Random, WholePiecesPass) {
  const Tried tried = prove(GetParam(), 6, 7, false);
  EXPECT_GT(tried.made, tried.refused);
}

TEST_P(Random, RingsAndPanelsPass) {
  const Tried tried = prove(GetParam(), 6, 11, true);
  EXPECT_GE(tried.made, tried.refused);
  // a few alone may all fit their boards
  if (tried.made > 3) {
    EXPECT_GE(3 * tried.divided, tried.made);
  }
}

INSTANTIATE_TEST_SUITE_P(Kinds, Random, testing::ValuesIn(support::random_kinds()),
                         [](const auto& of) { return std::string(of.param); });

}  // namespace
}  // namespace linerwright
