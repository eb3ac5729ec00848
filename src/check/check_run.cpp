#include "linerwright/check/check_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <map>
#include <memory>

#include "beside.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/run/run.hpp"
#include "linerwright/solid/assembly.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"
#include "run_solids.hpp"
#include "tally.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr double k_met = 1e-6;             // mm between ports that are joined
constexpr double k_turned = 1e-9;          // between their directions
constexpr double k_mesh_volume = 0.02;     // of a volume, by facets half a millimetre off
constexpr double k_mesh_deflection = 0.5;  // mm
constexpr double k_coarsest = 16.0;        // how many times as coarse facets may be
constexpr std::size_t k_largest_file = 512u << 20;

// A fitting as run.json places it.
struct Listed {
  std::string tag, in, out;
  long number = 1;
  Frame frame;
  std::shared_ptr<const MadeAgain> made;
  std::vector<Port> ports;  // in space, of the fitting made again
};

std::optional<Vec3> vector_of(const JsonValue* json) {
  if (json == nullptr || json->items.size() != 3) return std::nullopt;
  for (const JsonValue& item : json->items)
    if (!item.is_number()) return std::nullopt;
  return Vec3{json->items[0].number, json->items[1].number, json->items[2].number};
}

std::optional<Frame> frame_of(const JsonValue* json) {
  if (json == nullptr || json->items.size() != 4) return std::nullopt;
  std::array<std::array<double, 4>, 4> rows{};
  for (std::size_t r = 0; r < 4; ++r) {
    if (json->items[r].items.size() != 4) return std::nullopt;
    for (std::size_t c = 0; c < 4; ++c) {
      if (!json->items[r].items[c].is_number()) return std::nullopt;
      rows[r][c] = json->items[r].items[c].number;
    }
  }
  const auto column = [&](std::size_t c) { return Vec3{rows[0][c], rows[1][c], rows[2][c]}; };
  return Frame{column(3), column(0), column(1), column(2)};
}

std::string text_of(const JsonValue* json) {
  return json != nullptr && json->is_text() ? json->text : "";
}

class RunProof {
 public:
  RunProof(const fs::path& folder, const MakeAgain& again) : folder_(folder), again_(again) {}

  std::vector<CheckResult> results() {
    try {
      bytes_ = file_bytes(folder_ / "run.json", k_largest_json);
      json_ = read_json(bytes_, "run.json");
    } catch (const InputError& error) {
      return {undone("run.json", error.what())};
    }
    stem_ = folder_.filename().string();
    files();
    if (!fittings()) return std::move(results_);
    ports();
    frames();
    if (json_.find("bodies") != nullptr) {
      guarded("assembly", [&] { solids(); });
      if (const JsonValue* each = json_.find("tree")) guarded("tree", [&] { tree(*each); });
      for (const auto& [role, stated] :
           {std::make_pair("metal", "metal_volume"), std::make_pair("liner", "liner_volume"),
            std::make_pair("bore", "bore_volume")})
        guarded("meshes", [&, &role = role, &stated = stated] { mesh(role, stated); });
      guarded("GLB", [&] { glb(); });
    } else {
      results_.push_back(noted("assembly", "no solids were asked for: nothing of them is proved"));
    }
    return std::move(results_);
  }

 private:
  const fs::path& folder_;
  const MakeAgain& again_;
  std::string bytes_, stem_;
  JsonValue json_;
  std::vector<Listed> listed_;
  bool ring_ = false;
  std::vector<CheckResult> results_;

  template <class F>
  void guarded(const char* name, const F& prove) {
    try {
      prove();
    } catch (const InputError& error) {
      results_.push_back(undone(name, error.what()));
    } catch (const GeometryError& error) {
      results_.push_back(undone(name, error.what()));
    }
  }

