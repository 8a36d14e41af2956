// SPDX-License-Identifier: MIT
#include "app/viewer/planning.h"

#include <string>
#include <string_view>

namespace evenspit::viewer {

void Planning::seek(const Assembly& load, std::uint64_t revision) {
    begin(revision, [load](JobControl& control) {
        const auto stage = [&control](double share, std::string_view what) {
            control.step(share, std::string(what));
        };
        return plan::make_plan(load, stage, control.token());
    });
}

bool Planning::take(bool wait) {
    if (!Sought::take(wait)) return false;
    shown_ = plan()->recommended;
    return true;
}

void Planning::show(std::size_t answer) {
    if (plan() && answer < plan()->answers.size()) shown_ = answer;
}

}  // namespace evenspit::viewer
