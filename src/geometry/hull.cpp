// SPDX-License-Identifier: MIT
#include "geometry/hull.h"

#include <algorithm>
#include <cstddef>

namespace evenspit {

double hull_perimeter(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(),
              [](const Vec2& a, const Vec2& b) { return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y(); });
    double length = 0;
    for (int half = 0; half < 2; ++half) {
        std::vector<Vec2> chain;
        for (const Vec2& p : points) {
            const auto turns_right = [&] {
                const Vec2 u = chain.back() - chain[chain.size() - 2], v = p - chain.back();
                return u.x() * v.y() - u.y() * v.x() <= 0;
            };
            while (chain.size() >= 2 && turns_right()) chain.pop_back();
            chain.push_back(p);
        }
        for (std::size_t i = 1; i < chain.size(); ++i) length += (chain[i] - chain[i - 1]).norm();
        std::reverse(points.begin(), points.end());
    }
    return length;
}

}  // namespace evenspit
