#include "in_child.hpp"

#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <map>
#include <thread>
#include <vector>

#include <fmt/format.h>

namespace linerwright {

namespace {

constexpr rlim_t k_seconds = 10;  // of processor time, until a task asks for more
constexpr rlim_t k_most_seconds = 600;
constexpr rlim_t k_memory = rlim_t{1} << 30;  // bytes
constexpr char k_end = '\x04';                // the last byte of words that came whole

struct Running {
  pid_t process;
  int from;
  std::size_t task;
  std::string words;
};

void limit(int what, rlim_t most) {
  const rlimit both{most, most};
  setrlimit(what, &both);
}

}  // namespace

void allow_processor_time(unsigned seconds) {
  rlimit both{};
  if (getrlimit(RLIMIT_CPU, &both) != 0) return;
  both.rlim_cur = std::min<rlim_t>(seconds, both.rlim_max);
  setrlimit(RLIMIT_CPU, &both);
}

namespace {

[[noreturn]] void child(int to, std::size_t i, const std::function<std::string(std::size_t)>& task) {
  const rlimit time{k_seconds, k_most_seconds};
  setrlimit(RLIMIT_CPU, &time);
  limit(RLIMIT_CORE, 0);
#if !defined(__SANITIZE_ADDRESS__)
  limit(RLIMIT_AS, k_memory);
#endif
  int code = 0;
  try {
    const std::string words = task(i) + k_end;
    for (std::size_t sent = 0; sent < words.size();) {
      const ssize_t more = write(to, words.data() + sent, words.size() - sent);
      if (more < 0 && errno == EINTR) continue;
      if (more <= 0) break;
      sent += static_cast<std::size_t>(more);
    }
  } catch (...) {
    code = 1;  // tasks tell their own errors: what is left is want of memory
  }
  _exit(code);
}

// Is the task on its way? Else it has to be done here.
bool start(std::size_t i, const std::function<std::string(std::size_t)>& task,
           std::vector<Running>& running) {
  int ends[2];
  if (pipe(ends) != 0) return false;
  std::fflush(nullptr);
  const pid_t process = fork();
  if (process < 0) {
    close(ends[0]);
    close(ends[1]);
    return false;
  }
  if (process == 0) {
    close(ends[0]);
    child(ends[1], i, task);
  }
  close(ends[1]);
  running.push_back({process, ends[0], i, {}});
  return true;
}

Outcome outcome_of(Running& finished) {
  int status = 0;
  while (waitpid(finished.process, &status, 0) < 0 && errno == EINTR) continue;
  close(finished.from);
  if (!finished.words.empty() && finished.words.back() == k_end) {
    finished.words.pop_back();
    return {std::move(finished.words), {}};
  }
  if (WIFSIGNALED(status) && (WTERMSIG(status) == SIGXCPU || WTERMSIG(status) == SIGKILL))
    return {{}, "stopped after more processor time than a whole fitting of its size takes: a file is broken"};
  if (WIFSIGNALED(status))
    return {{}, fmt::format("reading the files crashed (signal {}): a file is broken", WTERMSIG(status))};
  return {{}, fmt::format("stopped at {} MiB of memory: a file is broken", k_memory >> 20U)};
}

// Takes what one of them has to say; true when it has ended.
bool take(Running& from) {
  char part[4096];
  const ssize_t got = read(from.from, part, sizeof part);
  if (got < 0 && errno == EINTR) return false;
  if (got > 0) from.words.append(part, static_cast<std::size_t>(got));
  return got <= 0;
}

}  // namespace

void run_apart(std::size_t count, const std::function<std::string(std::size_t)>& task,
               const std::function<void(std::size_t, const Outcome&)>& done) {
  const std::size_t at_once = std::max(1U, std::thread::hardware_concurrency());
  std::vector<Running> running;
  std::map<std::size_t, Outcome> waiting;  // for those before them
  std::size_t next = 0;
  std::size_t told = 0;
  while (told < count) {
    for (; next < count && running.size() < at_once; ++next)
      if (!start(next, task, running)) waiting[next] = {task(next), {}};
    std::vector<pollfd> polled;
    for (const Running& each : running) polled.push_back({each.from, POLLIN, 0});
    if (!polled.empty()) poll(polled.data(), static_cast<nfds_t>(polled.size()), -1);
    for (std::size_t i = running.size(); i-- > 0;) {
      if (polled[i].revents == 0 || !take(running[i])) continue;
      const std::size_t index = running[i].task;
      waiting[index] = outcome_of(running[i]);
      running.erase(running.begin() + static_cast<std::ptrdiff_t>(i));
    }
    for (auto found = waiting.find(told); found != waiting.end(); found = waiting.find(told)) {
      done(told, found->second);
      waiting.erase(found);
      ++told;
    }
  }
}

}  // namespace linerwright
