#include "packed.hpp"

#include <zlib.h>

#include <stdexcept>

#include "linerwright/base64.hpp"

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

std::string scene_element(const std::string& json) {
  return "<script type=\"text/plain\" id=\"scene\">" + base64(gzipped(json)) + "</script>\n";
}

}  // namespace linerwright
