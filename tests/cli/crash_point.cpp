// Preloaded into the program by test_crash.py: ends it at a chosen system call that changes files, as a kill
// or a power failure would.
//   CRASH_AT=n       the n-th such call does not happen any more; 0: none, but they are counted
//   CRASH_COUNT=file the number of calls is written there at the end
//   CRASH_DROP=1     what was written and not synced is lost, as when the power fails: the files are empty.
//   Names
//                    are taken to reach the disk in the order in which they changed, as journals keep them.
//   CRASH_NO_EXCHANGE=1  the file system cannot exchange two names
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <mutex>
#include <utility>

namespace {

using Key = std::pair<dev_t, ino_t>;

std::mutex& guard() {
  static std::mutex mutex;
  return mutex;
}
// Descriptors of files with unsynced writes.
std::map<Key, int>& unsynced() {
  static auto* files = new std::map<Key, int>;
  return *files;
}
long calls = 0;

bool is_set(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr && *value != '\0' && *value != '0';
}

template <class Function>
Function real(const char* name) {
  return reinterpret_cast<Function>(::dlsym(RTLD_NEXT, name));
}

// Before a call that changes files.
void step() {
  const std::lock_guard<std::mutex> lock(guard());
  static const long at = std::getenv("CRASH_AT") != nullptr ? std::atol(std::getenv("CRASH_AT")) : 0;
  if (++calls != at) return;
  if (is_set("CRASH_DROP"))
    for (const auto& [key, descriptor] : unsynced())
      if (::ftruncate(descriptor, 0) != 0) std::abort();
  ::raise(SIGKILL);
}

bool is_file(int descriptor, struct stat& state) {
  return ::fstat(descriptor, &state) == 0 && S_ISREG(state.st_mode);
}

void wrote(int descriptor) {
  struct stat state {};
  if (!is_file(descriptor, state)) return;
  const std::lock_guard<std::mutex> lock(guard());
  int& copy = unsynced().emplace(Key{state.st_dev, state.st_ino}, -1).first->second;
  if (copy < 0) copy = ::fcntl(descriptor, F_DUPFD_CLOEXEC, 400);
}

void synced(const Key* only) {
  const std::lock_guard<std::mutex> lock(guard());
  for (auto file = unsynced().begin(); file != unsynced().end();) {
    if (only != nullptr && file->first != *only) {
      ++file;
      continue;
    }
    ::close(file->second);
    file = unsynced().erase(file);
  }
}

struct AtEnd {
  ~AtEnd() {
    const char* path = std::getenv("CRASH_COUNT");
    if (path == nullptr) return;
    if (std::FILE* file = std::fopen(path, "w")) {
      std::fprintf(file, "%ld\n", calls);
      std::fclose(file);
    }
  }
} at_end;

}  // namespace

extern "C" {

ssize_t write(int descriptor, const void* bytes, size_t count) {
  struct stat state {};
  if (is_file(descriptor, state)) {
    step();
    wrote(descriptor);
  }
  return real<ssize_t (*)(int, const void*, size_t)>("write")(descriptor, bytes, count);
}

ssize_t writev(int descriptor, const iovec* parts, int count) {
  struct stat state {};
  if (is_file(descriptor, state)) {
    step();
    wrote(descriptor);
  }
  return real<ssize_t (*)(int, const iovec*, int)>("writev")(descriptor, parts, count);
}

int fsync(int descriptor) {
  step();
  const int result = real<int (*)(int)>("fsync")(descriptor);
  struct stat state {};
  if (result == 0 && ::fstat(descriptor, &state) == 0) {
    const Key key{state.st_dev, state.st_ino};
    synced(&key);
  }
  return result;
}

int syncfs(int descriptor) {
  step();
  const int result = real<int (*)(int)>("syncfs")(descriptor);
  if (result == 0) synced(nullptr);
  return result;
}

int rename(const char* from, const char* to) {
  step();
  return real<int (*)(const char*, const char*)>("rename")(from, to);
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
  step();
  if (is_set("CRASH_NO_EXCHANGE")) {
    errno = EINVAL;
    return -1;
  }
  return real<int (*)(int, const char*, int, const char*, unsigned)>("renameat2")(from_folder, from,
                                                                                  to_folder, to, flags);
}

int linkat(int from_folder, const char* from, int to_folder, const char* to, int flags) {
  step();
  return real<int (*)(int, const char*, int, const char*, int)>("linkat")(from_folder, from, to_folder, to,
                                                                          flags);
}

int mkdir(const char* path, mode_t mode) {
  step();
  return real<int (*)(const char*, mode_t)>("mkdir")(path, mode);
}

int unlink(const char* path) {
  step();
  return real<int (*)(const char*)>("unlink")(path);
}

int unlinkat(int folder, const char* path, int flags) {
  step();
  return real<int (*)(int, const char*, int)>("unlinkat")(folder, path, flags);
}

int remove(const char* path) {
  step();
  return real<int (*)(const char*)>("remove")(path);
}

int rmdir(const char* path) {
  step();
  return real<int (*)(const char*)>("rmdir")(path);
}

}  // extern "C"
