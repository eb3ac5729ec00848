// STEP, AP214 (ISO 10303-214, automotive_design), as text of our own: products, their shapes, and where they
// stand in one another.
#pragma once

#include <filesystem>
#include <functional>
#include <ostream>
#include <string>
#include <vector>

#include "linerwright/solid/solid.hpp"
#include "step_lines.hpp"

namespace linerwright {

class StepAssembly {
 public:
  // A product with one representation of its shape.
  struct Product {
    int definition = 0, representation = 0;
  };
  // One product as a part of another.
  struct Use {
    Product product;
    std::string name;
    Frame frame{};
  };

  // The head of the file, called `name`, goes into the stream, and all that is added as it comes.
  StepAssembly(std::ostream& out, const std::string& name, const std::string& description);
  // A body: a product of its own, in its colour.
  Product body(const std::string& id, const Part& part);
  // A product that is made up of others.
  Product whole(const std::string& name, const std::vector<Use>& uses);
  // No more bodies of this model come.
  void end_of_model() { lines_.forget_geometry(); }
  // The end of the file.
  void end();

 private:
  std::ostream& out_;
  StepLines lines_;
  int context_ = 0, units_ = 0, here_ = 0, uses_ = 0;
  std::vector<int> styled_;

  Product product(const std::string& id, const std::string& name, int representation);
  int axes(const Frame& frame);
  int styled(int solid, const Part& part);
};

// A STEP file of what `add` adds. Throws WriteError.
void write_step_file(const std::filesystem::path& file, const std::string& name,
                     const std::string& description, const std::function<void(StepAssembly&)>& add);

}  // namespace linerwright
