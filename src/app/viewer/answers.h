// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>

#include "analysis/analysis.h"
#include "analysis/analysis_memory.h"
#include "app/viewer/edit.h"
#include "app/viewer/job.h"
#include "cook/cook_course.h"

namespace evenspit::viewer {

/// An analysis and what it belongs to.
struct Answer {
    Assembly assembly;
    Analysis analysis;
    double seconds = 0;  ///< that it took
    /// The cook of the load; null: none was computed. It may be that of the load as it sat a moment before:
    /// then the one of now follows with the mountings.
    std::shared_ptr<const cook::CookCourse> cook{};
    std::optional<Sitting> cooked_as{};  ///< how everything sat in that cook
    /// What the next answer need not work out again. It goes with a question and comes back with its answer,
    /// so that one thread at a time has it.
    std::shared_ptr<AnalysisMemory> memory{};
};

/// \param cook of that load; what it asks of the load is told, too
/// \throws Stopped once `stop` is asked to
Answer worked_out(Assembly assembly, const std::stop_token& stop = {},
                  std::shared_ptr<const cook::CookCourse> cook = {});

/// The answer for the same load as it sits now, from what is known of the one before: its cook, and what did
/// not move.
///
/// \throws Stopped once `stop` is asked to
Answer worked_out_after(const Answer& before, const Assembly& assembly, const std::stop_token& stop = {});

/// The analysis of the load as it sits, kept up with every edit.
///
/// Answers that come within a frame's time are worked out at once. When the last one took longer, the next is
/// worked out on another thread, and the old one stays, marked as stale, until it is there. While one is
/// being worked out the newest question waits, and those that it overtook are never answered.
///
/// How the load fares in many mountings follows aside: an answer comes as written first, and once more with
/// its chances, and cooked as it sits now, unless the next question has overtaken it. Then it is what `check`
/// tells.
class Answers {
  public:
    /// What an answer usually may cost on the drawing thread, s.
    static constexpr double frame_budget_s = 0.040;

    /// \param wake called from another thread when an answer is there to be taken
    /// \param rest_s after which an answer's mountings begin, unless another question comes: while something
    /// is dragged all of the machine is for its pictures
    /// \param budget_s what an answer may cost on the drawing thread
    explicit Answers(std::function<void()> wake = {}, double rest_s = 0, double budget_s = frame_budget_s)
        : wake_(std::move(wake)), rest_s_(rest_s), budget_s_(budget_s) {}

    /// Begins with another load, whose answer may be known already. Nothing is left of the load before.
    void begin_with(std::optional<Answer> answer, std::uint64_t revision);
    /// Asks for the load of that revision, unless that is what was asked last.
    void ask(const Assembly& assembly, std::uint64_t revision);
    /// Stops work on a question that has been overtaken, so that the newest is answered sooner.
    void hasten();
    /// Takes an answer that has come in; true if there is a new one.
    bool poll();
    /// Waits for the answer to the last question.
    void wait();
    /// Asks work that runs to stop, and waits for nothing.
    void cancel();

    [[nodiscard]] bool any() const { return answered_ != 0; }
    /// The last answer. \pre any()
    [[nodiscard]] const Analysis& analysis() const { return answer_.analysis; }
    /// The load that it belongs to. \pre any()
    [[nodiscard]] const Assembly& assembly() const { return answer_.assembly; }
    /// Whether the load has moved on since.
    [[nodiscard]] bool stale() const { return answered_ != asked_; }
    /// Whether its mountings are being tried.
    [[nodiscard]] bool mounting() const { return trial_.running(); }
    /// Why the last question has no answer, "" if it has.
    [[nodiscard]] const std::string& failure() const { return failure_; }
    /// What the last answer took, s.
    [[nodiscard]] double seconds() const { return answer_.seconds; }

  private:
    void start_waiting();
    void take(Answer answer, std::uint64_t revision);
    void start_mounting();

    std::function<void()> wake_;
    double rest_s_, budget_s_;
    Job<Answer> job_;
    Job<Answer> trial_;  // the last answer with its mountings
    std::optional<Assembly> waiting_;
    Answer answer_;
    std::string failure_;
    std::uint64_t asked_ = 0;
    std::uint64_t begun_ = 0;  // the revision that the job works on
    std::uint64_t answered_ = 0;
};

}  // namespace evenspit::viewer
