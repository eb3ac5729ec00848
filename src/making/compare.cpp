#include "linerwright/making/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <map>
#include <set>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/making/shape_job.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

namespace {

// A piece as it is cut: board, contours, tilts. Two that agree here to a ten-thousandth of a millimetre are
// one piece.
using CutPiece = std::vector<long long>;

void add_sizes(CutPiece& out, double value) {
  out.push_back(std::llround(value * 1e4));
}

void add_sizes(CutPiece& out, const Region& region) {
  std::vector<Ring> rings = region.holes;
  rings.push_back(region.outer);
  for (const Ring& ring : rings) {
    out.push_back(static_cast<long long>(ring.size()));
    for (const Vec2 point : ring) {
      add_sizes(out, point.x);
      add_sizes(out, point.y);
    }
  }
}

std::map<std::string, CutPiece> pieces_of(const FittingRequest& request) {
  const auto [fitting, patterns] = shape(request);
  std::map<std::string, CutPiece> pieces;
  for (const std::size_t i : patterns_to_cut(patterns, true)) {
    CutPiece& piece = pieces[patterns[i].id];
    const LinerSpec& liner = liner_of(fitting, patterns[i]);
    add_sizes(piece, liner.thickness);
    piece.push_back(liner.face_up == Face::duct ? 0 : 1);
    add_sizes(piece, patterns[i].cut);
    add_sizes(piece, patterns[i].duct);
    add_sizes(piece, patterns[i].air);
  }
  return pieces;
}

// "diameter 600mm -> 550mm"; empty where nothing changed.
std::vector<std::string> changed_keys(const FittingRequest& older, const FittingRequest& newer) {
  std::vector<std::string> out;
  if (older.kind != newer.kind)
    out.push_back(fmt::format("kind {} -> {}", kind_title(older.kind), kind_title(newer.kind)));
  if (older.count != newer.count) out.push_back(fmt::format("count {} -> {}", older.count, newer.count));
  std::set<std::string> keys;
  for (const FittingRequest* request : {&older, &newer})
    for (const auto& [key, value] : request->values.all()) keys.insert(key);
  for (const std::string& key : keys) {
    const Value* before = older.values.find(key);
    const Value* after = newer.values.find(key);
    if (before != nullptr && after != nullptr && before->data == after->data) continue;
    out.push_back(fmt::format("{} {} -> {}", key, before == nullptr ? "(not stated)" : before->written,
                              after == nullptr ? "(not stated)" : after->written));
  }
  return out;
}

void compare_pieces(const FittingRequest& older, const FittingRequest& newer, FittingChange& change) {
  try {
    const std::map<std::string, CutPiece> before = pieces_of(older);
    const std::map<std::string, CutPiece> after = pieces_of(newer);
    for (const auto& [id, piece] : after) {
      const auto found = before.find(id);
      (found != before.end() && found->second == piece ? change.fit : change.again)
          .push_back(newer.tag + "/" + id);
    }
    for (const auto& [id, piece] : before)
      if (after.count(id) == 0) change.spare.push_back(older.tag + "/" + id);
  } catch (const std::exception& error) {
    change.failure = error.what();
  }
}

}  // namespace

JobComparison compare_jobs(const Job& older, const Job& newer) {
  std::map<std::string, const FittingRequest*> before;
  for (const FittingRequest& fitting : older.fittings) before[fitting.tag] = &fitting;
  JobComparison comparison;
  std::set<std::string> seen;
  for (const FittingRequest& fitting : newer.fittings) {
    seen.insert(fitting.tag);
    FittingChange change;
    change.tag = fitting.tag;
    change.kind = fitting.kind;
    change.count = fitting.count;
    const auto found = before.find(fitting.tag);
    if (found == before.end()) {
      change.what = FittingChange::What::added;
      comparison.changes.push_back(std::move(change));
      continue;
    }
    change.keys = changed_keys(*found->second, fitting);
    if (change.keys.empty()) {
      ++comparison.same;
      continue;
    }
    change.count_before = found->second->count;
    compare_pieces(*found->second, fitting, change);
    comparison.changes.push_back(std::move(change));
  }
  for (const FittingRequest& fitting : older.fittings) {
    if (seen.count(fitting.tag) != 0) continue;
    FittingChange change;
    change.what = FittingChange::What::gone;
    change.tag = fitting.tag;
    change.kind = fitting.kind;
    change.count = fitting.count;
    comparison.changes.push_back(std::move(change));
  }
  return comparison;
}

}  // namespace linerwright
