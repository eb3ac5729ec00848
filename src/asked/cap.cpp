// An end cap: a ring closed by a flat disc. A disc is a taper to a point that has no length: its rulings run
// to the centre, and depths count along the axis. Bevelled at 45 degrees each layer of the ring ends as deep
// as the disc's lies (a picture frame's corner); butted the disc is as wide as the duct and the ring ends
// under it; set inside, the other way about.
#include "kinds.hpp"

namespace linerwright::asked {

namespace {

Wall disc_at(double length, double radius, double t, const std::string& seat) {
  const bool butt = seat == "butt";
  const bool inside = seat == "inside";
  Wall disc;
  disc.id = disc.role = "disc";
  disc.origin = {0, 0, length};
  disc.radius = radius;
  disc.taper = k_flat;
  disc.low = [=](double, double w) { return butt ? 0.0 : inside ? t : w; };
  disc.high = [radius](double, double) { return radius; };
  disc.low_open = false;
  return disc;
}

// A disc that closes nothing holds what it is made of: for each depth of its air side what lies above it.
Wanted wanted_disc_alone(const Request& request, double radius, double t) {
  Wanted wanted;
  const std::string seat = request.word("seat");
  Wall disc = disc_at(0.0, radius, t, seat);
  // its metal is as wide as the duct on either side
  disc.low = [low = disc.low](double theta, double w) { return w < 0.0 ? 0.0 : low(theta, w); };
  wanted.walls = {disc};
  const auto edge = [=](double w) { return radius - (seat == "butt" ? 0.0 : seat == "inside" ? t : w); };
  wanted.inside = [=](double w) {
    const double a = edge(w), b = edge(t);
    return w >= t ? 0.0 : k_turn / 2.0 * (t - w) * (a * a + a * b + b * b) / 3.0;
  };
  return wanted;
}

}  // namespace

Wanted wanted_cap(const Request& request) {
  const double radius = request.value("diameter") / 2.0;
  const double length = request.value("length");
  const double t = request.bore_depth();
  const std::string seat = request.word("seat");
  if (length <= 0.0) return wanted_disc_alone(request, radius, t);
  const bool butt = seat == "butt";
  const bool inside = seat == "inside";
  Wall ring;
  ring.id = ring.role = "ring";
  ring.radius = radius;
  ring.low = [](double, double) { return 0.0; };
  ring.high = [=](double, double w) { return length - (butt ? t : inside ? 0.0 : w); };
  ring.high_open = false;
  Wanted wanted;
  wanted.walls = {ring, disc_at(length, radius, t, seat)};
  wanted.ends = {{"ring", {0, 0, 0}, {0, 0, -1}, radius, true}};
  const double lined = 2.0 * (radius - t);
  wanted.bore = {{"through", "open end", 2.0 * radius, lined},
                 {"through", "at the disc", 2.0 * radius, lined}};
  return wanted;
}

}  // namespace linerwright::asked
