// Files that cannot be read at all: one clear line each.
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::refusal;
using testing::test_schema;

std::string read_refusal(const std::filesystem::path& file) {
  try {
    read_job(file, test_schema());
  } catch (const InputError& error) {
    return lines(error.problems());
  }
  return "no error";
}

struct Folder {
  std::filesystem::path path =
      std::filesystem::temp_directory_path() / ("job_test_" + std::to_string(getpid()));
  Folder() { std::filesystem::create_directories(path); }
  ~Folder() { std::filesystem::remove_all(path); }
  std::filesystem::path write(const std::string& name, const std::string& text) const {
    std::ofstream(path / name, std::ios::binary) << text;
    return path / name;
  }
};

TEST(BrokenFile, CannotBeOpened) {
  const Folder folder;
  const std::string missing = (folder.path / "none.toml").string();
  EXPECT_EQ(read_refusal(missing), missing + ": there is no such file\n");
  EXPECT_EQ(read_refusal(folder.path), folder.path.string() + ": is a folder, not a job file\n");
}

TEST(BrokenFile, MayNotBeRead) {
  const Folder folder;
  const std::filesystem::path locked = folder.write("locked.toml", "");
  ASSERT_EQ(chmod(locked.c_str(), 0), 0);
  if (geteuid() == 0) GTEST_SKIP() << "nothing is unreadable to this user";
  EXPECT_EQ(read_refusal(locked), locked.string() + ": cannot be read: Permission denied\n");
}

TEST(BrokenFile, IsTooLarge) {
  const Folder folder;
  const std::filesystem::path file = folder.write("large.toml", "");
  std::filesystem::resize_file(file, (8u << 20) + 1);
  EXPECT_EQ(read_refusal(file), file.string() + ": is larger than 8 MB, too large for a job file\n");
}

TEST(BrokenFile, IsNotText) {
  EXPECT_EQ(refusal(std::string("[job]\nname = \"\0\"\n", 16)),
            "job.toml:2: holds a NUL character, so it is not a text file\n");
  EXPECT_EQ(refusal("[job]\nname = \"K\xFC"
                    "che\"\n"),
            "job.toml:2: is not UTF-8 text; save the file as UTF-8\n");
  EXPECT_EQ(refusal("\xFF\xFE[\0"), "job.toml: is UTF-16 text; save it as UTF-8\n");
  // RFC 3629: overlong forms, surrogates and values over 10FFFF are not UTF-8.
  for (const std::string bytes :
       {"\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82", "\x80"}) {
    EXPECT_EQ(refusal("# " + bytes), "job.toml:1: is not UTF-8 text; save the file as UTF-8\n");
  }
  EXPECT_EQ(refusal("tag;kind\n\xFC;elbow\n", "s.csv"),
            "s.csv:2: is not UTF-8 text; save the file as UTF-8\n");
}

TEST(BrokenFile, IsNotToml) {
  EXPECT_EQ(
      refusal("[job]\nname = \"x\n"),
      "job.toml:2: not valid TOML at column 10: a text holds a control character, or its closing quote is "
      "missing\n");
  EXPECT_EQ(refusal("[job]\nunits = \"in\"\nunits = \"mm\"\n"),
            "job.toml:3: not valid TOML at column 9: in key-value pair: cannot redefine existing "
            "string 'units'\n");
  EXPECT_EQ(refusal("# start\n[[\n"),
            "job.toml:2: not valid TOML: a table's name is not closed, write [name] or [[name]]\n");
  EXPECT_EQ(refusal("[\n"),
            "job.toml:1: not valid TOML: a table's name is not closed, write [name] or [[name]]\n");
}

// Each ends in one line of refusal that carries a line number.
TEST(BrokenFile, EveryKindOfNonsenseIsOneLine) {
  std::string dots = "a";
  for (int i = 0; i < 100000; ++i) dots += ".a";
  const std::string brackets(100000, '[');
  const std::string braces = std::string(50, 'x') + " = " + std::string(100000, '{');
  for (const std::string& text :
       {std::string("= 3"), std::string("a"), std::string("a ="), std::string("[a"), std::string("[[a]"),
        std::string("a = 1979-99-99"), std::string("a = 1e400"), std::string("a = 99999999999999999999"),
        std::string("a = \"\\q\""), std::string("a = [1,"), std::string("a = {b = 1"), std::string("a = '''"),
        "[" + dots + "]", dots + " = 1", "a = " + brackets, braces, brackets}) {
    const std::string message = refusal(text);
    EXPECT_EQ(message.rfind("job.toml:1: ", 0), 0u) << message;
    EXPECT_EQ(std::count(message.begin(), message.end(), '\n'), 1) << message;
    EXPECT_LT(message.size(), 300u) << message;
  }
}

TEST(BrokenFile, DeepNestingSaysSo) {
  std::string dots = "a";
  for (int i = 0; i < 300; ++i) dots += ".a";
  EXPECT_EQ(refusal("\n[" + dots + "]"),
            "job.toml:2: holds over 200 dots: nested too deeply for a job file\n");
}

}  // namespace
}  // namespace linerwright
