// BLAKE2b without a key, of 32 bytes: RFC 7693 (Saarinen and Aumasson, 2015), sections 2 and 3; the words of
// the start are SHA-512's (FIPS 180-4).
#include "seal.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

#include "json_members.hpp"
#include "worst.hpp"

namespace linerwright::asked {

namespace {

using Long = std::uint64_t;

constexpr Long k_start[8] = {0x6a09e667f3bcc908, 0xbb67ae8584caa73b, 0x3c6ef372fe94f82b, 0xa54ff53a5f1d36f1,
                             0x510e527fade682d1, 0x9b05688c2b3e6c1f, 0x1f83d9abfb41bd6b, 0x5be0cd19137e2179};
constexpr std::size_t k_block = 128;
constexpr std::size_t k_size = 32;

// Which words of the block each round takes, as hexadecimal digits; after the tenth from the first again.
constexpr const char* k_orders[10] = {
    "0123456789abcdef", "ea489fd61c02b753", "b8c052fdae367194", "7931dcbe265a40f8", "905724afe1bc683d",
    "2c6a0b834d75fe19", "c51fed4a0763928b", "db7ec13950f4862a", "6fe9b308c2d714a5", "a2847615fb9e3cd0"};

std::size_t digit(char c) {
  return static_cast<std::size_t>(c <= '9' ? c - '0' : c - 'a' + 10);
}

Long rotated(Long word, int right) {
  return (word >> right) ^ (word << (64 - right));
}

void stir(Long& a, Long& b, Long& c, Long& d, Long x, Long y) {
  a = a + b + x;
  d = rotated(d ^ a, 32);
  c = c + d;
  b = rotated(b ^ c, 24);
  a = a + b + y;
  d = rotated(d ^ a, 16);
  c = c + d;
  b = rotated(b ^ c, 63);
}

// `taken`: bytes up to the block's end.
void take_block(Long (&state)[8], const std::string& block, Long taken, bool last) {
  Long words[16]{};
  for (std::size_t i = 0; i < block.size(); ++i)
    words[i / 8] |= static_cast<Long>(static_cast<unsigned char>(block[i])) << (8 * (i % 8));
  Long v[16];
  for (std::size_t i = 0; i < 8; ++i) {
    v[i] = state[i];
    v[i + 8] = k_start[i];
  }
  v[12] ^= taken;
  if (last) v[14] = ~v[14];
  for (int round = 0; round < 12; ++round) {
    const char* order = k_orders[round % 10];
    const auto word = [&](int k) { return words[digit(order[k])]; };
    for (std::size_t k = 0; k < 4; ++k)  // columns
      stir(v[k], v[k + 4], v[k + 8], v[k + 12], word(2 * static_cast<int>(k)),
           word(2 * static_cast<int>(k) + 1));
    for (std::size_t k = 0; k < 4; ++k)  // diagonals
      stir(v[k], v[4 + (k + 1) % 4], v[8 + (k + 2) % 4], v[12 + (k + 3) % 4],
           word(8 + 2 * static_cast<int>(k)), word(9 + 2 * static_cast<int>(k)));
  }
  for (std::size_t i = 0; i < 8; ++i) state[i] ^= v[i] ^ v[i + 8];
}

}  // namespace

std::string blake2b(const std::string& bytes) {
  Long state[8];
  for (std::size_t i = 0; i < 8; ++i) state[i] = k_start[i];
  state[0] ^= 0x01010000 ^ k_size;
  std::size_t at = 0;
  for (; bytes.size() - at > k_block; at += k_block)
    take_block(state, bytes.substr(at, k_block), at + k_block, false);
  take_block(state, bytes.substr(at), bytes.size(), true);
  std::string digits;
  for (std::size_t i = 0; i < k_size; ++i) {
    const Long byte = state[i / 8] >> (8 * (i % 8)) & 0xff;
    digits += "0123456789abcdef"[byte >> 4];
    digits += "0123456789abcdef"[byte & 15];
  }
  return digits;
}

void prove_seal(const std::string& json, std::vector<Finding>& findings) {
  rapidjson::Document document;
  parse(document, json, "fitting.json");
  if (!is_text(document, "own_digest")) return;  // by an earlier version
  const std::string stated = document["own_digest"].GetString();
  std::string without = json;
  const std::size_t at = without.rfind(stated);
  if (!stated.empty() && at != std::string::npos) without.replace(at, stated.size(), stated.size(), '0');
  Worst seal("seal", 0.0, "", "BLAKE2b (RFC 7693) of fitting.json with zeros in its place");
  seal.expect(blake2b(without) == stated, "fitting.json has another digest than it states");
  seal.into(findings);
}

}  // namespace linerwright::asked
