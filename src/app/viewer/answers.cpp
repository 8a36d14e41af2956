// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

#include <chrono>
#include <exception>
#include <utility>

#include "analysis/chance.h"

namespace evenspit::viewer {

Answer worked_out(Assembly assembly, const std::stop_token& stop,
                  std::shared_ptr<const cook::CookCourse> cook) {
    using Clock = std::chrono::steady_clock;
    const auto start = Clock::now();
    Analysis analysis = analyse(assembly, stop);
    if (cook) cook::add_cook(analysis, *cook);
    const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
    return {std::move(assembly), std::move(analysis), seconds, std::move(cook)};
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
        [answer = answer_](const JobControl& control) {
            Analysis analysis = answer.analysis;
            add_mountings(analysis, answer.assembly, usual_mountings, control.token());
            if (answer.cook) cook::add_cook(analysis, *answer.cook);
            return analysis;
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
    if (job_.running() || seconds() > frame_budget_s) {
        waiting_ = assembly;
        return start_waiting();
    }
    try {
        take(worked_out(assembly, {}, answer_.cook), revision);
    } catch (const std::exception& error) {
        failure_ = error.what();
    }
}

void Answers::start_waiting() {
    if (!waiting_ || job_.running()) return;
    begun_ = asked_;
    job_.start([assembly = *std::exchange(waiting_, std::nullopt), cook = answer_.cook](
                   const JobControl& control) { return worked_out(assembly, control.token(), cook); },
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
        if (std::optional<Analysis> mounted = trial_.take()) {
            answer_.analysis = std::move(*mounted);
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
        if (std::optional<Analysis> mounted = trial_.wait()) answer_.analysis = std::move(*mounted);
    } catch (const std::exception& error) {
        failure_ = error.what();
    }
}

void Answers::cancel() {
    waiting_.reset();
    job_.cancel();
    trial_.cancel();
}

}  // namespace evenspit::viewer
