// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "analysis/analysis.h"
#include "app/viewer/job.h"

namespace evenspit::viewer {

/// The analysis of the load as it sits, kept up with every edit.
///
/// Answers that come within a frame's time are worked out at once; when the last one took longer, the next is
/// worked out on another thread and the old one stays, marked as stale, until it is there. Only the newest
/// question is ever answered.
class Answers {
  public:
    /// What an answer may cost on the drawing thread, s.
    static constexpr double frame_budget_s = 0.040;

    /// \param wake called from another thread when an answer is there to be taken
    explicit Answers(std::function<void()> wake = {}) : wake_(std::move(wake)) {}

    /// Asks for the load of that revision, unless that is what was asked last.
    void ask(const Assembly& assembly, std::uint64_t revision);
    /// Takes an answer that has come in; true if there is a new one.
    bool poll();
    /// Waits for the answer to the last question.
    void wait();

    [[nodiscard]] bool any() const { return answered_ != 0; }
    /// The last answer. \pre any()
    [[nodiscard]] const Analysis& analysis() const { return analysis_; }
    /// The load that it belongs to. \pre any()
    [[nodiscard]] const Assembly& assembly() const { return assembly_; }
    /// Whether the load has moved on since.
    [[nodiscard]] bool stale() const { return answered_ != asked_; }
    /// Why the last question has no answer, "" if it has.
    [[nodiscard]] const std::string& failure() const { return failure_; }
    /// What the last answer took, s.
    [[nodiscard]] double seconds() const { return seconds_; }

  private:
    struct Answer {
        Assembly assembly;
        Analysis analysis;
        double seconds = 0;
        std::uint64_t revision = 0;
    };
    static Answer work_out(Assembly assembly, std::uint64_t revision);
    void take(Answer answer);
    void fail(const std::string& why);

    std::function<void()> wake_;
    Job<Answer> job_;
    Assembly assembly_;
    Analysis analysis_;
    std::string failure_;
    double seconds_ = 0;
    std::uint64_t asked_ = 0;
    std::uint64_t answered_ = 0;
};

}  // namespace evenspit::viewer
