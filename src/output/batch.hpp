// New folders that wait for their place: one sync to the disk for many of them.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "folder.hpp"

namespace linerwright {

class Batch {
 public:
  // Called by the thread that places a folder, with the id it was added under and why it could not be placed;
  // empty: it was. One at a time.
  using Placed = std::function<void(std::size_t, const std::string&)>;

  Batch(const OutFolder& out, Placed placed) : out_(out), placed_(std::move(placed)) {}

  // Keeps a folder that is whole; places all that wait when they are many.
  void add(std::size_t id, std::unique_ptr<NewFolder> folder);
  // Syncs and places all that wait; returns how many. What fails is told through `placed`.
  std::size_t flush();

 private:
  const OutFolder& out_;
  Placed placed_;
  std::mutex adding_;
  std::mutex placing_;
  std::vector<std::pair<std::size_t, std::unique_ptr<NewFolder>>> waiting_;
};

}  // namespace linerwright
