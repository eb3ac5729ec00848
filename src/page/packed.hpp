// What pages carry packed.
#pragma once

#include <string>
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

// The element of a page that holds a view's data, packed: the page's script unpacks it.
std::string scene_element(const std::string& json);

}  // namespace linerwright
