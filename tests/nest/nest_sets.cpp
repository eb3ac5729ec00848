#include "nest_sets.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace linerwright::nest_sets {
namespace {

// The little of JSON that the sets need: where a key's value starts, and the numbers in it.
class Reader {
 public:
  Reader(std::string name, std::string text) : name_(std::move(name)), text_(std::move(text)) {}

  // Goes on behind the next `"key":`; false when there is none before the end.
  bool find(const std::string& key) {
    const std::size_t found = text_.find('"' + key + "\":", at_);
    if (found == std::string::npos) return false;
    at_ = found + key.size() + 3;
    return true;
  }
  double number() {
    std::size_t length = 0;
    double value = 0.0;
    try {
      value = std::stod(text_.substr(at_, 40), &length);
    } catch (const std::exception&) {
      throw std::runtime_error(fmt::format("{}: no number at character {}", name_, at_));
    }
    at_ += length;
    return value;
  }
  // A list of [x, y] pairs.
  Ring points() {
    Ring ring;
    expect('[');
    do {
      expect('[');
      const double x = number();
      expect(',');
      const double y = number();
      expect(']');
      ring.push_back({x, y});
    } while (next() == ',' && ++at_ > 0);
    expect(']');
    return ring;
  }

 private:
  std::string name_, text_;
  std::size_t at_ = 0;

  char next() {
    at_ = std::min(text_.find_first_not_of(" \t\r\n", at_), text_.size());
    return at_ < text_.size() ? text_[at_] : '\0';
  }
  void expect(char wanted) {
    if (next() != wanted)
      throw std::runtime_error(fmt::format("{}: no '{}' at character {}", name_, wanted, at_));
    ++at_;
  }
};

Set read_set(const std::filesystem::path& folder, const std::string& name, double goal, double best_known) {
  const auto path = folder / (name + ".json");
  std::ifstream file(path);
  if (!file) throw std::runtime_error(fmt::format("cannot read {}", path.string()));
  std::stringstream text;
  text << file.rdbuf();
  Set set{name, 0.0, {}, goal, best_known};
  Reader height(path.string(), text.str());
  if (!height.find("strip_height"))
    throw std::runtime_error(fmt::format("{}: no strip_height", path.string()));
  set.width = height.number();
  Reader reader(path.string(), text.str());
  while (reader.find("demand")) {
    NestPart part;
    part.id = fmt::format("{}-{}", name, set.parts.size() + 1);
    part.count = static_cast<int>(reader.number());
    if (!reader.find("data"))
      throw std::runtime_error(fmt::format("{}: an item without data", path.string()));
    part.outline = reader.points();
    set.parts.push_back(part);
  }
  if (set.parts.empty()) throw std::runtime_error(fmt::format("{}: no items", path.string()));
  return set;
}

constexpr int k_stations = 24;

// An elbow gore, unrolled: length along x is the stretch-out of the diameter, both long edges cosines (an end
// gore has one).
NestPart gore(double diameter, double throat, double alpha, bool end) {
  NestPart part;
  const double radius = 0.5 * diameter;
  const double swing = radius * std::tan(alpha);
  const double middle = throat + swing;
  const auto edge = [&](int i) { return middle - swing * std::cos(k_two_pi * i / k_stations); };
  const auto along = [&](int i) { return k_pi * diameter * i / k_stations; };
  if (end) {
    part.outline = {{0.0, 0.0}, {along(k_stations), 0.0}};
  } else {
    for (int i = 0; i <= k_stations; ++i) part.outline.push_back({along(i), -edge(i)});
  }
  for (int i = k_stations; i >= 0; --i) part.outline.push_back({along(i), edge(i)});
  return part;
}

// A tee's run with the opening of its branch, or the branch itself: the saddle of two cylinders.
NestPart tee_run(double diameter, double branch, double length) {
  NestPart part;
  const double radius = 0.5 * diameter;
  part.outline = {{0.0, 0.0}, {k_pi * diameter, 0.0}, {k_pi * diameter, length}, {0.0, length}};
  Ring opening;
  for (int i = 0; i < k_stations; ++i) {
    const double phi = -k_two_pi * i / k_stations;
    const double across = radius * std::asin(0.5 * branch * std::sin(phi) / radius);
    opening.push_back({0.5 * k_pi * diameter + across, 0.5 * length + 0.5 * branch * std::cos(phi)});
  }
  part.holes.push_back(opening);
  return part;
}

NestPart tee_branch(double diameter, double branch, double height) {
  NestPart part;
  const double radius = 0.5 * diameter;
  part.outline = {{0.0, 0.0}, {k_pi * branch, 0.0}};
  for (int i = k_stations; i >= 0; --i) {
    const double side = 0.5 * branch * std::sin(k_two_pi * i / k_stations);
    part.outline.push_back(
        {k_pi * branch * i / k_stations, height + radius - std::sqrt(radius * radius - side * side)});
  }
  return part;
}

}  // namespace

std::vector<Set> public_sets(const std::filesystem::path& folder) {
  // Best known: record layouts published with Gardeyn et al., arXiv 2509.13329 (2025).
  return {read_set(folder, "shirts", 0.86, 0.9092), read_set(folder, "trousers", 0.88, 0.9261),
          read_set(folder, "swim", 0.72, 0.7983), read_set(folder, "albano", 0.86, 0.8982)};
}

Set gores_and_tees() {
  Set set{"gores", 1220.0, {}, 0.80, std::nullopt};
  const double alpha = k_pi / 16.0;  // a 90 degree elbow of five gores: eight half gores of 11.25 degrees
  for (const double diameter : {125.0, 160.0, 200.0, 250.0}) {
    for (const bool end : {false, false, false, true}) {
      // throat radius = half the diameter
      set.parts.push_back(gore(diameter, 0.5 * diameter * std::tan(alpha), alpha, end));
    }
  }
  set.parts.push_back(tee_run(250.0, 160.0, 360.0));
  set.parts.push_back(tee_run(200.0, 125.0, 325.0));
  set.parts.push_back(tee_branch(250.0, 160.0, 150.0));
  set.parts.push_back(tee_branch(200.0, 125.0, 150.0));
  for (std::size_t i = 0; i < set.parts.size(); ++i) {
    set.parts[i].id = fmt::format("gores-{}", i + 1);
    set.parts[i].count = 2;
  }
  return set;
}

Set exact_tiling() {
  Set set{"tiling", 600.0, {}, 0.98, 1.0};
  const auto add = [&](double width, double height, int count) {
    NestPart part;
    part.id = fmt::format("tiling-{}", set.parts.size() + 1);
    part.outline = {{0.0, 0.0}, {width, 0.0}, {width, height}, {0.0, height}};
    part.count = count;
    set.parts.push_back(part);
  };
  add(200.0, 600.0, 2);  // x 0..400
  add(300.0, 400.0, 1);  // x 400..700
  add(150.0, 200.0, 2);
  add(100.0, 300.0, 3);  // x 700..1000, below
  add(300.0, 150.0, 2);  // and above
  return set;
}

}  // namespace linerwright::nest_sets
