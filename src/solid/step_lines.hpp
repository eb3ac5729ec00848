// The lines of a STEP file's data section (ISO 10303-21): entities, numbered as they are added.
#pragma once

#include <ostream>
#include <string>
#include <unordered_map>
#include <vector>

namespace linerwright {

class StepLines {
 public:
  // Lines go into the stream as they come.
  explicit StepLines(std::ostream& out) : out_(out) {}
  // Adds an entity as it stands, "LINE('',#3,#4)", and returns its number.
  int add(const std::string& entity);
  // The same where the file already holds this entity word for word: then its number.
  int shared(const std::string& entity);
  // As shared(), of a body's geometry: forgotten when no more bodies of this model come, so that a long file
  // takes no more memory than a short one.
  int geometry(const std::string& entity);
  void forget_geometry() { geometry_.clear(); }

 private:
  int count_ = 0;
  std::ostream& out_;
  std::unordered_map<std::string, int> known_, geometry_;
};

// A number as STEP writes reals, with a point and 15 digits at most: "12.7", "3.", "1.E-07".
std::string step_real(double value);
// "#12".
std::string step_ref(int entity);
// "(#1,#2)" and "(1.,2.)".
std::string step_refs(const std::vector<int>& entities);
std::string step_reals(const std::vector<double>& values);
// Text between quotes. STEP text is ASCII; quotes and backslashes would need escapes that readers treat
// differently: what is neither plain nor printable becomes an underscore.
std::string step_text(const std::string& value);

}  // namespace linerwright
