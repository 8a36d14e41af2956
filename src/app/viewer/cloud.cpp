// SPDX-License-Identifier: MIT
#include "app/viewer/cloud.h"

#include <algorithm>

namespace evenspit::viewer {

void Cloud::seek(const Assembly& load, std::uint64_t revision) {
    at_ = 0;
    since_s_ = 0;
    begin(revision,
          [load](JobControl& control) { return scene::mounting_cloud(load, drawn, control.token()); });
}

bool Cloud::advance(double seconds) {
    if (!playing() || found()->empty()) return false;
    since_s_ += std::max(0.0, seconds);
    if (since_s_ < each_s) return false;
    // Whoever looked away did not see those in between.
    since_s_ = 0;
    at_ = (at_ + 1) % found()->size();
    return true;
}

std::size_t Cloud::count(Level verdict) const {
    return static_cast<std::size_t>(
        std::count_if(found()->begin(), found()->end(),
                      [verdict](const scene::DrawnMounting& m) { return m.verdict == verdict; }));
}

}  // namespace evenspit::viewer
