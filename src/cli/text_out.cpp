#include "text_out.hpp"

#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "linerwright/units/error.hpp"

namespace linerwright {

void refuse_existing(const std::string& path, bool force) {
  std::error_code error;
  if (path.empty() || force || !std::filesystem::exists(path, error)) return;
  throw InputError({Problem{path, 0, "", "", "", "--force, or another name", "is there already"}});
}

void require_readable(const std::string& path) {
  constexpr std::uintmax_t k_largest = 256u << 20;
  std::error_code error;
  const auto refuse = [&](const std::string& why) {
    throw InputError({Problem{path, 0, "", "", "", "", why}});
  };
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) refuse("there is no such file");
  if (!std::filesystem::is_regular_file(status)) refuse("is a folder, a device or a pipe, not a file");
  if (std::filesystem::file_size(path, error) > k_largest)
    refuse("is larger than 256 MB, far larger than drawn metal");
}

void write_text_out(const std::string& path, std::string_view text) {
  const std::string beside = path + ".part";
  std::FILE* file = std::fopen(beside.c_str(), "wb");
  if (file == nullptr)
    throw WriteError(path + ": cannot be written: " + std::generic_category().message(errno));
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
