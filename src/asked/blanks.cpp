// Pieces from one board. A bend's gores, their seams on alternate sides, share their mitre cuts: their
// middle lines stand collar + R tan(mitre), then 2 R tan(mitre) apart, and the cuts swing about them by
// r tan(mitre) cos x, one up, the next down as long as the bend goes on (Longfield, Sheet Metal Drafting,
// 1921, p. 52 to 59; New Metal Worker Pattern Book: elbow patterns cut from one sheet with no waste). At its
// ends the board is level, or as the outermost piece meets a taper or a body.
#include <algorithm>

#include "knife_edge.hpp"
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

// The same of the lower or the upper one where a contour crosses x.
double y_beyond(const std::vector<Point>& ring, double x, bool upper) {
  double best = NAN;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const double y = y_at({ring[i], ring[(i + 1) % ring.size()]}, x);
    if (!std::isnan(y) && (std::isnan(best) || (y > best) == upper)) best = y;
  }
  return best;
}

// One blank: which walls it holds, from the lowest on, and where the knife goes.
class Board {
 public:
  Board(Case& asked, const MadePiece& made) : asked_(asked), made_(made), request_(asked.made.request) {
    for (const std::string& id : made.holds)
      for (const Wall& wall : asked.wanted.walls)
        if (wall.id == id) walls_.push_back(&wall);
    if (walls_.size() != made.holds.size() || walls_.empty())
      throw Unreadable(made.id + " holds no such pieces");
    width_ = whole_stretch(*walls_.front(), request_) - request_.value("fit_allowance");
    duct_up_ = request_.word("face_up") == "duct";
    follows_ = follows_of(request_);
    outer_face_ = request_.outer_face();
    inner_face_ = request_.inner_face();
    for (const bool open : {false, true})
      left_[open] = request_.value(open ? "end_allowance" : "butt_allowance");
  }

  void prove(Worst& lines, Worst& figures) {
    const std::string name = name_ending(asked_.files, "-" + made_.id + ".dxf");
    if (name.empty()) throw Unreadable("the pattern of " + made_.id + " is missing");
    read(read_drawn(asked_.files.at(name), name, asked_.made.inch_drawings ? 25.4 : 1.0));
    figures.off(made_.stretch_out - width_, "girth");
    figures.off(around_ - width_, "width");
    // with butt allowances the pieces stand apart by them: their middle lines are not tried then
    const double butt = request_.value("butt_allowance");
    if (butt > 0.0) {
      if (level())
        figures.off(std::remainder(along_ - total() - 2.0 * request_.value("end_allowance"), butt), "height");
      return;
    }
    if (shared_.size() + 1 != walls_.size()) {
      lines.wrong(std::to_string(shared_.size()) + " shared cuts");
      return;
    }
    std::sort(shared_.begin(), shared_.end(),
              [&](const auto& a, const auto& b) { return y_at(a, width_ / 4.0) < y_at(b, width_ / 4.0); });
    // the first wall's circle, from which its heights are counted
    double base = -lowest([&](double turn) { return reach(false, turn); });
    double middle = base + mean(walls_.front()->high);
    if (!shared_.empty() && !level()) {
      // a curved edge is drawn by chords, of which the lowest lies on the board's edge: all else stands as
      // much lower
      const double lift = mean_lift(0, middle);
      lines.off(lift, "lower edge");
      base += lift;
      middle += lift;
    }
    for (std::size_t k = 0; k < shared_.size(); ++k) {
      prove_shared(k, middle, lines);
      if (k + 1 < shared_.size()) middle += mean(walls_[k + 1]->high) - mean(walls_[k + 1]->low);
    }
    const double last = shared_.empty() ? base : middle - mean(walls_.back()->low);
    prove_outer(false, base, lines);
    prove_outer(true, last, lines);
    // a curved edge is drawn by chords
    Worst& heights = level() ? figures : lines;
    heights.off(along_ - last + lowest([&](double turn) { return -outer(true, turn); }), "height");
    heights.off(made_.along - last + lowest([&](double turn) { return -reach(true, turn); }), "board");
  }

 private:
  Case& asked_;
  const MadePiece& made_;
  const Request& request_;
  std::vector<const Wall*> walls_;
  std::vector<std::vector<Point>> shared_;
  std::vector<Point> outline_;
  double width_ = 0.0, around_ = 0.0, along_ = 0.0;
  bool duct_up_ = false;
  Follows follows_ = Follows::middle;
  double outer_face_ = 0.0, inner_face_ = 0.0;
  double left_[2]{};  // beyond a joint, an open end

  void read(const Drawn& drawn) {
    for (const Entity& entity : on_layer(drawn, asked_, "CUT")) {
      if (!entity.closed && std::abs(entity.points.front()[0] - entity.points.back()[0]) > 0.9 * width_)
        shared_.push_back(entity.points);
      if (entity.closed && entity.points.size() > outline_.size()) outline_ = entity.points;
      for (const Point& point : entity.points) {
        around_ = std::max(around_, point[0]);
        along_ = std::max(along_, point[1]);
      }
    }
  }

