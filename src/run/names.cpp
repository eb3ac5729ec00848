#include "names.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "linerwright/job/job.hpp"

namespace linerwright {

bool operator<(const RunPart& a, const RunPart& b) {
  return a.tag != b.tag ? a.tag < b.tag : a.number < b.number;
}

bool operator==(const RunPart& a, const RunPart& b) {
  return a.tag == b.tag && a.number == b.number;
}

std::string shown(const RunPart& part) {
  return part.number == 1 ? part.tag : fmt::format("{}#{}", part.tag, part.number);
}

namespace {

// The number after #, or nothing.
std::optional<long> number_in(const std::string& text) {
  constexpr std::size_t k_most_digits = 7;
  if (text.empty() || text.size() > k_most_digits ||
      !std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; }))
    return std::nullopt;
  return std::stol(text);
}

std::optional<RunPart> part_named(const std::string& written, const Counts& counts) {
  if (counts.count(written) != 0) return RunPart{written, 1};
  const std::size_t sign = written.rfind('#');
  if (sign == std::string::npos || counts.count(written.substr(0, sign)) == 0) return std::nullopt;
  const std::optional<long> number = number_in(written.substr(sign + 1));
  if (!number) return std::nullopt;
  return RunPart{written.substr(0, sign), *number};
}

std::vector<std::string> ports_in(const std::string& text) {
  const std::size_t sign = text.find('>');
  if (sign == std::string::npos) return {text};
  return {text.substr(0, sign), text.substr(sign + 1)};
}

}  // namespace

std::optional<Named> named(const std::string& written, const Counts& counts, std::string& fault) {
  std::optional<Named> found;
  if (const auto part = part_named(written, counts)) found = Named{*part, {}};
  const std::size_t colon = written.rfind(':');
  if (!found && colon != std::string::npos)
    if (const auto part = part_named(written.substr(0, colon), counts))
      found = Named{*part, ports_in(written.substr(colon + 1))};
  if (!found) {
    std::vector<std::string> tags;
    for (const auto& [tag, count] : counts) tags.push_back(tag);
    const std::string tag = written.substr(0, written.find_last_of("#:"));
    const std::string near = nearest_name(tag, tags);
    fault = fmt::format("names no fitting of the job{}",
                        near.empty() || near == tag ? "" : ", did you mean " + near + "?");
    return std::nullopt;
  }
  const long count = counts.at(found->part.tag);
  if (found->part.number < 1 || found->part.number > count) {
    fault = fmt::format("asks for number {} of {}, of which the job makes {}", found->part.number,
                        found->part.tag, count);
    return std::nullopt;
  }
  for (const std::string& port : found->ports)
    if (port.empty()) {
      fault = "names no port on one side of its signs: write TAG:PORT>PORT";
      return std::nullopt;
    }
  if (found->ports.size() == 2 && found->ports[0] == found->ports[1]) {
    fault = "goes in and out of one port";
    return std::nullopt;
  }
  return found;
}

}  // namespace linerwright
