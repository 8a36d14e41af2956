// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <utility>

#include "analysis/chance.h"
#include "units/stopped.h"

namespace evenspit::viewer {

namespace {

void work_out(Answer& answer, const std::stop_token& stop) {
    using Clock = std::chrono::steady_clock;
    answer.memory->grow_trees(answer.assembly);
    const auto start = Clock::now();
    answer.analysis = analyse(answer.assembly, *answer.memory, stop);
    if (answer.cook) cook::add_cook(answer.analysis, *answer.cook);
    answer.seconds = std::chrono::duration<double>(Clock::now() - start).count();
}

/// Waits so long, or until asked to stop.
///
/// \throws Stopped if so
void rest(double seconds, const std::stop_token& stop) {
    std::mutex mutex;
    std::unique_lock lock(mutex);
    std::condition_variable_any never;
    never.wait_for(lock, stop, std::chrono::duration<double>(seconds), [] { return false; });
    stop_if_asked(stop);
}

/// The answer once more, as `check` gives it.
///
/// \param trees of its bodies
Answer in_mountings(Answer answer, const SweepTrees* trees, const std::stop_token& stop) {
    const Sitting now = sitting_of(answer.assembly);
    if (answer.cook && answer.cooked_as && !same_sitting(*answer.cooked_as, now)) {
        cook::CookedLoad cooked = cook::cooked_load(std::move(answer.assembly), stop);
        answer.assembly = std::move(cooked.load);
        answer.cook =
            cooked.course ? std::make_shared<const cook::CookCourse>(std::move(*cooked.course)) : nullptr;
        answer.cooked_as = now;
        answer.analysis = analyse(answer.assembly, stop);
    }
    add_mountings(answer.analysis, answer.assembly, usual_mountings, stop, trees);
    if (answer.cook) cook::add_cook(answer.analysis, *answer.cook);
    return answer;
}

}  // namespace

Answer worked_out(Assembly assembly, const std::stop_token& stop,
                  std::shared_ptr<const cook::CookCourse> cook) {
    Answer answer{.assembly = std::move(assembly), .analysis = {}, .cook = std::move(cook)};
    answer.cooked_as = sitting_of(answer.assembly);
    answer.memory = std::make_shared<AnalysisMemory>();
    work_out(answer, stop);
    return answer;
}

Answer worked_out_after(const Answer& before, const Assembly& assembly, const std::stop_token& stop) {
    Answer answer{.assembly = before.cook ? cook::cooked_as(before.assembly, assembly) : assembly,
                  .analysis = {},
                  .cook = before.cook,
                  .cooked_as = before.cooked_as,
                  .memory = before.memory};
    if (!answer.memory) answer.memory = std::make_shared<AnalysisMemory>();
    work_out(answer, stop);
    return answer;
}

void Answers::take(Answer answer, std::uint64_t revision) {
    answer_ = std::move(answer);
    answered_ = revision;
    failure_.clear();
    start_mounting();
}

void Answers::start_mounting() {
    if (stale() || answer_.analysis.mounted) return;
    trial_.start(
        [answer = answer_, trees = answer_.memory ? answer_.memory->trees() : nullptr,
         rest_s = rest_s_](const JobControl& control) {
            rest(rest_s, control.token());
            return in_mountings(answer, trees.get(), control.token());
        },
        wake_);
}

void Answers::begin_with(std::optional<Answer> answer, std::uint64_t revision) {
    cancel();
    answer_ = {};
    answered_ = asked_ = 0;
    failure_.clear();
    if (!answer) return;
    asked_ = revision;
    take(std::move(*answer), revision);
}

void Answers::ask(const Assembly& assembly, std::uint64_t revision) {
    if (revision == asked_) return;
    asked_ = revision;
    trial_.cancel();
    failure_.clear();
    if (job_.running() || seconds() > budget_s_) {
        waiting_ = assembly;
        return start_waiting();
    }
    try {
        take(worked_out_after(answer_, assembly), revision);
    } catch (const std::exception& error) {
        failure_ = error.what();
    }
}

void Answers::start_waiting() {
    if (!waiting_ || job_.running()) return;
    begun_ = asked_;
    job_.start([assembly = *std::exchange(waiting_, std::nullopt), before = answer_](
                   const JobControl& control) { return worked_out_after(before, assembly, control.token()); },
               wake_);
}

void Answers::hasten() {
    if (!waiting_) return;
    job_.cancel();
    start_waiting();
}

bool Answers::poll() {
    bool told = false;
    try {
        if (std::optional<Answer> answer = job_.take()) {
            take(std::move(*answer), begun_);
            told = true;
        }
    } catch (const std::exception& error) {
        // Of a question that was overtaken nobody wants to know why it has no answer.
        told = !waiting_;
        if (told) failure_ = error.what();
    }
    start_waiting();
    try {
        if (std::optional<Answer> mounted = trial_.take()) {
            answer_ = std::move(*mounted);
            told = true;
        }
    } catch (const std::exception& error) {
        failure_ = error.what();
        told = true;
    }
    return told;
}

void Answers::wait() {
    hasten();
    try {
        if (std::optional<Answer> answer = job_.wait()) take(std::move(*answer), begun_);
        if (std::optional<Answer> mounted = trial_.wait()) answer_ = std::move(*mounted);
    } catch (const std::exception& error) {
        failure_ = error.what();
    }
}

void Answers::cancel() {
    waiting_.reset();
    // What is cancelled may still be at work on it.
    if (job_.running()) answer_.memory.reset();
    job_.cancel();
    trial_.cancel();
}

}  // namespace evenspit::viewer
