// A fitting's files in a folder of their own, and what the checks say of them.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "linerwright/output/write_job.hpp"
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
    Job job;
    job.units = units;
    job.fittings = {request};
    WriteOptions wanted;
    wanted.out = folder.path();
    wanted.output = options;
    wanted.sync = false;
    FolderListener nobody;
    const WrittenJob written = write_job(job, job, wanted, nobody);
    if (!written.made[0].failure.empty()) throw std::runtime_error(written.made[0].failure);
    fitting = shape(request).fitting;
    files = {written.made[0].folder, file_stem(request.tag)};
  }

  std::filesystem::path file(const std::string& end) const { return files.folder / (files.stem + end); }

  Folder folder;
  OutputOptions options;
  Fitting fitting;
  CheckFiles files;
};

}  // namespace linerwright
