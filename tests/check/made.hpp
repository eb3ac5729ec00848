// A fitting made into a folder of its own, to be proven and to be spoilt.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <sstream>
#include <string>

#include "linerwright/produce.hpp"

namespace linerwright::testing {

using Flags = std::map<std::string, std::string>;
namespace fs = std::filesystem;

class MadeFitting {
 public:
  MadeFitting(const std::string& kind, const Flags& flags, const ProduceOptions& options = {})
      : options_(options),
        request_(request_from_flags(kind, flags, Units::metric, job_schema())),
        fitting_(make_fitting(request_)) {
    std::string pattern = (fs::temp_directory_path() / "linerwright-check-XXXXXX").string();
    folder_ = ::mkdtemp(pattern.data());
    made_ = produce_all({request_}, folder_, options, 1).front();
  }
  ~MadeFitting() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  MadeFitting(const MadeFitting&) = delete;
  MadeFitting& operator=(const MadeFitting&) = delete;

  const Made& made() const { return made_; }
  const Fitting& fitting() const { return fitting_; }
  fs::path file(const std::string& ending) const { return made_.folder / (file_stem(request_.tag) + ending); }

  std::vector<CheckResult> check() const {
    return check_fitting(fitting_, {made_.folder, file_stem(request_.tag)}, options_.dxf, options_.mesh);
  }

  // Names of the failing checks, joined by blanks.
  std::string failing() const {
    std::string names;
    for (const CheckResult& result : check())
      if (!result.pass) names += (names.empty() ? "" : ", ") + result.name;
    return names;
  }

  // Replaces a file's bytes by what `change` makes of them.
  void change(const std::string& ending, const std::function<std::string(std::string)>& change) const {
    std::ifstream in(file(ending), std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    in.close();
    std::ofstream(file(ending), std::ios::binary) << change(bytes.str());
  }

  // Reads a DXF, lets `change` edit its lines, and writes it again as promised.
  void redraw(const std::string& ending, const std::function<void(DxfFile&)>& change,
              DxfOptions dxf = {}) const {
    std::ifstream in(file(ending));
    DxfFile read = read_dxf(in, ending);
    in.close();
    change(read);
    Drawing drawing;
    for (const DxfPolyline& line : read.lines)
      drawing.lines.push_back({layer_named(line.layer).value(), line.closed, line.points});
    dxf.version = options_.dxf.version;
    if (dxf.units == DxfUnits::millimetre) dxf.units = options_.dxf.units;
    std::ofstream out(file(ending));
    write_dxf(out, drawing, dxf);
  }

 private:
  ProduceOptions options_;
  FittingRequest request_;
  Fitting fitting_;
  fs::path folder_;
  Made made_;
};

}  // namespace linerwright::testing
