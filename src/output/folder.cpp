#include "folder.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>

#include <fmt/format.h>

#include "linerwright/output/output.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// Ends of the hidden names beside a folder's place.
constexpr const char* k_new = ".linerwright-new";    // not whole yet
constexpr const char* k_swap = ".linerwright-swap";  // whole, about to take the place or just out of it
constexpr const char* k_old = ".linerwright-old";    // out of its place, where names cannot be exchanged

fs::path hidden(const fs::path& out, const std::string& name, const char* end) {
  return out / ("." + name + end);
}

// "F-1" of ".F-1.linerwright-new"; empty where the name does not end so.
std::string between(const std::string& name, const std::string& end) {
  if (name.front() != '.' || name.size() <= end.size() + 1 ||
      name.compare(name.size() - end.size(), end.size(), end) != 0)
    return {};
  return name.substr(1, name.size() - end.size() - 1);
}

[[noreturn]] void fail(const fs::path& path, const std::string& what, int error) {
  throw WriteError(fmt::format("{}: {}: {}", path.string(), what, std::strerror(error)));
}

// A file that is not there yet.
void write_new(const fs::path& file, const std::string& bytes, bool sync = false) {
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
  if (sync && ::fsync(descriptor) != 0) {
    const int error = errno;
    ::close(descriptor);
    fail(file, "cannot write", error);
  }
  if (::close(descriptor) != 0) fail(file, "cannot write", errno);
}

// Puts back in place what a run that ended early left under a hidden name, and removes the rest.
void recover(const fs::path& left, const std::string& stem, const fs::path& place, Shelf shelf) {
  std::error_code error;
  if (!fs::is_directory(fs::symlink_status(left, error))) return;
  OldFolder folder(left, stem, shelf);
  if (fs::exists(fs::symlink_status(place, error))) {
    folder.remove(place);
  } else if (between(left.filename().string(), k_old) == stem || folder.holds_others()) {
    fs::rename(left, place, error);
  } else {
    fs::remove_all(left, error);
  }
}

void recover_all(const fs::path& out, Shelf shelf) {
  std::error_code error;
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(out, error))
    names.push_back(entry.path().filename().string());
  for (const char* end : {k_old, k_swap})
    for (const std::string& name : names)
      if (const std::string stem = between(name, end); !stem.empty())
        recover(out / name, stem, out / stem, shelf);
  for (const std::string& name : names)
    if (!between(name, k_new).empty()) fs::remove_all(out / name, error);
}

}  // namespace

OutFolder::OutFolder(const fs::path& out, bool sync, Shelf shelf) : path_(out), sync_(sync) {
  std::error_code error;
  fs::create_directories(out, error);
  if (error) fail(out, "cannot make the folder", error.value());
  lock_ = ::open(out.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (lock_ < 0) fail(out, "cannot be opened", errno);
  try {
    if (::flock(lock_, LOCK_EX | LOCK_NB) != 0) {
      if (errno != EWOULDBLOCK) fail(out, "cannot be locked", errno);
      throw WriteError(out.string() +
                       ": another run is writing into this folder; wait until it ends, or use another --out");
    }
    recover_all(out, shelf);
  } catch (...) {
    ::close(lock_);
    throw;
  }
}

OutFolder::~OutFolder() {
  ::close(lock_);
}

void OutFolder::sync() const {
  if (sync_ && ::syncfs(lock_) != 0) fail(path_, "cannot be written to the disk", errno);
}

void replace_file(const fs::path& file, const std::string& bytes, bool sync) {
  const fs::path fresh = hidden(file.parent_path(), file.filename().string(), k_new);
  std::error_code ignored;
  fs::remove(fresh, ignored);
  try {
    write_new(fresh, bytes, sync);
    if (::rename(fresh.c_str(), file.c_str()) != 0) fail(file, "cannot move the result to its place", errno);
  } catch (const WriteError&) {
    ::unlink(fresh.c_str());
    throw;
  }
}

void OutFolder::write(const std::string& name, const std::string& bytes) const {
  replace_file(path_ / name, bytes, sync_);
}

NewFolder::NewFolder(const fs::path& out, const std::string& stem, Shelf shelf)
    : path_(hidden(out, stem, k_new)),
      place_(out / stem),
      swap_(hidden(out, stem, k_swap)),
      aside_(hidden(out, stem, k_old)) {
  std::error_code error;
  const fs::file_type there = fs::symlink_status(place_, error).type();
  if (there == fs::file_type::directory) {
    if (!fs::is_empty(place_, error) && !contents_of(place_, stem, shelf))
      throw WriteError(place_.string() +
                       ": is in the way: it is no earlier result of this program; move it elsewhere");
    old_.emplace(place_, stem, shelf);
  } else if (there != fs::file_type::not_found) {
    throw WriteError(place_.string() + ": is in the way: it is no folder; move it elsewhere");
  }
  if (!fs::create_directory(path_, error))
    fail(path_, "cannot make the folder", error ? error.value() : EEXIST);
}

NewFolder::~NewFolder() {
  std::error_code ignored;
  if (!placed_) fs::remove_all(path_, ignored);
}

void NewFolder::write(const std::string& name, const std::string& bytes) {
  write_new(path_ / name, bytes);
  files_.push_back(name);
  digests_[name] = digest(bytes);
}

void NewFolder::note(const std::string& name) {
  files_.push_back(name);
  digests_[name] = digest_of_file(path_ / name);
}

void NewFolder::carry() {
  if (!old_) return;
  old_->carry_into(path_);
  struct stat state {};
  if (::stat(place_.c_str(), &state) == 0) ::chmod(path_.c_str(), state.st_mode & 07777u);
}

const std::map<std::string, std::string>& NewFolder::kept() const {
  static const std::map<std::string, std::string> k_none;
  return old_ ? old_->renamed() : k_none;
}

// The new folder comes to its place; returns where the old one is then.
fs::path NewFolder::exchange() {
  if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, place_.c_str(), RENAME_EXCHANGE) == 0) return path_;
  // a file system that cannot: then there is a moment without a result, which the next run mends
  if (errno != EINVAL && errno != ENOSYS && errno != EOPNOTSUPP)
    fail(place_, "cannot move the result to its place", errno);
  if (::rename(place_.c_str(), aside_.c_str()) != 0)
    fail(place_, "cannot move the earlier result aside", errno);
  if (::rename(path_.c_str(), place_.c_str()) != 0) {
    const int error = errno;
    ::rename(aside_.c_str(), place_.c_str());
    fail(place_, "cannot move the result to its place", error);
  }
  return aside_;
}

void NewFolder::place() {
  if (::rename(path_.c_str(), swap_.c_str()) != 0) fail(place_, "cannot move the result to its place", errno);
  path_ = swap_;
  if (!old_) {
    if (::rename(path_.c_str(), place_.c_str()) != 0)
      fail(place_, "cannot move the result to its place", errno);
    placed_ = true;
    return;
  }
  const fs::path left = exchange();
  placed_ = true;
  old_->moved_to(left);
  old_->remove(place_);
}

}  // namespace linerwright
