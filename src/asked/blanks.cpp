// Pieces from one rectangle. A bend's gores, their seams on alternate sides, share their mitre cuts: their
// middle lines stand collar + R tan(mitre), then 2 R tan(mitre) apart, and the cuts swing about them by
// r tan(mitre) cos x, one up, the next down as long as the bend goes on (Longfield, Sheet Metal Drafting,
// 1921, p. 52 to 59; New Metal Worker Pattern Book: elbow patterns cut from one sheet with no waste).
#include <algorithm>

#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

double y_at(const std::vector<Point>& line, double x) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Point& a = line[i];
    const Point& b = line[i + 1];
    if ((a[0] - x) * (b[0] - x) <= 0.0 && a[0] != b[0])
      return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
  }
  return NAN;
}

// Of an edge that swings once around.
double mean(const Edge& edge) {
  return 0.5 * (edge(0.0, 0.0) + edge(k_pi, 0.0));
}

std::vector<Entity> on_layer(const Drawn& drawn, const Case& asked, const char* layer) {
  std::vector<Entity> entities;
  const bool bare = asked.made.bare_drawings;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == layer || (bare && entity.layer == "0" && std::string(layer) == "CUT"))
      entities.push_back(entity);
  return entities;
}

}  // namespace

void prove_blanks(Case& asked) {
  const Request& request = asked.made.request;
  const auto blank = std::find_if(asked.made.pieces.begin(), asked.made.pieces.end(),
                                  [](const MadePiece& piece) { return piece.id == "blank"; });
  if ((request.kind != "elbow" && request.kind != "offset" && request.kind != "path") ||
      blank == asked.made.pieces.end())
    return;
  Worst lines("blank", 0.055, "mm",
              "rectangle of the girth, shared mitres swinging about their middle lines");
  Worst figures("blank figures", 0.001, "mm", "girth, and the centreline's way with the end allowances");
  const std::string name = name_ending(asked.files, "-blank.dxf");
  if (name.empty()) throw Unreadable("the blank's pattern is missing");
  const Drawn drawn = read_drawn(asked.files.at(name), name, asked.made.inch_drawings ? 25.4 : 1.0);
  const auto& walls = asked.wanted.walls;
  const double outer = request.outer_face();
  const double inner = request.inner_face();
  const double width = whole_stretch(walls.front(), request) - request.value("fit_allowance");
  const double end = request.value("end_allowance");
  const std::string cut = request.word("cut");
  const bool duct_up = request.word("face_up") == "duct";
  const double depth = cut == "duct" || (cut == "tilt" && duct_up) ? outer
                       : cut == "air" || cut == "tilt"             ? inner
                                                                   : 0.5 * (outer + inner);
  // with butt allowances the blank's pieces stand apart by them: their middle lines are not tried then
  const double butt = request.value("butt_allowance");
  double total = 0.0;
  for (const Wall& wall : walls) total += mean(wall.high) - mean(wall.low);
  figures.off(blank->stretch_out - width, "girth");
  std::vector<std::vector<Point>> shared;
  double around = 0.0;
  double along_it = 0.0;
  for (const Entity& entity : on_layer(drawn, asked, "CUT")) {
    if (!entity.closed && std::abs(entity.points.front()[0] - entity.points.back()[0]) > 0.9 * width)
      shared.push_back(entity.points);
    for (const Point& point : entity.points) {
      around = std::max(around, point[0]);
      along_it = std::max(along_it, point[1]);
    }
  }
  figures.off(around - width, "width");
  const double turns = static_cast<double>(walls.size()) - 1.0;
  if (butt == 0.0) {
    figures.off(along_it - total - 2.0 * end, "height");
    figures.off(blank->along - along_it, "board");
  } else {
    figures.off(std::remainder(along_it - total - 2.0 * end, butt), "height");
  }
  std::sort(shared.begin(), shared.end(),
            [&](const auto& a, const auto& b) { return y_at(a, width / 4.0) < y_at(b, width / 4.0); });
  if (static_cast<double>(shared.size()) != turns || butt > 0.0) {
    if (butt == 0.0) lines.wrong(std::to_string(shared.size()) + " shared cuts");
  } else {
    double middle = end;
    for (std::size_t k = 0; k < shared.size(); ++k) {
      const Wall& wall = walls[k];
      middle += mean(wall.high) - mean(wall.low);
      const auto swing = [&](double turn) {
        return 0.5 * (wall.high(turn, depth) - wall.high(turn + k_pi, depth));
      };
      for (int i = 0; i <= 24; ++i) {
        const double x = width * (0.001 + 0.998 * i / 24.0);
        const double turn = *wall.seam + k_turn * (duct_up ? x : width - x) / width;  // face down: mirrored
        // a wave once around: its slope is what it swings by a quarter of a turn on
        const double slope = k_turn / width * swing(turn + 0.5 * k_pi);
        lines.off((y_at(shared[k], x) - middle - swing(turn)) / std::sqrt(1.0 + slope * slope),
                  "cut " + std::to_string(k + 1));
      }
    }
  }
  lines.into(asked.findings);
  figures.into(asked.findings);
}

}  // namespace linerwright::asked
