#include <algorithm>
#include <stdexcept>

#include "linerwright/job/job.hpp"
#include "names.hpp"

namespace linerwright {

namespace {

const Value& present(const Values& values, const std::string& key) {
  const Value* value = values.find(key);
  if (value == nullptr) throw std::out_of_range("no value for " + key);
  return *value;
}

}  // namespace

const Value* Values::find(const std::string& key) const {
  const auto found = values_.find(key);
  return found == values_.end() ? nullptr : &found->second;
}

bool Values::given(const std::string& key) const {
  const Value* value = find(key);
  return value != nullptr && value->given;
}

double Values::quantity(const std::string& key) const {
  return std::get<double>(present(*this, key).data);
}

std::optional<double> Values::maybe(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  return quantity(key);
}

std::vector<double> Values::list(const std::string& key) const {
  const Value& value = present(*this, key);
  if (const auto* several = std::get_if<std::vector<double>>(&value.data)) return *several;
  return {std::get<double>(value.data)};
}

long Values::integer(const std::string& key) const {
  return std::get<long>(present(*this, key).data);
}

bool Values::flag(const std::string& key) const {
  return has(key) && std::get<bool>(present(*this, key).data);
}

const std::string& Values::text(const std::string& key) const {
  return std::get<std::string>(present(*this, key).data);
}

std::vector<std::string> Values::texts(const std::string& key) const {
  const Value* value = find(key);
  if (value == nullptr) return {};
  if (const auto* several = std::get_if<std::vector<std::string>>(&value->data)) return *several;
  return {std::get<std::string>(value->data)};
}

Problem problem_of(const FittingRequest& request, const std::string& key, std::string allowed,
                   std::string reason) {
  Problem problem{request.file, request.line, request.tag, key, "", std::move(allowed), std::move(reason)};
  if (const Value* value = request.values.find(key)) {
    problem.value = value->written;
    if (value->given) {
      problem.file = value->file;
      problem.line = value->line;
    }
  }
  problem.key = shown_key(key, problem.file);
  return problem;
}

}  // namespace linerwright
