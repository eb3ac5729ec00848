// The folders of a job's fittings, written while they are made.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "batch.hpp"
#include "linerwright/making/shape_job.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

// Writes a folder <out>/<stem> for each request, in any order; an earlier folder of the same name stays as it
// was until the new one is whole and on the disk, what people put into it stays, and one whose fitting.json
// says it was made from the same is left alone. Pictures and templates that an earlier run made are made
// again. Requests that differ only in their tag share their solids.
class FittingFolders {
 public:
  // Told once of each request when its folder is in place or has failed, one at a time.
  using Finished = std::function<void(std::size_t, Made&&)>;

  FittingFolders(const std::vector<FittingRequest>& requests, const OutFolder& out,
                 const OutputOptions& options, Finished finished);
  ~FittingFolders();
  FittingFolders(const FittingFolders&) = delete;
  FittingFolders& operator=(const FittingFolders&) = delete;

  // Asked once for each request before any is written: those of one word are to be written one after the
  // other.
  std::string alike(std::size_t i);
  // Writes the files; several at a time. With pages, `sheet` is the one that the page shows. What this throws
  // is the fitting's failure, for failed() to be told.
  void write(std::size_t i, const Shaped& shaped, const ShopSheet* sheet);
  void failed(std::size_t i, const MakingFailed& why);
  // Places all folders that wait for it.
  void flush();

 private:
  struct Alike;

  void count_off(std::size_t i);
  void finish(std::size_t i);
  void placed(std::size_t i, const std::string& failure);
  std::unique_ptr<NewFolder> make(std::size_t i, const Shaped& shaped, const ShopSheet* sheet, Alike& alike);

  const std::vector<FittingRequest>& requests_;
  const OutFolder& out_;
  const OutputOptions& options_;
  Finished finished_;
  std::vector<std::string> words_;                       // of each request
  std::map<std::string, std::unique_ptr<Alike>> alike_;  // by word
  std::mutex counting_;
  std::vector<Made> made_;  // until they are placed
  std::mutex telling_;
  Batch batch_;
};

}  // namespace linerwright
