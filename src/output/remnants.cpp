#include "linerwright/output/remnants.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <map>
#include <memory>
#include <set>

#include <fmt/format.h>

#include "folder.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void refuse(const std::string& list, const std::string& id, const std::string& key,
                         const std::string& value, const std::string& allowed, const std::string& why) {
  throw InputError({Problem{list, 0, id, key, value, allowed, why}});
}

// One remnant of a list.
class RemnantReader {
 public:
  RemnantReader(const JsonValue& json, const std::string& list) : json_(json), list_(list) {}

  Remnant read() const {
    Remnant one;
    one.id = text("id", true);
    one.stock = text("stock", false);
    one.thickness = number("thickness", 1.0, 300.0).value();
    one.density = number("density", 1.0, 2000.0).value();
    one.width = number("width", 10.0, 20000.0).value();
    one.length = number("length", 10.0, 100000.0).value();
    if (const JsonValue* trim = json_.find("trim")) {
      if (!trim->is_array() || trim->items.size() != 4 ||
          !std::all_of(trim->items.begin(), trim->items.end(),
                       [](const JsonValue& edge) { return edge.is_number() && edge.number >= 0.0; }))
        refuse(list_, one.id, "trim", {}, "four lengths in mm: left, right, bottom, top", "is no trim");
      one.trim = {trim->items[0].number, trim->items[1].number, trim->items[2].number, trim->items[3].number};
    }
    if (one.trim.along_length() >= one.length || one.trim.along_width() >= one.width)
      refuse(list_, one.id, "trim", {}, "less than the remnant",
             "trimmed on both sides nothing is left of it");
    one.kerf_pitch = optional_number("kerf_pitch", 2.0, 1000.0);
    one.mass = optional_number("mass", 0.01, 200.0);
    one.job = text("job", false);
    one.board = static_cast<std::size_t>(optional_number("board", 0.0, 1e6).value_or(0.0));
    one.used_by = text("used_by", false);
    return one;
  }

 private:
  const JsonValue& json_;
  const std::string& list_;

  std::string name() const {
    const JsonValue* id = json_.find("id");
    return id != nullptr && id->is_text() && !id->text.empty() ? id->text : "a remnant";
  }

  std::string text(const char* key, bool required) const {
    const JsonValue* found = json_.find(key);
    if (found != nullptr && found->is_text() && (!required || !found->text.empty())) return found->text;
    const bool nothing = found == nullptr || found->kind == JsonValue::Kind::null;
    if (required || !nothing) refuse(list_, name(), key, {}, "a text", "is no text");
    return {};
  }

  std::optional<double> number(const char* key, double least, double most) const {
    const JsonValue* found = json_.find(key);
    if (found == nullptr || !found->is_number() || found->number < least || found->number > most)
      refuse(list_, name(), key,
             found != nullptr && found->is_number() ? trimmed(found->number, 6) : std::string("no number"),
             fmt::format("{} to {}, in mm and kg", trimmed(least, 2), trimmed(most, 2)), "is no such size");
    return found->number;
  }

  std::optional<double> optional_number(const char* key, double least, double most) const {
    const JsonValue* found = json_.find(key);
    if (found == nullptr || found->kind == JsonValue::Kind::null) return std::nullopt;
    return number(key, least, most);
  }
};

// A list that nobody else changes while this lives. The lock is on the file that has the list's name now.
class HeldList {
 public:
  explicit HeldList(const fs::path& list) {
    for (;;) {
      descriptor_ = ::open(list.c_str(), O_RDONLY | O_CLOEXEC);
      if (descriptor_ < 0) fail(list, errno);
      struct stat held {};
      struct stat there {};
      if (::flock(descriptor_, LOCK_EX) != 0 || ::fstat(descriptor_, &held) != 0) fail(list, errno);
      if (::stat(list.c_str(), &there) == 0 && there.st_ino == held.st_ino && there.st_dev == held.st_dev)
        return;
      ::close(descriptor_);  // another run has written it anew meanwhile
    }
  }
  ~HeldList() { ::close(descriptor_); }
  HeldList(const HeldList&) = delete;
  HeldList& operator=(const HeldList&) = delete;

 private:
  int descriptor_ = -1;
  [[noreturn]] static void fail(const fs::path& list, int error) {
    throw InputError({Problem{list.string(), 0, {}, {}, {}, {}, std::strerror(error)}});
  }
};

std::string changed_text(const fs::path& list, const std::vector<Remnant>& remnants) {
  const std::string text = remnants_json(remnants);
  return file_bytes(list, k_largest_json) == text ? std::string() : text;
}

