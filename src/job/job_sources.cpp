#include "linerwright/job/job_sources.hpp"
#include "linerwright/job/choice.hpp"

#include "fitting_check.hpp"

namespace linerwright {

const std::vector<KeySpec>& job_keys() {
  static const std::vector<KeySpec> all = [] {
    KeySpec name;
    name.name = "name";
    name.type = ValueType::text;
    name.optional = true;
    name.help = "what the job is called";
    KeySpec units;
    units.name = "units";
    units.type = ValueType::choice;
    units.choices = words_of(k_units_choices);
    units.optional = true;
    units.help = "of lengths that are written without a unit";
    KeySpec date;
    date.name = "date";
    date.type = ValueType::text;
    date.optional = true;
    date.help = "the date that documents show";
    return std::vector<KeySpec>{name, units, date, size_is_key()};
  }();
  return all;
}

}  // namespace linerwright
