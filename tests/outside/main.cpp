#include <linerwright/fitting/fitting.hpp>
#include <linerwright/pattern/pattern.hpp>

#include <iostream>

int main() {
  using namespace linerwright;
  const Flags flags{{"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}};
  const Fitting fitting = make_fitting(request_from_flags("elbow", flags, Units::metric, job_schema()));
  std::cout << make_patterns(fitting).size() << " patterns\n";
}
