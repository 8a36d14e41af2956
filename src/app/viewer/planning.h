// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>

#include "app/viewer/job.h"
#include "plan/plan.h"

namespace evenspit::viewer {

/// The plan that was asked for: the search that runs aside, its answers, and which of them is looked at.
class Planning {
  public:
    /// \param wake called from another thread when the answers are there
    explicit Planning(std::function<void()> wake) : wake_(std::move(wake)) {}

    /// Seeks where rod, forks and counterweights should go; see make_plan().
    ///
    /// \param revision that the answers will belong to
    void seek(const Assembly& load, std::uint64_t revision);
    void cancel() { job_.cancel(); }
    /// Cancels, and lets go of the answers.
    void forget();
    /// Takes a plan that has come in.
    ///
    /// \param wait for it
    /// \throws what the search threw
    void take(bool wait);

    [[nodiscard]] bool running() const { return job_.running(); }
    [[nodiscard]] std::pair<double, std::string> progress() const { return job_.progress(); }
    [[nodiscard]] const std::optional<Plan>& plan() const { return plan_; }
    [[nodiscard]] bool belongs_to(std::uint64_t revision) const { return revision == revision_; }
    /// The answers belong to that revision too: one of them was put in force.
    void keep_for(std::uint64_t revision) { revision_ = revision; }
    /// Looks at an answer, if there are so many.
    void show(std::size_t answer);
    /// The number of the answer being looked at. \pre plan()
    [[nodiscard]] std::size_t shown() const { return shown_; }

  private:
    std::function<void()> wake_;
    Job<Plan> job_;
    std::optional<Plan> plan_;
    std::uint64_t revision_ = 0;
    std::size_t shown_ = 0;
};

}  // namespace evenspit::viewer
