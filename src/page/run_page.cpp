#include "linerwright/page/run_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html.hpp"
#include "linerwright/report/bore_run.hpp"
#include "linerwright/run/run_drawing.hpp"
#include "linerwright/units/figures.hpp"
#include "packed.hpp"
#include "page_script.hpp"
#include "scene.hpp"
#include "web_text.hpp"

namespace linerwright {

namespace {

class Page {
 public:
  explicit Page(const RunPage& page) : page_(page), run_(page.run) {}

  std::string html() const {
    const bool seen = !page_.parts.empty();
    const std::string flow = fixed_or_short(to_units(Quantity::flow, start_flow(), run_.run.units));
    const std::string model =
        seen ? filled(web_text("run_model.html"), {{"flow", flow},
                                                   {"flow_unit", unit_name(Quantity::flow, run_.run.units)},
                                                   {"cut_open", web_text("cut_open.html")}})
             : std::string();
    const std::string scene = seen ? scene_element(scene_json()) : "";
    const PageScript script = page_script(page_.script);
    SvgOptions inside;
    inside.margin = 4.0;
    return filled(web_text("run.html"),
                  {{"name", html_text(run_.run.name)},
                   {"what", fmt::format("run of lined duct, {} fittings", run_.fittings.size())},
                   {"style", std::string(web_text("page.css")) + std::string(web_text("fitting.css"))},
                   {"unpack", web_text("bundle/unpack.js")},
                   {"unpack_hash", web_text("bundle/unpack.hash")},
                   {"allowed", script.allowed},
                   {"script", script.element},
                   {"figures", figures()},
                   {"model_link", seen ? "<a href=\"#model\">3D</a>" : ""},
                   {"model", model},
                   {"line", svg_of(run_isometric(run_), inside)},
                   {"fittings", fittings()},
                   {"notes", notes()},
                   {"joints", joints()},
                   {"profile", svg_of(run_profile(run_), inside)},
                   {"losses", losses()},
                   {"order", order()},
                   {"cautions", web_text("cautions.html")},
                   {"files", files()},
                   {"scene", scene}});
  }

 private:
  const RunPage& page_;
  const LaidRun& run_;

  std::string length(double mm) const { return format_quantity(Quantity::length, mm, run_.run.units, 1); }
  std::string plain(double mm) const { return trimmed(to_units(Quantity::length, mm, run_.run.units), 1); }
  static std::string degrees(double angle) { return trimmed(angle * 180.0 / k_pi, 1); }

  // Some three digits, without an exponent.
  static std::string fixed_or_short(double value) {
    return trimmed(value, value >= 100.0 ? 0 : value >= 1.0 ? 2 : 4);
  }

  // What goes in or out at the run's start, or a number to begin with.
  double start_flow() const {
    const Placed& first = run_.fittings.front();
    const double flow = std::fabs(air_at(first, first.in ? first.in : first.out).value_or(0.0));
    return flow > 0.0 ? flow : usual_flow();
  }
  static std::optional<double> air_at(const Placed& placed, std::optional<std::size_t> port) {
    return port && *port < placed.air.size() ? placed.air[*port] : std::nullopt;
  }

  // What runs at 5 m/s through the widest bore, where the job names no flow: a number to begin with.
  double usual_flow() const {
    double area = 0.0;
    for (const Placed& placed : run_.fittings)
      for (const BorePoint& point : placed.bore) area = std::max(area, point.lined_area);
    return 5e-6 * area;
  }

  std::string figures() const {
    const RunBox box = box_of(run_);
    const Vec3 size = box.high - box.low;
    double least = 1.0;
    std::string where = "nowhere";
    for (const Placed& placed : run_.fittings)
      for (const BorePoint& point : placed.bore) {
        const double share = point.lined_area / (0.25 * k_pi * point.bare_diameter * point.bare_diameter);
        if (share >= least) continue;
        least = share;
        where = shown(placed.part);
      }
    return html_figure("line of centres", length(run_.length), fmt::format("{} joints", run_.joints.size())) +
           html_figure("box", fmt::format("{} x {} x {}", plain(size.x), plain(size.y), length(size.z)),
                       "x, y, z") +
           html_figure("least area left", fixed(100.0 * least, 1) + " %", where) + losses_figure() +
           html_figure("open ends", std::to_string(run_.open_ends.size()), "") +
           html_figure("to look at", std::to_string(run_.notes.size()), "at joints");
  }

