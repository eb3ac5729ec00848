// Writes the sample drawing in every version, unit and text style into the folder given, for readers that are
// not ours.
#include <fstream>
#include <iostream>

#include "draw/sample.hpp"

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: draw_samples FOLDER\n";
    return 2;
  }
  using namespace linerwright;
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  for (const SampleFile& sample : sample_files()) {
    std::ofstream out(folder / sample.name, std::ios::binary);
    write_dxf(out, sample_drawing(), sample.options);
    if (!out.flush()) {
      std::cerr << "cannot write " << sample.name << '\n';
      return 3;
    }
  }
  std::ofstream(folder / "sample.svg", std::ios::binary) << svg_of(sample_drawing());
  return 0;
}
