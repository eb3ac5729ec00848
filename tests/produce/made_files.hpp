// A fitting's files in a folder of their own, and what the checks say of them.
#pragma once

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "linerwright/produce.hpp"
#include "support/requests.hpp"

namespace linerwright {

using support::Flags;
using support::with;

// Gone with its content at the end of the test.
class Folder {
 public:
  Folder() {
    static int count = 0;
    path_ = std::filesystem::temp_directory_path() /
            fmt::format("linerwright-check-{}-{}", static_cast<long>(::getpid()), count++);
    std::filesystem::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

inline std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) throw std::runtime_error("cannot read " + file.string());
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline void put_bytes(const std::filesystem::path& file, const std::string& bytes) {
  std::ofstream out(file, std::ios::binary);
  out << bytes;
  if (!out) throw std::runtime_error("cannot write " + file.string());
}

// The files of one fitting, as `make` writes them.
struct MadeFiles {
  MadeFiles(const std::string& kind, const Flags& flags, const ProduceOptions& asked = {},
            Units units = Units::metric)
      : options(asked) {
    FittingRequest request = units == Units::metric ? support::request_from(kind, flags)
                                                    : request_from_flags(kind, flags, units, job_schema());
    request.tag = "T-1";
    produce_all({request}, folder.path(), options, 1, [&](std::size_t, Made&& made, const Shaped* one) {
      if (one == nullptr) throw std::runtime_error(made.failure);
      fitting = one->fitting;
      files = {made.folder, file_stem(request.tag)};
    });
  }

  std::filesystem::path file(const std::string& end) const { return files.folder / (files.stem + end); }

  Folder folder;
  ProduceOptions options;
  Fitting fitting;
  CheckFiles files;
};

// The checks that failed, a line each.
inline std::string failed(const std::vector<CheckResult>& results) {
  std::string lines;
  for (const CheckResult& result : results)
    if (!result.pass) lines += one_line(result) + "\n";
  return lines;
}

inline bool has_check(const std::vector<CheckResult>& results, const std::string& name) {
  return std::any_of(results.begin(), results.end(), [&](const CheckResult& result) {
    return result.name.compare(0, name.size(), name) == 0;
  });
}

// Whether a check whose name begins so failed.
inline bool fails(const std::vector<CheckResult>& results, const std::string& name) {
  return std::any_of(results.begin(), results.end(), [&](const CheckResult& result) {
    return !result.pass && result.name.compare(0, name.size(), name) == 0;
  });
}

}  // namespace linerwright
