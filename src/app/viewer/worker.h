// SPDX-License-Identifier: MIT
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace evenspit::viewer {

/// One thread that does one task after the other. At most one task waits; a newer one takes its place.
/// The thread begins with the first task and ends with the worker, whose destructor waits for the task that
/// runs.
class Worker {
  public:
    Worker() = default;
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;
    ~Worker();

    /// \param task must not throw
    void begin(std::function<void()> task);
    /// Forgets the task that waits.
    void forget_waiting();

  private:
    void work();

    std::mutex mutex_;
    std::condition_variable changed_;
    std::function<void()> waiting_;
    bool ended_ = false;
    std::thread thread_;
};

}  // namespace evenspit::viewer
