// What was asked for: the words of `written` in fitting.json, and the defaults of this folder's own table.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "written.hpp"

namespace linerwright::asked {

// What a key holds, and its default as the help words it; empty where it has none.
struct KeyMeaning {
  What what;
  std::string otherwise;
};
// The keys of a kind and of the liner. Throws Unreadable for a kind that is none.
const std::map<std::string, KeyMeaning>& meanings(const std::string& kind);

class Request {
 public:
  std::string tag;
  std::string kind;
  bool inches = false;
  std::map<std::string, std::string> written;
  double outer = 0.0;  // depth of the layer that is asked about

  // As written or by default. Throw Unreadable where neither is.
  std::string word(const std::string& key) const;
  bool flag(const std::string& key) const;  // true, yes or the bare flag
  double value(const std::string& key) const;
  bool stated(const std::string& key) const;  // written, or with a default
  // Of a key with one value for each of several branches, "250 & 300": the value of branch i.
  double value(const std::string& key, std::size_t i) const;
  bool stated(const std::string& key, std::size_t i) const;
  std::size_t count(const std::string& key) const;
  // Extra board along an open edge or one that butts, mm.
  double allowance(bool open) const;
  // Depths of the layer's faces and of the bore behind all layers.
  double outer_face() const { return outer; }
  double inner_face() const { return outer + value("thickness"); }
  double bore_depth() const { return inner_face() + (stated("second_layer") ? value("second_layer") : 0.0); }
};

}  // namespace linerwright::asked
