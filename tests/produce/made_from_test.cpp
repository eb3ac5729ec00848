// What a result was made from: every option and everything that was asked for is in the check sum.
#include <gtest/gtest.h>

#include <set>

#include "linerwright/json.hpp"
#include "options.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

void change(DxfVersion& version) {
  version = DxfVersion::r12;
}
void change(DxfUnits& units) {
  units = DxfUnits::inch;
}
void change(TextStyle& style) {
  style = TextStyle::entities;
}
void change(bool& flag) {
  flag = !flag;
}
void change(double& number) {
  number *= 1.5;
}
void change(LayerTable& layers) {
  layers.names = {{Layer::cut, "BLADE", 5}};
  layers.order = {Layer::mark};
}
void change(InDegrees<double> angle) {
  angle.radians *= 1.5;
}
void change(std::optional<Paper>& paper) {
  paper = paper_named("a3");
}

FittingRequest request() {
  return support::request_from("straight", {{"diameter", "300"}, {"length", "600"}, {"thickness", "25"}});
}

TEST(MadeFrom, ChangesWithEveryOption) {
  ProduceOptions plain;
  int count = 0;
  each_option(plain, [&](const char*, const char*, auto&&) { ++count; });
  ASSERT_GE(count, 12);
  std::set<std::string> sums{made_from(request(), plain, true)};
  for (int changed = 0; changed < count; ++changed) {
    ProduceOptions options;
    int i = 0;
    each_option(options, [&](const char*, const char*, auto&& option) {
      if (i++ == changed) change(option);
    });
    EXPECT_TRUE(sums.insert(made_from(request(), options, true)).second) << "option " << changed;
  }
}

TEST(MadeFrom, OptionsComeBackFromTheFile) {
  ProduceOptions options;
  each_option(options, [&](const char*, const char*, auto&& option) { change(option); });
  JsonWriter json;
  json.begin_object();
  write_options(json, options);
  json.end_object();
  rapidjson::Document document;
  document.Parse(json.str().c_str());
  ASSERT_TRUE(document.IsObject());
  ProduceOptions read;
  read_options(document, &read);
  EXPECT_EQ(made_from(request(), read, true), made_from(request(), options, true));
}

TEST(MadeFrom, ChangesWithWhatIsAskedFor) {
  const FittingRequest plain = request();
  std::set<std::string> sums{made_from(plain, {}, true)};
  std::set<std::string> states{state_of(plain)};
  const auto differs = [&](const FittingRequest& other) {
    EXPECT_TRUE(sums.insert(made_from(other, {}, true)).second);
    EXPECT_TRUE(states.insert(state_of(other)).second);
  };
  FittingRequest other = plain;
  other.tag += "x";
  EXPECT_EQ(made_from(other, {}, false), made_from(plain, {}, false));
  differs(other);
  other = plain;
  other.count = 2;
  differs(other);
  other = plain;
  other.units = Units::inch;
  differs(other);
  for (const auto& [key, value] : plain.values.all()) {
    other = plain;
    Value changed = value;
    changed.written += "1";
    other.values.set(key, changed);
    differs(other);
  }
}

}  // namespace
}  // namespace linerwright
