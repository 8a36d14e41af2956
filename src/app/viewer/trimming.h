// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <utility>

#include "app/viewer/job.h"
#include "trim/trim.h"

namespace evenspit::viewer {

/// The counterweight that was asked for after a roll test: the search that runs aside, and what it found.
class Trimming {
  public:
    /// \param wake called from another thread when it is found
    explicit Trimming(std::function<void()> wake) : wake_(std::move(wake)) {}

    /// Seeks what trims the load; see trim(). How often it is ready is not asked: the answers to the trimmed
    /// load tell.
    ///
    /// \param revision that the result will belong to
    /// \pre was_rolled(load)
    void seek(const Assembly& load, std::uint64_t revision);
    void cancel() { job_.cancel(); }
    /// Cancels, and lets go of what was found.
    void forget();
    /// Takes what has come in; whether something has.
    ///
    /// \param wait for it
    /// \throws what the search threw
    bool take(bool wait);

    [[nodiscard]] bool running() const { return job_.running(); }
    [[nodiscard]] const std::optional<Trim>& found() const { return found_; }
    [[nodiscard]] bool belongs_to(std::uint64_t revision) const { return revision == revision_; }
    /// What was found belongs to that revision too: it was put in force.
    void keep_for(std::uint64_t revision) { revision_ = revision; }

  private:
    std::function<void()> wake_;
    Job<Trim> job_;
    std::optional<Trim> found_;
    std::uint64_t revision_ = 0;
};

}  // namespace evenspit::viewer
