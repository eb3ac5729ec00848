// What is asked of a pattern's file before it leaves: good files pass, and each kind of damage fails the
// check that is meant to see it.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <sstream>

#include "linerwright/reroll/reroll.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

using Spoil = std::function<void(Drawing&)>;

std::string dxf_of(const Fitting& fitting, const Pattern& pattern, const Spoil& spoil = {}) {
  Drawing drawing = drawing_of(pattern, fitting.units);
  if (spoil) spoil(drawing);
  DxfOptions options;
  options.chord_error = k_chord_error;
  std::ostringstream out;
  write_dxf(out, drawing, options);
  return out.str();
}

std::vector<CheckResult> checks_of(const Fitting& fitting, const Pattern& pattern, const Spoil& spoil = {}) {
  return prove_pattern_text(fitting, pattern, dxf_of(fitting, pattern, spoil), "it.dxf", {});
}

std::string failed(const std::vector<CheckResult>& results) {
  std::string lines;
  for (const CheckResult& result : results)
    if (!result.pass) lines += one_line(result) + "\n";
  return lines;
}

TEST(PatternText, RandomFittingsPass) {
  support::Chance chance(77);
  const std::vector<std::string> kinds = support::all_random_kinds();
  const int wanted = support::cases(30);
  int made = 0;
  std::map<std::string, int> proved;  // by the first word of the check
  for (int i = 0; made < wanted && i < 6 * wanted; ++i) {
    const std::string& kind = kinds[static_cast<std::size_t>(i) % kinds.size()];
    const support::Flags flags = support::random_flags(chance, kind);
    Fitting fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;
    }
    ++made;
    std::vector<Pattern> patterns = make_patterns(fitting);
    for (Pattern& pattern : site_templates(fitting)) patterns.push_back(std::move(pattern));
    for (const Pattern& pattern : patterns) {
      const std::vector<CheckResult> checks = checks_of(fitting, pattern);
      EXPECT_GE(checks.size(), 2u);
      EXPECT_EQ(failed(checks), "") << support::written(kind, flags);
      for (const CheckResult& check : checks) ++proved[check.name.substr(0, check.name.find(' '))];
    }
  }
  EXPECT_EQ(made, wanted);
  for (const char* name : {"audit", "knife", "faces"}) EXPECT_GE(proved[name], wanted) << name;
}

const Fitting& tee() {
  static const Fitting fitting = support::fitting_from("tee", {{"diameter", "300"},
                                                               {"length", "900"},
                                                               {"branch_diameter", "150"},
                                                               {"branch_length", "400"},
                                                               {"offset", "40"},
                                                               {"angle", "60"},
                                                               {"thickness", "25"}});
  return fitting;
}

// Lines of one layer moved aside by `way` along x from the middle on.
Spoil stretched(Layer layer, double way) {
  return [=](Drawing& drawing) {
    for (Polyline& line : drawing.lines)
      if (line.layer == layer && line.closed)
        for (Vec2& p : line.points)
          if (p.x > 200.0) p.x += way;
  };
}

TEST(PatternText, DamageIsSeen) {
  for (const Pattern& pattern : make_patterns(tee())) {
    ASSERT_EQ(failed(checks_of(tee(), pattern)), "") << pattern.id;
    const auto fails = [&](const Spoil& spoil, const std::string& name) {
      const std::string found = failed(checks_of(tee(), pattern, spoil));
      EXPECT_NE(found.find("FAIL  " + name + " " + pattern.id), std::string::npos)
          << pattern.id << ": " << found;
    };
    fails(stretched(Layer::cut, 0.3), "knife");
    fails(stretched(Layer::duct_face, 0.3), "faces");
    fails(stretched(Layer::air_face, -0.3), "faces");
    // the faces changed for each other
    fails(
        [](Drawing& drawing) {
          for (Polyline& line : drawing.lines)
            line.layer = line.layer == Layer::duct_face  ? Layer::air_face
                         : line.layer == Layer::air_face ? Layer::duct_face
                                                         : line.layer;
        },
        "faces");
    // a hole, or the whole outline, left out
    fails(
        [](Drawing& drawing) {
          for (std::size_t i = drawing.lines.size(); i-- > 0;)
            if (drawing.lines[i].layer == Layer::duct_face) {
              drawing.lines.erase(drawing.lines.begin() + static_cast<std::ptrdiff_t>(i));
              break;
            }
        },
        "faces");
    // mirrored: cut from the wrong side
    fails(
        [](Drawing& drawing) {
          for (Polyline& line : drawing.lines) {
            for (Vec2& p : line.points) p.x = 900.0 - p.x;
            if (line.closed) std::reverse(line.points.begin(), line.points.end());
          }
        },
        "faces");
  }
}

TEST(PatternText, WhatIsNoDrawingFails) {
  const Pattern pattern = make_patterns(tee()).front();
  const std::string whole = dxf_of(tee(), pattern);
  for (const std::string& text : {std::string(), std::string("no DXF"), whole.substr(0, whole.size() / 2)})
    EXPECT_NE(failed(prove_pattern_text(tee(), pattern, text, "it.dxf", {})), "") << text.size();
}

}  // namespace
}  // namespace linerwright
