#include "band_ends.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

constexpr double k_square = 0.05;  // mm: an edge that swings by less is square
constexpr double k_same = 0.05;    // mm: widths of bands that are the same
constexpr int k_places = 720;

const Joint& joint_of(const BandEnd& end) {
  return end.fitting->joint(joints_at(end.of(), end.end).front().joint);
}

std::vector<BandEnd> ends_of(const std::vector<Fitting>& fittings) {
  std::vector<BandEnd> ends;
  for (std::size_t f = 0; f < fittings.size(); ++f)
    for (std::size_t w = 0; w < fittings[f].walls.size(); ++w) {
      BandEnd band{&fittings[f], f, static_cast<int>(w), End::low, 0.0, 0.0, {}};
      band.depth = liner_of(fittings[f], band.wall).outer_depth;
      for (const Piece& piece : fittings[f].pieces)
        if (piece.wall == band.wall) band.seams.push_back(piece.seam);
      for (const End side : k_both_ends) {
        band.end = side;
        const Joint& joint = joint_of(band);
        if (joint.open() || joint.of_rings || band.seams.empty()) continue;
        const auto [least, most] = band.reach();
        if (most - least < k_square) continue;
        band.middle = band.of().sheet.spread(0.0, band.edge(0.0), band.depth);
        ends.push_back(band);
      }
    }
  return ends;
}

// Rulings at which the band is narrowest, its edge furthest inward.
std::vector<double> narrowest(const BandEnd& end) {
  std::vector<double> values;
  for (int i = 0; i < k_places; ++i) values.push_back(end.inward(k_two_pi * i / k_places));
  const double most = *std::max_element(values.begin(), values.end());
  std::vector<double> found;
  for (int i = 0; i < k_places; ++i) {
    const double here = values[static_cast<std::size_t>(i)];
    const double before = values[static_cast<std::size_t>((i + k_places - 1) % k_places)];
    const double after = values[static_cast<std::size_t>((i + 1) % k_places)];
    if (here < before || here < after || most - here > k_same) continue;
    double low = k_two_pi * (i - 1) / k_places;
    double high = k_two_pi * (i + 1) / k_places;
    while (high - low > 1e-7) {
      const double third = (high - low) / 3.0;
      (end.inward(low + third) < end.inward(high - third) ? low : high) =
          end.inward(low + third) < end.inward(high - third) ? low + third : high - third;
    }
    found.push_back(0.5 * (low + high));
  }
  return found;
}

std::optional<BandMatch> matched(const BandEnd& a, const BandEnd& b) {
  const Sheet& one = a.of().sheet;
  const Sheet& other = b.of().sheet;
  // both cylinders, or the same cone's same end
  if (std::fabs(a.middle - b.middle) > k_same || one.is_cylinder() != other.is_cylinder() ||
      (!one.is_cylinder() &&
       (a.end != b.end || std::fabs(one.r1() - other.r1()) > k_same ||
        std::fabs(one.r2() - other.r2()) > k_same || std::fabs(one.height() - other.height()) > k_same ||
        std::fabs(one.offset() - other.offset()) > 0.0)))
    return std::nullopt;
  const double from = narrowest(a).front();
  const double far = a.inward(from);
  for (const double to : narrowest(b))
    for (const double sense : {1.0, -1.0}) {
      const BandMatch match{from, to, sense};
      double worst = 0.0;
      for (int i = 0; i < 90; ++i) {
        const double theta = from + k_two_pi * i / 90;
        worst =
            std::max(worst, std::fabs((a.inward(theta) - far) - (b.inward(match.at(theta)) - b.inward(to))));
      }
      if (worst < k_same) return match;
    }
  return std::nullopt;
}

std::string number(double value) {
  return trimmed(value, 2);
}

}  // namespace

std::pair<double, double> BandEnd::reach() const {
  std::pair<double, double> found{1e300, -1e300};
  for (int i = 0; i < k_places; ++i) {
    const double value = inward(k_two_pi * i / k_places);
    found = {std::min(found.first, value), std::max(found.second, value)};
  }
  return found;
}

double BandGroup::from_seam(double theta, std::size_t use) const {
  double least = k_pi;
  for (const double seam : ends[use].seams)
    least = std::min(least, std::fabs(std::remainder(matches[use].at(theta) - seam, k_two_pi)));
  return least;
}

double BandGroup::place_of_lap() const {
  const double narrow = narrowest(ends.front()).front();
  double best = narrow;
  double clearest = -1.0;
  for (const double turn : {90.0, 270.0, 60.0, 300.0, 120.0, 240.0, 30.0, 330.0, 150.0, 210.0, 180.0, 0.0}) {
    const double theta = narrow + turn / 180.0 * k_pi;
    double least = k_pi;
    for (std::size_t use = 0; use < ends.size(); ++use) least = std::min(least, from_seam(theta, use));
    if (least > clearest + 1e-9) {
      clearest = least;
      best = theta;
    }
  }
  return best;
}

std::vector<BandGroup> band_groups(const std::vector<Fitting>& fittings) {
  std::vector<BandGroup> groups;
  for (const BandEnd& end : ends_of(fittings)) {
    bool found = false;
    for (BandGroup& group : groups) {
      const std::optional<BandMatch> match = matched(group.ends.front(), end);
      if (!match) continue;
      group.ends.push_back(end);
      group.matches.push_back(*match);
      found = true;
      break;
    }
    if (!found) groups.push_back({{end}, {{0.0, 0.0, 1.0}}});
  }
  return groups;
}

std::pair<std::string, std::string> name_of(const BandEnd& end) {
  const Joint& joint = joint_of(end);
  const bool inches = end.fitting->units == Units::inch;
  const auto size = [&](double mm) { return number(inches ? mm / 25.4 : mm); };
  const auto shown = [&](double mm) { return shop_length(*end.fitting, mm); };
  const double outside = 2.0 * end.middle;
  const auto turned = [](double radians) { return number(radians * 180.0 / k_pi); };
  const bool alone = joints_at(end.of(), end.end).size() == 1;
  if (const auto* plane = std::get_if<PlaneTarget>(&joint.target);
      plane != nullptr && alone && end.of().sheet.is_cylinder()) {
    const double lean = std::acos(std::min(1.0, std::fabs(dot(plane->normal, end.of().sheet.frame().z))));
    return {fmt::format("mitre-{}-{}", size(outside), turned(lean)),
            fmt::format("mitre of {} degrees on {}", turned(lean), shown(outside))};
  }
  if (const auto* body = std::get_if<BodyTarget>(&joint.target)) {
    const double angle = std::acos(std::fabs(dot(body->body.frame().z, end.of().sheet.frame().z)));
    return {fmt::format("saddle-{}-on-{}-{}", size(outside), size(2.0 * body->body.r1()), turned(angle)),
            fmt::format("saddle of {} on {} at {} degrees", shown(outside), shown(2.0 * body->body.r1()),
                        turned(angle))};
  }
  const std::string piece = [&] {
    for (const Piece& one : end.fitting->pieces)
      if (one.wall == end.wall) return one.id;
    return std::string();
  }();
  return {fmt::format("{}-{}-{}", end.fitting->tag, piece, end.end == End::high ? "high" : "low"),
          fmt::format("{} end of {}/{} on {}", end.end == End::high ? "high" : "low", end.fitting->tag, piece,
                      shown(outside))};
}

}  // namespace linerwright
