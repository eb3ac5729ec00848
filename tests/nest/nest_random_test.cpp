// Random jobs with hollow pieces, holes, several boards and gaps. Each nest is checked twice: by
// nest_faults() and, with no code in common with the library, by points scattered over every piece.
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "linerwright/nest/nest.hpp"
#include "shapes.hpp"
#include "support/cases.hpp"

namespace linerwright {
namespace {

NestPart random_part(nesting::Random& random, int index) {
  NestPart part;
  part.id = "part " + std::to_string(index);
  const double size = random.between(30.0, 120.0);
  switch (random.below(5)) {
    case 0:
      part.outline = test::rectangle(size, random.between(20.0, 200.0));
      break;
    case 1:
      part.outline = test::comb(2 + random.below(3), 0.3 * size, 0.15 * size, 0.8 * size);
      break;
    case 2:
      part.outline = test::spiral(size / 7.0);
      break;
    case 3:
      part.outline = test::star(random, 20, 0.7 * size, size);
      part.holes = {test::star(random, 6, 0.3 * size, 0.6 * size)};
      break;
    default:
      part.outline = test::star(random, 3 + random.below(15), 0.3 * size, size);
  }
  // Drawn anywhere, either way round.
  const Vec2 origin{random.between(-500.0, 500.0), random.between(-500.0, 500.0)};
  for (Vec2& p : part.outline) p = p + origin;
  for (Ring& hole : part.holes) {
    for (Vec2& p : hole) p = p + origin;
  }
  if (random.flip()) part.outline = Ring(part.outline.rbegin(), part.outline.rend());
  part.count = 1 + static_cast<int>(random.below(4));
  part.may_turn = random.below(4) != 0;
  return part;
}

NestJob random_job(std::uint64_t seed) {
  nesting::Random random(seed);
  NestJob job;
  const std::size_t kinds = 2 + random.below(6);
  for (std::size_t i = 0; i < kinds; ++i) job.parts.push_back(random_part(random, static_cast<int>(i)));
  const std::size_t boards = 1 + random.below(3);
  for (std::size_t i = 0; i < boards; ++i) {
    NestBoard board = test::board(random.between(200.0, 700.0), random.between(200.0, 500.0));
    board.id = "stock " + std::to_string(i);
    if (random.flip()) board.quantity = static_cast<int>(random.below(4));
    board.trim = random.flip() ? random.between(0.0, 20.0) : 0.0;
    board.roll = random.below(4) == 0;
    job.boards.push_back(board);
  }
  const double gaps[] = {0.0, 0.0, 2.0, 5.5};
  job.options.gap = gaps[random.below(4)];
  job.options.use_holes = random.flip();
  job.options.seed = random.next();
  job.options.effort = 0.02;
  job.options.threads = random.flip() ? 1 : 2;
  return job;
}

bool material_at(const NestPart& part, const NestedPiece& placement, Vec2 p) {
  if (!test::covers(placed(part.outline, placement), p)) return false;
  for (const Ring& hole : part.holes) {
    if (test::covers(placed(hole, placement), p)) return false;
  }
  return true;
}

double edge_distance(const NestPart& part, const NestedPiece& placement, Vec2 p) {
  double least = 1e300;
  const auto visit = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      least = std::min(least, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
    }
  };
  visit(placed(part.outline, placement));
  for (const Ring& hole : part.holes) visit(placed(hole, placement));
  return least;
}

struct Tally {
  int points = 0, pieces = 0, in_holes = 0, unplaced = 0, boards = 0;
};

void check_by_points(const NestJob& job, const NestResult& result, std::uint64_t seed, Tally& tally) {
  nesting::Random random(seed);
  for (const NestedPiece& own : result.placements) {
    const NestBoard& board = job.boards[result.boards[own.board].stock];
    const Ring outline = placed(job.parts[own.part].outline, own);
    for (Vec2 p : outline) {
      ASSERT_GE(p.x, board.trim.start - k_nest_rounding) << "job " << seed;
      ASSERT_GE(p.y, board.trim.below - k_nest_rounding) << "job " << seed;
      ASSERT_LE(p.x, board.length - board.trim.end + k_nest_rounding) << "job " << seed;
      ASSERT_LE(p.y, board.width - board.trim.above + k_nest_rounding) << "job " << seed;
    }
    const Box box = *bounding_box(outline);
    for (int i = 0; i < 60; ++i) {
      const Vec2 p{random.between(box.low.x, box.high.x), random.between(box.low.y, box.high.y)};
      if (!material_at(job.parts[own.part], own, p)) continue;
      ++tally.points;
      for (const NestedPiece& other : result.placements) {
        if (other.board != own.board || (other.part == own.part && other.copy == own.copy)) continue;
        const NestPart& part = job.parts[other.part];
        ASSERT_FALSE(material_at(part, other, p) && edge_distance(part, other, p) > k_nest_rounding)
            << "job " << seed << ": a point of part " << own.part << " lies in part " << other.part;
      }
    }
    // In a hole: the first corner lies inside another's outline.
    for (const NestedPiece& other : result.placements) {
      if (other.board == own.board && (other.part != own.part || other.copy != own.copy) &&
          test::covers(placed(job.parts[other.part].outline, other), outline[0]) &&
          edge_distance(job.parts[other.part], other, outline[0]) > k_nest_rounding) {
        EXPECT_TRUE(job.options.use_holes) << "job " << seed;
        ++tally.in_holes;
      }
    }
    ++tally.pieces;
  }
}

void check_counts(const NestJob& job, const NestResult& result, std::uint64_t seed, Tally& tally) {
  std::set<std::pair<std::size_t, int>> seen;
  std::map<std::size_t, int> count, boards;
  for (const NestedPiece& placement : result.placements) {
    EXPECT_TRUE(seen.insert({placement.part, placement.copy}).second) << "job " << seed;
    EXPECT_TRUE(job.parts[placement.part].may_turn || !placement.turned) << "job " << seed;
    ++count[placement.part];
  }
  for (const UnplacedPart& unplaced : result.unplaced) {
    count[unplaced.part] += unplaced.copies;
    tally.unplaced += unplaced.copies;
  }
  for (std::size_t i = 0; i < job.parts.size(); ++i)
    EXPECT_EQ(count[i], job.parts[i].count) << "job " << seed;
  for (const NestedBoard& board : result.boards) {
    ++boards[board.stock];
    EXPECT_GT(board.yield, 0.0) << "job " << seed;
    EXPECT_LE(board.yield, 1.0) << "job " << seed;
  }
  for (const auto& [stock, used] : boards)
    EXPECT_LE(used, job.boards[stock].quantity.value_or(used)) << "job " << seed;
  EXPECT_LE(result.yield, result.bound + 1e-5) << "job " << seed;
  tally.boards += static_cast<int>(result.boards.size());
}

TEST(NestRandom, TwoHundredJobsAreSound) {
  using support::cases;
  Tally tally;
  const auto jobs = static_cast<std::uint64_t>(cases(200));
  for (std::uint64_t seed = 1; seed <= jobs; ++seed) {
    const NestJob job = random_job(seed);
    const NestResult result = nest(job);
    EXPECT_EQ(nest_faults(job, result), std::vector<std::string>{}) << "job " << seed;
    check_by_points(job, result, seed, tally);
    check_counts(job, result, seed, tally);
    if (HasFatalFailure()) return;
  }
  // The jobs do exercise what they are meant to.
  EXPECT_GT(tally.pieces, cases(1000));
  EXPECT_GT(tally.points, cases(20000));
  EXPECT_GT(tally.boards, cases(200));
  EXPECT_GT(tally.in_holes, cases(10));
  EXPECT_GT(tally.unplaced, cases(50));
}

}  // namespace
}  // namespace linerwright
