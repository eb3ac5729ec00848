#include "linerwright/check/file_bytes.hpp"

#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>

#include <fmt/format.h>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void refuse(const std::string& file, const std::string& reason) {
  throw InputError({Problem{file, 0, {}, {}, {}, {}, reason}});
}

}  // namespace

std::string file_bytes(const fs::path& file, std::size_t most) {
  const std::string name = file.string();
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (status.type() == fs::file_type::not_found) refuse(name, "there is no such file");
  // a pipe that nobody writes into would be waited for without end
  if (status.type() != fs::file_type::regular) refuse(name, "is no plain file");
  const auto size = fs::file_size(name, error);
  if (!error && size > most) refuse(name, fmt::format("is larger than {} MB", most >> 20));
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(std::fopen(name.c_str(), "rb"), &std::fclose);
  if (!stream) refuse(name, "cannot be read: " + std::error_code(errno, std::generic_category()).message());
  std::string bytes;
  if (!error) bytes.reserve(size);
  std::string block(1u << 16, '\0');
  for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), stream.get())) > 0;) {
    bytes.append(block, 0, got);
    if (bytes.size() > most) refuse(name, fmt::format("is larger than {} MB", most >> 20));
  }
  if (std::ferror(stream.get()) != 0) refuse(name, "cannot be read");
  return bytes;
}

JsonValue json_of(const fs::path& file) {
  return read_json(file_bytes(file, k_largest_json), file.string());
}

}  // namespace linerwright
