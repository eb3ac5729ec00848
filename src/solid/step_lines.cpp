#include "step_lines.hpp"

#include <fmt/format.h>

namespace linerwright {

int StepLines::add(const std::string& entity) {
  out_ << '#' << fmt::format_int(++count_).c_str() << '=' << entity << ";\n";
  return count_;
}

int StepLines::shared(const std::string& entity) {
  const auto [place, fresh] = known_.emplace(entity, 0);
  if (fresh) place->second = add(entity);
  return place->second;
}

int StepLines::geometry(const std::string& entity) {
  const auto common = known_.find(entity);
  if (common != known_.end()) return common->second;
  const auto [place, fresh] = geometry_.emplace(entity, 0);
  if (fresh) place->second = add(entity);
  return place->second;
}

std::string step_real(double value) {
  std::string text = fmt::format("{:.15g}", value == 0.0 ? 0.0 : value);  // no minus zero
  const std::size_t exponent = text.find('e');
  const std::size_t digits = exponent == std::string::npos ? text.size() : exponent;
  if (exponent != std::string::npos) text[exponent] = 'E';
  if (text.find('.') == std::string::npos) text.insert(digits, ".");
  return text;
}

std::string step_ref(int entity) {
  return fmt::format("#{}", entity);
}

std::string step_refs(const std::vector<int>& entities) {
  return fmt::format("(#{})", fmt::join(entities, ",#"));
}

std::string step_reals(const std::vector<double>& values) {
  std::string text = "(";
  for (const double value : values) text += (text.size() > 1 ? "," : "") + step_real(value);
  return text + ")";
}

std::string step_text(const std::string& value) {
  std::string result;
  for (const char c : value) result += (c >= ' ' && c <= '~' && c != '\'' && c != '\\') ? c : '_';
  return "'" + (result.empty() ? "_" : result) + "'";
}

}  // namespace linerwright