  void files() {
    Tally tally("files");
    tally.require(as_it_was_written(json_, bytes_), "run.json was changed since it was made");
    const JsonValue* digests = json_.find("digests");
    for (const std::string& name : names_in(json_.find("files"))) {
      if (name == "run.json") continue;
      const JsonValue* stated = digests == nullptr ? nullptr : digests->find(name);
      std::string now;
      try {
        if (fs::path(name).filename() == name) now = digest(file_bytes(folder_ / name, k_largest_file));
      } catch (const InputError&) {
        // told below: it is not there
      }
      tally.require(stated != nullptr && !now.empty() && now == stated->text,
                    name + (now.empty() ? " is not there" : " was changed since it was made"));
    }
    results_.push_back(tally.result("files are what was written"));
  }

  bool fittings() {
    Tally tally("fittings");
    const JsonValue* list = json_.find("fittings");
    if (list == nullptr || list->items.empty()) tally.wrong("run.json lists no fittings");
    for (const JsonValue& each : list == nullptr ? std::vector<JsonValue>{} : list->items) {
      Listed listed;
      listed.tag = text_of(each.find("tag"));
      listed.in = text_of(each.find("in"));
      listed.out = text_of(each.find("out"));
      if (const JsonValue* number = each.find("number"); number != nullptr && number->is_number())
        listed.number = static_cast<long>(number->number);
      const std::optional<Frame> frame = frame_of(each.find("frame"));
      listed.made = again_(listed.tag);
      tally.require(frame.has_value(), listed.tag + " has no frame of 4 x 4 numbers");
      tally.require(listed.made != nullptr, listed.tag + " cannot be made again from its folder");
      if (!frame || !listed.made) continue;
      tally.require(listed.number >= 1 && listed.number <= listed.made->fitting.count,
                    fmt::format("{} has no number {}", listed.tag, listed.number));
      listed.frame = *frame;
      listed.ports = ports_of(listed.made->fitting);
      for (Port& port : listed.ports) port.frame = composed(listed.frame, port.frame);
      listed_.push_back(std::move(listed));
    }
    const CheckResult result = tally.result("fittings made again");
    results_.push_back(result);
    return result.pass;
  }

  static const Port* port_of(const Listed& listed, const std::string& name) {
    for (const Port& port : listed.ports)
      if (port.name == name) return &port;
    return nullptr;
  }

  // Ports of neighbours, from their own frames and fittings.
  void ports() {
    Tally tally("ports met");
    double worst = 0.0;
    const bool ring = json_.find("close") != nullptr && json_.find("open_ends") != nullptr &&
                      port_of(listed_.front(), listed_.front().in) != nullptr && closes_on_itself();
    // an end that misses by what the job allows leaves its bore parted there
    const JsonValue* close = json_.find("close");
    const JsonValue* miss = close == nullptr ? nullptr : close->find("miss");
    ring_ = ring && miss != nullptr && miss->is_number() && miss->number <= k_met;
    for (std::size_t i = 0; i + (ring ? 0 : 1) < listed_.size(); ++i) {
      const Listed& before = listed_[i];
      const Listed& after = listed_[(i + 1) % listed_.size()];
      const Port* out = port_of(before, before.out);
      const Port* in = port_of(after, after.in);
      const std::string where = before.tag + " to " + after.tag;
      tally.require(out != nullptr && in != nullptr, where + ": has no such ports");
      if (out == nullptr || in == nullptr) continue;
      // the last joint of a ring is as good as the job asked
      if (i + 1 < listed_.size()) worst = std::max(worst, distance(out->frame.origin, in->frame.origin));
      const bool last = i + 1 == listed_.size();
      tally.require(last || norm(out->frame.z + in->frame.z) <= k_turned,
                    where + ": do not look at each other");
      tally.require(std::fabs(out->bare_diameter - in->bare_diameter) <= k_met,
                    where + ": are not of one diameter");
    }
    results_.push_back(
        within("ports apart", worst, k_met, "mm", fmt::format("{} joints", listed_.size() - 1)));
    results_.push_back(tally.result("ports look at each other and are of one size"));
  }

