// SPDX-License-Identifier: MIT
#include "scan/aside.h"

#include <chrono>
#include <future>
#include <list>
#include <mutex>
#include <thread>
#include <utility>

namespace evenspit::scan {

namespace {

constexpr auto look_every = std::chrono::milliseconds(20);

// Threads that nobody waits for any more, until the end.
class Abandoned {
  public:
    void add(std::jthread thread) {
        const std::lock_guard lock(guard_);
        threads_.push_back(std::move(thread));
    }
    void await() {
        const std::lock_guard lock(guard_);
        threads_.clear();
    }

  private:
    std::mutex guard_;
    std::list<std::jthread> threads_;
};

Abandoned& abandoned() {
    static Abandoned all;
    return all;
}

}  // namespace

void do_aside(std::function<void()> work, const StopControl& control) {
    std::packaged_task<void()> task(std::move(work));
    std::future<void> done = task.get_future();
    std::jthread thread(std::move(task));
    try {
        do {
            control.check();
        } while (done.wait_for(look_every) != std::future_status::ready);
    } catch (...) {
        abandoned().add(std::move(thread));
        throw;
    }
    done.get();
}

void await_abandoned() {
    abandoned().await();
}

}  // namespace evenspit::scan
