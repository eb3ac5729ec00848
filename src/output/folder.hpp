// A folder that appears whole or not at all.
//
// A new folder is written under a hidden name beside its place. What people put into the old one is linked
// into it, everything is synced to the disk, the two exchange their names, and the old one is removed.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "carry.hpp"
#include "contents.hpp"
#include "linerwright/output/output.hpp"

namespace linerwright {

// Writes a file, which appears whole or not at all, in the place of whatever is there; `sync`: and is on the
// disk. Throws WriteError.
void replace_file(const std::filesystem::path& file, const std::string& bytes, bool sync);

class NewFolder {
 public:
  // Makes a hidden folder beside <out>/<stem>, in a folder that an OutFolder holds. What stands in its place
  // is replaced only if it is a result of this program, or empty. Throws WriteError.
  NewFolder(const std::filesystem::path& out, const std::string& stem, Shelf shelf = Shelf::fittings);
  // Takes back whatever was not placed.
  ~NewFolder();
  NewFolder(const NewFolder&) = delete;
  NewFolder& operator=(const NewFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  const std::vector<std::string>& files() const { return files_; }
  const Contents& digests() const { return digests_; }
  // Writes a file in the folder and closes it. Throws WriteError with the system's reason.
  void write(const std::string& name, const std::string& bytes);
  // Notes a file that something else wrote into the folder. Throws WriteError.
  void note(const std::string& name);
  // Takes over what people put into the earlier folder; after all files are written. Throws WriteError.
  void carry();
  // Moves the folder to its place; after carry() and a sync. Throws WriteError; the earlier one then stays.
  void place();
  // Files of an earlier result that somebody changed: their own name, and that under which they were kept.
  const std::map<std::string, std::string>& kept() const;

 private:
  std::filesystem::path path_;
  std::filesystem::path place_;
  std::filesystem::path swap_;
  std::filesystem::path aside_;
  std::vector<std::string> files_;
  Contents digests_;
  std::optional<OldFolder> old_;
  bool placed_ = false;

  std::filesystem::path exchange();
};

}  // namespace linerwright
