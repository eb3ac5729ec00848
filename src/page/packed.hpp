// What pages carry packed.
#pragma once

#include <string>

namespace linerwright {

// RFC 1952 by zlib, the smallest it makes, without a name and a time: the same bytes give the same bytes.
// Throws std::runtime_error where zlib does.
std::string gzipped(const std::string& bytes);

// The element of a page that holds a view's data, packed: the page's script unpacks it.
std::string scene_element(const std::string& json);

}  // namespace linerwright
