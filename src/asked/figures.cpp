#include <algorithm>

#include "proofs.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_six = 6e-7;  // of a figure with six decimals

// The parameters as understood against the words that were written, or the defaults.
void prove_parameters(const Case& asked, Worst& lengths, Worst& words) {
  const Request& request = asked.made.request;
  for (const auto& [key, written] : request.written) {
    words.expect(meanings(request.kind).count(key) > 0, "'" + key + "' is no key of a " + request.kind);
    words.expect(
        asked.made.numbers.count(key) + asked.made.words.count(key) + asked.made.lists.count(key) > 0,
        key + " was written but not understood");
  }
  for (const auto& [key, meaning] : meanings(request.kind)) {
    if (!request.stated(key)) continue;
    const auto number = asked.made.numbers.find(key);
    const auto word = asked.made.words.find(key);
    if (meaning.what == What::word) {
      if (word != asked.made.words.end())
        words.expect(word->second == request.word(key) || (word->second == "true" && request.flag(key)) ||
                         (word->second == "false" && request.word(key) == "no"),
                     key + " is understood as " + word->second);
      continue;
    }
    const auto list = asked.made.lists.find(key);
    std::vector<double> values;
    if (number != asked.made.numbers.end()) values.push_back(number->second);
    if (list != asked.made.lists.end()) values = list->second;
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (!request.stated(key, i)) continue;
      double wanted = request.value(key, i);
      if (meaning.what == What::angle) wanted *= 180.0 / k_pi;
      lengths.off((values[i] - wanted) / std::max(1.0, std::abs(wanted)), key);
    }
  }
}

void prove_bore(const Case& asked, Worst& bore, Worst& there) {
  if (asked.wanted.bore.empty()) bore.expect(asked.made.bore.empty(), "a disc alone has a bore");
  for (const BoreAt& wanted : asked.wanted.bore) {
    const auto found =
        std::find_if(asked.made.bore.begin(), asked.made.bore.end(), [&](const MadeStation& station) {
          return station.passage == wanted.passage && station.place == wanted.place;
        });
    if (found == asked.made.bore.end()) {
      there.wrong("no bore at the " + wanted.place + " of " + wanted.passage);
      continue;
    }
    const std::string at = wanted.passage + ", " + wanted.place;
    bore.off((found->bare - wanted.bare) / k_six, at + ", bare diameter");
    bore.off((found->lined - wanted.lined) / k_six, at + ", lined diameter");
  }
  for (const MadeStation& station : asked.made.bore) {
    const std::string at = station.passage + " at " + std::to_string(station.distance) + " mm";
    const double area = k_pi / 4.0 * station.lined * station.lined;
    const double bare = k_pi / 4.0 * station.bare * station.bare;
    // by how much the rounded diameters may move each figure, and its own last decimal
    const double narrow = 2.0 * k_six / station.lined;
    const double wide = 2.0 * k_six / station.bare;
    bore.off((station.area - area) / (area * narrow + 6e-4), at + ", free area");
    bore.off((station.share - area / bare) / (area / bare * (narrow + wide) + 6e-10), at + ", share");
    bore.off((station.velocity - bare / area) / (bare / area * (narrow + wide) + 6e-10), at + ", velocity");
  }
}

}  // namespace

void prove_figures(Case& asked) {
  Worst lengths("parameters", 1e-8, "", "what was written, by the inch of 25.4 mm; else the defaults");
  Worst words("choices", 0.0, "", "what was written, else the defaults");
  Worst bore("bore", 1.0, "of the last decimal", "D - 2 t at open ends, areas and shares of circles");
  prove_parameters(asked, lengths, words);
  prove_bore(asked, bore, words);
  for (const Worst* line : {&lengths, &words, &bore}) line->into(asked.findings, true);
}

}  // namespace linerwright::asked
