// Held against Python's hashlib: hashlib.blake2b(text, digest_size=32).hexdigest(). The end-to-end tests
// compare the digests of whole files with it as well.
#include "linerwright/units/digest.hpp"

#include <gtest/gtest.h>

#include <sstream>
#include <string>

namespace linerwright {
namespace {

// The i-th byte is 7 i + 3 modulo 256; lengths around one and two blocks of 128 bytes.
std::string bytes(int count) {
  std::string all;
  for (int i = 0; i < count; ++i) all += static_cast<char>(static_cast<unsigned char>((7 * i + 3) % 256));
  return all;
}

TEST(Digest, AgreesWithAnotherImplementation) {
  EXPECT_EQ(digest(""), "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
  EXPECT_EQ(digest("abc"), "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
  EXPECT_EQ(digest(bytes(127)), "c9ae3859964b35f04c54b36d33cf299d7290ee621005d28e51598a943560aaaa");
  EXPECT_EQ(digest(bytes(128)), "f0501d06597880592bc49234eef100ec1ff349058d0e9d9b753504e24af86dd6");
  EXPECT_EQ(digest(bytes(129)), "a34a4e1e03c541dfbf3099c4b6c143c022ced65c28bd7e8a10e0a098461aecf0");
  EXPECT_EQ(digest(bytes(255)), "f2d64a40e9412a3414161ff6250075225418fd7c271c1123e162e1bca0de9f93");
  EXPECT_EQ(digest(bytes(256)), "d93ebb9c802f5630ab22516fd82b6c21bc8bd551d531349b715f046ed11ed871");
  EXPECT_EQ(digest(bytes(257)), "4ce481b24d387422d2bc2baa03d1afd55a1327939ff537c71eb9b38709268649");
  EXPECT_EQ(digest(bytes(1000)), "d62b6c768ce1afc8367e0498ab2f8e3f7c178c35b1429f14c4604b545d200f52");
}

TEST(Digest, OfAStreamIsTheSame) {
  for (const int count : {0, 1, 127, 128, 129, 255, 256, 257, 1000}) {
    std::istringstream in(bytes(count));
    EXPECT_EQ(digest(in), digest(bytes(count))) << count;
  }
}

}  // namespace
}  // namespace linerwright
