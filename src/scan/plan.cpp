// SPDX-License-Identifier: MIT
#include "scan/plan.h"

#include <array>
#include <utility>

namespace evenspit::scan {

std::vector<bool> spread(const Plan& plan, const std::vector<bool>& marked, bool grow) {
    std::vector<bool> next = marked;
    for (int j = 0; j < plan.height(); ++j) {
        for (int i = 0; i < plan.width(); ++i) {
            if (marked[plan.at(i, j)] == grow) continue;
            for (const auto& [di, dj] :
                 std::array<std::pair<int, int>, 4>{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}}) {
                if (plan.holds(i + di, j + dj) && marked[plan.at(i + di, j + dj)] == grow) {
                    next[plan.at(i, j)] = grow;
                    break;
                }
            }
        }
    }
    return next;
}

void fill_openings(const Plan& plan, std::vector<bool>& marked, const std::vector<bool>& board_seen) {
    std::vector<bool> met(plan.size(), false);
    for (int j0 = 0; j0 < plan.height(); ++j0) {
        for (int i0 = 0; i0 < plan.width(); ++i0) {
            if (marked[plan.at(i0, j0)] || met[plan.at(i0, j0)]) continue;
            std::vector<std::pair<int, int>> stack{{i0, j0}}, opening;
            met[plan.at(i0, j0)] = true;
            bool outside = false;
            std::size_t shown = 0;
            while (!stack.empty()) {
                const auto [i, j] = stack.back();
                stack.pop_back();
                opening.emplace_back(i, j);
                shown += board_seen[plan.at(i, j)];
                for (const auto& [di, dj] :
                     std::array<std::pair<int, int>, 4>{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}}) {
                    if (!plan.holds(i + di, j + dj)) {
                        outside = true;
                        continue;
                    }
                    const std::size_t k = plan.at(i + di, j + dj);
                    if (marked[k] || met[k]) continue;
                    met[k] = true;
                    stack.emplace_back(i + di, j + dj);
                }
            }
            if (outside || double(shown) > 0.3 * double(opening.size())) continue;
            for (const auto& [i, j] : opening) marked[plan.at(i, j)] = true;
        }
    }
}

}  // namespace evenspit::scan
