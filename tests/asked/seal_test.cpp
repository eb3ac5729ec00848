// The digest by RFC 7693, against other implementations: `printf abc | b2sum -l 256` of GNU coreutils, and
// hashlib.blake2b of Python for lengths about a block's end.
#include "seal.hpp"

#include <gtest/gtest.h>

namespace linerwright::asked {
namespace {

TEST(AskedSeal, AgreesWithOtherImplementations) {
  EXPECT_EQ(blake2b("abc"), "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
  EXPECT_EQ(blake2b(""), "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
  EXPECT_EQ(blake2b(std::string(128, 'a')),
            "ae2aa48507885c4c950fb809b2076f959cde9f8ea6da260d9a3587df33dac450");
  std::string all;
  for (int i = 0; i < 1000; ++i) all += static_cast<char>(i % 251);
  EXPECT_EQ(blake2b(all), "b372d0608f720c8c3dd41e9c8eecb10143b41abe520b616607e754bf79c08331");
}

TEST(AskedSeal, OfAList) {
  std::string json =
      R"({"tag": "A", "own_digest": "0000000000000000000000000000000000000000000000000000000000000000"})";
  const std::string sum = blake2b(json);
  json.replace(json.find("000"), 64, sum);
  const auto holds = [](const std::string& text) {
    std::vector<Finding> findings;
    prove_seal(text, findings);
    return findings.size() == 1 && findings[0].pass;
  };
  EXPECT_TRUE(holds(json));
  json.replace(json.find("\"A\""), 3, "\"B\"");
  EXPECT_FALSE(holds(json));
  std::vector<Finding> none;
  prove_seal(R"({"tag": "A"})", none);
  EXPECT_TRUE(none.empty());
}

}  // namespace
}  // namespace linerwright::asked
