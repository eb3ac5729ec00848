// What a page carries packed, as its script unpacks it: gzip (RFC 1952) in digits of base 85, five for four
// bytes.
#pragma once

#include <zlib.h>

#include <string>

namespace linerwright::support {

// The text of the page's element of that id; empty where there is none or where it cannot be unpacked.
inline std::string unpacked(const std::string& page, const std::string& id) {
  const std::string open = "<script type=\"text/plain\" id=\"" + id + "\">";
  const std::size_t at = page.find(open);
  if (at == std::string::npos) return {};
  const std::size_t from = at + open.size();
  const std::string letters =
      "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#%()*+,-.:;=?@[]^_{|}~";
  std::string packed;
  const std::size_t to = page.find('<', from);
  for (std::size_t i = from; i < to; i += 5) {
    unsigned long long group = 0;
    for (std::size_t k = i; k < i + 5; ++k)
      group = group * 85 + (k < to ? letters.find(page[k]) : letters.size() - 1);
    for (std::size_t k = 0; k < 4 && i + k + 1 < to; ++k)
      packed += static_cast<char>(group >> (24 - 8 * k) & 0xFFu);
  }
  z_stream stream{};
  if (inflateInit2(&stream, 16 + MAX_WBITS) != Z_OK) return {};
  stream.next_in = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_in = static_cast<uInt>(packed.size());
  std::string text;
  int ended = Z_OK;
  while (ended == Z_OK) {
    std::string part(1 << 16, '\0');
    stream.next_out = reinterpret_cast<Bytef*>(part.data());
    stream.avail_out = static_cast<uInt>(part.size());
    ended = inflate(&stream, Z_NO_FLUSH);
    text += part.substr(0, part.size() - stream.avail_out);
  }
  inflateEnd(&stream);
  return ended == Z_STREAM_END ? text : std::string();
}

}  // namespace linerwright::support
