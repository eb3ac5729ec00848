// What people put into a folder of results goes over to the folder that takes its place.
#pragma once

#include <sys/stat.h>

#include <filesystem>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "contents.hpp"

namespace linerwright {

// A folder of results that is to be replaced.
class OldFolder {
 public:
  // The folder at `path`, which is or was called `stem`; its files are the program's own where it lists them
  // and they still have the digest that it states. Throws WriteError.
  OldFolder(std::filesystem::path path, const std::string& stem, Shelf shelf);

  // Links everything else into the folder `into`, else copies it; folders are made again there. A name that
  // is taken by something else gets "kept-" before it. What is there already stays. Throws WriteError.
  void carry_into(const std::filesystem::path& into);
  // Says where the folder lies after its name was exchanged.
  void moved_to(std::filesystem::path path) { path_ = std::move(path); }
  // Removes the folder, after carrying over what came into it meanwhile. What cannot be removed stays. Throws
  // WriteError.
  void remove(const std::filesystem::path& into);
  // Files that had to take another name: their own, and the new one.
  const std::map<std::string, std::string>& renamed() const { return renamed_; }
  // True if something in it is not the program's own.
  bool holds_others() const;

 private:
  std::filesystem::path path_;
  std::string proof_;
  std::map<std::string, struct stat> own_;  // as they were when their digest was taken
  std::map<std::string, std::string> renamed_;
  std::vector<std::filesystem::path> seen_;  // files, and each folder after what is in it

  bool is_own(const std::string& name, const struct stat& now) const;
  void carry(const std::filesystem::path& from, const std::filesystem::path& into, bool top);
};

}  // namespace linerwright
