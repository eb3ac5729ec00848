#include "carry.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include <fmt/format.h>

#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const fs::path& path, const std::string& reason) {
  throw WriteError(fmt::format(
      "{}: is not of this program and cannot be kept beside the new result: {}; move it elsewhere",
      path.string(), reason));
}

struct stat state_of_file(const fs::path& path) {
  struct stat state {};
  if (::lstat(path.c_str(), &state) != 0) fail(path, std::strerror(errno));
  return state;
}

bool is_there(const fs::path& path) {
  std::error_code error;
  return fs::symlink_status(path, error).type() != fs::file_type::not_found;
}

// The same file under two names, or a copy of it.
bool is_same(const fs::path& from, const struct stat& state, const fs::path& other) {
  const struct stat there = state_of_file(other);
  if (there.st_ino == state.st_ino && there.st_dev == state.st_dev) return true;
  if ((there.st_mode & S_IFMT) != (state.st_mode & S_IFMT)) return false;
  if (S_ISLNK(state.st_mode)) return fs::read_symlink(from) == fs::read_symlink(other);
  return S_ISREG(state.st_mode) && there.st_size == state.st_size &&
         bytes_of_file(from) == bytes_of_file(other);
}

void copy(const fs::path& from, const struct stat& state, const fs::path& to) {
  std::error_code error;
  if (S_ISLNK(state.st_mode)) {
    fs::copy_symlink(from, to, error);
  } else if (S_ISREG(state.st_mode)) {
    fs::copy_file(from, to, error);
    const timespec times[2] = {state.st_atim, state.st_mtim};
    if (!error) ::utimensat(AT_FDCWD, to.c_str(), times, 0);
  } else {
    fail(from, "it is neither a file nor a folder nor a link");
  }
  if (error) fail(from, error.message());
}

// The first of "notes", "kept-notes", "kept-2-notes" and so on that is free or holds the same already.
template <class Same>
fs::path place_for(const fs::path& into, const std::string& name, const Same& same) {
  for (int number = 0;; ++number) {
    fs::path place = into / (number == 0   ? name
                             : number == 1 ? "kept-" + name
                                           : fmt::format("kept-{}-{}", number, name));
    if (!is_there(place) || same(place)) return place;
  }
}

}  // namespace

OldFolder::OldFolder(fs::path path, const std::string& stem, Shelf shelf)
    : path_(std::move(path)), proof_(proof_of(stem, shelf)) {
  const std::optional<Contents> contents = contents_of(path_, stem, shelf);
  if (!contents) return;
  for (const auto& [name, sum] : *contents) {
    struct stat state {};
    if (name.find('/') != std::string::npos || ::lstat((path_ / name).c_str(), &state) != 0 ||
        !S_ISREG(state.st_mode))
      continue;
    if (sum.empty() || digest_of_file(path_ / name) == sum) own_[name] = state;
  }
}

bool OldFolder::is_own(const std::string& name, const struct stat& now) const {
  const auto found = own_.find(name);
  if (found == own_.end()) return false;
  const struct stat& then = found->second;
  return then.st_ino == now.st_ino && then.st_size == now.st_size &&
         then.st_mtim.tv_sec == now.st_mtim.tv_sec && then.st_mtim.tv_nsec == now.st_mtim.tv_nsec;
}

bool OldFolder::holds_others() const {
  for (const auto& entry : fs::directory_iterator(path_))
    if (!is_own(entry.path().filename().string(), state_of_file(entry.path()))) return true;
  return false;
}

void OldFolder::carry(const fs::path& from, const fs::path& into, bool top) {
  std::error_code error;
  fs::directory_iterator entries(from, error);
  if (error) fail(from, error.message());
  for (; entries != fs::directory_iterator(); entries.increment(error)) {
    const fs::path path = entries->path();
    const std::string name = path.filename().string();
    const struct stat state = state_of_file(path);
    if (S_ISDIR(state.st_mode)) {
      const fs::path place =
          place_for(into, name, [](const fs::path& other) { return S_ISDIR(state_of_file(other).st_mode); });
      const bool fresh = ::mkdir(place.c_str(), 0700) == 0;
      if (!fresh && errno != EEXIST) fail(path, std::strerror(errno));
      carry(path, place, false);
      const timespec times[2] = {state.st_atim, state.st_mtim};
      if (fresh && (::utimensat(AT_FDCWD, place.c_str(), times, 0) != 0 ||
                    ::chmod(place.c_str(), state.st_mode & 07777u) != 0))
        fail(path, std::strerror(errno));
    } else if (!top || !is_own(name, state)) {
      const fs::path place =
          place_for(into, name, [&](const fs::path& other) { return is_same(path, state, other); });
      if (!is_there(place) && ::linkat(AT_FDCWD, path.c_str(), AT_FDCWD, place.c_str(), 0) != 0)
        copy(path, state, place);
      if (top && place.filename() != name) renamed_[name] = place.filename().string();
    }
    seen_.push_back(path);
  }
  if (error) fail(from, error.message());
}

void OldFolder::carry_into(const fs::path& into) {
  seen_.clear();
  carry(path_, into, true);
}

void OldFolder::remove(const fs::path& into) {
  constexpr int k_tries = 5;  // more come only while somebody goes on writing into the folder
  for (int attempt = 0; attempt < k_tries; ++attempt) {
    carry_into(into);
    // the proof last: while it is there, a run that goes on here knows the program's own files
    const fs::path proof = path_ / proof_;
    for (const fs::path& path : seen_)
      if (path != proof) ::remove(path.c_str());
    ::remove(proof.c_str());
    if (::rmdir(path_.c_str()) == 0 || errno != ENOTEMPTY) return;
  }
}

}  // namespace linerwright
