// An end cap: a ring closed by a flat disc. A disc is a taper to a point that has no length: its rulings run
// to the centre, and depths count along the axis. Bevelled at 45 degrees each layer of the ring ends as deep
// as the disc's lies (a picture frame's corner); butted the disc is as wide as the duct and the ring ends
// under it; set inside, the other way about.
#include "kinds.hpp"

namespace linerwright::asked {

Wanted wanted_cap(const Request& request) {
  const double radius = request.value("diameter") / 2.0;
  const double length = request.value("length");
  const double t = request.bore_depth();
  const std::string seat = request.word("seat");
  const bool butt = seat == "butt";
  const bool inside = seat == "inside";
  Wall ring;
  ring.id = ring.role = "ring";
  ring.radius = radius;
  ring.low = [](double, double) { return 0.0; };
  ring.high = [=](double, double w) { return length - (butt ? t : inside ? 0.0 : w); };
  ring.high_open = false;
  Wall disc;
  disc.id = disc.role = "disc";
  disc.origin = {0, 0, length};
  disc.radius = radius;
  disc.taper = k_flat;
  disc.low = [=](double, double w) { return butt ? 0.0 : inside ? t : w; };
  disc.high = [radius](double, double) { return radius; };
  disc.low_open = false;
  Wanted wanted;
  wanted.walls = {ring, disc};
  wanted.ends = {{"ring", {0, 0, 0}, {0, 0, -1}, radius, true}};
  const double lined = 2.0 * (radius - t);
  wanted.bore = {{"through", "open end", 2.0 * radius, lined},
                 {"through", "at the disc", 2.0 * radius, lined}};
  return wanted;
}

}  // namespace linerwright::asked
