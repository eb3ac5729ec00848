// Two hundred random jobs through the setup, held against the patterns they were made of.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "boards/jobs.hpp"
#include "support/chance.hpp"

using namespace linerwright;

namespace {

using support::Chance;

std::vector<BoardPart> random_parts(Chance& chance, const std::string& tag) {
  support::Flags flags{{"tag", tag}, {"thickness", "20mm"}, {"fit_allowance", "15mm"}};
  if (chance.whole(0, 4 - 1) == 0) flags["face_up"] = "air";
  if (chance.whole(0, 3 - 1) == 0) flags["flow_arrow"] = "against";
  const double diameter = chance.between(120.0, 420.0);
  flags["diameter"] = fixed(diameter, 3);
  const long count = 1 + chance.whole(0, 3 - 1);
  switch (chance.whole(0, 5 - 1)) {
    case 0:
      flags["length"] = fixed(chance.between(80.0, 900.0), 3);
      return parts_of("straight", flags, count);
    case 1:
      flags["angle"] = fixed(chance.between(30.0, 90.0), 3);
      flags["pieces"] = std::to_string(3 + chance.whole(0, 3 - 1));
      return parts_of("elbow", flags, count, chance.whole(0, 2 - 1) == 0);
    case 2:
      flags["to_diameter"] = fixed(0.8 * diameter, 3);
      flags["length"] = fixed(chance.between(200.0, 400.0), 3);
      return parts_of("reducer", flags, count);
    case 3:
      flags["to_diameter"] = fixed(0.75 * diameter, 3);
      flags["length"] = fixed(chance.between(200.0, 400.0), 3);
      flags["pattern"] = "notched";
      return parts_of("reducer", flags, count);
    default:
      flags["branch_diameter"] = fixed(0.6 * diameter, 3);
      flags["length"] = fixed(1.6 * diameter + 100.0, 3);
      flags["branch_length"] = fixed(diameter, 3);
      return parts_of("tee", flags, count);
  }
}

// The pattern's contour where the piece lies, worked out from the piece's box alone.
Region on_board(const BoardPlan& plan, const PlacedPiece& piece) {
  Region region = plan.parts[piece.part].pattern.cut;
  const auto turn = [&](Ring& ring) {
    if (piece.turned)
      for (Vec2& p : ring) p = -1.0 * p;
  };
  turn(region.outer);
  for (Ring& hole : region.holes) turn(hole);
  const Vec2 shift = piece.box.low - bounding_box(region.outer)->low;
  for (Vec2& p : region.outer) p = p + shift;
  for (Ring& hole : region.holes)
    for (Vec2& p : hole) p = p + shift;
  return region;
}

double total_area(const std::vector<Region>& regions) {
  double sum = 0.0;
  for (const Region& region : regions) sum += area(region);
  return sum;
}

bool inside(Vec2 p, const Region& region) {
  if (!point_in_polygon(p, region.outer)) return false;
  return std::none_of(region.holes.begin(), region.holes.end(),
                      [&](const Ring& hole) { return point_in_polygon(p, hole); });
}

bool crossing(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const auto side = [](Vec2 p, Vec2 q, Vec2 r) { return cross(q - p, r - p); };
  return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

struct Tally {
  int boards = 0, pieces = 0, turned = 0, labels = 0, holes_before = 0, left_over = 0;
};

// Nothing overlaps, nothing leaves its board.
void check_places(const BoardPlan& plan, const PlannedBoard& board, const std::vector<Region>& regions) {
  const double width = plan.stock[board.stock].width;
  for (const Region& region : regions) {
    const Box box = bounding_box(region.outer).value();
    EXPECT_GE(box.low.x, -k_nest_rounding);
    EXPECT_GE(box.low.y, -k_nest_rounding);
    EXPECT_LE(box.high.x, board.length + k_nest_rounding);
    EXPECT_LE(box.high.y, width + k_nest_rounding);
  }
  double sum = 0.0;
  for (const Region& region : regions) sum += area(region);
  // what all cover together is what each covers alone, up to the rounding along their edges
  double edges = 0.0;
  for (const Region& region : regions) edges += polyline_length(region.outer, true);
  EXPECT_NEAR(total_area(united(regions)), sum, 2.0 * k_nest_rounding * edges);
  EXPECT_NEAR(board.piece_area, sum, 1e-6 * sum);
}

// Every stroke of a label lies in one piece and crosses no cut.
void check_labels(const PlannedBoard& board, const std::vector<Region>& regions, Tally& tally) {
  for (const PenLine& pen : board.pen) {
    if (pen.line.layer != Layer::label) continue;
    ++tally.labels;
    const std::vector<Vec2>& points = pen.line.points;
    const auto home =
        std::find_if(regions.begin(), regions.end(), [&](const Region& r) { return inside(points[0], r); });
    const auto on_offcut = [&](const BoardRemnant& remnant) {
      return std::all_of(points.begin(), points.end(), [&](Vec2 p) {
        return p.x >= remnant.box.low.x && p.x <= remnant.box.high.x && p.y >= remnant.box.low.y &&
               p.y <= remnant.box.high.y;
      });
    };
    if (std::none_of(board.remnants.begin(), board.remnants.end(), on_offcut)) {
      ASSERT_NE(home, regions.end()) << "a label lies in no piece and on no offcut";
      for (const Vec2 p : points) ASSERT_TRUE(inside(p, *home)) << "a label leaves its piece";
    }
    const Box box = bounding_box(points).value();
    for (const Polyline& cut : board.knife)
      for (std::size_t i = 0; i + (cut.closed ? 0 : 1) < cut.points.size(); ++i) {
        const Vec2 a = cut.points[i], b = cut.points[(i + 1) % cut.points.size()];
        if (std::max(a.x, b.x) < box.low.x || std::min(a.x, b.x) > box.high.x ||
            std::max(a.y, b.y) < box.low.y || std::min(a.y, b.y) > box.high.y)
          continue;
        for (std::size_t k = 0; k + 1 < points.size(); ++k)
          ASSERT_FALSE(crossing(points[k], points[k + 1], a, b)) << "a label crosses a cut";
      }
  }
  for (const Text& text : board.texts) EXPECT_LE(std::fabs(text.angle), 0.5 * k_pi + 1e-9) << text.text;
}

// Inside a closed line by more than two neighbours may share.
bool well_inside(Vec2 p, const std::vector<Vec2>& ring) {
  for (std::size_t i = 0; i < ring.size(); ++i)
    if (distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]) <= k_nest_rounding) return false;
  return point_in_polygon(p, ring);
}

