// A locale with a decimal comma, made for the test, so that no machine lacks it.
#pragma once

#include <clocale>
#include <cstdlib>
#include <locale>
#include <stdexcept>
#include <string>

#include "support/folder.hpp"

namespace linerwright::support {

// In force for C and C++ while it lives.
class CommaLocale {
 public:
  CommaLocale() : before_(std::locale()) {
    const std::string made = (folder_.path() / "de_DE.UTF-8").string();
    if (std::system(("localedef -i de_DE -f UTF-8 '" + made + "'").c_str()) != 0)
      throw std::runtime_error("localedef made no locale: is the package locales installed?");
    ::setenv("LOCPATH", folder_.path().c_str(), 1);
    std::locale::global(std::locale("de_DE.UTF-8"));  // sets the C locale, too
    if (std::string(std::localeconv()->decimal_point) != ",")
      throw std::runtime_error("the locale is not in force");
  }
  ~CommaLocale() {
    std::locale::global(before_);
    ::unsetenv("LOCPATH");
  }
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;

 private:
  Folder folder_;
  std::locale before_;
};

}  // namespace linerwright::support
