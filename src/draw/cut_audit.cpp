#include "cut_audit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "segments.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_most_meetings = 100000;  // a file with more is beyond listing

class CutAudit {
 public:
  CutAudit(const DxfFile& file, const AuditExpectations& expected, Findings& findings)
      : file_(file), expected_(expected), findings_(findings) {
    const std::string layer = expected.single_layer ? "0" : layer_name(Layer::cut);
    for (const DxfPolyline& line : file.lines) {
      if (line.layer != layer || line.points.size() < 2) continue;
      closed_up_.push_back(line);
      if (expected.overcut > 0.0) close_up(closed_up_.back());
    }
    for (const DxfPolyline& line : closed_up_) cuts_.push_back({&line, *bounding_box(line.points)});
  }

  void run() {
    if (cuts_.empty()) {
      findings_.add("D118", 0, "nothing to cut");
      return;
    }
    closed();
    short_segments();
    meetings();
    directions();
    if (expected_.labels_inside) labels();
  }

 private:
  struct Cut {
    const DxfPolyline* line;
    Box box;
    bool troubled = false;   // crosses or doubles something: its direction tells nothing
    bool duplicate = false;  // runs along an earlier one: counts as one outline with it
    bool contour() const { return line->closed && line->points.size() > 2; }
  };
  struct Met {
    Meeting how = Meeting::none;
    Vec2 where;
  };

  // Takes off what runs on over the line's beginning: the contour that is left is closed.
  void close_up(DxfPolyline& line) const {
    const std::vector<Vec2>& points = line.points;
    if (line.closed) return;
    double run_on = 0.0;
    for (std::size_t j = points.size() - 1; j > 2 && run_on <= expected_.overcut + expected_.tolerance; --j) {
      if (distance(points[j], points.front()) <= expected_.tolerance) {
        if (!retraces(points, j)) return;
        line.points.resize(j);
        line.closed = true;
        return;
      }
      run_on += distance(points[j], points[j - 1]);
    }
  }

  // True where all points from `from` on lie on the line's beginning.
  bool retraces(const std::vector<Vec2>& points, std::size_t from) const {
    for (std::size_t i = from; i < points.size(); ++i) {
      bool on = false;
      double way = 0.0;
      for (std::size_t k = 0; k + 1 < from && way <= expected_.overcut + expected_.tolerance && !on; ++k) {
        on = distance_to_segment(points[i], points[k], points[k + 1]) <= expected_.tolerance;
        way += distance(points[k], points[k + 1]);
      }
      if (!on) return false;
    }
    return true;
  }

  void closed() {
    for (const Cut& cut : cuts_) {
      if (cut.line->closed) continue;
      const bool returns = distance(cut.line->points.front(), cut.line->points.back()) <= expected_.tolerance;
      if (returns) {
        findings_.add("D101", cut.line->line, "the line ends where it starts but is not flagged closed");
      } else if (!expected_.open_cuts) {
        findings_.add("D101", cut.line->line,
                      "the contour is open, from " + place(cut.line->points.front()) + " to " +
                          place(cut.line->points.back()));
      }
    }
  }

  // A short segment is meant when the line turns sharply, or stops, at either of its ends.
  void short_segments() {
    for (const Cut& cut : cuts_) {
      std::vector<Segment> pieces;
      append_segments(pieces, cut.line->points, cut.line->closed, 0, k_no_length);
      const std::size_t count = pieces.size();
      const auto turn = [&](std::size_t i) {  // at the start of piece i
        const Segment& before = pieces[(i + count - 1) % count];
        const Segment& after = pieces[i % count];
        const Vec2 a = before.b - before.a;
        const Vec2 b = after.b - after.a;
        return std::abs(std::atan2(cross(a, b), dot(a, b)));
      };
      // A corner may be rounded: what counts is how far the line turns within a few shortest lengths.
      const auto near_corner = [&](std::size_t i) {
        if (!cut.line->closed && (i == 0 || i + 1 == count)) return true;
        const double reach = 3.0 * expected_.shortest;
        double turned = turn(i) + turn(i + 1);
        double way = 0.0;
        for (std::size_t k = 1; k < count && way < reach; ++k) {
          way += distance(pieces[(i + k) % count].a, pieces[(i + k) % count].b);
          if (way < reach) turned += turn(i + k + 1);
        }
        way = 0.0;
        for (std::size_t k = 1; k < count && way < reach; ++k) {
          const Segment& piece = pieces[(i + count - k % count) % count];
          way += distance(piece.a, piece.b);
          if (way < reach) turned += turn((i + count - k % count) % count);
        }
        return turned > expected_.corner;
      };
      for (std::size_t i = 0; i < count; ++i) {
        const double length = distance(pieces[i].a, pieces[i].b);
        if (length >= expected_.shortest || near_corner(i)) continue;
        findings_.add("D106", cut.line->line,
                      fmt::format("a segment of {:.4f} mm at {}", length, place(pieces[i].a)));
      }
    }
  }