  bool closes_on_itself() const {
    for (const JsonValue& end : json_.find("open_ends")->items)
      if (text_of(end.find("tag")) == listed_.front().tag && text_of(end.find("name")) == listed_.front().in)
        return false;
    const JsonValue* joints = json_.find("joints");
    return joints != nullptr && joints->items.size() == listed_.size();
  }

  // The list of ports says where those of the frames are.
  void frames() {
    Tally tally("list of ports");
    std::size_t count = 0;
    const JsonValue* ports = json_.find("ports");
    for (const JsonValue& each : ports == nullptr ? std::vector<JsonValue>{} : ports->items) {
      const std::string tag = text_of(each.find("tag"));
      const std::string name = text_of(each.find("name"));
      const JsonValue* number = each.find("number");
      const Port* port = nullptr;
      for (const Listed& listed : listed_)
        if (listed.tag == tag && number != nullptr && static_cast<double>(listed.number) == number->number)
          port = port_of(listed, name);
      const std::optional<Vec3> at = vector_of(each.find("position"));
      const std::optional<Vec3> way = vector_of(each.find("direction"));
      tally.require(port != nullptr && at && way && distance(*at, port->frame.origin) <= k_met &&
                        norm(*way - port->frame.z) <= k_turned,
                    fmt::format("{}:{} stands elsewhere", tag, name));
      if (port == nullptr) continue;
      tally.number(tag + ":" + name + " diameter", each.find("diameter"), port->bare_diameter, k_met);
      tally.number(tag + ":" + name + " lined_diameter", each.find("lined_diameter"), port->lined_diameter,
                   k_met);
      ++count;
    }
    std::size_t all = 0;
    for (const Listed& listed : listed_) {
      all += listed.ports.size();
      const Vec3 off = cross(listed.frame.x, listed.frame.y) - listed.frame.z;
      tally.require(norm(off) <= k_turned && std::fabs(norm(listed.frame.x) - 1.0) <= k_turned,
                    listed.tag + ": its frame is not square");
    }
    tally.require(count == all, fmt::format("{} ports instead of {}", count, all));
    results_.push_back(tally.result("figures of ports"));
  }

  void solids() {
    std::vector<SolidsOf> fittings;
    std::vector<std::pair<std::size_t, std::size_t>> met;
    for (std::size_t i = 0; i < listed_.size(); ++i) {
      fittings.push_back({shown(RunPart{listed_[i].tag, listed_[i].number}), &listed_[i].made->fitting});
      if (i > 0) met.emplace_back(i - 1, i);
    }
    if (ring_) met.emplace_back(listed_.size() - 1, 0);
    for (CheckResult& result : prove_run_solids(folder_ / (stem_ + ".step"), "assembly", fittings, met))
      results_.push_back(std::move(result));
  }

  // It and all runs that start from it, in one file.
  void tree(const JsonValue& tree) {
    std::vector<std::shared_ptr<const MadeAgain>> kept;
    std::vector<SolidsOf> fittings;
    std::vector<std::pair<std::size_t, std::size_t>> met;
    std::map<std::string, std::size_t> place;
    for (const std::string& run : names_in(tree.find("runs"))) {
      const fs::path file = folder_.parent_path() / fs::path(run).filename() / "run.json";
      const JsonValue json = read_json(file_bytes(file, k_largest_json), file.string());
      const JsonValue* list = json.find("fittings");
      const std::string from = text_of(json.find("from"));
      for (std::size_t i = 0; list != nullptr && i < list->items.size(); ++i) {
        const JsonValue* number = list->items[i].find("number");
        const RunPart part{text_of(list->items[i].find("tag")),
                           number != nullptr && number->is_number() ? static_cast<long>(number->number) : 1};
        kept.push_back(again_(part.tag));
        if (!kept.back()) throw GeometryError(part.tag + " cannot be made again from its folder");
        if (i > 0) met.emplace_back(fittings.size() - 1, fittings.size());
        const auto before = place.find(from.substr(0, from.rfind(':')));
        if (i == 0 && !from.empty() && before != place.end())
          met.emplace_back(before->second, fittings.size());
        place[shown(part)] = fittings.size();
        fittings.push_back({shown(part), &kept.back()->fitting});
      }
    }
    const fs::path file = folder_ / fs::path(text_of(tree.find("file"))).filename();
    for (CheckResult& result : prove_run_solids(file, "tree", fittings, met))
      results_.push_back(std::move(result));
  }

