// SPDX-License-Identifier: MIT
#include "app/viewer/cooking.h"

#include <algorithm>

namespace evenspit::viewer {

void Cooking::seek(const Assembly& load, std::uint64_t revision) {
    begin_anew(revision, [load](JobControl& control) {
        return cook::cook_moments(
            load, [&control](double share, const char* what) { control.step(share, what); }, control.token());
    });
}

bool Cooking::take(bool wait) {
    const std::optional<double> looked_at_s =
        shown_ ? std::optional(found()->moments[*shown_].time_s) : std::nullopt;
    if (!Sought::take(wait)) return false;
    shown_.reset();
    if (looked_at_s && !found()->moments.empty()) shown_ = found()->near(*looked_at_s);
    return true;
}

void Cooking::forget() {
    shown_.reset();
    Sought::forget();
}

void Cooking::show(std::optional<std::size_t> moment) {
    if (!found() || (moment && *moment >= found()->moments.size())) return;
    shown_ = moment;
}

void Cooking::step(int by) {
    if (!found() || found()->moments.empty()) return;
    // As written comes before the first.
    const auto last = static_cast<std::ptrdiff_t>(found()->moments.size());
    const std::ptrdiff_t now = shown_ ? static_cast<std::ptrdiff_t>(*shown_) + 1 : 0;
    const std::ptrdiff_t to = std::clamp<std::ptrdiff_t>(now + by, 0, last);
    shown_ = to == 0 ? std::nullopt : std::optional(static_cast<std::size_t>(to - 1));
}

}  // namespace evenspit::viewer
