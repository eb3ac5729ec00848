#include "tilt.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "blade.hpp"
#include "outline.hpp"

namespace linerwright {

namespace {

constexpr double k_corner = 20.0 / 180.0 * k_pi;

double turn_between(Vec2 a, Vec2 b) {
  return std::fabs(std::atan2(cross(a, b), dot(a, b)));
}

// The exact contour of a face at point k and between points, and beyond an open edge's ends.
std::function<Vec2(double)> contour_of(const TiltRun& run, Face face) {
  if (!run.at) return {};
  return [&run, face](double k) {
    const std::vector<double>& s = run.parameters;
    const auto n = static_cast<double>(s.size());
    const double turn = s.back() > s.front() ? k_two_pi : -k_two_pi;  // of a closed edge
    const auto parameter = [&](double whole) {
      if (run.closed) {
        const double rounds = std::floor(whole / n);
        return s[static_cast<std::size_t>(whole - rounds * n)] + rounds * turn;
      }
      if (whole < 0.0) return s.front() + whole * (s.back() - s.front()) / (n - 1.0);
      if (whole > n - 1.0) return s.back() + (whole - (n - 1.0)) * (s.back() - s.front()) / (n - 1.0);
      return s[static_cast<std::size_t>(whole)];
    };
    if (!run.closed && (k <= 0.0 || k >= n - 1.0)) return run.at(parameter(k), face);
    const double whole = std::floor(k);
    const double here = parameter(whole);
    return run.at(here + (k - whole) * (parameter(whole + 1.0) - here), face);
  };
}

// How far the lower end at a row lies beyond the ends of the lower edge.
double beyond(const BladeEdge& edge, const BladeRow& row) {
  const Vec2 end = row.at + row.shift * Vec2{row.along.y, -row.along.x};
  const Vec2 first = edge.lower.front() - edge.lower[1];
  const Vec2 last = edge.lower.back() - edge.lower[edge.lower.size() - 2];
  return std::max({0.0, dot(end - edge.lower.front(), first) / norm(first),
                   dot(end - edge.lower.back(), last) / norm(last)});
}

}  // namespace

std::vector<TiltRun> runs_around(const std::vector<FacePair>& points, const std::vector<double>& parameters,
                                 std::size_t low_points, const std::array<EdgeOfFace, 2>& at) {
  std::vector<TiltRun> runs;
  for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
    const std::size_t from = end == 0 ? 0 : low_points;
    const std::size_t to = end == 0 ? low_points : points.size();
    TiltRun edge;
    edge.at = at[end];
    for (std::size_t i = from; i < to; ++i) {
      edge.points.push_back(points[i]);
      edge.parameters.push_back(parameters[i]);
    }
    TiltRun seam;
    seam.leans = false;
    for (const std::size_t i : {to - 1, to % points.size()}) {
      seam.points.push_back(points[i]);
      seam.parameters.push_back(parameters[i]);
    }
    runs.push_back(std::move(edge));
    runs.push_back(std::move(seam));
  }
  return runs;
}

void add_tilts(Pattern& pattern, int contour, const std::vector<TiltRun>& runs, const LinerSpec& liner) {
  const bool air_up = liner.face_up == Face::air;
  for (const TiltRun& run : runs) {
    BladeEdge edge;
    for (const FacePair& pair : run.points) {
      edge.upper.push_back(air_up ? pair.air : pair.duct);
      edge.lower.push_back(!run.leans || !air_up ? pair.air : pair.duct);
      if (!run.leans) edge.lower.back() = edge.upper.back();
    }
    edge.closed = run.closed;
    edge.upper_at = contour_of(run, liner.face_up);
    edge.lower_at = contour_of(run, air_up ? Face::duct : Face::air);
    for (BladeRow row : blade_rows(edge, liner.thickness)) {
      // the blade cuts into the board beyond the corner: no more is left to the hand than so much
      if (run.in_corners) row.left = std::max(row.left, beyond(edge, row));
      const double tilt = std::atan2(air_up ? -row.shift : row.shift, liner.thickness);
      pattern.tilts.push_back({contour, row.at, std::atan2(row.along.y, row.along.x), tilt, row.left});
      pattern.max_tilt = std::max(pattern.max_tilt, std::fabs(tilt));
      pattern.not_cut = std::max(pattern.not_cut, row.left);
    }
  }
}

void add_side_tilts(Pattern& pattern, const StraightSide& side, const LinerSpec& liner) {
  constexpr double k_told = 0.9 * k_reached;
  const bool air_up = liner.face_up == Face::air;
  const auto upper = [&](const FacePair& pair) { return air_up ? pair.air : pair.duct; };
  const auto lower = [&](const FacePair& pair) { return air_up ? pair.duct : pair.air; };
  const Vec2 way = upper(side.to) - upper(side.from);
  const Vec2 along = (1.0 / norm(way)) * way;
  const double shift = dot(lower(side.from) - upper(side.from), Vec2{along.y, -along.x});
  const double tilt = std::atan2(air_up ? -shift : shift, liner.thickness);
  // where the lower face's side is the longer one
  const double before = std::max(side.beside_from, dot(upper(side.from) - lower(side.from), along));
  const double beyond = std::max(side.beside_to, dot(lower(side.to) - upper(side.to), along));
  for (const auto& [pair, left] : {std::pair(side.from, before), std::pair(side.to, beyond)}) {
    const double told = left > k_told ? left : 0.0;
    pattern.tilts.push_back({0, upper(pair), std::atan2(along.y, along.x), tilt, told});
    pattern.not_cut = std::max(pattern.not_cut, told);
  }
  pattern.max_tilt = std::max(pattern.max_tilt, std::fabs(tilt));
}

void add_square_cut(Pattern& pattern, const std::vector<TiltPoint>& points, bool closed, CutPolicy policy,
                    const LinerSpec& liner) {
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const TiltPoint& p = points[i];
    const TiltPoint& before = points[(i + n - 1) % n];
    const TiltPoint& after = points[(i + 1) % n];
    const bool arrives = closed || i > 0;
    const bool leaves = closed || i + 1 < n;
    const Vec2 in = p.true_edge.duct - before.true_edge.duct;
    const Vec2 out = after.true_edge.duct - p.true_edge.duct;
    // along the edge on either side; where the two run on smoothly, along both
    std::vector<double> shifts;
    if (arrives && leaves && before.leans && p.leans && turn_between(in, out) < k_corner) {
      shifts = {outward_shift(p.true_edge, in + out)};
    } else {
      if (arrives) shifts.push_back(before.leans ? outward_shift(p.true_edge, in) : 0.0);
      if (leaves) shifts.push_back(p.leans ? outward_shift(p.true_edge, out) : 0.0);
    }
    for (const double shift : shifts) {
      const SquareCut cut = square_cut(policy, liner.face_up, shift);
      pattern.gap_square = std::max(pattern.gap_square, cut.gap);
      pattern.overlap_square = std::max(pattern.overlap_square, cut.overlap);
    }
  }
}

}  // namespace linerwright
