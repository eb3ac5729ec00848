// A fitting's files in a folder of their own, and what the checks say of them.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "linerwright/produce.hpp"
#include "support/check_results.hpp"
#include "support/folder.hpp"
#include "support/requests.hpp"

namespace linerwright {

using support::bytes_of;
using support::fails;
using support::Flags;
using support::Folder;
using support::has_check;
using support::listed;
using support::put_bytes;
using support::with;

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

}  // namespace linerwright
