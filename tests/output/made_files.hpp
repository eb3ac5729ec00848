// A fitting's files in a folder of their own, and what the checks say of them.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "linerwright/output/output.hpp"
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
  MadeFiles(const std::string& kind, const Flags& flags, const OutputOptions& asked = {},
            Units units = Units::metric)
      : options(asked) {
    FittingRequest request = units == Units::metric ? support::request_from(kind, flags)
                                                    : request_from_flags(kind, flags, units, job_schema());
    request.tag = "T-1";
    struct Keep : Production {
      explicit Keep(MadeFiles& files) : to(files) {}
      void shaped(std::size_t, const Shaped& one, const ShopSheet*) override { to.fitting = one.fitting; }
      void finished(std::size_t, Made&& made) override {
        if (!made.failure.empty()) failure = made.failure;
        to.files = {made.folder, file_stem(made.tag)};
      }
      MadeFiles& to;
      std::string failure;
    } keep(*this);
    produce_all({request}, OutFolder(folder.path(), false), options, 1, keep);
    if (!keep.failure.empty()) throw std::runtime_error(keep.failure);
  }

  std::filesystem::path file(const std::string& end) const { return files.folder / (files.stem + end); }

  Folder folder;
  OutputOptions options;
  Fitting fitting;
  CheckFiles files;
};

}  // namespace linerwright
