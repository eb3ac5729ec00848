#include "folder.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// FNV-1a, 32 bits (Fowler, Noll and Vo; constants from memory, any good hash would do).
unsigned check_sum(const std::string& text) {
  unsigned hash = 2166136261u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
  return hash;
}

// Names of devices, and of what stands beside the fittings' folders.
bool is_taken(std::string stem) {
  std::transform(stem.begin(), stem.end(), stem.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  const std::string ending = std::filesystem::path(stem).extension().string();
  if (stem == k_boards_folder || (stem.rfind("index", 0) == 0 && ending == ".html") ||
      (stem.rfind("totals", 0) == 0 && (ending == ".json" || ending == ".csv")))
    return true;
  stem = stem.substr(0, stem.find('.'));
  constexpr std::array<const char*, 4> k_names{"con", "prn", "aux", "nul"};
  if (std::any_of(k_names.begin(), k_names.end(), [&](const char* name) { return stem == name; }))
    return true;
  const bool numbered = stem.size() == 4 && (stem.rfind("com", 0) == 0 || stem.rfind("lpt", 0) == 0);
  return numbered && stem[3] >= '0' && stem[3] <= '9';
}

constexpr const char* k_part = ".part";  // ends the names of folders that are not whole yet

[[noreturn]] void fail(const fs::path& path, const std::string& what, int error) {
  throw WriteError(fmt::format("{}: {}: {}", path.string(), what, std::strerror(error)));
}

bool holds(const fs::path& file, const std::string& bytes) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream there;
  there << in.rdbuf();
  return in && there.str() == bytes;
}

// A file that is not there yet.
void write_new(const fs::path& file, const std::string& bytes) {
  const int descriptor = ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
  if (descriptor < 0) fail(file, "cannot write", errno);
  std::size_t written = 0;
  while (written < bytes.size()) {
    const ssize_t step = ::write(descriptor, bytes.data() + written, bytes.size() - written);
    if (step < 0 && errno == EINTR) continue;
    if (step < 0) {
      const int error = errno;
      ::close(descriptor);
      fail(file, "cannot write", error);
    }
    written += static_cast<std::size_t>(step);
  }
  if (::close(descriptor) != 0) fail(file, "cannot write", errno);
}

}  // namespace

std::string file_stem(const std::string& tag) {
  constexpr std::size_t k_longest = 80;
  std::string stem;
  for (const char c : tag) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '-' || c == '_' || c == '.';
    stem += plain ? c : '_';
  }
  if (stem.size() > k_longest) stem.resize(k_longest);
  if (stem.empty() || stem.front() == '.' || stem.front() == '-') stem.insert(0, "_");
  if (stem.back() == '.') stem.back() = '_';
  if (stem != tag || is_taken(stem)) stem += fmt::format("-{:08x}", check_sum(tag));
  return is_taken(stem) ? "_" + stem : stem;
}

OutFolder::OutFolder(const fs::path& out) {
  std::error_code error;
  fs::create_directories(out, error);
  if (error) fail(out, "cannot make the folder", error.value());
  lock_ = ::open(out.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (lock_ < 0) fail(out, "cannot be opened", errno);
  if (::flock(lock_, LOCK_EX | LOCK_NB) != 0) {
    const int reason = errno;
    ::close(lock_);
    if (reason == EWOULDBLOCK)
      throw WriteError(out.string() +
                       ": another run is writing into this folder; wait until it ends, or use another --out");
    fail(out, "cannot be locked", reason);
  }
  for (const auto& entry : fs::directory_iterator(out, error)) {
    const fs::path path = entry.path();
    const std::string name = path.filename().string();
    if (name.front() == '.' && path.extension() == k_part) fs::remove_all(path, error);
  }
}

OutFolder::~OutFolder() {
  ::close(lock_);
}

NewFolder::NewFolder(const fs::path& out, const std::string& stem, const std::string& proof)
    : path_(out / ("." + stem + k_part)), place_(out / stem) {
  std::error_code error;
  // what stands in the place is replaced only if an earlier run made it
  const fs::file_type there = fs::symlink_status(place_, error).type();
  if (there != fs::file_type::not_found &&
      (there != fs::file_type::directory ||
       (!fs::is_empty(place_, error) && !fs::exists(place_ / proof, error))))
    throw WriteError(place_.string() + ": is in the way: it is no earlier result of this program");
  if (!fs::create_directory(path_, error))
    fail(path_, "cannot make the folder", error ? error.value() : EEXIST);
}

NewFolder::~NewFolder() {
  std::error_code ignored;
  if (!kept_) fs::remove_all(path_, ignored);
}

void NewFolder::write(const std::string& name, const std::string& bytes) {
  write_new(path_ / name, bytes);
  files_.push_back(name);
}

void NewFolder::keep() {
  // Exchanging the two names leaves no moment without a whole result; what was there before is then ours to
  // remove.
  if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, place_.c_str(), RENAME_EXCHANGE) == 0) {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  } else if (errno != ENOENT || ::rename(path_.c_str(), place_.c_str()) != 0) {
    fail(place_, "cannot move the result to its place", errno);
  }
  kept_ = true;
}

void write_beside(const fs::path& out, const std::string& name, const std::string& bytes) {
  const OutFolder hold(out);
  const fs::path place = out / name;
  if (holds(place, bytes)) return;
  const fs::path fresh = out / ("." + name + k_part);
  write_new(fresh, bytes);
  if (::rename(fresh.c_str(), place.c_str()) != 0) {
    const int error = errno;
    ::unlink(fresh.c_str());
    fail(place, "cannot move the result to its place", error);
  }
}

}  // namespace linerwright
