#include "linerwright/job/job_text.hpp"

#include <algorithm>

#include "linerwright/job/toml_file.hpp"
#include "text_file.hpp"

namespace linerwright {

namespace {

// The entry of "start.at" is `at` inside `start`.
const Entry* find_entry(const std::vector<Entry>& entries, std::string_view key) {
  const std::size_t dot = key.find('.');
  for (const Entry& entry : entries) {
    if (entry.key == key) return &entry;
    if (dot != std::string_view::npos && entry.key == key.substr(0, dot))
      return find_entry(entry.inside, key.substr(dot + 1));
  }
  return nullptr;
}

std::size_t last_byte(const std::vector<Entry>& entries) {
  std::size_t last = 0;
  for (const Entry& entry : entries) last = std::max({last, entry.end, last_byte(entry.inside)});
  return last;
}

// Calls f for every value that stands in the text as one piece.
template <class F>
void for_each_value(const std::vector<Entry>& entries, const F& f) {
  for (const Entry& entry : entries) {
    if (entry.inside.empty()) f(entry);
    for_each_value(entry.inside, f);
  }
}

std::string value_text(const std::string& written, const KeySpec* spec) {
  if (spec == nullptr) return toml_text(written);
  // what is neither yes nor no stays as it is written, to be refused with its own words
  const bool truth = written == "true" || written == "false" || written == "yes" || written == "no";
  return spec->type == ValueType::flag && !truth ? toml_text(written) : toml_value(*spec, written);
}

}  // namespace

JobText::JobText(std::string text, std::string file) : text_(std::move(text)), file_(std::move(file)) {
  read();
}

void JobText::read() {
  const std::string_view content = checked_utf8(text_, file_);
  const std::size_t mark = text_.size() - content.size();  // a byte order mark
  fittings_.clear();
  tables_.clear();
  const auto moved = [&](std::vector<Entry>& entries, const auto& again) -> void {
    for (Entry& entry : entries) {
      entry.begin += mark;
      entry.end += mark;
      again(entry.inside, again);
    }
  };
  for (Section& section : read_toml(content, file_)) {
    moved(section.entries, moved);
    if (!section.name.empty())
      (section.name == "fitting" ? fittings_ : tables_).push_back(std::move(section));
  }
}

void JobText::replace(std::size_t begin, std::size_t end, std::string_view by) {
  replace_part(text_, begin, end, by, [this] { read(); });
}

std::size_t JobText::line_start(int line) const {
  std::size_t at = 0;
  for (int i = 1; i < line && at < text_.size(); ++i) at = after_line(at);
  return at;
}

std::size_t JobText::after_line(std::size_t byte) const {
  const std::size_t end = text_.find('\n', byte);
  return end == std::string::npos ? text_.size() : end + 1;
}

std::string JobText::line_break() const {
  const std::size_t at = text_.find('\n');
  return at != std::string::npos && at > 0 && text_[at - 1] == '\r' ? "\r\n" : "\n";
}

std::pair<std::size_t, std::size_t> JobText::span_of(const Section& fitting) const {
  const std::size_t head = line_start(fitting.line);
  const std::size_t last = last_byte(fitting.entries);
  return {head, after_line(std::max(head, last))};
}

// An inline table or a list of them, and not tables under heads of their own or keys with dots.
bool JobText::in_one_piece(const Entry& entry) const {
  if (entry.begin >= entry.end || entry.begin >= text_.size()) return false;
  if (text_[entry.begin] == '{') return true;
  const std::size_t line = text_.rfind('\n', entry.begin);
  const std::size_t first = text_.find_first_not_of(" \t", line == std::string::npos ? 0 : line + 1);
  return text_[entry.begin] == '[' && first != entry.begin;
}

// A key that comes behind a table inside the fitting would belong to that.
std::size_t JobText::behind_own_keys(const Section& fitting) const {
  const auto [head, end] = span_of(fitting);
  std::size_t last = head;
  for (std::size_t line = after_line(head); line < end; line = after_line(line)) {
    bool inside = false;
    std::size_t most = line;
    for_each_value(fitting.entries, [&](const Entry& entry) {
      inside = inside || (entry.begin < line && line < entry.end);
      if (entry.begin >= line && entry.begin < after_line(line)) most = std::max(most, entry.end);
    });
    const std::size_t first = text_.find_first_not_of(" \t", line);
    if (!inside && first != std::string::npos && text_[first] == '[') break;
    if (inside || most > line) last = std::max(last, most);
  }
  return after_line(last);
}

void JobText::set(std::size_t fitting, const std::string& key, const std::string& written,
                  const KeySpec* spec) {
  set_key(fittings_.at(fitting), key, written, spec);
}

void JobText::set_in_table(std::size_t table, const std::string& key, const std::string& written,
                           const KeySpec* spec) {
  set_key(tables_.at(table), key, written, spec);
}

void JobText::set_key(const Section& section, const std::string& key, const std::string& written,
                      const KeySpec* spec) {
  if (const Entry* entry = find_entry(section.entries, key)) {
    if (!entry->inside.empty() && !in_one_piece(*entry))
      throw InputError({{file_, entry->line, "", key, "", "a value",
                         "stands as tables of its own; change them in the text by hand"}});
    if (!written.empty()) return replace(entry->begin, entry->end, value_text(written, spec));
    if (key.find('.') != std::string::npos)
      throw InputError({{file_, entry->line, "", key, entry->written, "a value",
                         "stands inside a table on one line; take it out of the text by hand"}});
    // the whole line goes: its key stands first on it
    const std::size_t from = line_start(entry->line);
    return replace(from, after_line(std::max(entry->end, from)), {});
  }
  if (written.empty()) return;
  const std::size_t end = behind_own_keys(section);
  const bool open = end == text_.size() && (text_.empty() || text_.back() != '\n');
  std::string line = key;
  line += " = " + value_text(written, spec) + line_break();
  if (open) line = line_break() + line;
  replace(end, end, line);
}

void JobText::add(const std::vector<std::pair<std::string, std::string>>& values,
                  const std::vector<const KeySpec*>& specs) {
  const std::string eol = line_break();
  std::string lines;
  if (!text_.empty()) lines = text_.back() == '\n' ? eol : eol + eol;
  lines += lines_of("[[fitting]]", values, specs);
  replace(text_.size(), text_.size(), lines);
}

std::string JobText::lines_of(const std::string& head,
                              const std::vector<std::pair<std::string, std::string>>& values,
                              const std::vector<const KeySpec*>& specs) const {
  const std::string eol = line_break();
  std::string lines = head + eol;
  for (std::size_t i = 0; i < values.size(); ++i) {
    lines += values[i].first;
    lines += " = " + value_text(values[i].second, i < specs.size() ? specs[i] : nullptr) + eol;
  }
  return lines;
}

void JobText::add_table(const std::string& name, bool listed,
                        const std::vector<std::pair<std::string, std::string>>& values,
                        const std::vector<const KeySpec*>& specs) {
  const std::string eol = line_break();
  const std::string lines = lines_of(listed ? "[[" + name + "]]" : "[" + name + "]", values, specs);
  if (fittings_.empty()) {
    const std::string before = text_.empty() ? "" : text_.back() == '\n' ? eol : eol + eol;
    return replace(text_.size(), text_.size(), before + lines);
  }
  // comments right above the first fitting are its own
  int first = fittings_.front().line;
  while (first > 1 && text_[line_start(first - 1)] == '#') --first;
  const std::size_t at = line_start(first);
  replace(at, at, lines + eol);
}

void JobText::copy(std::size_t fitting, const std::string& tag) {
  const Section& section = fittings_.at(fitting);
  const auto [head, end] = span_of(section);
  std::string lines = text_.substr(head, end - head);
  const std::string eol = line_break();
  if (lines.empty() || lines.back() != '\n') lines = eol + lines;
  if (const Entry* entry = find_entry(section.entries, "tag"))
    lines.replace(entry->begin - head + (lines.size() - (end - head)), entry->end - entry->begin,
                  toml_text(tag));
  replace(end, end, eol + lines);
}

void JobText::remove(std::size_t fitting) {
  remove_lines(fittings_.at(fitting));
}

void JobText::remove_table(std::size_t table) {
  remove_lines(tables_.at(table));
}

void JobText::remove_lines(const Section& section) {
  const auto [head, end] = span_of(section);
  // one blank line goes with it
  const std::size_t next = after_line(end);
  const bool blank = next > end && text_.find_first_not_of(" \t\r\n", end) >= next;
  replace(head, blank ? next : end, {});
}

}  // namespace linerwright
