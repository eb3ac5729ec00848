// The table of the bore report against the same figures made again: from the fittings' own folders, and from
// what the table itself says of the air, the room and the sizes to choose from.
#include <algorithm>
#include <cmath>
#include <system_error>
#include <utility>

#include "linerwright/check/check_job.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_double.hpp"
#include "read_table.hpp"
#include "run_air.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

// The table's figures are rounded, and those that follow from them are off by a little more.
constexpr double k_relative = 1e-5;
constexpr double k_absolute = 2e-6;

Units units_of(const TableFile& table) {
  const bool inch = std::find(table.heads.begin(), table.heads.end(), "length [in]") != table.heads.end();
  return inch ? Units::inch : Units::metric;
}

// The first cell under the head of this name that holds something; its unit stands in the head.
class Basis {
 public:
  Basis(const TableFile& table, Units units) : table_(table), units_(units) {}

  std::string text(const std::string& name) const {
    for (const std::string& head : table_.heads) {
      if (head != name && head.rfind(name + " [", 0) != 0) continue;
      for (std::size_t i = 0; i < table_.rows.size(); ++i)
        if (const std::string& cell = table_.text(i, head); !cell.empty()) return cell;
    }
    return {};
  }
  std::optional<double> number(const std::string& name) const {
    const std::string cell = text(name);
    double value = 0.0;
    const bool whole =
        !cell.empty() && read_double(cell.data(), cell.data() + cell.size(), value).ec == std::errc{};
    return whole ? std::optional<double>(value) : std::nullopt;
  }
  std::optional<double> figure(const std::string& name, Quantity quantity) const {
    const auto value = number(name);
    return value ? std::optional<double>(from_units(quantity, *value, units_)) : std::nullopt;
  }

 private:
  const TableFile& table_;
  Units units_;
};

BoreBasis basis_of(const Basis& cells) {
  BoreBasis basis;
  basis.air.density = cells.number("air_density").value_or(0.0);
  basis.air.viscosity = cells.number("air_viscosity").value_or(0.0);
  basis.air_basis = cells.text("air_from");
  basis.flow = cells.figure("job_flow", Quantity::flow);
  basis.fan_efficiency = cells.number("fan_efficiency");
  basis.least_share = cells.number("least_share");
  const auto air = cells.figure("air_temperature", Quantity::temperature);
  const auto room = cells.figure("room_temperature", Quantity::temperature);
  if (air && room)
    basis.room = BoreRoom{*air, *room, cells.number("emissivity").value_or(k_galvanised_emissivity),
                          cells.figure("room_dew_point", Quantity::temperature)};
  return basis;
}

BoreOptions options_of(const Basis& cells, Units units) {
  BoreOptions options;
  options.heat_and_sound = !cells.text("resistance_of_length").empty();
  const std::string by = cells.text("step_up_by");
  if (by.empty()) return options;
  options.step_up = by == "velocity"   ? StepUpCriterion::velocity
                    : by == "friction" ? StepUpCriterion::friction
                                       : StepUpCriterion::area;
  const std::string series = cells.text("step_up_series");
  options.series = series == "inch sizes" ? DiameterSeries::inch
                   : series == "EN 1506"  ? DiameterSeries::en1506
                                          : DiameterSeries::en1506_all;
  if (const std::string limit = cells.text("step_up_limit"); !limit.empty())
    options.limit = step_up_limit(*options.step_up, limit, units);
  return options;
}

// A number within words: "-0.25".
struct Number {
  double value = 0.0;
  std::size_t length = 0;  // 0: there is none
  double last = 0.0;       // what its last decimal is worth; 0 for a whole number
};

Number number_at(const std::string& text, std::size_t at) {
  const auto digits = [&](std::size_t from) {
    std::size_t to = from;
    while (to < text.size() && text[to] >= '0' && text[to] <= '9') ++to;
    return to - from;
  };
  const std::size_t sign = text[at] == '-' ? 1 : 0;
  const std::size_t whole = digits(at + sign);
  if (whole == 0) return {};
  Number number{0.0, sign + whole, 0.0};
  if (at + number.length < text.size() && text[at + number.length] == '.')
    if (const std::size_t decimals = digits(at + number.length + 1); decimals > 0) {
      number.length += 1 + decimals;
      number.last = std::pow(10.0, -static_cast<double>(decimals));
    }
  read_double(text.data() + at, text.data() + at + number.length, number.value);
  return number;
}

