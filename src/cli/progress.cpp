// Debian 12 has no C++ library for this.
#include "progress.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

#include <fmt/format.h>

#include "linerwright/units/units.hpp"

namespace linerwright {

namespace {

constexpr std::chrono::milliseconds k_between{100};  // faster than that nobody reads

std::string time_text(double seconds) {
  const long whole = std::lround(std::ceil(seconds));
  if (whole < 100) return fmt::format("{} s", whole);
  if (whole < 100 * 60) return fmt::format("{} min", (whole + 59) / 60);
  return fmt::format("{} h {} min", whole / 3600, whole % 3600 / 60);
}

std::size_t columns() {
  winsize size{};
  return ::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
}

}  // namespace

std::string progress_text(std::size_t finished, std::size_t all, double seconds) {
  std::string text = fmt::format("{} of {} fittings", finished, all);
  const double rate = static_cast<double>(finished) / seconds;
  if (finished == 0 || !(seconds > 0.0)) return text;
  text += rate < 1.0 ? fmt::format(", {} a minute", fixed(60.0 * rate, 1))
                     : fmt::format(", {} a second", fixed(rate, rate < 100.0 ? 1 : 0));
  return text + ", " + time_text(static_cast<double>(all - finished) / rate) + " left";
}

Progress::Progress(std::size_t all) : all_(all), on_terminal_(::isatty(STDERR_FILENO) != 0) {}

void Progress::one_finished() {
  ++finished_;
  const Clock::time_point now = Clock::now();
  if (!on_terminal_ || (shown_ && now - last_ < k_between)) return;
  last_ = now;
  shown_ = true;
  const std::string text =
      progress_text(finished_, all_, std::chrono::duration<double>(now - start_).count());
  fmt::print(stderr, "\r\x1b[K{}", text.substr(0, columns() - 1));
  std::fflush(stderr);
}

void Progress::clear() {
  if (shown_) fmt::print(stderr, "\r\x1b[K");
  shown_ = false;
}

}  // namespace linerwright
