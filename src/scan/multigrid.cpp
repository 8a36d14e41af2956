// SPDX-License-Identifier: MIT
#include "scan/multigrid.h"

#include <algorithm>
#include <utility>

#include "units/parallel.h"

namespace evenspit::scan {

namespace {

constexpr int sweeps = 2;  // red and black, before and after each coarser grid
constexpr int coarsest_sweeps = 20;

// Calls row(j, k) for all rows of a grid, many rows at a time.
template <class Row>
void for_each_row(const GridField& field, const Row& row) {
    const auto rows = std::size_t(field.n[1]);
    parallel_for(
        rows * std::size_t(field.n[2]),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t r = first; r < last; ++r) row(int(r % rows), int(r / rows));
        },
        512);
}

GridField same_grid(const GridField& field) {
    return {field.origin, field.spacing, field.n};
}

// Weights of full weighting along one axis; the three axes multiply.
constexpr float full[3] = {0.25F, 0.5F, 0.25F};

// Mean of the 27 nodes round every second node.
void restrict_to(const GridField& fine, GridField& coarse) {
    for_each_row(coarse, [&](int j, int k) {
        for (int i = 0; i < coarse.n[0]; ++i) {
            const std::size_t middle = fine.index(2 * i + 1, 2 * j + 1, 2 * k + 1);
            float sum = 0;
            for (int c = -1; c <= 1; ++c) {
                for (int b = -1; b <= 1; ++b) {
                    const float* const at =
                        fine.values.data() + std::ptrdiff_t(middle) + b * fine.row() + c * fine.layer();
                    sum += full[b + 1] * full[c + 1] * (full[0] * at[-1] + full[1] * at[0] + full[2] * at[1]);
                }
            }
            coarse.values[coarse.index(i, j, k)] = sum;
        }
    });
}

// Adds the coarse field, linear between its nodes.
void prolong_add(const GridField& coarse, GridField& fine) {
    for_each_row(fine, [&](int j, int k) {
        // Fine node 2 c + 1 is coarse node c; an even one lies midway between two.
        const int j0 = (j + 1) / 2 - 1, j1 = j % 2 ? j0 : j0 + 1;
        const int k0 = (k + 1) / 2 - 1, k1 = k % 2 ? k0 : k0 + 1;
        const float* const a = coarse.values.data() + coarse.index(0, j0, k0);
        const float* const b = coarse.values.data() + coarse.index(0, j1, k0);
        const float* const c = coarse.values.data() + coarse.index(0, j0, k1);
        const float* const d = coarse.values.data() + coarse.index(0, j1, k1);
        float* const out = fine.values.data() + fine.index(0, j, k);
        const auto mean = [&](int i) { return 0.25F * (a[i] + b[i] + c[i] + d[i]); };
        float before = mean(-1);
        for (int i = 0; i < fine.n[0]; i += 2) {
            const float after = mean(i / 2);
            out[i] += 0.5F * (before + after);
            if (i + 1 < fine.n[0]) out[i + 1] += after;
            before = after;
        }
    });
}

}  // namespace

int multigrid_size(int least, int levels) {
    const int step = 1 << levels;
    return (least + step) / step * step - 1;
}

MultigridCycle::MultigridCycle(const GridField& diagonal, int levels) {
    levels_.push_back({diagonal, same_grid(diagonal), same_grid(diagonal), same_grid(diagonal), 1});
    for (int l = 0; l < levels; ++l) {
        const GridField& fine = levels_.back().diagonal;
        GridField coarse(fine.origin + Vec3::Constant(fine.spacing), 2 * fine.spacing,
                         {(fine.n[0] - 1) / 2, (fine.n[1] - 1) / 2, (fine.n[2] - 1) / 2});
        restrict_to(fine, coarse);
        const double stiffness = levels_.back().stiffness / 4;
        const GridField blank = same_grid(coarse);
        levels_.push_back({std::move(coarse), blank, blank, blank, stiffness});
    }
}

void MultigridCycle::relax(Level& level, bool red_first) const {
    const auto stiffness = float(level.stiffness);
    GridField& u = level.solution;
    for (int half = 0; half < 2; ++half) {
        const int colour = (half == 0) == red_first ? 0 : 1;
        for_each_row(u, [&](int j, int k) {
            const std::size_t start = u.index(0, j, k);
            float* const x = u.values.data() + start;
            const float* const r = level.right.values.data() + start;
            const float* const d = level.diagonal.values.data() + start;
            const std::ptrdiff_t row = u.row(), layer = u.layer();
            for (int i = (j + k + colour) & 1; i < u.n[0]; i += 2) {
                const float sum = x[i - 1] + x[i + 1] + x[i - row] + x[i + row] + x[i - layer] + x[i + layer];
                x[i] = (r[i] + stiffness * sum) / (6 * stiffness + d[i]);
            }
        });
    }
}

void MultigridCycle::cycle(std::size_t depth) {
    Level& level = levels_[depth];
    std::fill(level.solution.values.begin(), level.solution.values.end(), 0.0F);
    if (depth + 1 == levels_.size()) {
        for (int s = 0; s < coarsest_sweeps; ++s) relax(level, s % 2 == 0);
        // Mirrored, so that the whole stays symmetric.
        for (int s = 0; s < coarsest_sweeps; ++s) relax(level, s % 2 != 0);
        return;
    }
    for (int s = 0; s < sweeps; ++s) relax(level, true);

    const auto stiffness = float(level.stiffness);
    const GridField& u = level.solution;
    for_each_row(u, [&](int j, int k) {
        const std::size_t start = u.index(0, j, k);
        const float* const x = u.values.data() + start;
        const std::ptrdiff_t row = u.row(), layer = u.layer();
        for (int i = 0; i < u.n[0]; ++i) {
            const float sum = x[i - 1] + x[i + 1] + x[i - row] + x[i + row] + x[i - layer] + x[i + layer];
            level.residual.values[start + std::size_t(i)] =
                level.right.values[start + std::size_t(i)] - stiffness * (6 * x[i] - sum) -
                level.diagonal.values[start + std::size_t(i)] * x[i];
        }
    });
    restrict_to(level.residual, levels_[depth + 1].right);
    cycle(depth + 1);
    prolong_add(levels_[depth + 1].solution, level.solution);
    for (int s = 0; s < sweeps; ++s) relax(level, false);
}

void MultigridCycle::apply(const GridField& right, GridField& solution) {
    levels_[0].right.values = right.values;
    cycle(0);
    solution.values = levels_[0].solution.values;
}

}  // namespace evenspit::scan
