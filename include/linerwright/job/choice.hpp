// A key that is one of several words: one table says the words and what each means, for reading and for
// printing.
#pragma once

#include <string>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

template <class Meaning>
struct Choice {
  const char* word;
  Meaning meaning;
};

// The words of a table (an array of Choice), as a key allows them.
template <class Table>
std::vector<std::string> words_of(const Table& table) {
  std::vector<std::string> words;
  for (const auto& choice : table) words.emplace_back(choice.word);
  return words;
}

// What a word means; a word that is in no table, as of values that were not checked, means the first.
template <class Table>
auto meaning_of(const Table& table, const std::string& word) {
  for (const auto& choice : table)
    if (word == choice.word) return choice.meaning;
  return std::begin(table)->meaning;
}

// What is chosen by a key that was checked.
template <class Table>
auto chosen(const Values& values, const std::string& key, const Table& table) {
  return meaning_of(table, values.text(key));
}

// The word of a meaning; one that the table lacks: the first word.
template <class Table, class Meaning>
const char* word_for(const Table& table, Meaning meaning) {
  for (const auto& choice : table)
    if (choice.meaning == meaning) return choice.word;
  return std::begin(table)->word;
}

// Of the tables that are no kind's: the unit of lengths that state none, and when a fitting of a run is
// lined.
inline constexpr Choice<Units> k_units_choices[] = {{"in", Units::inch}, {"mm", Units::metric}};
enum class Lined { before_joining, after_joining };
inline constexpr Choice<Lined> k_lined_choices[] = {{"before joining", Lined::before_joining},
                                                    {"after joining", Lined::after_joining}};
// What the sizes of a fitting state: the metal's inside, what is left clear, or the metal's outside.
enum class SizeIs { metal, clear, outside };
inline constexpr Choice<SizeIs> k_size_choices[] = {
    {"metal", SizeIs::metal}, {"clear", SizeIs::clear}, {"outside", SizeIs::outside}};

}  // namespace linerwright
