// SPDX-License-Identifier: MIT
#include "app/viewer/planning.h"

namespace evenspit::viewer {

void Planning::seek(const Assembly& load, std::uint64_t revision) {
    forget();
    revision_ = revision;
    job_.start(
        [load](JobControl& control) {
            const auto stage = [&control](double share, std::string_view what) {
                control.step(share, std::string(what));
            };
            return make_plan(load, stage, control.token());
        },
        wake_);
}

void Planning::forget() {
    job_.cancel();
    plan_.reset();
}

void Planning::take(bool wait) {
    std::optional<Plan> found = wait ? job_.wait() : job_.take();
    if (!found) return;
    plan_ = std::move(found);
    shown_ = plan_->recommended;
}

void Planning::show(std::size_t answer) {
    if (plan_ && answer < plan_->answers.size()) shown_ = answer;
}

}  // namespace evenspit::viewer
