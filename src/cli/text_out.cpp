#include "text_out.hpp"

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "linerwright/error.hpp"

namespace linerwright {

void refuse_existing(const std::string& path, bool force) {
  std::error_code error;
  if (path.empty() || force || !std::filesystem::exists(path, error)) return;
  throw InputError({Problem{path, 0, "", "", "", "--force, or another name", "is there already"}});
}

void write_text_out(const std::string& path, std::string_view text) {
  const std::string beside = path + ".part";
  std::FILE* file = std::fopen(beside.c_str(), "wb");
  if (file == nullptr) throw WriteError(path + ": cannot be written: " + std::generic_category().message(errno));
  const bool whole = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  const bool closed = std::fclose(file) == 0;
  std::error_code error;
  if (whole && closed) std::filesystem::rename(beside, path, error);
  if (whole && closed && !error) return;
  const std::string why = error ? error.message() : std::generic_category().message(errno);
  std::filesystem::remove(beside, error);
  throw WriteError(path + ": cannot be written: " + why);
}

}  // namespace linerwright
