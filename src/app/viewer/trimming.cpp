// SPDX-License-Identifier: MIT
#include "app/viewer/trimming.h"

namespace evenspit::viewer {

void Trimming::seek(const Assembly& load, std::uint64_t revision) {
    forget();
    revision_ = revision;
    job_.start([load](JobControl& control) { return trim(load, 0, control.token()); }, wake_);
}

void Trimming::forget() {
    job_.cancel();
    found_.reset();
}

bool Trimming::take(bool wait) {
    std::optional<Trim> found = wait ? job_.wait() : job_.take();
    if (!found) return false;
    found_ = std::move(found);
    return true;
}

}  // namespace evenspit::viewer
