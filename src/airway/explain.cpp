// What stands behind every figure: formula, source, doubts.
#include <algorithm>
#include <string>
#include <utility>

#include "linerwright/airway/airway.hpp"

namespace linerwright {

namespace {

// Lower case, "-" and "_" as blanks: "Friction-Factor" is "friction factor".
std::string plain(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c == '-' || c == '_') c = ' ';
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

}  // namespace

const std::vector<Explanation>& explanations() {
  static const std::vector<Explanation> entries = {
      {"bare diameter", "D, inside the metal", "given", "The metal's own tolerance is not counted."},
      {"lined diameter", "d = D - 2 t, t = thickness of the lining",
       "Geometry. Dimensions on plans are finished inside dimensions (NAIMA AH121, 2003), so the metal is "
       "sized up for "
       "the lining (UFGS-15810N).",
       "Assumes the lining lies snug on the metal and keeps its thickness. On a taper the bore narrows by t "
       "/ cos(half "
       "angle) in radius."},
      {"free area", "A = pi d^2 / 4; elsewhere the area of the bore in a cut square to the path", "Geometry",
       "Pins, washers, nosing and joints that stand into the air stream are not counted. In a taper whose "
       "second "
       "end is moved aside the cuts turn from the first end's plane to square to the leaning line of "
       "centres, as far "
       "as its ends let them, and back; its length is that line's own."},
      {"share", "A lined / A bare; straight round duct: ((D - 2 t) / D)^2", "Geometry", ""},
      {"narrowest place", "the first section along the path with the smallest free area", "Geometry", ""},
      {"equivalent diameter",
       "d_e = sqrt(4 A / pi), the round bore of the same area and so of the same velocity", "Geometry",
       "Equal area, not equal friction: where the bore is not round the friction is higher."},
      {"opening",
       "the area of a branch's hole in the wall it leaves, on the metal and on the lining's air face",
       "Geometry: the integral over the curved wall at either depth",
       "Larger than the branch's own bore, because the wall is curved and the branch may lean."},
      {"velocity factor", "V lined / V bare = A bare / A lined",
       "Continuity: the same flow through both areas", ""},
      {"air",
       "rho = (p - e) / (R T) + e / (R_w T), R = 287.05, R_w = 461.5 J/(kg K); nu = mu / rho, mu = 1.458e-6 "
       "T^1.5 / (T + "
       "110.4); e = humidity x 611.2 exp(17.62 t / (243.12 + t)) Pa, t in C; p at an altitude h in m: 101325 "
       "(1 - "
       "0.0065 h / 288.15)^5.2559",
       "Law: U.S. Standard Atmosphere 1976. Default density 1.204 kg/m3: standard air of SMACNA HVAC Systems "
       "Duct "
       "Design. Default viscosity 1.506e-5 m2/s: what the law gives at 20 C and 101.325 kPa, and what the "
       "same book's Re = "
       "66.4 D V (D in mm) implies. Vapour: Magnus, in the constants of WMO-No. 8.",
       "[air] sets temperature, altitude or pressure, and humidity; without any of them the default stands. "
       "Humid air "
       "keeps the viscosity of dry air. Other sheets give 1.511e-5 to 1.516e-5 m2/s at 20 C; that moves the "
       "friction by under 0.2 "
       "%."},
      {"velocity", "V = Q / A", "Continuity", "The mean over the section."},
      {"velocity pressure", "p_v = rho V^2 / 2", "Bernoulli; 0.602 V^2 Pa in standard air", ""},
      {"Reynolds", "Re = V d / nu", "O. Reynolds, 1883", ""},
      {"roughness", "eps, the height of sand grains that would cost the same friction",
       "Default bare 0.09 mm (0.0003 ft): average for galvanized round duct, table of duct roughness in the "
       "ASHRAE "
       "Handbook - Fundamentals. Default lined 0.9 mm (0.003 ft): the same table's medium rough group, where "
       "faced "
       "fibrous lining stands. surface = faced: 1.52 mm (0.005 ft), coated: 4.57 mm (0.015 ft), W. B. Swim, "
       "ASHRAE Trans. "
       "84, 1978, as the same table quotes him.",
       "The default is a category's figure, not a product's. The lined value is read from memory, its row "
       "was not seen in full (1.5 mm is also given for it, 4.5 "
       "mm for a "
       "spray coated one). Use the lining's own tested figure where there is one; joints and gaps add to "
       "it."},
      {"friction factor",
       "1/sqrt(f) = -2 log10(eps / (3.7 d) + 2.51 / (Re sqrt(f))) from Re 4000 up; f = 64 / Re below Re "
       "2300; a "
       "straight line in Re between the two",
       "C. F. Colebrook, J. Inst. Civil Eng. 11 (1939) 133; L. F. Moody, Trans. ASME 66 (1944) 671. Solved "
       "to machine "
       "precision. The line in the transition is our own choice.",
       "Between Re 2300 and 4000 no formula holds. Charted to eps/d 0.05 and Re 1e8. The Darcy factor, four "
       "times the "
       "Fanning one."},
      {"friction per length", "dp/L = f (rho V^2 / 2) / d", "Darcy and Weisbach",
       "Straight duct with the flow fully developed; no fittings, no leakage. No surer than the roughness."},
      {"velocity limit", "a warning when V lined > limit; default 6000 fpm (30.48 m/s)",
       "NAIMA Fibrous Glass Duct Liner Standard, 3rd ed. 2002: 6000 fpm or the product's listed rating",
       "The lining's own rating comes first, in both directions."},
      {"nosing",
       "metal nosing on a lining's leading edge wherever bare metal comes before it, and on every leading "
       "edge above 4000 fpm (20.32 m/s)",
       "SMACNA HVAC Duct Construction Standards - Metal and Flexible, 3rd ed., figure 7-11",
       "Drawn for rectangular duct; no rule for round duct was found. upstream = lined or metal says what "
       "comes before a fitting; without it the note stands at each first edge. Where two linings meet in a "
       "run the neighbour is known."},
      {"diameter series",
       "EN 1506: 63 80 100 125 160 200 250 315 400 500 630 800 1000 1250 mm; additional 150 300 355 450 560 "
       "710 900 "
       "1120 mm. Inch: 3 to 24 by 1 in, 26 to 84 by 2 in",
       "EN 1506:2007 as quoted by duct makers' papers. Inch series: common practice, no source.",
       "The standard itself was not seen, and the inch series is from memory: check it against what your "
       "shop makes."},
      {"step up",
       "the smallest diameters of the series at which the fitting, made anew with them, leaves the bore "
       "needed: "
       "by area sqrt(4 A / pi), by velocity sqrt(4 Q / (pi V)), by friction the bore at which Darcy-Weisbach "
       "gives "
       "the limit with the lined roughness. Without a limit of its own: what the bare duct has",
       "Geometry and the figures velocity and friction per length",
       "Keeps the lining's thickness, lengths and angles and a stated centreline radius; a radius ratio and "
       "the "
       "diameter at the other end of a taper grow with it. Velocity and friction hold for straight duct."},
      {"added metal", "pi (D' - D) per length; mass = area x gauge x density, steel 7850 kg/m3", "Geometry",
       "Seams, laps and connections are not counted. The density is from memory."},
      {"thermal resistance",
       "R' = ln(D / d) / (2 pi k) per length; on the area of a face: R' x pi x that face's diameter; flat: t "
       "/ k",
       "Steady conduction through a cylindrical shell (J. P. Holman, Heat Transfer, section 2-4)",
       "The lining alone: no air films, no metal, no pins, no gaps, no moisture. The conductivity is given "
       "by whoever "
       "asks; 0.036 W/(m K) (0.25 Btu in/(h ft2 F)) at 75 F mean is usual for fibrous board, from memory."},
      {"heat gain",
       "q' = (T_room - T_air) / (1/(pi d h_i) + R' + 1/(pi D h_e)); h_i: Nu = 0.023 Re^0.8 Pr^0.4 (0.3 where "
       "the air is "
       "cooled); h_e = 1.25 (dT/D)^0.25 to D^3 dT = 10 m3 K, 1.21 dT^(1/3) beyond, and radiation",
       "Cylinders and still air as ISO 12241 has them (from memory); F. W. Dittus and L. M. K. Boelter 1930, "
       "constants of "
       "McAdams; air's conductivity: U.S. Standard Atmosphere 1976",
       "Needs [air] temperature and room_temperature. Under 0 the air loses heat. Under Re 10 000 no film "
       "inside is "
       "counted. Metal, flanges, hangers, draughts and sun are not in it; emissivity 0.26 is clean "
       "galvanized sheet."},
      {"dew point", "t_d = 243.12 g / (17.62 - g), g = ln(humidity) + 17.62 t / (243.12 + t)",
       "Magnus, constants of WMO-No. 8, over water, -45 to 60 C",
       "Of the stated room. Water settles where the metal's outside is colder; the least thickness is where "
       "it is as warm."},
      {"insertion loss",
       "IL = A + B t + C t^2 + D d + E d^2 + F d^3 dB per foot and octave band, t and the bore d in inches; "
       "under 0 counts as 0; at most 40 dB in all",
       "D. D. Reynolds, J. M. Bledsoe, Algorithms for HVAC Acoustics, ASHRAE 1991, equation 5.18, table 5.6 "
       "(numbers, coefficients, ranges and cap as a public reprint has them)",
       "An estimate. Its sample was dual-wall spiral duct, glass fibre of 0.75 lb/ft3 behind a perforated "
       "inner wall of 25 % open area. For t 1 to 3 in, d 6 to 60 in (25 mm and 150 mm are let in), straight "
       "duct only, never elbows. d as the diameter inside the lining is from memory. All reproduce two "
       "published tables. Later work (ASHRAE RP-1408) found that the loss depends on length and fitted other "
       "equations."},
      {"bare attenuation",
       "dB per foot from 63 to 4000 Hz by diameter: to 7 in 0.03 0.03 0.05 0.05 0.10 0.10 0.10; to 15 in "
       "0.03 0.03 0.03 0.05 0.07 0.07 0.07; to 30 in 0.02 0.02 0.02 0.03 0.05 0.05 0.05; to 60 in 0.01 0.01 "
       "0.01 0.02 0.02 0.02 0.02",
       "D. D. Reynolds, J. M. Bledsoe, Algorithms for HVAC Acoustics, ASHRAE 1991, table 5.5, unlined "
       "straight round ducts (as a public reprint has it)",
       "An estimate. At 8000 Hz what holds at 4000 Hz is taken."},
      {"air noise",
       "L_W = 7 + 50 lg v + 10 lg S in all, v in m/s, S in m2; in an octave less 2 + 26 lg(1.14 + 0.02 f / "
       "v)",
       "VDI 2081 part 1, noise of the flow in straight ducts; charted from 2 to 20 m/s",
       "Formula and range from memory, an estimate; others have 10 for 7. Bends, branches and dampers make "
       "more. Outside the range none is given."},
      {"loss coefficient",
       "C on p_v of the section its formula names. Steps: (1 - A1/A2)^2 wider, 0.5 (1 - A2/A1)^0.75 "
       "narrower. Tapers, n the area ratio, a the whole angle: 3.2 tan^1.25(a/2) (1 - n)^2 wider, to 40 "
       "degrees; (-0.0125 n^4 + 0.0224 n^3 - 0.00723 n^2 + 0.00444 n - 0.00745) (a^3 - 2 pi a^2 - 10 a) "
       "narrower. Smooth bends: A B k, B = 0.21 (R/D)^-2.5 to R/D 1 and 0.21 (R/D)^-0.5 beyond. Mitres: sum "
       "of 0.9457 s^2 + 2.047 s^4, s = sin(half a mitre's angle), R/D from 1.5, at least a smooth bend's. "
       "Branches: A (1 + x^2 - 2 x cos) leaving, A (1 + x^2 - 2 (1 - q)^2 - 2 q^2/r cos) joining; two legs "
       "in one line: 1 + 1.5 q^2, A (2 + 3 (q^2 - q))",
       "Borda 1766 and Carnot 1803; J. Weisbach 1855; I. E. Idelchik, Handbook of Hydraulic Resistance "
       "(1960, 3rd ed. 1994), branches after A. M. Levin. loss_coefficient and bare_loss_coefficient take "
       "their place, one value for each passage.",
       "Marked * wherever one is in a figure. Made for smooth bare fittings between long straight lengths; "
       "outside a formula's range there is none, and what has none is left out bare and lined, marked +: "
       "gored bends under R/D 1.5, legs of wyes but two in one line, the turns of tapers that are moved "
       "aside. "
       "Weisbach's formula is from memory, the others as public libraries of fluid mechanics quote them; "
       "those of branches reproduce published worked examples and the balance of momentum. "
       "Measured gored bends cost more: W. B. Hooper (Chem. Eng., Aug. 1981) has 0.35, 0.30, 0.27, 0.25 for "
       "2 to 5 mitres of 90 degrees at R/D 1.5. A tested figure comes first."},
      {"fitting loss", "dp = C p_v, p_v on the lined bore where the air is fastest",
       "Definition of the loss coefficient",
       "Some tables refer C to another section of the fitting: read theirs first."},
      {"loss of total pressure",
       "dp = integral of f p_v / d over the path + sum of C p_v; a sum takes each fitting times its count",
       "Darcy and Weisbach, section by section; definition of the loss coefficient",
       "Total pressure, not static. A sum is as if all stood in one line: of branches beside each other only "
       "the "
       "costliest counts for the fan. It leaves out what is no fitting of the job and how one fitting "
       "disturbs the next."},
      {"fan power", "P = sum of dp Q / eta, each loss times the flow that loses it",
       "Work of a pressure on a flow",
       "eta is [air] fan_efficiency, of fan and motor together; without it no power is given."},
      {"branch flow",
       "behind a branch: flow - branch_flow; branch_flow under 0 joins; a wye's inlet has the sum of its "
       "legs",
       "Continuity",
       "flow is the body's at its first end: into it, or out of it where flow_arrow is against. Nobody's "
       "flow is guessed: a branch without one has no air figures."},
  };
  return entries;
}

const Explanation* explain(std::string_view figure) {
  // what stands in the tables' heads
  constexpr std::pair<std::string_view, std::string_view> k_heads[] = {
      {"p_v", "velocity pressure"},
      {"Re", "Reynolds"},
      {"f", "friction factor"},
      {"friction", "friction per length"},
      {"sound", "insertion loss"},
      {"heat", "thermal resistance"},
      {"metal bare", "heat gain"},
      {"dry from", "dew point"},
      {"loss", "loss of total pressure"},
      {"bare", "bare diameter"},
      {"lined", "equivalent diameter"},
      {"free", "free area"},
      {"velocity x", "velocity factor"},
      {"narrowest", "narrowest place"},
      {"limit", "velocity limit"},
      {"fan", "fan power"},
      {"vel. x", "velocity factor"},
      {"at", "narrowest place"},
      {"fr.", "loss of total pressure"},
      {"fr. bare", "loss of total pressure"},
      {"fr. lined", "loss of total pressure"},
      {"loss bare", "loss of total pressure"},
      {"Re bare", "Reynolds"},
      {"Re lined", "Reynolds"},
      {"f bare", "friction factor"},
      {"f lined", "friction factor"},
      {"of length", "thermal resistance"},
      {"duct face", "thermal resistance"},
      {"air face", "thermal resistance"},
      {"laid flat", "thermal resistance"},
      {"in all", "heat gain"},
      {"flow", "branch flow"},
      {"times count", "loss of total pressure"},
      {"metal", "added metal"}};
  std::string wanted = plain(figure);
  for (const auto& [head, name] : k_heads)
    if (plain(head) == wanted) wanted = plain(name);
  const std::vector<Explanation>& all = explanations();
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const Explanation& entry) { return plain(entry.figure) == wanted; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace linerwright
