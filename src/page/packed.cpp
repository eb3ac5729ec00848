#include "packed.hpp"

#include <zlib.h>

#include <algorithm>
#include <cstdint>
#include <stdexcept>

namespace linerwright {

std::string gzipped(const std::string& bytes) {
  constexpr int k_gzip = 16 + MAX_WBITS;  // how zlib is asked for a gzip head
  z_stream stream{};
  if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, k_gzip, 9, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("zlib does not begin");
  std::string out(deflateBound(&stream, bytes.size()), '\0');
  std::string in = bytes;
  stream.next_in = reinterpret_cast<Bytef*>(in.data());
  stream.avail_in = static_cast<uInt>(in.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int ended = deflate(&stream, Z_FINISH);
  deflateEnd(&stream);
  if (ended != Z_STREAM_END) throw std::runtime_error("zlib does not pack a page");
  out.resize(stream.total_out);
  return out;
}

std::string base64(const std::string& bytes) {
  constexpr char k_digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t have = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k)
      group = group << 8 | (k < have ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k) out += k <= have ? k_digits[group >> (18 - 6 * k) & 63u] : '=';
  }
  return out;
}

std::string scene_element(const std::string& json) {
  return "<script type=\"text/plain\" id=\"scene\">" + base64(gzipped(json)) + "</script>\n";
}

}  // namespace linerwright
