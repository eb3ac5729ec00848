#include "linerwright/fitting/divisible.hpp"

#include <algorithm>

#include "divider.hpp"

namespace linerwright {

namespace {

// Whether the piece may be divided otherwise at all: not where it is cut together with others, and no disc or
// square-to-round.
bool is_free(const Fitting& fitting, std::size_t index) {
  const int piece = static_cast<int>(index);
  const Sheet& sheet = fitting.wall_of(fitting.pieces[index]).sheet;
  return !sheet.is_flat() && !sheet.is_square_to_round() &&
         std::none_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
           return blank.taper == piece || blank.collar == piece;
         });
}

bool is_in_a_blank(const Fitting& fitting, std::size_t index) {
  const int piece = static_cast<int>(index);
  return std::any_of(fitting.blanks.begin(), fitting.blanks.end(), [&](const Blank& blank) {
    return std::find(blank.pieces.begin(), blank.pieces.end(), piece) != blank.pieces.end();
  });
}

// As the request's board divides it; nothing where its panels are of different widths, or it cannot be.
std::vector<StatedRing> rings_today(const Divider& divider) {
  if (divider.fits_whole()) return {{divider.mean_length(), 1}};
  const std::optional<Division> division = divider.find({});
  if (!division || !division->edges.empty()) return {};
  std::vector<StatedRing> rings;
  double before = 0.0;
  for (const double cut : divider.heights(*division)) {
    rings.push_back({cut - before, division->panels_in(rings.size())});
    before = cut;
  }
  return rings;
}

// Metres of seam and of joint between rings.
double seams_of(const std::vector<StatedRing>& rings, double around) {
  double length = around * (static_cast<double>(rings.size()) - 1.0);
  for (const StatedRing& ring : rings) length += ring.height * ring.panels;
  return 1e-3 * length;
}

bool may_be_divided_otherwise(const FittingRequest& request, const BoardRoom& room) {
  return !request.values.has("division") && !request.values.has("second_layer") && room.other_joints.empty();
}

// Other rings or panels than today's, whether or not they can be had.
std::vector<std::vector<StatedRing>> other_rings(const std::vector<StatedRing>& today) {
  std::vector<std::vector<StatedRing>> all;
  for (const int more : {1, 2}) {
    all.push_back(today);
    for (StatedRing& ring : all.back()) ring.panels += more;
  }
  if (today.size() == 1) {
    const StatedRing half{0.5 * today.front().height, today.front().panels};
    all.push_back({half, half});
  }
  return all;
}

}  // namespace

std::vector<DivisiblePiece> divisible_pieces(const FittingRequest& request) {
  const BoardRoom room = room_of(request);
  std::vector<DivisiblePiece> pieces;
  if (!may_be_divided_otherwise(request, room)) return pieces;
  const Fitting whole = build_whole(request);
  for (std::size_t i = 0; i < whole.pieces.size(); ++i) {
    if (!is_free(whole, i)) continue;
    const Divider divider(whole, whole.pieces[i], room);
    if (!divider.has_square_ends()) continue;
    DivisiblePiece piece;
    piece.piece = whole.pieces[i].id;
    piece.length = divider.mean_length();
    piece.around = divider.size().x;
    piece.least = room.least;
    piece.end_extra = whole.liner.end_allowance;
    piece.butt_extra = whole.liner.butt_allowance;
    piece.fits_whole = divider.fits_whole();
    piece.today = rings_today(divider);
    piece.holes = divider.hole_stretches();
    if (!piece.today.empty()) pieces.push_back(std::move(piece));
  }
  return pieces;
}

std::vector<OtherDivision> other_divisions(const FittingRequest& request) {
  const BoardRoom room = room_of(request);
  std::vector<OtherDivision> others;
  if (!may_be_divided_otherwise(request, room)) return others;
  const Fitting whole = build_whole(request);
  const Reasons reasons(request);
  for (std::size_t i = 0; i < whole.pieces.size(); ++i) {
    if (!is_free(whole, i)) continue;
    const Divider divider(whole, whole.pieces[i], room);
    const bool tapers = !whole.wall_of(whole.pieces[i]).sheet.is_cylinder();
    if (divider.has_square_ends() || (tapers && request.values.has("panels"))) continue;
    const std::vector<StatedRing> today = rings_today(divider);
    if (today.empty()) continue;
    const double around = divider.size().x;
    std::string why;
    for (std::vector<StatedRing>& rings : other_rings(today))
      if (divider.stated(rings, reasons, &why)) {
        const double seams = seams_of(rings, around) - seams_of(today, around);
        others.push_back(
            {whole.pieces[i].id, std::move(rings), seams, divider.fits_whole(), is_in_a_blank(whole, i)});
      }
  }
  return others;
}

bool is_cut_of(const std::string& id, const std::string& whole) {
  if (id.compare(0, whole.size(), whole) != 0) return false;
  std::size_t at = whole.size();
  if (at < id.size() && id[at] >= 'a' && id[at] <= 'z' && id[at] != 'p') ++at;
  const bool lettered_p = at < id.size() && id[at] == 'p' && (at + 1 == id.size() || id[at + 1] == 'p');
  if (lettered_p) ++at;  // the ring p
  if (at == id.size()) return true;
  return id[at] == 'p' && at + 1 < id.size() &&
         std::all_of(id.begin() + static_cast<std::ptrdiff_t>(at) + 1, id.end(),
                     [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace linerwright
