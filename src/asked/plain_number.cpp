#include "plain_number.hpp"

#include <algorithm>
#include <clocale>
#include <cmath>
#include <cstdlib>
#include <string>

namespace linerwright::asked {

// std::from_chars would do, but not every standard library has it for a double.
std::size_t read_plain_number(std::string_view text, double& value) {
  static const locale_t plain = newlocale(LC_ALL_MASK, "C", nullptr);
  const std::string digits(text.substr(0, std::min(text.find_first_not_of("0123456789.eE+-"), text.size())));
  if (digits.empty() || digits.front() == '+') return 0;
  char* end = nullptr;
  const double read = strtod_l(digits.c_str(), &end, plain);
  if (!std::isfinite(read)) return 0;
  if (end != digits.c_str()) value = read;
  return static_cast<std::size_t>(end - digits.c_str());
}

}  // namespace linerwright::asked