// What lies inside a closed cut is cut before it.
void check_order(const PlannedBoard& board, Tally& tally) {
  for (std::size_t i = 0; i < board.knife.size(); ++i) {
    if (!board.knife[i].closed) continue;
    for (std::size_t k = i + 1; k < board.knife.size(); ++k) {
      const std::vector<Vec2>& later = board.knife[k].points;
      EXPECT_FALSE(well_inside(0.5 * (later[0] + later[1]), board.knife[i].points))
          << "cut " << k << " lies inside cut " << i;
    }
    for (std::size_t k = 0; k < i; ++k)
      tally.holes_before += point_in_polygon(board.knife[k].points[0], board.knife[i].points) ? 1 : 0;
  }
}

}  // namespace

TEST(BoardsRandom, TwoHundredJobs) {
  using linerwright::support::cases;
  Tally tally;
  const auto jobs = static_cast<unsigned>(cases(200));
  for (unsigned seed = 1; seed <= jobs; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Chance chance(seed);
    std::vector<BoardPart> parts;
    const int fittings = 1 + chance.whole(0, 4 - 1);
    for (int i = 0; i < fittings; ++i)
      parts = std::move(parts) + random_parts(chance, "F-" + std::to_string(i));
    std::vector<BoardStock> stock{sheet(1220, 1500)};
    if (chance.whole(0, 2 - 1) == 0) stock.push_back(sheet(900, 2400));
    stock[0].gap = chance.whole(0, 2 - 1) == 0 ? 3.0 : 0.0;
    stock[0].trim = chance.whole(0, 3 - 1) == 0 ? 8.0 : 0.0;
    if (chance.whole(0, 8 - 1) == 0) {
      stock.resize(1);
      stock[0].quantity = 1;
    }
    BoardOptions options;
    options.effort = seed % 10 == 0 ? 0.1 : k_effort_fill;
    options.seed = seed;
    const BoardPlan plan = planned(parts, stock, options);

    std::map<std::size_t, std::set<int>> copies;
    std::map<std::size_t, long> placed_of;
    double area_sum = 0.0;
    for (const PlannedBoard& board : plan.boards) {
      std::vector<Region> regions;
      for (const PlacedPiece& piece : board.pieces) {
        EXPECT_TRUE(copies[piece.part].insert(piece.copy).second) << "a copy is there twice";
        ++placed_of[piece.part];
        regions.push_back(on_board(plan, piece));
        tally.turned += piece.turned ? 1 : 0;
        ++tally.pieces;
        EXPECT_EQ(plan.parts[piece.part].face_up, board.face_up);
      }
      check_places(plan, board, regions);
      check_labels(board, regions, tally);
      check_order(board, tally);
      EXPECT_LE(board.yield, 1.0);
      area_sum += board.piece_area;
      ++tally.boards;
      if (HasFatalFailure()) return;
    }
    // nothing lost: what is on no board is named
    for (std::size_t i = 0; i < plan.parts.size(); ++i) {
      const BoardPart& part = plan.parts[i];
      if (placed_of[i] == part.count) continue;
      const bool named = std::any_of(plan.problems.begin(), plan.problems.end(), [&](const Problem& problem) {
        return problem.tag == part.tag + "/" + part.piece;
      });
      EXPECT_TRUE(named) << part.tag << " " << part.piece << ": " << placed_of[i] << " of " << part.count;
      tally.left_over += static_cast<int>(part.count - placed_of[i]);
    }
    EXPECT_NEAR(plan.piece_area, area_sum, 1e-6);
    EXPECT_LE(plan.yield(), plan.bound + 1e-5);
    for (std::size_t b = 0; b < plan.boards.size(); ++b) {
      DxfOptions dxf;
      dxf.version = seed % 2 == 0 ? DxfVersion::r12 : DxfVersion::r2000;
      EXPECT_NO_THROW(board_dxf(plan, b, dxf));  // it audits itself
    }
  }
  // the jobs do exercise what they are meant to; a few of them need not
  EXPECT_GT(tally.labels, 0);
  if (jobs < 200) return;
  EXPECT_GT(tally.boards, cases(250));
  EXPECT_GT(tally.pieces, cases(1000));
  EXPECT_GT(tally.turned, cases(50));
  EXPECT_GT(tally.labels, cases(50000));
  EXPECT_GT(tally.holes_before, cases(50));
  EXPECT_GT(tally.left_over, cases(5));
}
