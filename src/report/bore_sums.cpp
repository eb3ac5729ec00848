// Losses of a report added up, by kind and all together.
#include <algorithm>
#include <cmath>

#include "bore_loss.hpp"
#include "linerwright/airway/loss.hpp"

namespace linerwright {

std::vector<BoreSum> bore_sums(const BoreReport& report) {
  std::vector<BoreSum> sums;
  BoreSum job;
  bool known = false;
  const auto take = [&](BoreSum& sum, const BoreRow& row, bool first) {
    const double count = static_cast<double>(row.count);
    if (first) sum.fittings += row.count;
    sum.length += count * row.length;
    if (!row.lined_loss) {
      ++sum.without;
      return;
    }
    known = true;
    sum.bare_loss += count * row.bare_loss->total;
    sum.lined_loss += count * row.lined_loss->total;
    sum.incomplete += row.lined_loss->left_out.empty() && row.bare_loss->left_out.empty() ? 0 : 1;
    sum.by_default += row.lined_loss->by_default() || row.bare_loss->by_default() ? 1 : 0;
    if (!report.fan_efficiency) return;
    const auto power = [&](const BoreLoss& loss) {
      return count * fan_power(loss.power, 1.0, *report.fan_efficiency);
    };
    sum.bare_power = sum.bare_power.value_or(0.0) + power(*row.bare_loss);
    sum.lined_power = sum.lined_power.value_or(0.0) + power(*row.lined_loss);
  };
  for (std::size_t i = 0; i < report.rows.size(); ++i) {
    const BoreRow& row = report.rows[i];
    const bool first = i == 0 || report.rows[i - 1].tag != row.tag;
    auto found =
        std::find_if(sums.begin(), sums.end(), [&](const BoreSum& sum) { return sum.kind == row.kind; });
    if (found == sums.end()) {
      sums.emplace_back().kind = row.kind;
      found = sums.end() - 1;
    }
    take(*found, row, first);
    take(job, row, first);
  }
  if (!known) return {};
  sums.push_back(job);
  return sums;
}

}  // namespace linerwright
