// What pages carry packed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

// RFC 1952 by zlib, the smallest it makes, without a name and a time: the same bytes give the same bytes.
// Throws std::runtime_error where zlib does.
std::string gzipped(const std::string& bytes);

// Parts of a page that its script fills in from one packed element: drawings, whose bytes are many and whose
// words stand elsewhere on the page, too.
class PackedParts {
 public:
  // An element that is begun by `open`, without its bracket, and holds the HTML once it is unpacked.
  std::string element(const std::string& open, std::string html);
  // The element that holds all of them; empty where there are none.
  std::string packed() const;

 private:
  std::vector<std::string> parts_;
};

// The element of that id that holds what is packed by gzip, in digits of base 85: the page's script unpacks
// it (packed.mjs).
std::string packed_element(std::string_view id, std::string_view zipped);

// The one that holds a view's data.
std::string scene_element(const std::string& json);

}  // namespace linerwright
