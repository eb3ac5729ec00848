#include "schedule.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "fitting_check.hpp"
#include "linerwright/job/csv.hpp"
#include "names.hpp"

namespace linerwright {

namespace {

struct Column {
  std::string key;  // empty: no head
  std::string unit;
  bool numeric = false;
};

// Which decimal mark the numbers of a semicolon file use: declared, or settled by the first that has one.
struct DecimalMark {
  bool semicolons = false;
  std::string name;  // "comma" or "point"; empty: not settled
  int line = 0;      // where it was settled
};

Problem at(const std::string& file, int line, std::string key, std::string value, std::string allowed,
           std::string reason) {
  return {file, line, "", std::move(key), std::move(value), std::move(allowed), std::move(reason)};
}

// Every key a column may have; tag, kind and count without a spec.
std::map<std::string, const KeySpec*> known_keys(const JobSchema& schema) {
  static const std::vector<KeySpec> joining = joining_keys();
  std::map<std::string, const KeySpec*> known = {
      {"tag", nullptr}, {"kind", nullptr}, {"count", nullptr}, {"size_is", nullptr}};
  for (const KeySpec& key : joining) known.emplace(key.name, &key);
  for (const KindSchema& kind : schema.kinds) {
    for (const KeySpec& key : kind.keys) known.emplace(key.name, &key);
  }
  for (const KeySpec& key : schema.liner_keys) known.emplace(key.name, &key);
  return known;
}

// "diameter (mm)" or "diameter [mm]": the name and the unit.
Column head_parts(const std::string& written) {
  const std::size_t open = written.find_first_of("([");
  if (open == std::string::npos) return {key_form(written), "", false};
  const std::size_t close = written.rfind(written[open] == '(' ? ')' : ']');
  if (close == std::string::npos || close < open) return {key_form(written), "", false};
  return {key_form(written.substr(0, open)),
          std::string(without_ends(written.substr(open + 1, close - open - 1))), false};
}

}  // namespace

std::string column_key(const std::string& head) {
  return head_parts(head).key;
}

namespace {

// The columns of the head line, with its mistakes noted.
std::vector<Column> read_head(const CsvRow& head, const std::string& file, const JobSchema& schema,
                              std::vector<Problem>& problems) {
  const std::map<std::string, const KeySpec*> known = known_keys(schema);
  std::vector<std::string> names;
  for (const auto& [name, spec] : known) names.push_back(name);
  std::vector<Column> columns;
  for (const std::string& written : head.cells) {
    Column column = head_parts(written);
    const auto note = [&](std::string reason) {
      problems.push_back(at(file, head.line, "column " + written, "", "", std::move(reason)));
    };
    column.numeric = column.key == "count";
    const bool repeated = std::any_of(columns.begin(), columns.end(), [&](const Column& other) {
      return !column.key.empty() && other.key == column.key;
    });
    const auto found = known.find(column.key);
    if (repeated) {
      note("stands twice in the head line");
    } else if (!written.empty() && found == known.end()) {
      const bool listed = column.key == "part" || column.key == "opening";
      note(listed ? fmt::format("lists {0}s, and a row has one cell for all of them: write a column {0}s, or "
                                "tables [[fitting.{0}]] in a job file",
                                column.key)
                  : unknown("column", column.key, names));
    } else if (found != known.end()) {
      const KeySpec* spec = found->second;
      const bool quantity = spec != nullptr && spec->type == ValueType::quantity;
      column.numeric = column.numeric || quantity || (spec != nullptr && spec->type == ValueType::integer);
      if (!column.unit.empty() && !quantity) note("takes no unit");
      if (!column.unit.empty() && quantity) {
        try {
          parse_quantity(spec->quantity, "1", column.unit);
        } catch (const std::invalid_argument& error) {
          note(error.what());
        }
      }
    }
    columns.push_back(std::move(column));
  }
  for (const char* key : {"tag", "kind"}) {
    const bool there =
        std::any_of(columns.begin(), columns.end(), [&](const Column& c) { return c.key == key; });
    if (!there) problems.push_back(at(file, head.line, std::string("column ") + key, "", "", "is missing"));
  }
  return columns;
}

// Whether a sheet was not written with our keys: the columns that every schedule has are missing, or several
// are not known.
bool heads_of_its_own(const std::vector<Problem>& problems) {
  std::size_t unknown_columns = 0;
  for (const Problem& problem : problems) {
    if (problem.reason == "is missing") return true;
    unknown_columns += problem.reason.find("unknown column") != std::string::npos ? 1u : 0u;
  }
  return unknown_columns > 1;
}

// "# units = in" and "# decimal = comma"; any other comment says nothing.
void read_declarations(const CsvTable& table, const std::string& file, Schedule& schedule,
                       DecimalMark& mark) {
  for (const CsvRow& comment : table.comments) {
    const std::string& text = comment.cells.front();
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos) continue;
    const std::string key = key_form(text.substr(0, equals));
    const std::string value = key_form(text.substr(equals + 1));
    if (key == "units") {
      if (value == "in") schedule.units = Units::inch;
      if (value == "mm") schedule.units = Units::metric;
      if (value != "in" && value != "mm") {
        schedule.problems.push_back(at(file, comment.line, "# units", value, "in, mm", "unknown units"));
      }
    } else if (key == "decimal") {
      if (value != "comma" && value != "point") {
        schedule.problems.push_back(
            at(file, comment.line, "# decimal", value, "comma, point", "unknown decimal mark"));
      } else if (value == "comma" && !mark.semicolons) {
        schedule.problems.push_back(at(file, comment.line, "# decimal", value, "",
                                       "a decimal comma needs semicolons between the columns"));
      } else {
        mark.name = value;
        mark.line = comment.line;
      }
    }
  }
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Where `mark` stands between two digits.
std::vector<std::size_t> between_digits(std::string_view text, char mark) {
  std::vector<std::size_t> found;
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] == mark && is_digit(text[i - 1]) && is_digit(text[i + 1])) found.push_back(i);
  }
  return found;
}

