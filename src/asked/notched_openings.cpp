// Openings in notched blanks, laid out on their tabs.
#include <algorithm>
#include <cmath>

#include "flat.hpp"
#include "notched.hpp"

namespace linerwright::asked {

namespace {

// Places of a blank's walls on its board. A tab keeps the heights over the bend line, and its rulings lie as
// evenly at its top as they do at its foot (common practice for tapers of notched board).
class Tabs {
 public:
  Tabs(const NotchedReducer& reducer, const NotchedPart& blank) : reducer_(reducer), blank_(blank) {
    mirrored_ = reducer.request.word("face_up") == "air";
    width_ = blank.made->stretch_out;
    bend_ = blank.made->ordinates.front().y - blank.made->ordinates.front().duct_low;
    std::vector<const MadeNotch*> notches;
    for (const MadeNotch& notch : blank.made->notches) notches.push_back(&notch);
    std::sort(notches.begin(), notches.end(), [&](const MadeNotch* a, const MadeNotch* b) {
      return unturned(a->tip[0]) < unturned(b->tip[0]);
    });
    tabs_.push_back({0.0, width_, 0.0, width_});
    for (const MadeNotch* notch : notches) {
      const double at = unturned(notch->tip[0]);
      const double sides[2] = {unturned(notch->duct_left[0]), unturned(notch->duct_right[0])};
      const double before = std::min(sides[0], sides[1]);
      const double after = std::max(sides[0], sides[1]);
      Tab next{at, width_, after, width_};
      if (at < 1e-6) {
        tabs_.back() = next;
      } else {
        tabs_.back().to = at;
        tabs_.back().top_to = before;
        if (at < width_ - 1e-6) tabs_.push_back(next);
      }
    }
  }

  double turned(double theta) const {
    const double turn = std::fmod(theta - blank_.start, k_turn);
    return turn < 0.0 ? turn + k_turn : turn;
  }

  Point place(const Point& at, bool on_collar) const {
    const double turn = turned(at[0]);
    double x = width_ * turn / blank_.span;
    const double height = on_collar ? at[1] : at[1] - reducer_.circle(blank_.large, at[0]);
    if (!on_collar) {
      const auto tab =
          std::find_if(tabs_.begin(), tabs_.end() - 1, [&](const Tab& each) { return x < each.to; });
      const double top =
          tab->top_from + (x - tab->from) / (tab->to - tab->from) * (tab->top_to - tab->top_from);
      x += height / reducer_.small_height(blank_, at[0], 0.0) * (top - x);
    }
    return {mirrored_ ? width_ - x : x, bend_ + height};
  }

 private:
  struct Tab {
    double from, to, top_from, top_to;
  };
  double unturned(double x) const { return mirrored_ ? width_ - x : x; }
  const NotchedReducer& reducer_;
  const NotchedPart& blank_;
  bool mirrored_;
  double width_, bend_;
  std::vector<Tab> tabs_;
};

// An opening of a blank at this rim: both faces' edges, and half way between.
Flat::Hole laid_opening(const Tabs& tabs, const Rim& rim, bool on_collar, const double (&faces)[2]) {
  constexpr int around = 720;
  Flat::Hole hole;
  for (int i = 0; i < around; ++i) {
    const Point duct = tabs.place(rim(k_turn * i / around, faces[0]), on_collar);
    const Point air = tabs.place(rim(k_turn * i / around, faces[1]), on_collar);
    hole.duct.push_back(duct);
    hole.air.push_back(air);
    hole.mid.push_back({0.5 * (duct[0] + air[0]), 0.5 * (duct[1] + air[1])});
  }
  return hole;
}

// Whether an opening lies on this blank, which may be a ring and a panel of it.
bool lies_on(const Tabs& tabs, const NotchedReducer& reducer, const NotchedPart& blank, const Rim& rim,
             bool on_collar) {
  const Point top = rim(0.0, 0.0);
  const Point bottom = rim(k_turn / 2.0, 0.0);
  const Point middle{0.5 * (top[0] + bottom[0]), 0.5 * (top[1] + bottom[1])};
  if (tabs.turned(middle[0]) > blank.span) return false;
  if (on_collar) return blank.collar;
  const double large = reducer.circle(blank.large, middle[0]);
  const double small = reducer.circle(blank.small, middle[0]);
  return (middle[1] - large) * (small - middle[1]) > 0.0;
}

}  // namespace

void prove_openings(const NotchedReducer& reducer, const NotchedPart& blank, const NotchedCuts& cuts,
                    HoleLines& lines) {
  const Tabs tabs(reducer, blank);
  const Request& request = reducer.request;
  const double faces[2] = {0.0, request.value("thickness")};
  const auto stations = static_cast<std::size_t>(request.value("stations"));
  const std::string& id = blank.made->id;
  // what the last decimals of girths and of a panel's first angle move
  const double rounded = blank.blur + 1e-8 * reducer.large;
  std::size_t found = 0;
  for (const Wall* wall : {reducer.collar, reducer.taper}) {
    const bool on_collar = wall == reducer.collar;
    for (const Rim& rim : wall == nullptr ? std::vector<Rim>{} : wall->openings) {
      if (!lies_on(tabs, reducer, blank, rim, on_collar)) continue;
      const std::string at = id + ", opening " + std::to_string(found + 1);
      for (std::size_t i = 0; i < stations; ++i) {
        const std::size_t row = found * stations + i;
        lines.stations.expect(row < blank.made->holes.size(), at + " misses points");
        if (row >= blank.made->holes.size()) break;
        const MadeHole& made = blank.made->holes[row];
        const double psi = k_turn * static_cast<double>(i) / static_cast<double>(stations);
        const Point duct = tabs.place(rim(psi, faces[0]), on_collar);
        const Point air = tabs.place(rim(psi, faces[1]), on_collar);
        const auto off = [&](double difference, const char* face) {
          lines.stations.off(std::max(0.0, std::abs(difference) - rounded), at + face);
        };
        for (std::size_t k = 0; k < 2; ++k) {
          off(made.duct[k] - duct[k], ", duct face");
          off(made.air[k] - air[k], ", air face");
        }
      }
      const Flat::Hole wanted = laid_opening(tabs, rim, on_collar, faces);
      double off = 1e300;
      for (const std::vector<Point>& hole : cuts.holes) off = std::min(off, off_hole(hole, wanted, request));
      lines.cuts.off(off, at);
      ++found;
    }
  }
  if (found == 0 && cuts.holes.empty() && blank.made->holes.empty()) return;
  lines.cuts.expect(found == cuts.holes.size(),
                    id + " is cut with " + std::to_string(cuts.holes.size()) + " holes");
  lines.stations.expect(found * stations == blank.made->holes.size(), id + " lists points of other holes");
}

}  // namespace linerwright::asked