  bool level() const { return walls_.front()->low_open && walls_.back()->high_open; }
  double total() const {
    double sum = 0.0;
    for (const Wall* wall : walls_) sum += mean(wall->high) - mean(wall->low);
    return sum;
  }

  // Between the faces' depths a knife square to the board goes along one; half way between both where two
  // pieces share the cut and neither may lose any.
  double depth() const {
    if (follows_ == Follows::duct) return outer_face_;
    return follows_ == Follows::air ? inner_face_ : 0.5 * (outer_face_ + inner_face_);
  }

  // Height over its wall's first circle where the board ends, with what is left there.
  double outer(bool upper, double turn) const {
    const Wall& wall = upper ? *walls_.back() : *walls_.front();
    const double left = left_[upper ? wall.high_open : wall.low_open];
    const auto at = [&](double w) { return upper ? wall.high(turn, w) + left : wall.low(turn, w) - left; };
    return followed(at(outer_face_), at(inner_face_), upper, follows_);
  }

  // The same of whatever is drawn there, the faces included: the lowest lies on the board's edge.
  double reach(bool upper, double turn) const {
    const Wall& wall = upper ? *walls_.back() : *walls_.front();
    double furthest = outer(upper, turn);
    for (const double w : {outer_face_, inner_face_})
      furthest = upper ? std::max(furthest, wall.high(turn, w)) : std::min(furthest, wall.low(turn, w));
    return furthest;
  }

  // Two saddles that meet make a kink at the lowest point: where it may lie is closed in on.
  template <class Height>
  static double lowest(const Height& height) {
    constexpr int steps = 7200;
    std::vector<double> heights(steps);
    for (int i = 0; i < steps; ++i) heights[static_cast<std::size_t>(i)] = height(k_turn * i / steps);
    double least = *std::min_element(heights.begin(), heights.end());
    const double coarse = least;
    for (int i = 0; i < steps; ++i) {
      const double here = heights[static_cast<std::size_t>(i)];
      const double before = heights[static_cast<std::size_t>((i + steps - 1) % steps)];
      const double next = heights[static_cast<std::size_t>((i + 1) % steps)];
      const double rise = std::max(before, next) - here;
      if (here > before || here > next || rise < 1e-6 || here - rise > coarse) continue;
      least = std::min(least, low_between(height, k_turn * (i - 1) / steps, k_turn * (i + 1) / steps));
    }
    return least;
  }

  template <class Height>
  static double low_between(const Height& height, double from, double to) {
    for (int i = 0; i < 40; ++i) {
      const double third = (to - from) / 3.0;
      if (height(from + third) <= height(to - third))
        to -= third;
      else
        from += third;
    }
    return height(0.5 * (from + to));
  }

  double turn_at(const Wall& wall, double x) const {  // face down: mirrored
    return *wall.seam + k_turn * (duct_up_ ? x : width_ - x) / width_;
  }
  double place(int i) const { return width_ * (0.001 + 0.998 * i / 24.0); }

  double swing(const Wall& wall, double turn) const {
    return 0.5 * (wall.high(turn, depth()) - wall.high(turn + k_pi, depth()));
  }

  // What a shared cut lies higher than about its middle line, over one turn.
  double mean_lift(std::size_t k, double middle) const {
    double sum = 0.0;
    for (int i = 0; i < 24; ++i)
      sum += y_at(shared_[k], width_ * (i + 0.5) / 24.0) - middle -
             swing(*walls_[k], turn_at(*walls_[k], width_ * (i + 0.5) / 24.0));
    return sum / 24.0;
  }

  void prove_shared(std::size_t k, double middle, Worst& lines) const {
    const Wall& wall = *walls_[k];
    for (int i = 0; i <= 24; ++i) {
      const double turn = turn_at(wall, place(i));
      // a wave once around: its slope is what it swings by a quarter of a turn on
      const double slope = k_turn / width_ * swing(wall, turn + 0.5 * k_pi);
      lines.off((y_at(shared_[k], place(i)) - middle - swing(wall, turn)) / std::sqrt(1.0 + slope * slope),
                "cut " + std::to_string(k + 1));
    }
  }

  void prove_outer(bool upper, double base, Worst& lines) const {
    const Wall& wall = upper ? *walls_.back() : *walls_.front();
    for (int i = 0; i <= 24; ++i) {
      const double turn = turn_at(wall, place(i));
      constexpr double step = 1e-4;
      const double slope =
          k_turn / width_ * (outer(upper, turn + step) - outer(upper, turn - step)) / (2.0 * step);
      lines.off(
          (y_beyond(outline_, place(i), upper) - base - outer(upper, turn)) / std::sqrt(1.0 + slope * slope),
          upper ? "upper edge" : "lower edge");
    }
  }
};

}  // namespace

void prove_blanks(Case& asked) {
  Worst lines("blank", 0.055, "mm",
              "shared mitres swinging about their middle lines, and the outermost ends");
  Worst figures("blank figures", 0.001, "mm",
                "girth, and the centreline's way with the ends and their allowances");
  for (const MadePiece& piece : asked.made.pieces)
    if (is_blank(piece)) Board(asked, piece).prove(lines, figures);
  lines.into(asked.findings);
  figures.into(asked.findings);
}

}  // namespace linerwright::asked
