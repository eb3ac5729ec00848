#include <fmt/format.h>

#include <functional>

#include "bore_units.hpp"
#include "linerwright/report/bore.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

constexpr int k_decimals = 6;

struct CsvColumn {
  std::string head;
  std::function<std::string(const BoreRow&)> cell;  // as it stands in the file
};

// The text of each of several notes, steps or ends in one cell.
template <class Range, class F>
std::string joined(const Range& range, F&& text) {
  std::string out;
  for (const auto& each : range) out += (out.empty() ? "" : "; ") + text(each);
  return csv_cell(out);
}

class Columns {
 public:
  explicit Columns(Units units) : units_(units) {}

  void text(const char* name, std::function<std::string(const BoreRow&)> get) {
    columns_.push_back({name, [get = std::move(get)](const BoreRow& row) { return csv_cell(get(row)); }});
  }
  void plain(const char* name, std::function<std::string(const BoreRow&)> get) {
    columns_.push_back({name, std::move(get)});
  }
  void number(const char* name, std::function<std::optional<double>(const BoreRow&)> get) {
    columns_.push_back({name, [get = std::move(get)](const BoreRow& row) {
                          const auto value = get(row);
                          return value ? fixed(*value, k_decimals) : std::string();
                        }});
  }
  void figure(const char* name, Figure figure, std::function<std::optional<double>(const BoreRow&)> get) {
    columns_.push_back({fmt::format("{} [{}]", name, unit_of(figure, units_)),
                        [get = std::move(get), figure, units = units_](const BoreRow& row) {
                          const auto value = get(row);
                          return value ? csv_figure(figure, *value, units) : std::string();
                        }});
  }
  const std::vector<CsvColumn>& all() const { return columns_; }

 private:
  Units units_;
  std::vector<CsvColumn> columns_;
};

// One figure of an air side that may not be there.
auto of_air(std::optional<BoreFlow> BoreRow::*side, double BoreFlow::*figure) {
  return [side, figure](const BoreRow& row) {
    const auto& air = row.*side;
    return air ? std::optional<double>((*air).*figure) : std::nullopt;
  };
}

void add_bore(Columns& columns) {
  columns.text("tag", [](const BoreRow& row) { return row.tag; });
  columns.text("passage", [](const BoreRow& row) { return row.passage; });
  columns.plain("count", [](const BoreRow& row) { return std::to_string(row.count); });
  columns.figure("length", Figure::length, [](const BoreRow& row) { return row.length; });
  columns.figure("bare_diameter", Figure::length,
                 [](const BoreRow& row) { return row.narrowest_place().bare_diameter; });
  columns.figure("lined_diameter", Figure::length,
                 [](const BoreRow& row) { return row.narrowest_place().lined_diameter; });
  columns.figure("free_area", Figure::area,
                 [](const BoreRow& row) { return row.narrowest_place().free_area; });
  columns.number("share", [](const BoreRow& row) { return row.narrowest_place().share; });
  columns.number("velocity_factor", [](const BoreRow& row) { return row.velocity_factor; });
  columns.figure("narrowest_distance", Figure::length,
                 [](const BoreRow& row) { return row.narrowest_place().distance; });
  columns.figure("exposed_step", Figure::length, [](const BoreRow& row) { return row.exposed_step; });
  columns.text("narrowest_place",
               [](const BoreRow& row) { return row.even ? "all along" : row.narrowest_place().place; });
}