  // Runs of many fittings have coarser meshes, and say how coarse.
  double mesh_limit() const {
    const JsonValue* bodies = json_.find("bodies");
    const JsonValue* stated = bodies != nullptr ? bodies->find("mesh_deflection") : nullptr;
    const double deflection = stated != nullptr && stated->is_number() ? stated->number : k_mesh_deflection;
    return k_mesh_volume * std::clamp(deflection / k_mesh_deflection, 1.0, k_coarsest);
  }

  void mesh(const char* role, const char* stated) {
    const std::string name = fmt::format("{}-{}.stl", stem_, role);
    std::ifstream in(folder_ / name, std::ios::binary);
    double volume = 0.0;
    long open = 0;
    for (const Mesh& body : split_bodies(read_stl(in, name))) {
      open += open_edges(body);
      volume += mesh_volume(body);
    }
    results_.push_back(
        within(fmt::format("mesh of the {}", role), static_cast<double>(open), 0.0, "open edges", name));
    const JsonValue* asked = json_.find("bodies")->find(stated);
    const double whole = asked != nullptr && asked->is_number() ? asked->number : 0.0;
    results_.push_back(within(fmt::format("volume of the {}'s mesh", role),
                              whole > 0.0 ? std::fabs(volume / whole - 1.0) : 1.0, mesh_limit(), "",
                              fmt::format("{} mm3 in facets", fixed(volume, 0))));
  }

  // The places of the glTF file are the frames.
  void glb() {
    const std::string bytes = file_bytes(folder_ / (stem_ + ".glb"), k_largest_file);
    constexpr std::size_t k_header = 20;
    const auto number_at = [&](std::size_t at) {
      std::size_t value = 0;
      for (std::size_t i = 0; i < 4; ++i)
        value |= static_cast<std::size_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
      return value;
    };
    Tally tally("GLB");
    const bool whole = bytes.size() > k_header && bytes.compare(0, 4, "glTF") == 0 &&
                       number_at(8) == bytes.size() && number_at(12) + k_header <= bytes.size();
    tally.require(whole, "is no binary glTF of the length it says");
    std::size_t places = 0;
    if (whole) {
      const JsonValue json = read_json(bytes.substr(k_header, number_at(12)), stem_ + ".glb");
      const JsonValue* nodes = json.find("nodes");
      // the first is the root, which turns the axes and the unit
      for (std::size_t n = 1; nodes != nullptr && n < nodes->items.size(); ++n) {
        const JsonValue* matrix = nodes->items[n].find("matrix");
        if (matrix == nullptr || matrix->items.size() != 16) continue;
        if (places >= listed_.size()) break;
        const Frame& f = listed_[places].frame;
        const double columns[12] = {f.x.x, f.x.y, f.x.z, f.y.x,      f.y.y,      f.y.z,
                                    f.z.x, f.z.y, f.z.z, f.origin.x, f.origin.y, f.origin.z};
        for (std::size_t k = 0; k < 12; ++k)
          tally.number(listed_[places].tag + "'s matrix", &matrix->items[k / 3 * 4 + k % 3], columns[k],
                       k_met);
        ++places;
      }
    }
    tally.require(places == listed_.size(),
                  fmt::format("has {} places instead of {}", places, listed_.size()));
    results_.push_back(tally.result("figures of its places"));
  }
};

}  // namespace

std::vector<CheckResult> check_run(const fs::path& folder, const MakeAgain& again) {
  return RunProof(folder, again).results();
}

}  // namespace linerwright
