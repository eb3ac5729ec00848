// A job file's text, changed where its values stand: what is not changed keeps every byte, comments and blank
// lines included.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "linerwright/job/entry.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

class JobText {
 public:
  // `file` stands in messages. Throws InputError where the text is no TOML.
  JobText(std::string text, std::string file);

  const std::string& text() const { return text_; }
  // The [[fitting]] tables in the order of the text.
  const std::vector<Section>& fittings() const { return fittings_; }
  // The other tables, [job] and [[stock]] and the like, in the order of the text.
  const std::vector<Section>& tables() const { return tables_; }

  // A key of a fitting given a value as a person writes it ("24in", "5", "true"); empty takes the key away.
  // `spec` says how the value is written; none: in quotes. "start.at" is `at` of an inline table. Throws
  // std::out_of_range for a fitting that is not there, InputError where the text leaves no place for the
  // change.
  void set(std::size_t fitting, const std::string& key, const std::string& written, const KeySpec* spec);
  // A new fitting behind all others; key and value in the order given, as set() takes them.
  void add(const std::vector<std::pair<std::string, std::string>>& values,
           const std::vector<const KeySpec*>& specs);
  // The fitting's own lines once more, right behind it, with another tag.
  void copy(std::size_t fitting, const std::string& tag);
  void remove(std::size_t fitting);

  // The same for the other tables, by their place in tables(). A new one stands before the first fitting.
  void set_in_table(std::size_t table, const std::string& key, const std::string& written,
                    const KeySpec* spec);
  void add_table(const std::string& name, bool listed,
                 const std::vector<std::pair<std::string, std::string>>& values,
                 const std::vector<const KeySpec*>& specs);
  void remove_table(std::size_t table);

 private:
  void read();
  void set_key(const Section& section, const std::string& key, const std::string& written,
               const KeySpec* spec);
  void remove_lines(const Section& section);
  std::string lines_of(const std::string& head,
                       const std::vector<std::pair<std::string, std::string>>& values,
                       const std::vector<const KeySpec*>& specs) const;
  void replace(std::size_t begin, std::size_t end, std::string_view by);
  std::size_t line_start(int line) const;
  // Behind the line break that ends the line of this byte.
  std::size_t after_line(std::size_t byte) const;
  // From the fitting's head to behind its last value.
  std::pair<std::size_t, std::size_t> span_of(const Section& fitting) const;
  bool in_one_piece(const Entry& entry) const;
  // Where a new key of the fitting may stand: behind its own, before tables inside it.
  std::size_t behind_own_keys(const Section& fitting) const;
  std::string line_break() const;

  std::string text_;
  std::string file_;
  std::vector<Section> fittings_;
  std::vector<Section> tables_;
};

}  // namespace linerwright