// The same words, and numbers that differ by no more than rounding: in words the last figure shown may.
bool same_cell(const std::string& a, const std::string& b) {
  std::size_t i = 0;
  std::size_t k = 0;
  while (i < a.size() && k < b.size()) {
    const Number x = number_at(a, i);
    const Number y = number_at(b, k);
    if (x.length == 0 || y.length == 0) {
      if (a[i++] != b[k++]) return false;
      continue;
    }
    const double shown = std::max(x.last, y.last) > 1e-6 ? 1.01 * std::max(x.last, y.last) : 0.0;
    if (std::fabs(x.value - y.value) > k_relative * std::fabs(y.value) + k_absolute + shown) return false;
    i += x.length;
    k += y.length;
  }
  return i == a.size() && k == b.size();
}

// In the air that its runs bring, or as it stands.
BoreReport reported(const Fitting& fitting, const std::optional<AirOfTag>& in_air, const BoreBasis& basis,
                    const BoreOptions& options) {
  if (!in_air) return bore_report(std::vector<Fitting>{fitting}, basis, options);
  BoreBasis own = basis;
  own.flow.reset();
  BoreReport report = bore_report(std::vector<Fitting>{in_air->fitting}, own, options);
  report.flow = basis.flow;
  if (!in_air->note.empty())
    for (BoreRow& row : report.rows) row.notes.push_back(in_air->note);
  return report;
}

}  // namespace

std::vector<CheckResult> check_bore(const std::filesystem::path& csv, const MakeAgain& again,
                                    const std::vector<std::filesystem::path>& runs) {
  Tally tally("bore table");
  try {
    const TableFile table = read_table(csv);
    const Units units = units_of(table);
    const Basis cells(table, units);
    const BoreBasis basis = basis_of(cells);
    const BoreOptions options = options_of(cells, units);
    const std::string name = csv.filename().string();
    const AirInRuns air(runs);
    for (std::size_t i = 0; i < table.rows.size();) {
      const std::string tag = table.text(i, "tag");
      std::size_t end = i + 1;
      while (end < table.rows.size() && table.text(end, "tag") == tag) ++end;
      const std::size_t begin = std::exchange(i, end);
      // a tag that a spreadsheet would run has an apostrophe before it
      std::shared_ptr<const MadeAgain> made = again(tag);
      if (made == nullptr && tag.size() > 1 && tag.front() == '\'') made = again(tag.substr(1));
      if (made == nullptr) continue;  // not made, or older than the job
      const TableFile anew =
          read_table(bore_csv(reported(made->fitting, air.of(made->fitting), basis, options)), name);
      tally.require(anew.heads == table.heads,
                    name + " has other columns than this program writes: make the job again");
      tally.require(anew.rows.size() == end - begin,
                    fmt::format("{} has {} rows of {}, not {}", name, end - begin, tag, anew.rows.size()));
      if (anew.heads != table.heads || anew.rows.size() != end - begin) continue;
      for (std::size_t row = begin; row < end; ++row)
        for (std::size_t c = 0; c < table.heads.size(); ++c) {
          const std::string& found = table.rows[row].cells[c];
          const std::string& expected = anew.rows[row - begin].cells[c];
          tally.require(same_cell(found, expected),
                        fmt::format("{}:{}: {} of {} is '{}', not '{}'", name, table.rows[row].line,
                                    table.heads[c], tag, found, expected));
        }
    }
  } catch (const InputError& error) {
    tally.require(false, error.what());
  } catch (const std::invalid_argument& error) {
    tally.require(false, fmt::format("{}: {}", csv.filename().string(), error.what()));
  }
  return {tally.result("cells of the bore report made again")};
}

}  // namespace linerwright
