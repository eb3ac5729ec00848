// Pages of a PDF, one after the other.
#pragma once

#include <string>

#include "ink.hpp"

namespace linerwright {

class PdfPages {
 public:
  explicit PdfPages(const std::string& title);
  // From here on a page of this size in mm, with an entry in the outline; what is painted goes onto it.
  void begin(Vec2 size, const std::string& name);
  cairo_t* context() const { return context_.get(); }
  void end();
  std::string finish();  // throws WriteError

 private:
  std::string bytes_;
  Surface surface_;
  Context context_;
  int count_ = 0;
};

}  // namespace linerwright
