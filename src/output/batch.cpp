#include "batch.hpp"

#include "linerwright/units/error.hpp"

namespace linerwright {

void Batch::add(std::size_t id, std::unique_ptr<NewFolder> folder) {
  constexpr std::size_t k_many = 32;  // so many results at most are lost when a run is killed
  bool many = false;
  {
    const std::lock_guard<std::mutex> lock(adding_);
    waiting_.emplace_back(id, std::move(folder));
    many = waiting_.size() >= k_many;
  }
  if (many) flush();
}

std::size_t Batch::flush() {
  const std::lock_guard<std::mutex> one_at_a_time(placing_);
  decltype(waiting_) ready;
  {
    const std::lock_guard<std::mutex> lock(adding_);
    ready.swap(waiting_);
  }
  if (ready.empty()) return 0;
  std::string unsynced;
  try {
    out_.sync();
  } catch (const WriteError& error) {
    unsynced = error.what();
  }
  for (auto& [id, folder] : ready) {
    std::string failure = unsynced;
    try {
      if (failure.empty()) folder->place();
    } catch (const std::exception& error) {
      failure = error.what();
    }
    folder.reset();
    placed_(id, failure);
  }
  return ready.size();
}

}  // namespace linerwright