  void meetings() {
    std::vector<Segment> segments;
    for (std::size_t i = 0; i < cuts_.size(); ++i) {
      append_segments(segments, cuts_[i].line->points, cuts_[i].line->closed, static_cast<int>(i),
                      expected_.tolerance);
    }
    std::map<std::pair<int, int>, Met> met;  // of each two lines, the worst way they meet
    std::size_t count = 0;
    for_near_pairs(segments, expected_.tolerance, [&](const Segment& a, const Segment& b) {
      const Meeting how = meeting(a, b, expected_.tolerance);
      if (how == Meeting::none) return true;
      const auto lines = std::minmax(a.line, b.line);
      Met& worst = met[lines];
      if (how > worst.how) worst = {how, nearest(a, b)};
      return ++count < k_most_meetings;
    });
    for (const auto& [lines, worst] : met) {
      report(cuts_[static_cast<std::size_t>(lines.first)], cuts_[static_cast<std::size_t>(lines.second)],
             worst);
    }
  }

  // A place on `a` that shows where it meets `b`: the end of b nearest to it.
  static Vec2 nearest(const Segment& a, const Segment& b) {
    return distance_to_segment(b.a, a.a, a.b) <= distance_to_segment(b.b, a.a, a.b) ? b.a : b.b;
  }

  void report(Cut& a, Cut& b, const Met& met) {
    const bool same = a.line == b.line;
    const std::string where = fmt::format(" near {}", place(met.where));
    const std::string other = same ? "itself" : fmt::format("the line that starts on line {}", a.line->line);
    if (met.how == Meeting::overlap) {
      findings_.add("D104", b.line->line, "a stretch runs along " + other + where);
      if (!same) b.duplicate = true;
    } else if (same) {
      findings_.add("D107", b.line->line, "the line crosses or touches itself" + where);
    } else if (met.how == Meeting::cross || (a.line->closed && b.line->closed)) {
      if (edge_to_edge(a, b)) return;
      findings_.add("D108", b.line->line, "the line crosses or touches " + other + where);
    } else {
      return;  // an open cut may end on another line
    }
    a.troubled = true;
    b.troubled = true;
  }

