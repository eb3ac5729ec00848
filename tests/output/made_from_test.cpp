// What a result was made from: every option and everything that was asked for is in the check sum.
#include <gtest/gtest.h>

#include <set>

#include "linerwright/units/json.hpp"
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

void change(std::optional<BandSheet>& bands) {
  bands = BandSheet{1.0, 70.0, 45.0, 8.0};
}

FittingRequest request() {
  return support::request_from("straight", {{"diameter", "300"}, {"length", "600"}, {"thickness", "25"}});
}

TEST(MadeFrom, ChangesWithEveryOption) {
  OutputOptions plain;
  int count = 0;
  each_option(plain, [&](const char*, const char*, auto&&) { ++count; });
  ASSERT_GE(count, 12);
  std::set<std::string> sums{made_from(request(), plain, true)};
  for (int changed = 0; changed < count; ++changed) {
    OutputOptions options;
    int i = 0;
    each_option(options, [&](const char*, const char*, auto&& option) {
      if (i++ == changed) change(option);
    });
    EXPECT_TRUE(sums.insert(made_from(request(), options, true)).second) << "option " << changed;
  }
}

TEST(MadeFrom, OptionsComeBackFromTheFile) {
  OutputOptions options;
  each_option(options, [&](const char*, const char*, auto&& option) { change(option); });
  JsonWriter json;
  json.begin_object();
  write_options(json, options);
  json.end_object();
  rapidjson::Document document;
  document.Parse(json.str().c_str());
  ASSERT_TRUE(document.IsObject());
  OutputOptions read;
  read_options(document, &read);
  EXPECT_EQ(made_from(request(), read, true), made_from(request(), options, true));
  EXPECT_EQ(read.bands.value().lap, 45.0);
}

// Each size of a band is in the sum; where none are asked for nothing is said of them.
TEST(MadeFrom, ChangesWithEverySizeOfABand) {
  std::set<std::string> sums;
  for (const BandSheet& sheet :
       {BandSheet{}, BandSheet{1.0, 60.0, 40.0, 7.0}, BandSheet{0.8, 61.0, 40.0, 7.0},
        BandSheet{0.8, 60.0, 41.0, 7.0}, BandSheet{0.8, 60.0, 40.0, 6.0}}) {
    OutputOptions options;
    options.bands = sheet;
    EXPECT_TRUE(sums.insert(made_from(request(), options, true)).second);
  }
  JsonWriter json;
  json.begin_object();
  write_options(json, OutputOptions{});
  EXPECT_EQ(json.end_object().str().find("bands"), std::string::npos);
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
