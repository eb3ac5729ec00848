#include <fmt/format.h>

#include <algorithm>

#include "linerwright/job/job.hpp"
#include "linerwright/job/toml_file.hpp"
#include "names.hpp"
#include "value_check.hpp"

namespace linerwright {

namespace {

bool is_toml_number(const std::string& text) {
  const std::size_t sign = !text.empty() && text[0] == '-' ? 1 : 0;
  const std::string_view digits = std::string_view(text).substr(sign);
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  if (digits.empty() || !is_digit(digits.front()) || !is_digit(digits.back())) return false;
  if (digits.size() > 1 && digits[0] == '0' && digits[1] != '.') return false;
  return std::all_of(digits.begin(), digits.end(), [&](char c) { return is_digit(c) || c == '.'; }) &&
         std::count(digits.begin(), digits.end(), '.') <= 1;
}

// "thickness = 1  # board thickness (over 0 in; 1in if left out)"; commented out where there is no sample.
std::string line_of(const KeySpec& key) {
  const bool shown = !key.sample.empty();
  const std::string value = shown ? key.sample : key.default_value.value_or("");
  std::string line = (shown ? "" : "# ") + key.name + " =";
  if (shown || key.default_value) line += " " + toml_value(key, value);
  std::string notes = range_text(key, Units::inch);
  if (key.many) notes += std::string(notes.empty() ? "" : "; ") + "[a, b] for several";
  if (key.default_value) {
    notes += (notes.empty() ? "" : "; ") + *key.default_value + " if left out";
  } else if (key.optional) {
    notes += std::string(notes.empty() ? "" : "; ") + "may be left out";
  }
  line += "  # " + key.help;
  if (!notes.empty()) line += " (" + notes + ")";
  std::replace(line.begin(), line.end(), '\n', ' ');
  return line + "\n";
}

std::string table_of(const std::string& head, const std::vector<KeySpec>& keys) {
  std::string out = "\n" + head + "\n";
  for (const KeySpec& key : keys) out += line_of(key);
  return out;
}

// A list of tables that needs what only the job can say stands there as comments.
std::string list_of(const std::string& head, const std::vector<KeySpec>& keys) {
  const bool asks = std::any_of(keys.begin(), keys.end(), [](const KeySpec& key) {
    return !key.optional && !key.default_value && key.sample.empty();
  });
  if (!asks) return table_of(head, keys);
  std::string out = "\n# Take the ## off this head and off what you want to say.\n## " + head + "\n";
  for (const KeySpec& key : keys) {
    const std::string line = line_of(key);
    out += "## " + line.substr(line.compare(0, 2, "# ") == 0 ? 2 : 0);
  }
  return out;
}

std::string fitting_of(const KindSchema& kind) {
  std::string tag = kind.kind;
  for (char& c : tag) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  std::string out = "\n# " + kind.kind + ": " + kind.summary + "\n[[fitting]]\n";
  out += "tag = " + toml_text(tag + "-1") + "\nkind = " + toml_text(kind.kind) + "\ncount = 1\n";
  for (const KeySpec& key : kind.keys) out += line_of(key);
  return out;
}

}  // namespace

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F) {
      out += fmt::format("\\u{:04X}", byte);
      continue;
    }
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string toml_value(const KeySpec& key, const std::string& text) {
  switch (key.type) {
    case ValueType::quantity:
    case ValueType::integer:
      return is_toml_number(text) ? text : toml_text(text);
    case ValueType::flag:
      return text == "yes" || text == "true" ? "true" : "false";
    case ValueType::choice:
    case ValueType::text:
      break;
  }
  return toml_text(text);
}

std::string sample_job(const JobSchema& schema, const std::string& kind) {
  const KindSchema* only = kind.empty() ? nullptr : &kind_named(kind, schema);
  std::string out =
      "# A job: the fittings to be lined and what they are lined with.\n"
      "# Lines that begin with # are comments; remove the # in front of a key to set it.\n"
      "# A bare length takes the job's unit. Text may name another: \"600 mm\", \"24in\", \"2' 6 1/2\\\"\".\n"
      "\n[job]\n"
      "name = \"Sample\"\n"
      "units = \"in\"  # of bare numbers: in or mm\n";
  out += table_of("[liner]  # each fitting may set any of these keys for itself", schema.liner_keys);
  for (const auto& [name, keys] : schema.tables) out += table_of("[" + name + "]", keys);
  for (const auto& [name, keys] : schema.lists) out += list_of("[[" + name + "]]", keys);
  for (const KindSchema& each : schema.kinds) {
    if (only == nullptr || only == &each) out += fitting_of(each);
  }
  return out;
}

}  // namespace linerwright
