#include "packed.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <stdexcept>

#include "linerwright/units/bytes_as_text.hpp"
#include "linerwright/units/json.hpp"

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

std::string PackedParts::element(const std::string& open, std::string html) {
  parts_.push_back(std::move(html));
  return open + " data-packed></div>";
}

std::string PackedParts::packed() const {
  if (parts_.empty()) return {};
  JsonWriter json;
  json.begin_array();
  for (const std::string& part : parts_) json.text(part);
  json.end_array();
  return packed_element("drawn", gzipped(json.str()));
}

std::string packed_element(std::string_view id, std::string_view zipped) {
  return fmt::format("<script type=\"text/plain\" id=\"{}\">{}</script>\n", id, base85(zipped));
}

std::string scene_element(const std::string& json) {
  return packed_element("scene", gzipped(json));
}

}  // namespace linerwright
