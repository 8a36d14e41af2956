// SPDX-License-Identifier: MIT
#include "app/viewer/worker.h"

#include <utility>

namespace evenspit::viewer {

Worker::~Worker() {
    {
        const std::scoped_lock lock(mutex_);
        ended_ = true;
        waiting_ = nullptr;
    }
    changed_.notify_one();
    if (thread_.joinable()) thread_.join();
}

void Worker::begin(std::function<void()> task) {
    {
        const std::scoped_lock lock(mutex_);
        waiting_ = std::move(task);
    }
    if (!thread_.joinable()) thread_ = std::thread([this] { work(); });
    changed_.notify_one();
}

void Worker::forget_waiting() {
    const std::scoped_lock lock(mutex_);
    waiting_ = nullptr;
}

void Worker::work() {
    for (;;) {
        std::function<void()> task;
        {
            std::unique_lock lock(mutex_);
            changed_.wait(lock, [this] { return ended_ || waiting_; });
            if (ended_) return;
            task = std::exchange(waiting_, nullptr);
        }
        task();
    }
}

}  // namespace evenspit::viewer