void add_air(Columns& columns) {
  columns.figure("flow", Figure::flow, [](const BoreRow& row) { return row.flow; });
  columns.figure("bare_velocity", Figure::velocity, of_air(&BoreRow::bare_air, &BoreFlow::velocity));
  columns.figure("lined_velocity", Figure::velocity, of_air(&BoreRow::lined_air, &BoreFlow::velocity));
  columns.figure("velocity_limit", Figure::velocity, [](const BoreRow& row) { return row.velocity_limit; });
  columns.text("nosing", [](const BoreRow& row) { return row.nosing; });
  columns.plain("over_limit", [](const BoreRow& row) {
    return std::string(!row.lined_air ? "" : row.over_limit ? "yes" : "no");
  });
  columns.figure("bare_velocity_pressure", Figure::pressure,
                 of_air(&BoreRow::bare_air, &BoreFlow::velocity_pressure));
  columns.figure("lined_velocity_pressure", Figure::pressure,
                 of_air(&BoreRow::lined_air, &BoreFlow::velocity_pressure));
  columns.number("bare_reynolds", of_air(&BoreRow::bare_air, &BoreFlow::reynolds));
  columns.number("lined_reynolds", of_air(&BoreRow::lined_air, &BoreFlow::reynolds));
  columns.number("bare_friction_factor", of_air(&BoreRow::bare_air, &BoreFlow::friction_factor));
  columns.number("lined_friction_factor", of_air(&BoreRow::lined_air, &BoreFlow::friction_factor));
  columns.figure("bare_friction", Figure::friction, of_air(&BoreRow::bare_air, &BoreFlow::friction));
  columns.figure("lined_friction", Figure::friction, of_air(&BoreRow::lined_air, &BoreFlow::friction));
  const auto of_loss = [](std::optional<BoreLoss> BoreRow::*side, double BoreLoss::*figure) {
    return [side, figure](const BoreRow& row) {
      return row.*side ? std::optional<double>((*(row.*side)).*figure) : std::nullopt;
    };
  };
  columns.figure("friction_loss_bare", Figure::pressure, of_loss(&BoreRow::bare_loss, &BoreLoss::friction));
  columns.figure("friction_loss", Figure::pressure, of_loss(&BoreRow::lined_loss, &BoreLoss::friction));
  columns.figure("loss_bare", Figure::pressure, of_loss(&BoreRow::bare_loss, &BoreLoss::total));
  columns.figure("loss", Figure::pressure, of_loss(&BoreRow::lined_loss, &BoreLoss::total));
  columns.plain("loss_coefficients", [](const BoreRow& row) {
    if (!row.lined_loss) return std::string();
    return joined(row.lined_loss->parts, [](const LossPart& part) {
      return fmt::format("{} {} ({}{})", part.what, trimmed(part.coefficient, 4),
                         part.given ? "" : "default, ", part.source);
    });
  });
  columns.plain("loss_leaves_out", [](const BoreRow& row) {
    if (!row.lined_loss) return std::string();
    return joined(row.lined_loss->left_out, [](const std::string& what) { return what; });
  });
}

// What the figures rest on.
void add_basis(Columns& columns, const BoreReport& report) {
  columns.figure("liner_thickness", Figure::length, [](const BoreRow& row) { return row.thickness; });
  columns.figure("metal_roughness", Figure::length, [](const BoreRow& row) { return row.metal_roughness; });
  columns.figure("roughness", Figure::length, [](const BoreRow& row) { return row.roughness; });
  columns.text("roughness_from", [](const BoreRow& row) { return row.surface; });
  columns.number("conductivity [W/(m K)]", [](const BoreRow& row) { return row.conductivity; });
  columns.number("air_density [kg/m3]", [&report](const BoreRow&) { return report.air.density; });
  columns.plain("air_viscosity [m2/s]",
                [&report](const BoreRow&) { return fixed(report.air.viscosity, 12); });
  columns.figure("job_flow", Figure::flow, [&report](const BoreRow&) { return report.flow; });
  columns.number("fan_efficiency", [&report](const BoreRow&) { return report.fan_efficiency; });
  columns.number("least_share", [&report](const BoreRow&) { return report.least_share; });
  const auto of_room = [&report](auto get) {
    return [&report, get](const BoreRow&) {
      return report.room ? std::optional<double>(get(*report.room)) : std::nullopt;
    };
  };
  columns.figure("air_temperature", Figure::temperature,
                 of_room([](const BoreRoom& room) { return room.air_temperature; }));
  columns.figure("room_temperature", Figure::temperature,
                 of_room([](const BoreRoom& room) { return room.temperature; }));
  columns.figure("room_dew_point", Figure::temperature,
                 [&report](const BoreRow&) { return report.room ? report.room->dew_point : std::nullopt; });
  columns.number("emissivity", of_room([](const BoreRoom& room) { return room.emissivity; }));
  columns.text("air_from", [&report](const BoreRow&) { return report.air_basis; });
}

// `end` 0 is the first, or the only one.
void add_step(Columns& columns, const char* name, std::size_t end) {
  columns.figure(name, Figure::length, [end](const BoreRow& row) {
    return end < row.steps.size() && row.steps[end].found.size
               ? std::optional<double>(row.steps[end].found.size->diameter)
               : std::nullopt;
  });
}

