// From what people write (a job file, a schedule, flags) to fitting requests with every value checked and in
// the library's units. The reader knows no kind of fitting: each kind hands in a schema of its keys.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "linerwright/units/error.hpp"
#include "linerwright/units/units.hpp"

namespace linerwright {

enum class ValueType { quantity, integer, choice, flag, text };

// One key: how it is written, what it may be, what it means. The same name serves as job key, as flag
// (--radius-ratio) and as column head.
struct KeySpec {
  std::string name;  // snake_case; "start.at": `at` of an inline table start = {at = ...}
  ValueType type = ValueType::quantity;
  Quantity quantity = Quantity::length;      // for ValueType::quantity
  std::string help;                          // one plain line
  std::optional<std::string> default_value;  // as a person would write it; none: required unless `optional`
  bool optional = false;
  // May hold several values: of quantities, one a branch, an array in TOML, values joined by & elsewhere; of
  // texts an array in TOML.
  bool many = false;
  // Allowed range in the library's unit. min_open: the minimum itself is not allowed.
  std::optional<double> min;
  std::optional<double> max;
  bool min_open = false;
  std::vector<std::string> choices;  // for ValueType::choice
  std::string sample;                // value for the commented sample; empty: left out, shown as a comment.
                                     // The sample's bare numbers are inches.
  std::string range_reason{};        // why the range is as it is: the message about a value outside it
  bool duct_size = false;            // a diameter of the metal, which size_is may state in another way
  std::size_t most = 16;             // values, where there may be several
};

// The keys of one kind of fitting.
struct KindSchema {
  std::string kind;
  std::string summary;  // one line: what it is
  std::vector<KeySpec> keys;
};

// A checked value: quantity -> double or, where several are given, a vector (library unit), integer -> long,
// choice and text -> string, or a vector where several may be given, flag -> bool.
struct Value {
  std::variant<double, long, bool, std::string, std::vector<double>, std::vector<std::string>> data;
  // As the person wrote it, where that reads back as this value with the request's units; otherwise with the
  // unit it took from elsewhere. Lists stand as "12in & 8in". A default's text where nothing was written.
  std::string written;
  bool given = false;  // written by the person, not a default
  int line = 0;
  std::string file{};  // where it is written, if given; empty on the command line
};

// Values by key. Every key of the schema with a default is present.
class Values {
 public:
  void set(const std::string& key, Value value) { values_[key] = std::move(value); }
  bool has(const std::string& key) const { return values_.count(key) != 0; }
  bool given(const std::string& key) const;
  const Value* find(const std::string& key) const;
  double quantity(const std::string& key) const;  // throws std::out_of_range when absent
  std::optional<double> maybe(const std::string& key) const;
  std::vector<double> list(const std::string& key) const;  // one value or several; throws std::out_of_range
  long integer(const std::string& key) const;
  bool flag(const std::string& key) const;  // false when absent
  const std::string& text(const std::string& key) const;
  // The texts of a key that may hold several; none where it is absent.
  std::vector<std::string> texts(const std::string& key) const;
  const std::map<std::string, Value>& all() const { return values_; }

 private:
  std::map<std::string, Value> values_;
};

// One fitting as asked for: its own keys and the liner's, defaults filled in.
struct FittingRequest {
  std::string tag;
  std::string kind;
  long count = 1;
  Values values;
  Units units = Units::metric;  // that the job's bare numbers take
  std::string file;             // empty on the command line
  int line = 0;
  int layer = 0;  // of the liner that is to be made, from the metal in
  // How it stands in a run: joins, turn, lined. What is made of the fitting alone does not depend on them.
  Values joining{};
};

// The message fields of a request's key filled in: file, line, tag, key, value as written. On the command
// line the key is shown as its flag, --radius-ratio.
Problem problem_of(const FittingRequest& request, const std::string& key, std::string allowed,
                   std::string reason);

struct Job {
  std::string name;
  Units units = Units::metric;  // where none are stated because every length names its own: inch if all do
  std::vector<FittingRequest> fittings;
  // The tables beside the fittings, each checked against its own key list.
  std::map<std::string, Values> tables;              // "liner", "air", ...
  std::map<std::string, std::vector<Values>> lists;  // "stock": one entry per [[stock]] (or a single [stock])
  std::vector<Problem> problems;   // of fittings that are left out because they are wrong; the rest stands
  std::vector<std::string> notes;  // what was filled in or converted, a line each
};

// What a job file may hold besides fittings: [name] tables and [[name]] lists.
struct JobSchema {
  std::vector<KindSchema> kinds;
  std::vector<KeySpec> liner_keys;                     // [liner], and override-able in each fitting
  std::map<std::string, std::vector<KeySpec>> tables;  // other tables by name
  std::map<std::string, std::vector<KeySpec>> lists;   // lists of tables by name
};

// What applies where a file says nothing: from flags given beside it.
struct JobDefaults {
  std::optional<Units> units;  // of bare numbers
  std::map<std::string, std::string>
      liner;  // liner key -> as written; wins over the file's [liner] and its fittings
};

// Reads a TOML job file or (by its ending .csv) a schedule. Mistakes outside fittings throw InputError with
// all problems of the file; mistakes inside fittings land in Job::problems with the good fittings kept. A
// bare length is an error where neither the file nor `defaults` states the units.
// [[schedule]] file = "x.csv" in a job file adds the rows of a schedule, found from the job file's folder.
// [[default]] kind = "elbow", angle_up_to = 45, pieces = 3 fills in what fittings of a kind do not say.
// size_is = "metal", "clear" or "outside" in [job] or a fitting says which diameter its sizes state; requests
// hold the metal's inside.
Job read_job(const std::filesystem::path& file, const JobSchema& schema, const JobDefaults& defaults = {});

// The same from text already read; `file` decides the format, stands in messages and is where schedules are
// looked for.
Job read_job_text(std::string_view text, const std::filesystem::path& file, const JobSchema& schema,
                  const JobDefaults& defaults = {});

// The bytes of a file, at most 8 MB. Throws InputError where it cannot be read.
std::string job_file_bytes(const std::filesystem::path& file);

// One fitting from flags: name -> written value, as in a job file; a flag key with an empty value is true.
// Without "tag" the tag is the kind's name. Throws InputError.
FittingRequest request_from_flags(const std::string& kind, const std::map<std::string, std::string>& flags,
                                  Units units, const JobSchema& schema);

// A table from flags: name -> written value, as in a job file. Without units a bare length is an error.
// Throws InputError.
Values table_from_flags(const std::vector<KeySpec>& keys, const std::map<std::string, std::string>& flags,
                        std::optional<Units> units);

// A commented job file that works as it stands; with `kind`, only that kind. Throws InputError on an unknown
// kind.
std::string sample_job(const JobSchema& schema, const std::string& kind);

// The known name nearest to `written` (edit distance, at most a third of its length), or empty.
std::string nearest_name(std::string_view written, const std::vector<std::string>& known);

}  // namespace linerwright