// In a semicolon file turns the decimal comma of each value of `entry` into a point. Says why not where the
// file uses both marks; what is neither one comma nor one point is left for the number's reader to refuse.
std::string settle_decimal(Entry& entry, DecimalMark& mark) {
  if (!mark.semicolons) return {};
  std::string reason;
  for (std::size_t from = 0; from < entry.text.size();) {
    const std::size_t to = std::min(entry.text.find('&', from), entry.text.size());
    const std::string_view part = std::string_view(entry.text).substr(from, to - from);
    const std::vector<std::size_t> commas = between_digits(part, ',');
    if (commas.size() + between_digits(part, '.').size() == 1) {
      const std::string used = commas.empty() ? "point" : "comma";
      if (!commas.empty()) entry.text[from + commas[0]] = '.';
      if (mark.name.empty()) {
        mark.name = used;
        mark.line = entry.line;
      } else if (mark.name != used) {
        reason = fmt::format("has a decimal {}, but line {} says that the file uses the {}", used, mark.line,
                             mark.name);
      }
    }
    from = to + 1;
  }
  return reason;
}

Section read_row(const CsvRow& row, const std::vector<Column>& columns, const std::string& file,
                 DecimalMark& mark) {
  Section section{"fitting", file, row.line, true, {}};
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    const std::string& cell = row.cells[i];
    if (cell.empty()) continue;
    if (i >= columns.size() || columns[i].key.empty()) {
      section.problems.push_back(at(file, row.line, fmt::format("column {}", i + 1), cell, "",
                                    "has no head; a separator inside a cell needs quotes around the cell"));
      continue;
    }
    Entry entry;
    entry.key = columns[i].key;
    entry.written = entry.text = cell;
    entry.bare_unit = columns[i].unit;
    entry.line = row.line;
    if (columns[i].numeric) {
      const std::string reason = settle_decimal(entry, mark);
      if (!reason.empty()) {
        section.problems.push_back(at(file, row.line, entry.key, cell, "", reason));
      }
    }
    section.entries.push_back(std::move(entry));
  }
  return section;
}

}  // namespace

Schedule read_schedule(std::string_view text, const std::string& file, const JobSchema& schema) {
  Schedule schedule;
  CsvTable table;
  try {
    table = parse_csv(text);
  } catch (const CsvError& error) {
    throw InputError({at(file, error.line(), "", "", "", error.what())});
  }
  DecimalMark mark;
  mark.semicolons = table.separator == ';';
  read_declarations(table, file, schedule, mark);
  if (table.rows.empty()) {
    schedule.problems.push_back(at(file, 0, "", "", "", "is empty: its first row must name the columns"));
    return schedule;
  }
  const std::vector<Column> columns = read_head(table.rows.front(), file, schema, schedule.problems);
  if (heads_of_its_own(schedule.problems))
    schedule.problems.push_back(
        at(file, table.rows.front().line, "", "", "linerwright read " + file + " --out job.toml",
           "has heads of its own, or titles above them: read makes a job file of it"));
  if (!schedule.problems.empty()) return schedule;  // rows under a wrong head would only repeat its mistakes
  for (std::size_t i = 1; i < table.rows.size(); ++i) {
    schedule.rows.push_back(read_row(table.rows[i], columns, file, mark));
    schedule.rows.back().units = schedule.units;
  }
  return schedule;
}

}  // namespace linerwright