void add_heat_and_sound(Columns& columns) {
  const auto heat = [](double LiningResistance::*figure) {
    return [figure](const BoreRow& row) {
      return row.heat ? std::optional<double>((*row.heat).*figure) : std::nullopt;
    };
  };
  columns.figure("resistance_of_length", Figure::length_resistance, heat(&LiningResistance::per_length));
  columns.figure("resistance_on_duct_face", Figure::resistance, heat(&LiningResistance::on_duct_face));
  columns.figure("resistance_on_air_face", Figure::resistance, heat(&LiningResistance::on_air_face));
  const auto gain = [](std::optional<DuctHeat> BoreRow::*side, double DuctHeat::*figure) {
    return [side, figure](const BoreRow& row) {
      return row.*side ? std::optional<double>((*(row.*side)).*figure) : std::nullopt;
    };
  };
  columns.figure("heat_gain_bare", Figure::heat_per_length, gain(&BoreRow::bare_gain, &DuctHeat::per_metre));
  columns.figure("heat_gain", Figure::heat_per_length, gain(&BoreRow::lined_gain, &DuctHeat::per_metre));
  columns.figure("metal_temperature", Figure::temperature,
                 gain(&BoreRow::lined_gain, &DuctHeat::surface_temperature));
  columns.figure("least_dry_thickness", Figure::length, [](const BoreRow& row) { return row.least_dry; });
  const char* const bands[] = {"63", "125", "250", "500", "1000", "2000", "4000", "8000"};
  for (std::size_t i = 0; i < std::size(bands); ++i)
    columns.number(
        fmt::format("insertion_loss_estimate_{}_Hz [dB]", bands[i]).c_str(), [i](const BoreRow& row) {
          return row.sound && row.sound->bands ? std::optional<double>((*row.sound->bands)[i].total)
                                               : std::nullopt;
        });
  // what the sample was stands beside the figures it gave
  columns.plain("insertion_loss_from", [](const BoreRow& row) {
    return row.sound ? joined(row.sound->bands ? row.sound->notes : row.sound->out_of_range,
                              [](const std::string& note) { return note; })
                     : std::string();
  });
  const auto levels = [&](const char* name, std::optional<std::array<double, 8>> BoreRow::*side) {
    for (std::size_t i = 0; i < std::size(bands); ++i)
      columns.number(fmt::format("{}_{}_Hz [dB]", name, bands[i]).c_str(), [i, side](const BoreRow& row) {
        return row.*side ? std::optional<double>((*(row.*side))[i]) : std::nullopt;
      });
  };
  levels("bare_attenuation_estimate", &BoreRow::bare_sound);
  levels("air_noise_estimate", &BoreRow::air_noise);
}

}  // namespace

std::string bore_csv(const BoreReport& report) {
  Columns columns(report.units);
  add_bore(columns);
  add_air(columns);
  add_step(columns, "next_diameter", 0);
  add_step(columns, "next_diameter_of_second_end", 1);
  columns.plain("step_up_by", [&report](const BoreRow&) {
    return std::string(report.step_up ? words_of(*report.step_up) : "");
  });
  columns.plain("step_up_limit", [&report](const BoreRow&) {
    if (!report.step_up || !report.step_limit) return std::string();
    const Figure figure = *report.step_up == StepUpCriterion::area       ? Figure::area
                          : *report.step_up == StepUpCriterion::velocity ? Figure::velocity
                                                                         : Figure::friction;
    return fmt::format("{} {}", csv_figure(figure, *report.step_limit, report.units),
                       unit_of(figure, report.units));
  });
  columns.plain("step_up_series", [&report](const BoreRow&) {
    return std::string(report.step_up ? words_of(report.series) : "");
  });
  columns.plain("step_up", [](const BoreRow& row) {
    return joined(row.steps, [](const BoreStep& step) {
      return (step.place.empty() ? "" : step.place + ": ") + step.found.text;
    });
  });
  columns.figure("added_metal", Figure::area, [](const BoreRow& row) { return row.added_metal; });
  columns.figure("added_mass", Figure::mass, [](const BoreRow& row) { return row.added_mass; });
  add_heat_and_sound(columns);
  add_basis(columns, report);
  columns.plain("notes", [](const BoreRow& row) {
    return joined(row.notes, [](const std::string& note) { return note; });
  });

  std::string text;
  for (const CsvColumn& column : columns.all()) text += (text.empty() ? "" : ",") + column.head;
  for (const BoreRow& row : report.rows) {
    std::string line;
    for (const CsvColumn& column : columns.all())
      line += (&column == &columns.all().front() ? "" : ",") + column.cell(row);
    text += '\n' + line;
  }
  return text + '\n';
}

}  // namespace linerwright
