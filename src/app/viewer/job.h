// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace evenspit::viewer {

/// Thrown out of a job by JobControl::step() once it has been cancelled.
struct JobCancelled {};

/// What a long piece of work sees of the one who waits for it. Shared between two threads.
class JobControl {
  public:
    /// Tells how far the work is and what it does.
    ///
    /// \param share 0 … 1; negative: not known
    /// \throws JobCancelled if nobody waits any more
    void step(double share, std::string what) {
        if (cancelled_) throw JobCancelled{};
        const std::scoped_lock lock(mutex_);
        share_ = share;
        what_ = std::move(what);
    }
    [[nodiscard]] bool cancelled() const { return cancelled_; }
    void cancel() { cancelled_ = true; }

    [[nodiscard]] std::pair<double, std::string> progress() const {
        const std::scoped_lock lock(mutex_);
        return {share_, what_};
    }

  private:
    std::atomic<bool> cancelled_{false};
    mutable std::mutex mutex_;
    double share_ = -1;
    std::string what_;
};

/// One piece of work off the drawing thread: start, watch, cancel as often as one likes, take the result
/// once.
///
/// Cancelling returns at once. Work that does not look at its control runs on unheard and its result is
/// dropped; the destructor waits for it.
template <typename Result>
class Job {
  public:
    Job() = default;
    Job(const Job&) = delete;
    Job& operator=(const Job&) = delete;
    ~Job() {
        cancel();
        for (Run& run : left_) run.thread.join();
    }

    /// \param wake called from the other thread when the result is there
    void start(std::function<Result(JobControl&)> work, std::function<void()> wake = {}) {
        cancel();
        tidy();
        auto shared = std::make_shared<Shared>();
        std::thread thread([shared, work = std::move(work), wake = std::move(wake)] {
            try {
                shared->result = work(shared->control);
            } catch (const JobCancelled&) {
            } catch (...) {
                shared->error = std::current_exception();
            }
            shared->ready = true;
            if (wake) wake();
        });
        now_ = Run{std::move(shared), std::move(thread)};
    }

    [[nodiscard]] bool running() const { return now_.shared != nullptr; }
    [[nodiscard]] std::pair<double, std::string> progress() const {
        return now_.shared ? now_.shared->control.progress() : std::pair<double, std::string>{-1, {}};
    }

    void cancel() {
        if (!now_.shared) return;
        now_.shared->control.cancel();
        left_.push_back(std::move(now_));
        now_ = {};
    }

    /// The result, once it is there; what the work threw is thrown here.
    std::optional<Result> take() {
        tidy();
        if (!now_.shared || !now_.shared->ready) return std::nullopt;
        if (now_.thread.joinable()) now_.thread.join();
        const std::shared_ptr<Shared> shared = std::exchange(now_, {}).shared;
        if (shared->error) std::rethrow_exception(shared->error);
        return std::move(shared->result);
    }

    /// The same, after waiting for it.
    std::optional<Result> wait() {
        if (!now_.shared) return std::nullopt;
        now_.thread.join();
        return take();
    }

  private:
    struct Shared {
        JobControl control;
        std::optional<Result> result;
        std::exception_ptr error;
        std::atomic<bool> ready{false};
    };
    struct Run {
        std::shared_ptr<Shared> shared;
        std::thread thread;
    };

    /// Lets go of cancelled runs that have ended.
    void tidy() {
        std::erase_if(left_, [](Run& run) {
            if (!run.shared->ready) return false;
            run.thread.join();
            return true;
        });
    }

    Run now_;
    std::vector<Run> left_;
};

}  // namespace evenspit::viewer
