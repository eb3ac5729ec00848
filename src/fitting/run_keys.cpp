// What a job says about a run of duct; the kinds know nothing of it.
#include "common.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_most_steps = 20'000;

KeySpec list_of(KeySpec key, std::size_t most) {
  key.many = true;
  key.most = most;
  return key;
}

// A quantity of any size and sign.
KeySpec free_key(std::string name, Quantity quantity, std::string help) {
  KeySpec key = text_key(std::move(name), std::move(help));
  key.type = ValueType::quantity;
  key.quantity = quantity;
  key.optional = true;
  return key;
}

}  // namespace

std::vector<KeySpec> run_keys() {
  KeySpec close = text_key("close", "the end must meet a port that is already there");
  close.type = ValueType::flag;
  close.default_value = "no";
  KeySpec within =
      quantity_key("close_angle", Quantity::angle, "how far the two may point past each other there",
                   "0.1deg", 0.0, 0.25 * k_pi);
  KeySpec flow =
      free_key("flow", Quantity::flow, "air flow at the run's start, carried along to what follows");
  flow.min = 1e-6;
  flow.max = 1e4;
  return {
      text_key("name", "what the run is called; its folder is named after it"),
      optional_key(text_key("from", "the port that it starts at, TAG:PORT of a fitting in another run")),
      list_of(text_key("path",
                       "what follows what: TAG runs from its start to its end, TAG:PORT>PORT the way that is "
                       "said, TAG#2 is the second of a count"),
              k_most_steps),
      list_of(free_key("turns", Quantity::angle,
                       "about the axis at which each joins, right-handed about the way on; 0 where nothing "
                       "is said"),
              k_most_steps),
      optional_key(
          list_of(text_key("joints", "shop or field for each joint of the path; shop where nothing is said"),
                  k_most_steps)),
      list_of(free_key("start.at", Quantity::length, "where the run starts: x, y, z (default: 0, 0, 0)"), 3),
      list_of(free_key("start.direction", Quantity::number, "the way on there (default: 0, 0, 1)"), 3),
      list_of(
          free_key("start.up", Quantity::number, "toward which the first fitting bends (default: 1, 0, 0)"),
          3),
      close,
      optional_key(text_key("close_to", "TAG:PORT that the end must meet (default: the run's own start)")),
      with_default(length_key("close_within", "how far the end may miss it", {}, 0.0, 1000.0), "1mm"),
      within,
      flow,
      quantity_key("seam_stagger", Quantity::angle,
                   "least angle between the seams of neighbouring pieces at a joint (common practice, no "
                   "source)",
                   "30deg", 0.0, 0.5 * k_pi),
      with_default(length_key("reach", "how far a person reaches into a duct (common practice, no source)",
                              {}, 100.0, 10000.0),
                   "600mm"),
  };
}

}  // namespace linerwright
