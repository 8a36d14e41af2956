// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>

#include "app/viewer/job.h"

namespace evenspit::viewer {

/// What was asked of a load and takes a while: the work that runs aside, and what it found.
template <typename Found>
class Sought {
  public:
    /// \param wake called from another thread when it is found
    explicit Sought(std::function<void()> wake) : wake_(std::move(wake)) {}

    void cancel() { job_.cancel(); }
    /// Cancels, and counts as begun for that revision: whoever stopped it does not want it begun again.
    void give_up(std::uint64_t revision) {
        cancel();
        begun_ = revision;
    }
    /// Cancels, and lets go of what was found.
    void forget() {
        cancel();
        found_.reset();
    }
    /// Takes what has come in; whether something has.
    ///
    /// \param wait for it
    /// \throws what the work threw
    bool take(bool wait) {
        std::optional<Found> found = wait ? job_.wait() : job_.take();
        if (!found) return false;
        found_ = std::move(found);
        revision_ = begun_;
        return true;
    }

    [[nodiscard]] bool running() const { return job_.running(); }
    [[nodiscard]] std::pair<double, std::string> progress() const { return job_.progress(); }
    [[nodiscard]] const std::optional<Found>& found() const { return found_; }
    /// Whether what was found belongs to that revision, or, while nothing is there, what is coming.
    [[nodiscard]] bool belongs_to(std::uint64_t revision) const { return revision == revision_; }
    /// Whether it was for that revision that work was begun last, be it done, stopped or under way.
    [[nodiscard]] bool begun_for(std::uint64_t revision) const { return revision == begun_; }
    /// What was found belongs to that revision too: it was put in force.
    void keep_for(std::uint64_t revision) { revision_ = begun_ = revision; }

  protected:
    /// \param revision that the result will belong to
    void begin(std::uint64_t revision, std::function<Found(JobControl&)> work) {
        forget();
        revision_ = revision;
        begin_anew(revision, std::move(work));
    }
    /// The same, but what was found stays, and belongs where it did, until the new is there.
    void begin_anew(std::uint64_t revision, std::function<Found(JobControl&)> work) {
        begun_ = revision;
        job_.start(std::move(work), wake_);
    }

  private:
    std::function<void()> wake_;
    Job<Found> job_;
    std::optional<Found> found_;
    std::uint64_t revision_ = 0;  // of what was found
    std::uint64_t begun_ = 0;     // of the work that was begun last
};

}  // namespace evenspit::viewer
