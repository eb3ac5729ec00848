#include "linerwright/job/request_state.hpp"

#include <fmt/format.h>

#include "linerwright/units/digest.hpp"

namespace linerwright {

void SumOfTexts::add(const std::string& text) {
  all_ += fmt::format("{}:{};", text.size(), text);
}

void SumOfTexts::add(const FittingRequest& request) {
  add(request.kind);
  add(std::to_string(request.count));
  add(std::string(request.units == Units::inch ? "in" : "mm"));
  for (const auto& [key, value] : request.values.all()) {
    add(key);
    add(value.written);
  }
}

std::string SumOfTexts::sum() const {
  return digest(all_);
}

std::string state_of(const FittingRequest& request) {
  SumOfTexts texts;
  texts.add(request.tag);
  texts.add(request);
  return texts.sum();
}

}  // namespace linerwright
