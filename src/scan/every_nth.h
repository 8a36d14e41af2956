// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace evenspit::scan {

/// Every n-th of them, so that about `count` are left; all, in order, if there are no more. \pre count > 0
template <class T>
std::vector<T> every_nth(const std::vector<T>& all, double count) {
    std::vector<T> few;
    const double stride = std::max(1.0, double(all.size()) / count);
    for (double k = 0; k < double(all.size()); k += stride) few.push_back(all[std::size_t(k)]);
    return few;
}

}  // namespace evenspit::scan