  std::string losses_figure() const {
    if (page_.losses.without == page_.losses.parts.size()) return {};
    const auto shown = [&](double value) {
      return shown_quantity(Quantity::pressure, value, run_.run.units);
    };
    return html_figure(
        "total pressure along it", shown(page_.losses.lined),
        fmt::format(
            "bare {}{}", shown(page_.losses.bare),
            page_.losses.without == 0 ? std::string() : fmt::format("; {} not known", page_.losses.without)));
  }

  std::string fittings() const {
    HtmlTable table{
        "",
        {"no.", "fitting", "kind", "way", "from", "to", "turn, degrees", "lining turned, degrees"},
        4,
        {}};
    for (std::size_t i = 0; i < run_.fittings.size(); ++i) {
      const Placed& placed = run_.fittings[i];
      const auto port = [&](std::optional<std::size_t> index) {
        return index ? html_text(placed.ports[*index].name) : std::string("-");
      };
      const std::string name = html_name(shown(placed.part));
      table.rows.push_back({std::to_string(i + 1),
                            page_.pages[i].empty()
                                ? name
                                : fmt::format("<a href=\"{}\">{}</a>", html_text(page_.pages[i]), name),
                            html_text(placed.fitting->kind), port(placed.in) + " to " + port(placed.out),
                            length(placed.way.front().distance), length(placed.way.back().distance),
                            degrees(run_.run.steps[i].turn), degrees(placed.ring_turn)});
    }
    return html_of(table);
  }

  std::string joints() const {
    HtmlTable table{"",
                    {"joint", "made", "flow arrows", "at", "diameter", "step of the air face, mm",
                     "seams apart, degrees"},
                    3,
                    {}};
    for (const RunJoint& joint : run_.joints)
      table.rows.push_back({html_text(shown(run_.fittings[joint.before].part) + " to " +
                                      shown(run_.fittings[joint.after].part)),
                            joint.field ? "field" : "shop",
                            joint.flow == RunFlow::along     ? "along"
                            : joint.flow == RunFlow::against ? "against"
                            : joint.flow == RunFlow::conflict
                                ? "<span class=\"fail\">against each other</span>"
                                : "none",
                            length(joint.distance), length(joint.diameter), trimmed(joint.step, 2),
                            joint.seam_apart ? degrees(*joint.seam_apart) : "-"});
    return run_.joints.empty() ? "<p>One fitting: nothing is joined.</p>\n" : html_of(table);
  }

  std::string losses() const {
    const BoreRunTable losses = run_loss_table(page_.losses, run_.run.units);
    HtmlTable table{"", losses.heads, 2, {}};
    for (const std::vector<std::string>& row : losses.rows) {
      table.rows.emplace_back();
      for (const std::string& cell : row) table.rows.back().push_back(html_text(cell));
    }
    std::vector<std::string> lines;
    if (page_.losses.without > 0)
      lines.push_back(
          fmt::format("The sums are without {} whose flow is not known: say flow at the run, or of a "
                      "fitting, and branch_flow of tees.",
                      page_.losses.without == 1 ? std::string("1 fitting")
                                                : fmt::format("{} fittings", page_.losses.without)));
    const bool formulas = std::any_of(page_.losses.parts.begin(), page_.losses.parts.end(),
                                      [](const BoreRunPart& part) { return part.by_default; });
    if (formulas) lines.emplace_back("* a published formula's coefficient is in it; bore.html names it.");
    for (const std::string& line : left_out_of(page_.losses)) lines.push_back("+ left out: " + line);
    return html_of(table) + html_list(lines, false);
  }

  std::string notes() const {
    std::vector<std::string> lines;
    for (const RunNote& note : run_.notes) lines.push_back(note.text);
    return html_list(lines, false);
  }

  std::string order() const {
    const RunOrder order = order_of(run_);
    std::vector<std::string> lines;
    for (const RunStage& step : order.steps) {
      std::string line = step.text;
      std::string pieces;
      for (const std::string& piece : step.pieces) pieces += (pieces.empty() ? ": " : ", ") + piece;
      lines.push_back(line + pieces);
    }
    std::vector<std::string> unreached;
    for (const Unreached& each : order.unreached) unreached.push_back(each.text);
    return html_list(lines, true) + html_list(unreached, false);
  }

