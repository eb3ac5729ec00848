// A folder that appears whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace linerwright {

// Holds <out> for one run: makes the folder, refuses while another run holds it, and clears away what a run
// that was killed left behind, with its earlier results back in place. Throws WriteError.
class OutFolder {
 public:
  explicit OutFolder(const std::filesystem::path& out);
  ~OutFolder();
  OutFolder(const OutFolder&) = delete;
  OutFolder& operator=(const OutFolder&) = delete;

 private:
  int lock_;
};

class NewFolder {
 public:
  // Makes a hidden folder beside <out>/<stem>, in a folder that an OutFolder holds. What stands there already
  // is replaced only if it holds a file called `proof`. Throws WriteError.
  NewFolder(const std::filesystem::path& out, const std::string& stem,
            const std::string& proof = "fitting.json");
  // Takes back whatever was not kept.
  ~NewFolder();
  NewFolder(const NewFolder&) = delete;
  NewFolder& operator=(const NewFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  const std::vector<std::string>& files() const { return files_; }
  // Writes a file in the folder and closes it. Throws WriteError with the system's reason.
  void write(const std::string& name, const std::string& bytes);
  // Notes a file that something else wrote into the folder.
  void note(const std::string& name) { files_.push_back(name); }
  // Moves the folder to its place, in the place of an earlier one. Throws WriteError; the earlier one then
  // stays.
  void keep();

 private:
  std::filesystem::path path_;
  std::filesystem::path place_;
  std::vector<std::string> files_;
  bool kept_ = false;
};

}  // namespace linerwright
