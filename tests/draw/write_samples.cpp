// Writes the sample drawing in every version, unit and text style into the folder given, and samples.json:
// the drawing and the regions as this program means them, for readers that are not ours.
#include <fmt/format.h>

#include <fstream>
#include <iostream>
#include <random>

#include "draw/sample.hpp"
#include "linerwright/draw/polygon.hpp"

namespace linerwright {
namespace {

template <typename Items, typename Print>
std::string list(const Items& items, const Print& print) {
  std::string text;
  for (const auto& item : items) text += (text.empty() ? "" : ",") + print(item);
  return "[" + text + "]";
}

std::string json(const std::vector<Vec2>& points) {
  return list(points, [](Vec2 p) { return fmt::format("[{:.17g},{:.17g}]", p.x, p.y); });
}

std::string json(const std::vector<Region>& regions) {
  return list(regions, [](const Region& region) {
    return fmt::format("{{\"outer\":{},\"holes\":{}}}", json(region.outer),
                       list(region.holes, [](const Ring& hole) { return json(hole); }));
  });
}

std::string json(const Drawing& drawing) {
  const std::string lines = list(drawing.lines, [](const Polyline& line) {
    return fmt::format("{{\"layer\":\"{}\",\"closed\":{},\"points\":{}}}", layer_name(line.layer),
                       line.closed, json(line.points));
  });
  const std::string texts = list(drawing.texts, [](const Text& text) {
    return fmt::format("{{\"layer\":\"{}\",\"height\":{},\"text\":\"{}\"}}", layer_name(text.layer),
                       text.height, text.text);
  });
  return fmt::format("{{\"lines\":{},\"texts\":{}}}", lines, texts);
}

std::string json(const SampleFile& file) {
  return fmt::format(
      "{{\"name\":\"{}\",\"version\":\"{}\",\"units\":\"{}\",\"text\":\"{}\",\"cut_only\":{},\"single_"
      "layer\":{}}}",
      file.name, file.options.version == DxfVersion::r2000 ? "r2000" : "r12",
      file.options.units == DxfUnits::inch ? "in" : "mm",
      file.options.text == TextStyle::strokes ? "strokes" : "entities", file.options.cut_only,
      file.options.single_layer);
}

// A star of `count` points at random distances from a centre, so it never crosses itself; with `crossing`,
// two of its points have changed places.
Ring star(std::mt19937& random, Vec2 centre, int count, bool crossing) {
  std::uniform_real_distribution<double> reach(20.0, 200.0);
  Ring ring;
  for (int i = 0; i < count; ++i) {
    const double angle = k_two_pi * i / count;
    ring.push_back(centre + reach(random) * Vec2{std::cos(angle), std::sin(angle)});
  }
  if (crossing) std::swap(ring[1], ring[ring.size() / 2]);
  return ring;
}

std::string region_case(std::mt19937& random, int number) {
  std::uniform_real_distribution<double> place(-250.0, 250.0);
  Ring a = star(random, {0.0, 0.0}, 8 + 4 * (number % 12), number % 10 == 9);
  const Ring b = star(random, {0.4 * place(random), 0.4 * place(random)}, 5 + number, false);
  if (number % 3 == 1) a = Ring(a.rbegin(), a.rend());
  std::string points;
  for (int i = 0; i < 40; ++i) {
    const Vec2 p{place(random), place(random)};
    points += fmt::format("{}[{:.17g},{:.17g},{}]", i == 0 ? "" : ",", p.x, p.y, point_in_polygon(p, a));
  }
  const double grown_by = 0.5 + number;
  return fmt::format(
      "{{\"name\":\"region "
      "{}\",\"a\":{},\"b\":{},\"a_area\":{:.17g},\"a_crosses\":{},\"points\":[{}],\"united\":{},"
      "\"subtracted\":{},\"intersected\":{},\"grown\":{},\"grown_by\":{}}}",
      number, json(a), json(b), signed_area(a), self_intersects(a, true), points,
      json(united({{a, {}}, {b, {}}})), json(subtracted({{a, {}}}, {{b, {}}})),
      json(intersected({{a, {}}}, {{b, {}}})), json(offset({{a, {}}}, grown_by)), grown_by);
}

int run(const std::filesystem::path& folder) {
  std::filesystem::create_directories(folder);
  const auto write = [&](const std::string& name, const auto& print) {
    std::ofstream out(folder / name, std::ios::binary);
    print(out);
    if (!out.flush()) throw std::runtime_error("cannot write " + name);
  };
  for (const SampleFile& sample : sample_files()) {
    write(sample.name, [&](std::ostream& out) { write_dxf(out, sample_drawing(), sample.options); });
  }
  write("sample.svg", [](std::ostream& out) { out << svg_of(sample_drawing()); });
  write("samples.json", [](std::ostream& out) {
    std::mt19937 random(1);
    std::string regions;
    for (int i = 0; i < 40; ++i) regions += (i == 0 ? "" : ",") + region_case(random, i);
    out << fmt::format("{{\"drawing\":{},\"files\":{},\"regions\":[{}]}}\n", json(sample_drawing()),
                       list(sample_files(), [](const SampleFile& file) { return json(file); }), regions);
  });
  return 0;
}

}  // namespace
}  // namespace linerwright

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: draw_samples FOLDER\n";
    return 2;
  }
  try {
    return linerwright::run(argv[1]);
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 3;
  }
}