// The ids of the remnants that the plan's boards are.
std::set<std::string> used_ids(const BoardPlan& plan) {
  std::set<std::string> ids;
  for (const PlannedBoard& board : plan.boards)
    if (!plan.stock[board.stock].remnant.empty()) ids.insert(plan.stock[board.stock].remnant);
  return ids;
}

}  // namespace

std::vector<Remnant> read_remnants(const std::string& text, const std::string& name) {
  const JsonValue json = read_json(text, name);
  const JsonValue* list = json.find("remnants");
  if (list == nullptr || !list->is_array())
    refuse(name, {}, {}, {}, {},
           "is no list of remnants: linerwright nest writes one as boards/remnants.json");
  std::vector<Remnant> all;
  std::set<std::string> ids;
  for (const JsonValue& each : list->items) {
    if (!each.is_object()) refuse(name, {}, {}, {}, {}, "holds a remnant that is no object");
    all.push_back(RemnantReader(each, name).read());
    if (!ids.insert(all.back().id).second)
      refuse(name, {}, "id", all.back().id, "each once", "is there twice");
  }
  return all;
}

std::vector<Remnant> remnants_in(const fs::path& file) {
  return read_remnants(file_bytes(file, k_largest_json), file.string());
}

std::vector<BoardStock> remnant_stock(const std::vector<fs::path>& lists, const std::string& job) {
  std::vector<BoardStock> stock;
  std::map<std::string, std::string> list_of;
  for (const fs::path& list : lists)
    for (const Remnant& one : remnants_in(list)) {
      const auto [found, fresh] = list_of.emplace(one.id, list.string());
      if (!fresh)
        refuse(list.string(), {}, "id", one.id, "in one list alone", "is in " + found->second + ", too");
      const bool own_offcut = !one.job.empty() && one.job == job;
      if (own_offcut || (!one.used_by.empty() && one.used_by != job)) continue;
      BoardStock each;
      each.name = "remnant " + one.id;
      each.width = one.width;
      each.length = one.length;
      each.quantity = 1;
      each.thickness = one.thickness;
      each.trim = one.trim;
      each.kerf_pitch = one.kerf_pitch;
      each.mass = one.mass;
      each.density = one.density;
      each.remnant = one.id;
      stock.push_back(std::move(each));
    }
  return stock;
}

void take_remnants(const std::vector<fs::path>& lists, const BoardPlan& plan, const std::string& job,
                   bool sync) {
  std::vector<fs::path> sorted =
      lists;  // always held in the same order, so that no two runs wait for each other
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::unique_ptr<HeldList>> held;
  for (const fs::path& list : sorted) held.push_back(std::make_unique<HeldList>(list));
  std::set<std::string> needed = used_ids(plan);
  std::vector<std::pair<fs::path, std::string>> to_write;
  for (const fs::path& list : sorted) {
    std::vector<Remnant> remnants = remnants_in(list);
    for (Remnant& one : remnants) {
      const bool needs = needed.erase(one.id) > 0;
      if (needs && !one.used_by.empty() && one.used_by != job)
        refuse(list.string(), {}, "remnant", one.id, "a remnant that is free",
               one.used_by + " has taken it meanwhile; nest again");
      if (needs)
        one.used_by = job;
      else if (one.used_by == job)
        one.used_by.clear();
    }
    std::string text = changed_text(list, remnants);
    if (!text.empty()) to_write.emplace_back(list, std::move(text));
  }
  if (!needed.empty())
    refuse(sorted.front().string(), {}, "remnant", *needed.begin(), {},
           "is gone from its list meanwhile; nest again");
  for (const auto& [list, text] : to_write) replace_file(list, text, sync);
}

std::vector<std::string> write_remnants(const fs::path& boards, const BoardPlan& plan, const std::string& job,
                                        bool sync) {
  const fs::path file = boards / k_remnants_file;
  std::vector<Remnant> now = remnants_of(plan, job);
  std::vector<std::string> notes;
  std::unique_ptr<HeldList> held;
  std::error_code error;
  if (fs::exists(file, error)) {
    held = std::make_unique<HeldList>(file);
    for (Remnant& before : remnants_in(file)) {
      if (before.used_by.empty()) continue;
      const auto same =
          std::find_if(now.begin(), now.end(), [&](const Remnant& one) { return one.id == before.id; });
      if (same != now.end()) {
        same->used_by = before.used_by;
        continue;
      }
      notes.push_back(
          fmt::format("{}: remnant {} was taken by {}, and these boards have it no more: they are not the "
                      "ones that were cut",
                      file.string(), before.id, before.used_by));
      now.push_back(std::move(before));
    }
    if (changed_text(file, now).empty()) return notes;
  }
  replace_file(file, remnants_json(now), sync);
  return notes;
}

}  // namespace linerwright
