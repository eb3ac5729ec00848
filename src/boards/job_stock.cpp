// What a job says of its boards.
#include <fmt/format.h>

#include "linerwright/boards/boards.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// What is given of a table; of stock its width in any case, so that each of it is there.
void add_words(std::vector<BoardWord>& words, const std::string& table, std::size_t row,
               const Values& values) {
  for (const auto& [key, value] : values.all())
    if (value.given || (table == "stock" && key == "width"))
      words.push_back({table, row, key, value.written});
}

std::vector<BoardWord> words_of(const Job& job) {
  std::vector<BoardWord> words;
  const std::vector<Values>& stock = job.lists.at("stock");
  for (std::size_t row = 0; row < stock.size(); ++row) add_words(words, "stock", row, stock[row]);
  for (const char* table : {"knife", "boards"})
    if (const Values* values = table_of(job, table)) add_words(words, table, 0, *values);
  return words;
}

}  // namespace

const Values* table_of(const Job& job, const std::string& name) {
  const auto found = job.tables.find(name);
  return found == job.tables.end() ? nullptr : &found->second;
}

std::string job_key(const Job& job, const std::string& file) {
  if (file.empty()) return job.fittings.empty() ? std::string() : job.fittings.front().tag;
  const std::string name = file.substr(file.rfind('/') + 1);
  return job.name.empty() ? name : fmt::format("{} ({})", job.name, name);
}

DxfOptions job_dxf(const Job& job, const std::string& file) {
  DxfOptions options;
  options.layers = dxf_layers(table_of(job, "dxf"), file);
  return options;
}

JobStock job_stock(const Job& job, const std::string& file, const std::string& stock_file) {
  JobStock setup;
  const auto stock = job.lists.find("stock");
  if (stock != job.lists.end()) setup.stock = board_stock(stock->second, job.units, stock_file);
  if (setup.stock.empty())
    throw InputError({Problem{file,
                              0,
                              {},
                              "stock",
                              {},
                              "a [[stock]] table with width and length, or --stock-width and --stock-length",
                              "there is no board to cut from"}});
  setup.knife = board_knife(table_of(job, "knife"), job.units, file);
  const BoardRules rules = board_rules(table_of(job, "boards"));
  setup.options.by_fitting = rules.by_fitting;
  setup.options.zero = rules.zero;
  setup.options.pen_width = rules.pen_width;
  setup.options.job = job_key(job, file);
  setup.options.words = words_of(job);
  return setup;
}

}  // namespace linerwright
