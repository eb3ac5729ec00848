// The engine as WebAssembly: one job in one instance. A question is UTF-8 text in the instance's memory; so
// is the answer, which stays until the next question.
#include <string>

#include "linerwright/engine.hpp"

extern "C" const char* linerwright_answer(const char* question) {
  static linerwright::Engine engine;
  static std::string answer;
  answer = engine.answer(question);
  return answer.c_str();
}
