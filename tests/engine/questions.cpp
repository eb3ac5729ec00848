// Prints questions to the engine, a line each, and after each the answer's length and check sum as it is
// given here: what another build of the engine has to answer, byte for byte. questions COUNT SEED [NESTS
// [TEXT]]: COUNT random fittings, and NESTS random jobs on boards; with a fourth word the answers themselves,
// for a look at what differs.
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include <fmt/format.h>

#include "linerwright/engine/engine.hpp"
#include "linerwright/units/json.hpp"
#include "random_jobs.hpp"

namespace {

using namespace linerwright;

std::string open_question(const std::string& text) {
  JsonWriter json;
  json.begin_object();
  json.key("ask").text("open");
  json.key("name").text("job.toml");
  json.key("text").text(text);
  json.end_object();
  return json.str();
}

// FNV-1a, 32 bits, which is short in either language.
std::uint32_t check_sum(const std::string& bytes) {
  std::uint32_t sum = 2166136261u;
  for (const char c : bytes) sum = (sum ^ static_cast<unsigned char>(c)) * 16777619u;
  return sum;
}

// JSON without the line breaks that stand between its values; those inside texts are escaped.
std::string on_one_line(const std::string& json) {
  std::string line;
  for (const char c : json)
    if (c != '\n') line += c;
  return line;
}

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::atoi(argv[1]) : 8;
  support::Chance chance(argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1u);
  Engine engine;
  const auto ask = [&](const std::string& question) {
    const std::string answer = engine.answer(question);
    fmt::print("{}\n", on_one_line(question));
    if (argc > 4)
      fmt::print("{}\n", on_one_line(answer));
    else
      fmt::print("{} {}\n", answer.size(), check_sum(answer));
  };
  const auto ask_all = [&](const std::string& text, int fittings) {
    ask(open_question(text));
    for (int i = 0; i < fittings; ++i)
      for (const char* what : {"fitting", "files", "sheet"})
        ask(fmt::format("{{\"ask\": \"{}\", \"fitting\": {}, \"exact\": true}}", what, i));
  };
  ask("{\"ask\": \"schema\"}");
  ask_all(sample_job(job_schema(), ""), static_cast<int>(job_schema().kinds.size()));
  if (count > 0) ask_all(support::random_job(chance, count), count);
  const int nests = argc > 3 ? std::atoi(argv[3]) : 0;
  constexpr int k_fittings = 4;
  for (int i = 0; i < nests; ++i) {
    ask(open_question(support::random_job(chance, k_fittings) +
                      "\n[[stock]]\nwidth = 1500\nlength = 3000\ngap = 3\n"));
    ask("{\"ask\": \"whole\", \"boards\": true}");
  }
  return 0;
}
