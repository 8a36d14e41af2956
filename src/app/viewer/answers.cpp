// SPDX-License-Identifier: MIT
#include "app/viewer/answers.h"

#include <chrono>
#include <exception>
#include <utility>

namespace evenspit::viewer {

Answers::Answer Answers::work_out(Assembly assembly, std::uint64_t revision) {
    using Clock = std::chrono::steady_clock;
    const auto start = Clock::now();
    Analysis analysis = analyse(assembly);
    const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
    return {std::move(assembly), std::move(analysis), seconds, revision};
}

void Answers::take(Answer answer) {
    assembly_ = std::move(answer.assembly);
    analysis_ = std::move(answer.analysis);
    seconds_ = answer.seconds;
    answered_ = answer.revision;
    failure_.clear();
}

void Answers::fail(const std::string& why) {
    failure_ = why;
}

void Answers::ask(const Assembly& assembly, std::uint64_t revision) {
    if (revision == asked_) return;
    asked_ = revision;
    failure_.clear();
    if (seconds_ > frame_budget_s) {
        job_.start([assembly, revision](JobControl&) { return work_out(assembly, revision); }, wake_);
        return;
    }
    job_.cancel();
    try {
        take(work_out(assembly, revision));
    } catch (const std::exception& error) {
        fail(error.what());
    }
}

bool Answers::poll() {
    try {
        std::optional<Answer> answer = job_.take();
        if (!answer) return false;
        take(std::move(*answer));
    } catch (const std::exception& error) {
        fail(error.what());
    }
    return true;
}

void Answers::wait() {
    try {
        if (std::optional<Answer> answer = job_.wait()) take(std::move(*answer));
    } catch (const std::exception& error) {
        fail(error.what());
    }
}

}  // namespace evenspit::viewer
