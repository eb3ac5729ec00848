// A run from its own list and its fittings': distances along it, bores as each fitting's own list has them,
// the order of work, what its fittings take of the air, and sums of all.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "json_members.hpp"
#include "linerwright/asked/asked.hpp"
#include "made.hpp"
#include "run_losses.hpp"
#include "worst.hpp"

namespace linerwright::asked {

namespace {

const std::string k_run = "run.json";

double number(const Json& object, const char* key) {
  return number_of(object, key, k_run);
}

std::string text(const Json& object, const char* key) {
  return text_of(object, key, k_run);
}

auto list(const Json& object, const char* key) {
  return list_of(object, key, k_run).GetArray();
}

std::vector<std::string> texts(const Json& object, const char* key) {
  std::vector<std::string> all;
  for (const Json& each : list(object, key)) {
    if (!each.IsString()) throw Unreadable(std::string(key) + " is no list of texts");
    all.emplace_back(each.GetString());
  }
  return all;
}

std::array<double, 3> point_in(const Json& object, const char* key) {
  const auto values = list(object, key);
  if (values.Size() != 3 ||
      std::any_of(values.begin(), values.end(), [](const Json& v) { return !v.IsNumber(); }))
    throw Unreadable(std::string(key) + " is no point");
  return {values[0].GetDouble(), values[1].GetDouble(), values[2].GetDouble()};
}

// "RA-1", of a second one "RA-1#2".
struct Placed {
  std::string name, tag;
  double from = 0.0, to = 0.0;
  bool lined_after = false;
  bool through = true;  // the run goes on from one of its ends to another
};

std::vector<Placed> placed_in(const Json& run) {
  std::vector<Placed> all;
  for (const Json& row : list(run, "fittings")) {
    Placed placed;
    placed.tag = text(row, "tag");
    const auto copy = static_cast<long>(number(row, "number"));
    placed.name = copy == 1 ? placed.tag : placed.tag + "#" + std::to_string(copy);
    placed.from = number(row, "from");
    placed.to = number(row, "to");
    placed.lined_after = text(row, "lined") != "before joining";
    placed.through = is_text(row, "in") && is_text(row, "out");
    all.push_back(std::move(placed));
  }
  return all;
}

// One fitting's end lies where the next one's begins, and so do their joints and the line of centres, whose
// stretches are no shorter than straight.
void prove_distances(const Json& run, const std::vector<Placed>& placed, Worst& ways) {
  if (placed.empty()) return;
  ways.off(placed.front().from, placed.front().name + " from");
  ways.off(number(run, "length") - placed.back().to, "length");
  for (std::size_t i = 1; i < placed.size(); ++i)
    ways.off(placed[i].from - placed[i - 1].to, placed[i].name + " from");
  std::size_t i = 0;
  for (const Json& joint : list(run, "joints")) {
    if (i + 1 >= placed.size()) break;  // of a ring the last one joins its ends
    ways.off(number(joint, "distance") - placed[i].to, placed[i].name + " joint");
    ways.off(
        text(joint, "before") == placed[i].name && text(joint, "after") == placed[i + 1].name ? 0.0 : 1.0,
        "names at a joint of " + placed[i].name);
    ++i;
  }
  const Json* before = nullptr;
  for (const Json& point : list(run, "centreline")) {
    if (before != nullptr && text(*before, "fitting") == text(point, "fitting")) {
      const std::array<double, 3> from = point_in(*before, "point");
      const std::array<double, 3> to = point_in(point, "point");
      const double chord = std::hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
      ways.off(std::max(0.0, chord - (number(point, "distance") - number(*before, "distance"))),
               "line of centres in " + text(point, "fitting"));
    }
    before = &point;
  }
}

struct BoreRow {
  double distance, bare, lined, area;
};

// The ways through a fitting that its own list gives: each passage in either sense, from 0 on.
std::vector<std::vector<BoreRow>> ways_through(const std::vector<MadeStation>& stations) {
  std::map<std::string, std::vector<BoreRow>> passages;
  for (const MadeStation& station : stations)
    passages[station.passage].push_back({station.distance, station.bare, station.lined, station.area});
  std::vector<std::vector<BoreRow>> ways;
  for (auto& [passage, rows] : passages) {
    std::vector<BoreRow> back(rows.rbegin(), rows.rend());
    for (BoreRow& row : back) row.distance = rows.back().distance - row.distance;
    const double start = rows.front().distance;
    for (BoreRow& row : rows) row.distance -= start;
    ways.push_back(std::move(rows));
    ways.push_back(std::move(back));
  }
  return ways;
}

// How far two sections are apart: diameters in mm, areas in thousandths.
double apart(const BoreRow& a, const BoreRow& b) {
  return std::max(
      {std::abs(a.bare - b.bare), std::abs(a.lined - b.lined), 1e3 * std::abs(a.area / b.area - 1.0)});
}

// How far rows are off the ways through their fitting. Where it has one passage they are that one; of
// several, which a run may go through one after another, each row is a section of one.
double off_ways(const std::vector<BoreRow>& rows, const std::vector<std::vector<BoreRow>>& ways) {
  if (ways.size() == 2) {
    double best = 1e300;
    for (const std::vector<BoreRow>& way : ways) {
      double off = rows.size() == way.size() ? 0.0 : 1e300;
      for (std::size_t i = 0; i < std::min(rows.size(), way.size()); ++i)
        off = std::max(
            {off, std::abs(rows[i].distance - rows[0].distance - way[i].distance), apart(rows[i], way[i])});
      best = std::min(best, off);
    }
    return best;
  }
  double off = 0.0;
  for (const BoreRow& row : rows) {
    double best = 1e300;
    for (const std::vector<BoreRow>& way : ways)
      for (const BoreRow& own : way) best = std::min(best, apart(row, own));
    off = std::max(off, best);
  }
  return off;
}

void prove_bore(const Json& run, const std::vector<Placed>& placed,
                const std::map<std::string, MadeFitting>& fittings, Worst& bores) {
  std::map<std::string, std::vector<BoreRow>> rows;
  for (const Json& row : list(run, "bore")) {
    rows[text(row, "fitting")].push_back({number(row, "distance"), number(row, "diameter"),
                                          number(row, "lined_diameter"), number(row, "lined_area")});
    const double d = number(row, "diameter");
    bores.off(1e3 * (number(row, "area") / (0.78539816339744831 * d * d) - 1.0),
              text(row, "fitting") + " area");
  }
  for (const Placed& one : placed) {
    const auto found = rows.find(one.name);
    bores.expect(found != rows.end() || !one.through, one.name + " has no bore");
    if (found == rows.end()) continue;
    bores.off(found->second.front().distance - one.from, one.name + " first station");
    bores.off(found->second.back().distance - one.to, one.name + " last station");
    bores.off(off_ways(found->second, ways_through(fittings.at(one.tag).bore)),
              one.name + " as its own list has it");
  }
}

bool ends_word(const std::string& words, std::size_t at) {
  return at == words.size() || words[at] == ' ' || words[at] == ',';
}

bool begins_with(const std::string& words, const std::string& head) {
  return words.compare(0, head.size(), head) == 0 && ends_word(words, head.size());
}

// Whether a step's words name a fitting, as a whole word.
bool names(const std::string& words, const std::string& name) {
  for (std::size_t at = words.find(name); at != std::string::npos; at = words.find(name, at + 1))
    if ((at == 0 || words[at - 1] == ' ') && ends_word(words, at + name.size())) return true;
  return false;
}

// Every fitting is lined once, its pieces in the order of its own list, before or after it is joined as it
// says; every joint is made in the shop or on site as it says.
void prove_order(const Json& run, const std::vector<Placed>& placed,
                 const std::map<std::string, MadeFitting>& fittings, Worst& steps) {
  std::map<std::string, int> lined;
  std::vector<std::pair<bool, std::string>> joins;
  for (const Json& step : list(run, "order")) {
    const std::string words = text(step, "text");
    if (text(step, "what") == "join") {
      joins.emplace_back(text(step, "where") == "field", words);
      continue;
    }
    const Placed* one = nullptr;  // of several names with which it may begin the longest
    for (const Placed& each : placed)
      if (begins_with(words, "line " + each.name) && (one == nullptr || each.name.size() > one->name.size()))
        one = &each;
    if (one == nullptr) {
      steps.wrong("'" + words + "' is a step with none of its fittings");
      continue;
    }
    ++lined[one->name];
    std::vector<std::string> wanted = fittings.at(one->tag).insertion;
    for (std::string& id : wanted) id = one->tag + " " + id;
    steps.expect(texts(step, "pieces") == wanted, one->name + ": its pieces go in otherwise");
    steps.expect((words.find("when it is joined") != std::string::npos) == one->lined_after,
                 one->name + ": lined before or after it is joined");
  }
  for (const Placed& one : placed)
    steps.expect(lined[one.name] == 1, one.name + " is lined " + std::to_string(lined[one.name]) + " times");
  for (const Json& joint : list(run, "joints")) {
    const bool field = text(joint, "made") == "field";
    const std::string before = text(joint, "before");
    const std::string after = text(joint, "after");
    steps.expect(std::any_of(joins.begin(), joins.end(),
                             [&](const auto& join) {
                               return join.first == field && names(join.second, before) &&
                                      names(join.second, after);
                             }),
                 before + " and " + after + " are joined by no step");
  }
}

// Losses add up.
void prove_air(const Json& run, Worst& sums) {
  if (run.HasMember("loss") && run["loss"].IsObject()) {
    double bare = 0.0;
    double lined = 0.0;
    double without = 0.0;
    double rows = 1.0;  // each is rounded
    for (const Json& row : list(run["loss"], "fittings")) {
      const bool known = row.IsObject() && row.HasMember("bare") && row["bare"].IsNumber() &&
                         row.HasMember("lined") && row["lined"].IsNumber();
      if (!known) ++without;
      ++rows;
      bare += known ? number(row, "bare") : 0.0;
      lined += known ? number(row, "lined") : 0.0;
    }
    sums.off((number(run["loss"], "bare") - bare) / rows, "bare loss");
    sums.off((number(run["loss"], "lined") - lined) / rows, "lined loss");
    sums.off(number(run["loss"], "without") - without, "fittings without a loss");
  }
}

}  // namespace

std::vector<Finding> prove_run_asked(const std::string& name, const Files& run,
                                     const std::vector<Files>& fittings) {
  std::vector<Finding> findings;
  try {
    const auto json = run.find("run.json");
    if (json == run.end()) throw Unreadable("run.json is missing");
    rapidjson::Document document;
    parse(document, json->second, k_run);
    std::map<std::string, MadeFitting> own;
    for (const Files& files : fittings) {
      const auto one = files.find("fitting.json");
      if (one == files.end()) continue;
      MadeFitting fitting = read_made(one->second);
      const std::string tag = fitting.request.tag;
      own.emplace(tag, std::move(fitting));
    }
    const std::vector<Placed> placed = placed_in(document);
    for (const Placed& one : placed)
      if (own.count(one.tag) == 0) return findings;  // told elsewhere: a fitting is missing
    Worst ways("run " + name + " distances", 1e-6, "mm", "fittings end to end");
    Worst bores("run " + name + " bores", 1e-3, "mm", "the fittings' own lists; areas as thousandths");
    Worst steps("run " + name + " order", 0.0, "", "each fitting lined once, each joint made, as they say");
    Worst sums("run " + name + " losses", 1e-6, "Pa", "the fittings' losses added up, for each of them");
    Worst air("run " + name + " air", 1e-6, "Pa of 1 Pa and what is taken",
              "friction by Colebrook's law, bends, tapers and branches by published formulas");
    std::map<std::string, std::string> tags;
    for (const Placed& one : placed) tags.emplace(one.name, one.tag);
    prove_distances(document, placed, ways);
    prove_bore(document, placed, own, bores);
    prove_order(document, placed, own, steps);
    prove_air(document, sums);
    prove_losses(document, tags, own, air);
    for (const Worst* line : {&ways, &bores, &steps, &sums, &air}) line->into(findings);
  } catch (const std::exception& error) {
    findings.push_back({"run " + name, 1.0, 0.0, false, "unread", error.what()});
  }
  return findings;
}

}  // namespace linerwright::asked
