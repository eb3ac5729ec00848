#include "run_losses.hpp"

#include <map>

#include "linerwright/bore.hpp"

namespace linerwright {

namespace {

// The passage that leads to this port: a branch's or a leg's own, or the body's, which is the first.
std::size_t passage_of(const Port& in, const Port& out) {
  for (const Port* port : {&out, &in})
    for (const std::string_view kind : {"branch", "leg"}) {
      if (port->name.compare(0, kind.size(), kind) != 0) continue;
      std::size_t number = 0;
      for (const char c : port->name.substr(kind.size()))
        if (c >= '0' && c <= '9') number = 10 * number + static_cast<std::size_t>(c - '0');
      return number;
    }
  return 0;
}

}  // namespace

RunLosses losses_of(const LaidRun& run, const Values* air) {
  RunLosses losses;
  std::map<std::string, std::vector<BoreRow>> known;
  for (const Placed& placed : run.fittings) {
    if (placed.in < 0 || placed.out < 0) continue;
    std::vector<BoreRow>& rows = known[placed.part.tag];
    if (rows.empty()) rows = bore_report({*placed.fitting}, air, {}).rows;
    const std::size_t index = passage_of(placed.ports[static_cast<std::size_t>(placed.in)],
                                         placed.ports[static_cast<std::size_t>(placed.out)]);
    RunLoss loss;
    loss.fitting = shown(placed.part);
    if (index < rows.size()) {
      const BoreRow& row = rows[index];
      loss.passage = row.passage;
      loss.flow = row.flow;
      if (row.bare_loss && row.lined_loss) {
        loss.bare = row.bare_loss->total;
        loss.lined = row.lined_loss->total;
        loss.by_default = row.lined_loss->by_default();
        loss.left_out = row.lined_loss->left_out;
        if (index > 0) loss.left_out.emplace_back("friction on the way to where it leaves the others");
        losses.bare += *loss.bare;
        losses.lined += *loss.lined;
      }
    }
    losses.without += loss.lined ? 0 : 1;
    losses.each.push_back(std::move(loss));
  }
  return losses;
}

void write_losses(JsonWriter& json, const RunLosses& losses) {
  const auto maybe = [&](const char* key, const std::optional<double>& value) {
    json.key(key);
    if (value) {
      json.number(*value);
    } else {
      json.null();
    }
  };
  json.key("loss").begin_object();
  json.key("bare").number(losses.bare);
  json.key("lined").number(losses.lined);
  json.key("without").integer(static_cast<long>(losses.without));
  json.key("fittings").begin_array();
  for (const RunLoss& loss : losses.each) {
    json.begin_object();
    json.key("fitting").text(loss.fitting);
    json.key("passage").text(loss.passage);
    maybe("flow", loss.flow);
    maybe("bare", loss.bare);
    maybe("lined", loss.lined);
    json.key("by_default").boolean(loss.by_default);
    json.key("left_out").begin_array();
    for (const std::string& each : loss.left_out) json.text(each);
    json.end_array();
    json.end_object();
  }
  json.end_array();
  json.end_object();
}

}  // namespace linerwright
