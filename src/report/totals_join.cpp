// The shares of a job, made apart, added up to the whole.
#include <algorithm>
#include <cstdio>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "linerwright/report/totals.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void refuse(const fs::path& file, const std::string& reason) {
  throw InputError({Problem{file.string(), 0, {}, {}, {}, {}, reason}});
}

std::string name_of(const TotalsShare& share) {
  return fmt::format("share {} of {}", share.share, share.of);
}

auto rules_of(const TotalsShare& share) {
  const TotalsRules& rules = share.totals.rules;
  return std::make_tuple(rules.metal_density, rules.inner_gauge, rules.inner_open);
}

void require_one_job(const std::vector<TotalsShare>& shares) {
  const TotalsShare& first = shares.front();
  for (const TotalsShare& share : shares) {
    const JobTotals& totals = share.totals;
    const auto differs = [&](const std::string& what, const std::string& own, const std::string& other) {
      refuse(share.file, fmt::format("{} \"{}\", but {} has \"{}\"", what, own, first.file.string(), other));
    };
    if (totals.version != first.totals.version)
      differs("was made by version", totals.version, first.totals.version);
    if (totals.job != first.totals.job) differs("is of the job", totals.job, first.totals.job);
    if (totals.units != first.totals.units || rules_of(share) != rules_of(first))
      refuse(share.file, "has other units or rules than " + first.file.string());
    if (share.of != first.of)
      refuse(share.file,
             fmt::format("is {}, but {} is {}", name_of(share), first.file.string(), name_of(first)));
  }
}

void require_all_once(const std::vector<TotalsShare>& shares) {
  for (std::size_t i = 0; i < shares.size(); ++i) {
    if (i > 0 && shares[i].share == shares[i - 1].share)
      refuse(shares[i].file, fmt::format("is {}, as {} is", name_of(shares[i]), shares[i - 1].file.string()));
    if (shares[i].share != i + 1)
      refuse(shares.front().file,
             fmt::format("is {}: share {} is in none of the folders", name_of(shares.front()), i + 1));
  }
  if (shares.size() < shares.front().of)
    refuse(shares.front().file, fmt::format("is {}: share {} is in none of the folders",
                                            name_of(shares.front()), shares.size() + 1));
  std::map<std::string, const TotalsShare*> owners;
  for (const TotalsShare& share : shares)
    for (const TotalsRow& row : share.totals.rows)
      if (const auto [owner, fresh] = owners.emplace(row.tag, &share); !fresh)
        throw InputError({Problem{
            share.file.string(), 0, row.tag, {}, {}, {}, "is in " + owner->second->file.string() + " too"}});
}

void add_stock(std::vector<TotalsStock>& all, const std::vector<TotalsStock>& more) {
  for (const TotalsStock& stock : more) {
    const auto same = std::find_if(all.begin(), all.end(),
                                   [&](const TotalsStock& other) { return other.name == stock.name; });
    if (same == all.end()) {
      all.push_back(stock);
    } else {
      *same = sum_of({*same, stock});
      same->name = stock.name;
    }
  }
}

}  // namespace

std::string totals_stem(std::size_t share, std::size_t of) {
  return of == 1 ? "totals" : fmt::format("totals-{}-{}", share, of);
}

std::vector<TotalsShare> read_shares(const std::vector<fs::path>& folders) {
  std::vector<TotalsShare> all;
  for (const fs::path& folder : folders) {
    std::error_code error;
    std::vector<TotalsShare> here;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
      TotalsShare share{entry.path(), 0, 0, {}};
      const std::string name = entry.path().filename().string();
      if (std::sscanf(name.c_str(), "totals-%4zu-%4zu", &share.share, &share.of) == 2 && share.share >= 1 &&
          share.share <= share.of && name == totals_stem(share.share, share.of) + ".json")
        here.push_back(std::move(share));
    }
    if (error) refuse(folder, "cannot be read: " + error.message());
    const fs::path whole = folder / (totals_stem(1, 1) + ".json");
    if (here.empty() && fs::exists(whole, error)) here.push_back({whole, 1, 1, {}});
    if (here.empty())
      refuse(folder, "holds no totals.json and no share of any: make leaves them in its --out folder");
    for (TotalsShare& share : here) {
      share.totals = totals_from_json(share.file);
      all.push_back(std::move(share));
    }
  }
  return all;
}

JobTotals joined(std::vector<TotalsShare> shares) {
  if (shares.empty()) throw InputError({Problem{{}, 0, {}, {}, {}, {}, "no totals to join"}});
  std::sort(shares.begin(), shares.end(), [](const TotalsShare& a, const TotalsShare& b) {
    return std::tie(a.share, a.file) < std::tie(b.share, b.file);
  });
  require_one_job(shares);
  require_all_once(shares);
  JobTotals whole = shares.front().totals;
  whole.rows.clear();
  whole.stock.clear();
  whole.left_out = whole.missing = whole.older = 0;
  whole.boards_older = false;
  std::size_t longest = 0;
  for (const TotalsShare& share : shares) {
    longest = std::max(longest, share.totals.rows.size());
    whole.left_out += share.totals.left_out;
    whole.missing += share.totals.missing;
    whole.older += share.totals.older;
    whole.boards_older = whole.boards_older || share.totals.boards_older;
    add_stock(whole.stock, share.totals.stock);
  }
  // every n-th fitting is in the same share
  for (std::size_t k = 0; k < longest; ++k)
    for (TotalsShare& share : shares)
      if (k < share.totals.rows.size()) whole.rows.push_back(std::move(share.totals.rows[k]));
  return whole;
}

}  // namespace linerwright
