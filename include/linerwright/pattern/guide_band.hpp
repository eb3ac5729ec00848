// Guide bands: strips of thin sheet, clamped around a rolled piece, along whose edge a mitre or a saddle is
// cut by hand, or a hole along their window.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// What bands are made of, mm.
struct BandSheet {
  double thickness = 0.8;
  double width = 60.0;  // of a band where it is narrowest
  double lap = 40.0;    // of its ends, one over the other, where it is clamped
  double bolt = 7.0;    // holes in the lap
};

// An end of a piece that is cut along a band.
struct BandUse {
  std::size_t fitting;  // of those asked for
  std::string piece;    // its id
  End end;              // which end of it, where it is an end
  double from_seam;     // girth on the liner from the middle of the lap to the piece's nearest seam, mm
  std::optional<std::size_t> hole{};  // or which of its wall's holes is cut along the band's window
};

// How the blade leans at a place of a band's edge: from square to the liner toward the band's own side where
// negative, away from it where positive, along the liner.
struct BandStation {
  double around;  // radians from where the band begins
  Vec2 at;        // on the flat band
  double lean;    // radians
};

// A band serves all ends of its size and shape, also turned end for end and bent with its other face out.
struct GuideBand {
  std::string id;     // "mitre-400-22.5"
  std::string words;  // "mitre of 22.5 degrees"
  std::vector<BandUse> uses;
  double outside = 0.0;  // diameter of the rolled liner at the cut, mm
  Pattern pattern;       // flat, its outer face up; it holds no piece
  std::vector<BandStation> stations;
  // Where it is rolled to: the wall of its first use, the depth of the liner's outer face, and the ruling
  // that it begins on.
  Sheet wall;
  double depth = 0.0;
  double begins = 0.0;
  double sheet = 0.0;  // its thickness
};

// Ruling and height on the wall of the first use where a point of the flat band comes to lie.
Sheet::Place rolled(const GuideBand& band, Vec2 flat);

// The bands that these fittings need, each once: for ends that are not square all around, and around bodies
// for the holes that branches stand in. Throws InputError
// where a band's sizes leave no band.
std::vector<GuideBand> guide_bands(const std::vector<Fitting>& fittings, const BandSheet& sheet);

// The name of its drawing beside the files of a fitting: "E1-band-mitre-400-22.5.dxf".
std::string band_file(const std::string& stem, const GuideBand& band);
// What a band serves, in words: "E/2 upper end; E/3 lower end".
std::string served_by(const GuideBand& band, const std::vector<Fitting>& fittings);
// The stations of these bands as comma-separated values, mm and degrees.
std::string bands_csv(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings);

// Largest distance, mm, of the flat band's edge, rolled around the liner, from the edge that the liner is to
// be cut to; at its corners and half way between.
double edge_error(const GuideBand& band, const std::vector<Fitting>& fittings);

}  // namespace linerwright
