// The map of a sheet's columns, and the answers to its questions, as a file.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "linerwright/intake/intake.hpp"
#include "linerwright/job/toml_file.hpp"

namespace linerwright {

namespace {

struct Answer {
  std::string_view key;
  std::string ReadAnswers::*place;
  std::vector<std::string> choices;  // none: any text
};

const std::vector<Answer>& sheet_answers() {
  static const std::vector<Answer> answers = {
      {"decimal", &ReadAnswers::decimal, {"comma", "point"}},
      {"gores", &ReadAnswers::gores, {"all", "between"}},
      {"wye", &ReadAnswers::wye, {"lateral", "y"}},
      {"size_is", &ReadAnswers::size_is, {"metal", "clear", "outside"}},
      {"tags", &ReadAnswers::tags, {"rows"}},
      {"encoding", &ReadAnswers::encoding, {"utf-8", "utf-16", "windows-1252"}},
      {"sheet", &ReadAnswers::sheet, {}},
      {"liner", &ReadAnswers::liner, {}}};
  return answers;
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

void read_sheet_entry(const Entry& entry, ReadAnswers& answers, std::vector<Problem>& problems) {
  const auto wrong = [&](const std::string& allowed, const std::string& reason) {
    problems.push_back({answers.file, entry.line, "", entry.key, entry.written, allowed, reason});
  };
  if (entry.key == "units") {
    if (entry.text != "mm" && entry.text != "in") return wrong("in, mm", "unknown units");
    answers.units = entry.text == "in" ? Units::inch : Units::metric;
    return;
  }
  if (entry.key == "fill_down") {
    for (std::size_t from = 0; from < entry.text.size();) {
      const std::size_t to = std::min(entry.text.find(" & ", from), entry.text.size());
      answers.fill_down.push_back(entry.text.substr(from, to - from));
      from = to + 3;
    }
    return;
  }
  for (const Answer& answer : sheet_answers()) {
    if (answer.key != entry.key) continue;
    const bool known = answer.choices.empty() || std::find(answer.choices.begin(), answer.choices.end(),
                                                           entry.text) != answer.choices.end();
    if (!known) return wrong(joined(answer.choices), "is no answer that is known");
    answers.*answer.place = entry.text;
    return;
  }
  std::string keys = "units, fill_down";
  for (const Answer& answer : sheet_answers()) keys += ", " + std::string(answer.key);
  wrong(keys, "unknown key of [sheet]");
}

}  // namespace

ReadAnswers read_answers(std::string_view text, const std::string& file) {
  ReadAnswers answers;
  answers.file = file;
  std::vector<Problem> problems;
  for (const Section& section : read_toml(text, file)) {
    if (section.name == "columns" && !section.listed) {
      for (const Entry& entry : section.entries) {
        if (entry.form != Entry::Form::text)
          problems.push_back(
              {file, entry.line, "", entry.key, entry.written, "a key in quotes, or \"\"", "takes text"});
        answers.columns.emplace_back(entry.key, entry.text);
      }
    } else if (section.name == "sheet" && !section.listed) {
      for (const Entry& entry : section.entries) read_sheet_entry(entry, answers, problems);
    } else if (section.name == "default" && section.listed) {
      answers.defaults += (answers.defaults.empty() ? "" : "\n") + std::string("[[default]]\n");
      for (const Entry& entry : section.entries)
        answers.defaults += entry.key + " = " +
                            (entry.form == Entry::Form::text ? toml_text(entry.text) : entry.written) + "\n";
    } else if (!section.name.empty() || !section.entries.empty()) {
      problems.push_back({file, section.line, "",
                          section.name.empty() ? section.entries.front().key : section.name, "",
                          "[columns], [sheet], [[default]]", "does not belong into a map of columns"});
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return answers;
}

std::string answers_text(const ReadAnswers& answers, const std::vector<ReadColumn>& columns) {
  std::string out = "# head = key; \"\" leaves a column out\n[columns]\n";
  std::vector<std::string> written;
  for (const ReadColumn& column : columns) {
    if (column.head.empty() || std::find(written.begin(), written.end(), column.head) != written.end())
      continue;
    written.push_back(column.head);
    out += toml_text(column.head) + " = " + toml_text(column.meaning) + "\n";
  }
  out += "\n[sheet]\n";
  if (answers.units)
    out += std::string("units = ") + (*answers.units == Units::inch ? "\"in\"" : "\"mm\"") + "\n";
  for (const Answer& answer : sheet_answers())
    if (!(answers.*answer.place).empty())
      out += std::string(answer.key) + " = " + toml_text(answers.*answer.place) + "\n";
  if (!answers.fill_down.empty()) {
    out += "fill_down = [";
    for (std::size_t i = 0; i < answers.fill_down.size(); ++i)
      out += (i > 0 ? ", " : "") + toml_text(answers.fill_down[i]);
    out += "]\n";
  }
  if (!answers.defaults.empty()) out += "\n" + answers.defaults;
  return out;
}

}  // namespace linerwright
