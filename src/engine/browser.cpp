// The engine as WebAssembly: one job in one instance. A question is UTF-8 text in the instance's memory; so
// is the answer, which stays until the next question.
#include <emscripten.h>

#include <string>

#include "linerwright/engine/engine.hpp"
#include "same_digits.hpp"

// Whoever started the engine may listen as `told`.
// clang-format off
EM_JS(void, tell_of_work, (const char* now), {
  if (Module["told"]) Module["told"](UTF8ToString(now));
});
// clang-format on

extern "C" const char* linerwright_answer(const char* question) {
  static linerwright::Engine engine([](const std::string& now) { tell_of_work(now.c_str()); });
  static std::string answer;
  answer = engine.answer(question);
  return answer.c_str();
}

// The linker hands these the calls that would go to the C library (scripts/wasm; CMakeLists.txt beside this
// file).
extern "C" {
double __real_sin(double);
double __real_cos(double);
double __real_tan(double);
double __real_atan2(double, double);
double __real_asin(double);
double __real_acos(double);
double __real_hypot(double, double);

double __wrap_sin(double x) {
  const double nearly = __real_sin(x);
  return linerwright::same_digits::careful() ? linerwright::same_digits::sine(x, nearly) : nearly;
}
double __wrap_cos(double x) {
  const double nearly = __real_cos(x);
  return linerwright::same_digits::careful() ? linerwright::same_digits::cosine(x, nearly) : nearly;
}
double __wrap_tan(double x) {
  const double nearly = __real_tan(x);
  return linerwright::same_digits::careful() ? linerwright::same_digits::tangent(x, nearly) : nearly;
}
double __wrap_atan2(double y, double x) {
  const double nearly = __real_atan2(y, x);
  return linerwright::same_digits::careful() ? linerwright::same_digits::angle_of(y, x, nearly) : nearly;
}
double __wrap_asin(double s) {
  const double nearly = __real_asin(s);
  return linerwright::same_digits::careful() ? linerwright::same_digits::angle_of_sine(s, nearly) : nearly;
}
double __wrap_acos(double c) {
  const double nearly = __real_acos(c);
  return linerwright::same_digits::careful() ? linerwright::same_digits::angle_of_cosine(c, nearly) : nearly;
}
double __wrap_hypot(double x, double y) {
  return linerwright::same_digits::careful() ? linerwright::same_digits::length(x, y) : __real_hypot(x, y);
}
}
