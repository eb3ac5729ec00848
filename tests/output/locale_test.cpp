// Same input, same bytes, whatever the decimal mark of the process that links the library.
#include <gtest/gtest.h>

#include <map>

#include "made_files.hpp"
#include "support/comma_locale.hpp"

namespace linerwright {
namespace {

std::map<std::string, std::string> all_files(const MadeFiles& made) {
  std::map<std::string, std::string> files;
  for (const auto& file : std::filesystem::directory_iterator(made.files.folder))
    files[file.path().filename().string()] = bytes_of(file.path());
  return files;
}

TEST(Locale, FilesAreTheSameUnderADecimalComma) {
  OutputOptions options;
  options.templates = paper_named("a4");
  options.png = true;
  const Flags tee{{"diameter", "300"},      {"length", "900"}, {"branch_diameter", "150"},
                  {"branch_length", "400"}, {"offset", "40"},  {"thickness", "25"}};
  const std::map<std::string, std::string> plain = all_files(MadeFiles("tee", tee, options));
  const support::CommaLocale comma;
  const std::map<std::string, std::string> under_comma = all_files(MadeFiles("tee", tee, options));
  EXPECT_GE(plain.size(), 12u);
  ASSERT_EQ(plain.size(), under_comma.size());
  for (const auto& [name, bytes] : plain) EXPECT_TRUE(under_comma.at(name) == bytes) << name;
}

}  // namespace
}  // namespace linerwright
