// The job engine for programs that ask while somebody types: a job's text in; its fittings, mistakes,
// figures, pictures and files out. Needs no file, thread, clock or geometry kernel, so it runs in a browser
// as it does in the program.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

namespace linerwright {

// Holds one job's text. Questions and answers are JSON objects (src/engine/README.md lists them).
class Engine {
 public:
  // `told` hears of long work while it goes on: a JSON object, its `step` in words, how much of it is `done`,
  // 0 to 1, and perhaps a `picture` as HTML.
  explicit Engine(std::function<void(const std::string&)> told = {});
  ~Engine();
  Engine(const Engine&) = delete;
  Engine& operator=(const Engine&) = delete;

  // The answer to {"ask": ...}. Never throws: what cannot be answered comes as {"failed": [lines]}.
  std::string answer(std::string_view question);

  struct State;

 private:
  std::unique_ptr<State> state_;
};

}  // namespace linerwright
