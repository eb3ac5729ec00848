// BLAKE2b: RFC 7693, "The BLAKE2 Cryptographic Hash and Message Authentication Code", sections 2 and 3.
#include "linerwright/units/digest.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace linerwright {

namespace {

using Word = std::uint64_t;
constexpr std::size_t k_block = 128;  // bytes
constexpr std::size_t k_length = 32;  // bytes of the digest

// Section 2.6: the fractional parts of the square roots of the first eight primes.
constexpr std::array<Word, 8> k_start{0x6a09e667f3bcc908, 0xbb67ae8584caa73b, 0x3c6ef372fe94f82b,
                                      0xa54ff53a5f1d36f1, 0x510e527fade682d1, 0x9b05688c2b3e6c1f,
                                      0x1f83d9abfb41bd6b, 0x5be0cd19137e2179};

// Section 2.7: the order of the message's words, round by round.
constexpr std::array<std::array<std::uint8_t, 16>, 10> k_order{{
    {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15},
    {14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3},
    {11, 8, 12, 0, 5, 2, 15, 13, 10, 14, 3, 6, 7, 1, 9, 4},
    {7, 9, 3, 1, 13, 12, 11, 14, 2, 6, 5, 10, 4, 0, 15, 8},
    {9, 0, 5, 7, 2, 4, 10, 15, 14, 1, 11, 12, 6, 8, 3, 13},
    {2, 12, 6, 10, 0, 11, 8, 3, 4, 13, 7, 5, 15, 14, 1, 9},
    {12, 5, 1, 15, 14, 13, 4, 10, 0, 7, 6, 3, 9, 2, 8, 11},
    {13, 11, 7, 14, 12, 1, 3, 9, 5, 0, 15, 4, 8, 6, 2, 10},
    {6, 15, 14, 9, 11, 3, 0, 8, 12, 2, 13, 7, 1, 4, 10, 5},
    {10, 2, 8, 4, 7, 6, 1, 5, 15, 11, 9, 14, 3, 12, 13, 0},
}};

Word turned(Word word, int bits) {
  return word >> bits | word << (64 - bits);
}

// Least significant byte first.
Word word_at(const char* bytes) {
  const auto byte = [&](int i) { return static_cast<Word>(static_cast<unsigned char>(bytes[i])) << (8 * i); };
  return byte(0) | byte(1) | byte(2) | byte(3) | byte(4) | byte(5) | byte(6) | byte(7);
}

// Section 3.1.
void mix(std::array<Word, 16>& v, std::size_t a, std::size_t b, std::size_t c, std::size_t d, Word x,
         Word y) {
  v[a] += v[b] + x;
  v[d] = turned(v[d] ^ v[a], 32);
  v[c] += v[d];
  v[b] = turned(v[b] ^ v[c], 24);
  v[a] += v[b] + y;
  v[d] = turned(v[d] ^ v[a], 16);
  v[c] += v[d];
  v[b] = turned(v[b] ^ v[c], 63);
}

// Section 3.2; `through`: how many bytes lie up to the block's end.
void compress(std::array<Word, 8>& state, const char* block, std::size_t through, bool last) {
  std::array<Word, 16> message{};
  for (std::size_t i = 0; i < message.size(); ++i) message[i] = word_at(block + 8 * i);
  std::array<Word, 16> v{};
  std::copy(state.begin(), state.end(), v.begin());
  std::copy(k_start.begin(), k_start.end(), v.begin() + 8);
  v[12] ^= through;
  if (last) v[14] = ~v[14];
  for (std::size_t round = 0; round < 12; ++round) {
    const auto& s = k_order[round % k_order.size()];
    mix(v, 0, 4, 8, 12, message[s[0]], message[s[1]]);
    mix(v, 1, 5, 9, 13, message[s[2]], message[s[3]]);
    mix(v, 2, 6, 10, 14, message[s[4]], message[s[5]]);
    mix(v, 3, 7, 11, 15, message[s[6]], message[s[7]]);
    mix(v, 0, 5, 10, 15, message[s[8]], message[s[9]]);
    mix(v, 1, 6, 11, 12, message[s[10]], message[s[11]]);
    mix(v, 2, 7, 8, 13, message[s[12]], message[s[13]]);
    mix(v, 3, 4, 9, 14, message[s[14]], message[s[15]]);
  }
  for (std::size_t i = 0; i < state.size(); ++i) state[i] ^= v[i] ^ v[i + 8];
}

std::array<Word, 8> begun() {
  std::array<Word, 8> state = k_start;
  state[0] ^= 0x01010000 ^ k_length;  // no key
  return state;
}

// The last block, at most 128 bytes, of `through` in all.
std::string ended(std::array<Word, 8> state, std::string_view last, std::size_t through) {
  std::array<char, k_block> rest{};
  std::copy(last.begin(), last.end(), rest.begin());
  compress(state, rest.data(), through, true);
  constexpr std::string_view k_digits = "0123456789abcdef";
  std::string text;
  for (std::size_t i = 0; i < k_length; ++i) {
    const auto byte = static_cast<std::size_t>(state[i / 8] >> (8 * (i % 8)) & 0xff);
    text += k_digits[byte >> 4];
    text += k_digits[byte & 15];
  }
  return text;
}

}  // namespace

std::string digest(std::string_view bytes) {
  std::array<Word, 8> state = begun();
  std::size_t from = 0;
  for (; bytes.size() - from > k_block; from += k_block)
    compress(state, bytes.data() + from, from + k_block, false);
  return ended(state, bytes.substr(from), bytes.size());
}

std::string digest(std::istream& in) {
  std::array<Word, 8> state = begun();
  std::array<char, k_block> held{};  // may be the last block
  std::array<char, k_block> next{};
  std::size_t through = 0;
  const auto read = [&](std::array<char, k_block>& block) {
    in.read(block.data(), static_cast<std::streamsize>(block.size()));
    return static_cast<std::size_t>(in.gcount());
  };
  std::size_t size = read(held);
  for (std::size_t more = read(next); more > 0; more = read(next)) {
    compress(state, held.data(), through += size, false);
    held = next;
    size = more;
  }
  return ended(state, {held.data(), size}, through + size);
}

}  // namespace linerwright