  // The outline that the line is, or is a part of; null: none.
  const Ring* outline_of(const Cut& cut) const {
    if (cut.contour()) return &cut.line->points;
    const auto on = [&](const Ring& ring, Vec2 p) {
      for (std::size_t i = 0; i < ring.size(); ++i)
        if (distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]) <= expected_.tolerance) return true;
      return false;
    };
    for (const Ring& ring : expected_.opened)
      if (std::all_of(cut.line->points.begin(), cut.line->points.end(), [&](Vec2 p) { return on(ring, p); }))
        return &ring;
    return nullptr;
  }

  // True where a cut across a piece reaches another line with no more than its ends.
  bool meets_with_its_ends(const Cut& open, const Cut& other) const {
    std::vector<Vec2> points = open.line->points;
    const auto draw_in = [&](Vec2& end, Vec2 next) {
      const double length = distance(end, next);
      end = end + (std::min(0.5, 2.0 * expected_.intrusion / length)) * (next - end);
    };
    draw_in(points.front(), points[1]);
    draw_in(points.back(), points[points.size() - 2]);
    std::vector<Segment> own, others;
    append_segments(own, points, false, 0, expected_.tolerance);
    append_segments(others, other.line->points, other.line->closed, 1, expected_.tolerance);
    return std::none_of(own.begin(), own.end(), [&](const Segment& a) {
      return std::any_of(others.begin(), others.end(), [&](const Segment& b) {
        return meeting(a, b, expected_.tolerance) != Meeting::none;
      });
    });
  }

  // True where two pieces lie edge to edge, or one in a hole of the other: neither reaches further into the
  // other than allowed.
  bool edge_to_edge(const Cut& a, const Cut& b) const {
    if (!(expected_.intrusion > 0.0)) return false;
    const Ring* one = outline_of(a);
    const Ring* other = outline_of(b);
    if (one == nullptr && other == nullptr) return false;
    if (one == nullptr) return meets_with_its_ends(a, b);
    if (other == nullptr) return meets_with_its_ends(b, a);
    const auto covered = [](const std::vector<Region>& regions) {
      double sum = 0.0;
      for (const Region& region : regions) sum += area(region);
      return sum;
    };
    const double both = covered(intersected({{*one, {}}}, {{*other, {}}}));
    const double apart = std::min(std::fabs(signed_area(*one)), std::fabs(signed_area(*other))) - both;
    const double most =
        expected_.intrusion * std::min(polyline_length(*one, true), polyline_length(*other, true));
    return std::min(both, apart) <= most;
  }

  // How many contours hold p.
  int depth(Vec2 p, const Cut* except = nullptr) const {
    int count = 0;
    for (const Cut& cut : cuts_) {
      if (&cut == except || !cut.contour() || cut.duplicate) continue;
      const bool in_box =
          p.x >= cut.box.low.x && p.x <= cut.box.high.x && p.y >= cut.box.low.y && p.y <= cut.box.high.y;
      if (in_box && point_in_polygon(p, cut.line->points)) ++count;
    }
    for (const Ring& ring : expected_.opened) count += point_in_polygon(p, ring) ? 1 : 0;
    return count;
  }

  // Beside the middle of the longest edge: a neighbour may lie along the contour itself.
  Vec2 just_inside(const Ring& ring) const {
    std::size_t longest = 0;
    const auto edge = [&](std::size_t i) { return ring[(i + 1) % ring.size()] - ring[i]; };
    for (std::size_t i = 1; i < ring.size(); ++i)
      if (norm(edge(i)) > norm(edge(longest))) longest = i;
    const Vec2 along = edge(longest);
    const double inward = 10.0 * std::max(expected_.tolerance, expected_.intrusion);
    const Vec2 left{-along.y, along.x};
    return ring[longest] + 0.5 * along + ((signed_area(ring) > 0.0 ? inward : -inward) / norm(along)) * left;
  }

  void directions() {
    for (const Cut& cut : cuts_) {
      if (!cut.contour() || cut.troubled) continue;
      const bool hole = depth(just_inside(cut.line->points), &cut) % 2 == 1;
      const bool counter_clockwise = signed_area(cut.line->points) > 0.0;
      if (!hole && !counter_clockwise) {
        findings_.add(
            "D102", cut.line->line,
            "an outline runs clockwise, or a hole lies in no outline, at " + place(cut.line->points.front()));
      } else if (hole && counter_clockwise) {
        findings_.add("D103", cut.line->line,
                      "a hole runs counter-clockwise at " + place(cut.line->points.front()));
      }
    }
  }

  void labels() {
    const auto check = [&](const std::vector<Vec2>& points, int line) {
      const auto within = [&](const Box& box) {
        return std::all_of(points.begin(), points.end(), [&](Vec2 p) {
          return p.x >= box.low.x && p.y >= box.low.y && p.x <= box.high.x && p.y <= box.high.y;
        });
      };
      if (std::any_of(expected_.labelled.begin(), expected_.labelled.end(), within)) return;
      for (const Vec2 p : points) {
        if (depth(p) % 2 == 1) continue;
        findings_.add("D110", line, "a label leaves the piece at " + place(p));
        return;
      }
    };
    const std::string layer = layer_name(Layer::label);
    for (const DxfPolyline& line : file_.lines) {
      if (line.layer == layer) check(line.points, line.line);
    }
    for (const DxfText& text : file_.texts) {
      if (text.layer != layer) continue;
      check(text_corners({Layer::label, text.at, text.height, text.angle, text.centred, text.text}),
            text.line);
    }
  }

  const DxfFile& file_;
  const AuditExpectations& expected_;
  Findings& findings_;
  std::vector<DxfPolyline> closed_up_;  // the lines on CUT without their overcuts
  std::vector<Cut> cuts_;
};

}  // namespace

void audit_cuts(const DxfFile& file, const AuditExpectations& expected, Findings& findings) {
  CutAudit(file, expected, findings).run();
}

}  // namespace linerwright
