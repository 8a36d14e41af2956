// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <utility>

#include "app/viewer/worker.h"
#include "units/stopped.h"

namespace evenspit::viewer {

/// What a long piece of work sees of the one who waits for it. Shared between two threads.
class JobControl {
  public:
    /// Tells how far the work is and what it does.
    ///
    /// \param share 0 … 1; negative: not known
    /// \throws Stopped if nobody waits any more
    void step(double share, std::string what) {
        stop_if_asked(token());
        const std::scoped_lock lock(mutex_);
        share_ = share;
        what_ = std::move(what);
    }
    /// For work that takes a token: it is asked to stop when nobody waits any more.
    [[nodiscard]] std::stop_token token() const { return stop_.get_token(); }
    void cancel() { stop_.request_stop(); }

    [[nodiscard]] std::pair<double, std::string> progress() const {
        const std::scoped_lock lock(mutex_);
        return {share_, what_};
    }

  private:
    std::stop_source stop_;
    mutable std::mutex mutex_;
    double share_ = -1;
    std::string what_;
};

/// One piece of work off the drawing thread: start, watch, cancel as often as one likes, take the result
/// once.
///
/// Cancelling returns at once. A job has one thread for all that it is ever given: what is started next
/// waits until what was cancelled has looked at its control and stopped; cancelled before it began, it never
/// begins. The destructor waits for what runs.
template <typename Result>
class Job {
  public:
    Job() = default;
    Job(const Job&) = delete;
    Job& operator=(const Job&) = delete;
    ~Job() { cancel(); }

    /// Cancels what was started before.
    ///
    /// \param wake called from the other thread when the result is there
    void start(std::function<Result(JobControl&)> work, std::function<void()> wake = {}) {
        cancel();
        auto run = std::make_shared<Run>();
        now_ = run;
        worker_.begin([run, work = std::move(work), wake = std::move(wake)] {
            try {
                run->result = work(run->control);
            } catch (const Stopped&) {
            } catch (...) {
                run->error = std::current_exception();
            }
            run->ready = true;
            run->ready.notify_all();
            if (wake) wake();
        });
    }

    [[nodiscard]] bool running() const { return now_ != nullptr; }
    [[nodiscard]] std::pair<double, std::string> progress() const {
        return now_ ? now_->control.progress() : std::pair<double, std::string>{-1, {}};
    }

    void cancel() {
        if (!now_) return;
        now_->control.cancel();
        worker_.forget_waiting();
        now_.reset();
    }

    /// The result, once it is there; what the work threw is thrown here.
    std::optional<Result> take() {
        if (!now_ || !now_->ready) return std::nullopt;
        const std::shared_ptr<Run> run = std::exchange(now_, nullptr);
        if (run->error) std::rethrow_exception(run->error);
        return std::move(run->result);
    }

    /// The same, after waiting for it.
    std::optional<Result> wait() {
        if (now_) now_->ready.wait(false);
        return take();
    }

  private:
    struct Run {
        JobControl control;
        std::optional<Result> result;
        std::exception_ptr error;
        std::atomic<bool> ready{false};
    };

    std::shared_ptr<Run> now_;
    Worker worker_;
};

}  // namespace evenspit::viewer