  std::string files() const {
    std::string out;
    for (const std::string& file : page_.files)
      out += fmt::format("<li><a href=\"{0}\">{0}</a></li>\n", html_text(file));
    return out;
  }

  // The axis along which the run is thinnest is the one it is cut across.
  long thinnest_axis() const {
    const RunBox box = box_of(run_);
    const Vec3 size = box.high - box.low;
    if (size.x <= size.y && size.x <= size.z) return 0;
    return size.y <= size.z ? 1 : 2;
  }

  std::string scene_json() const {
    Vec3 low{1e300, 1e300, 1e300};
    Vec3 high{-1e300, -1e300, -1e300};
    for (const RunPagePart& part : page_.parts)
      for (const Vec3 p : part.mesh.points) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
      }
    const double step = std::max({high.x - low.x, high.y - low.y, high.z - low.z}) / 65535.0;
    JsonWriter json;
    json.begin_object();
    json.key("axis").integer(thinnest_axis());
    json.key("unit").begin_object();
    json.key("name").text(std::string(unit_name(Quantity::length, run_.run.units)));
    json.key("mm").number(from_units(Quantity::length, 1.0, run_.run.units));
    json.key("decimals").integer(run_.run.units == Units::inch ? 2 : 1);
    json.end_object();
    json.key("way").begin_array();
    for (const Placed& placed : run_.fittings)
      for (const WayPoint& point : placed.way) {
        json.begin_array();
        for (const double value : {point.distance, point.point.x, point.point.y, point.point.z})
          json.number(value, 3);
        json.end_array();
      }
    json.end_array();
    const auto unit = [&](const char* key, Quantity quantity) {
      json.key(key).begin_object();
      json.key("name").text(std::string(unit_name(quantity, run_.run.units)));
      json.key("of_si").number(to_units(quantity, 1.0, run_.run.units), 9);
      json.end_object();
    };
    unit("flow_unit", Quantity::flow);
    unit("velocity_unit", Quantity::velocity);
    write_areas(json);
    json.key("names").begin_array();
    for (const Placed& placed : run_.fittings)
      json.begin_array().number(placed.way.front().distance, 3).text(shown(placed.part)).end_array();
    json.end_array();
    json.key("parts").begin_array();
    for (const RunPagePart& part : page_.parts) write_part(json, part, low, step);
    json.end_array();
    json.end_object();
    return json.str();
  }

  // [distance, area, share of the flow at the start]: before the middle of a fitting what goes in, then what
  // comes out.
  void write_areas(JsonWriter& json) const {
    json.key("area").begin_array();
    const double start = start_flow();
    double share = 1.0;
    for (const Placed& placed : run_.fittings) {
      const double middle = 0.5 * (placed.way.front().distance + placed.way.back().distance);
      for (const BorePoint& point : placed.bore) {
        const auto flow = air_at(placed, point.distance <= middle ? placed.in : placed.out);
        if (flow) share = std::fabs(*flow) / start;
        json.begin_array().number(point.distance, 3).number(point.lined_area, 1).number(share, 5).end_array();
      }
    }
    json.end_array();
  }

  void write_part(JsonWriter& json, const RunPagePart& part, Vec3 low, double step) const {
    const Placed& placed = run_.fittings[part.fitting];
    json.begin_object();
    json.key("role").text(part.role == PartRole::metal   ? "metal"
                          : part.role == PartRole::liner ? "liner"
                                                         : "bore");
    json.key("title").text(shown(placed.part));
    json.key("page").text(page_.pages[part.fitting]);
    json.key("lines").begin_array();
    json.text(placed.fitting->kind);
    json.text(fmt::format("{} to {} along the run", length(placed.way.front().distance),
                          length(placed.way.back().distance)));
    json.end_array();
    json.key("apart").begin_array().number(0.0).number(0.0).number(0.0).end_array();
    json.key("mesh");
    write_mesh(json, part.mesh, low, step);
    json.end_object();
  }
};

}  // namespace

std::string run_page(const RunPage& page) {
  return Page(page).html();
}

}  // namespace linerwright
