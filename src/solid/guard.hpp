// The seam around the kernel's exceptions.
#pragma once

#include <Standard_Failure.hxx>
#include <string>
#include <utility>

#include "linerwright/units/error.hpp"

namespace linerwright {

// The message of what the kernel threw, on one line, behind the operation's name.
std::string words_of(const char* operation, const Standard_Failure& failure);

// Runs one operation. The kernel's exceptions are no std::exception, and one that nobody takes ends the
// program: they become GeometryError.
template <class F>
auto guarded(const char* operation, F&& f) -> decltype(std::forward<F>(f)()) {
  try {
    return std::forward<F>(f)();
  } catch (const Standard_Failure& failure) {
    throw GeometryError(words_of(operation, failure));
  }
}

}  // namespace linerwright
