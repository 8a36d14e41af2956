// SPDX-License-Identifier: MIT
#include "roast/heat_step.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "units/parallel.h"

namespace evenspit {
namespace {

constexpr std::size_t planes_a_piece = 4;
// Less than that is nothing: deep inside changes would fall to numbers so small that processors are slow with
// them.
constexpr float least_k = 1e-25f;

// The three conductances out of a cell, and the same of the cells before it.
struct Neighbours {
    const float *x, *y, *z;
    std::ptrdiff_t row, plane;

    Neighbours(const HeatFlow& flow, const CellBox& box)
        : x(flow.conductance_w_k[0].data()),
          y(flow.conductance_w_k[1].data()),
          z(flow.conductance_w_k[2].data()),
          row(static_cast<std::ptrdiff_t>(box.stride(1))),
          plane(static_cast<std::ptrdiff_t>(box.stride(2))) {}
};

// What a row of cells sees: its own temperatures and those of the rows beside it, the conductances between.
struct RowFlow {
    const float *here, *left, *right, *below, *above;
    const float *g, *g_left, *g_right, *g_below, *g_above;
};
struct RowStage {
    const float *last, *warming, *rate;
    float mu, nu, flow_s, rate_s;
};

// One stage of a row. Written so that compilers do several cells at a time.
void stage_of_row(std::size_t count, RowFlow f, RowStage s, float* __restrict result) {
    const float* __restrict here = f.here;
    const float* __restrict left = f.left;
    const float* __restrict right = f.right;
    const float* __restrict below = f.below;
    const float* __restrict above = f.above;
    for (std::size_t i = 0; i < count; ++i) {
        const float t = here[i];
        float sum = f.g[i] * (here[i + 1] - t) + *(f.g + i - 1) * (*(here + i - 1) - t);
        sum += f.g_right[i] * (right[i] - t) + f.g_left[i] * (left[i] - t);
        sum += f.g_above[i] * (above[i] - t) + f.g_below[i] * (below[i] - t);
        const float next =
            s.mu * s.last[i] + s.nu * result[i] + s.warming[i] * (s.flow_s * sum + s.rate_s * s.rate[i]);
        result[i] = std::abs(next) > least_k ? next : 0.0f;
    }
}

// Calls work(first, past) for what carries a temperature of each row of a plane across z.
template <class Work>
void for_rows(const HeatGrid& grid, std::size_t plane, const Work& work) {
    const auto length = static_cast<std::size_t>(grid.box.count[0]);
    const auto rows = static_cast<std::size_t>(grid.box.count[1]);
    for (std::size_t row = plane * rows; row < (plane + 1) * rows; ++row) {
        const auto [first, past] = grid.rows[row];
        if (first < past) work(row * length + std::size_t(first), row * length + std::size_t(past));
    }
}

}  // namespace

HeatStepper::HeatStepper(const HeatGrid& grid)
    : grid_(grid), one_(grid.box.size(), 0.0f), other_(grid.box.size(), 0.0f) {}

double HeatStepper::stiffness_1_s(const HeatFlow& flow) const {
    const Neighbours g(flow, grid_.box);
    const auto planes = static_cast<std::size_t>(grid_.box.count[2]);
    std::vector<double> greatest(planes, 0.0);
    parallel_for(
        planes,
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t plane = begin; plane < end; ++plane) {
                float most = 0;
                for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
                    for (auto i = static_cast<std::ptrdiff_t>(first); i < static_cast<std::ptrdiff_t>(past);
                         ++i) {
                        const float sum =
                            g.x[i] + g.x[i - 1] + g.y[i] + g.y[i - g.row] + g.z[i] + g.z[i - g.plane];
                        most = std::max(most, 2 * sum * flow.warming_k_j[std::size_t(i)]);
                    }
                });
                float loss = 0;
                for (std::size_t n = flow.outlets_before[plane]; n < flow.outlets_before[plane + 1]; ++n) {
                    const HeatFlow::Outlet& outlet = flow.outlets[n];
                    const bool goes_on =
                        n > flow.outlets_before[plane] && flow.outlets[n - 1].cell == outlet.cell;
                    loss = outlet.loss_w_k + (goes_on ? loss : 0);
                    const auto i = static_cast<std::ptrdiff_t>(outlet.cell);
                    const float sum =
                        g.x[i] + g.x[i - 1] + g.y[i] + g.y[i - g.row] + g.z[i] + g.z[i - g.plane];
                    // Twice, for what an enclosure may send back.
                    most = std::max(most, 2 * (sum + loss) * flow.warming_k_j[std::size_t(i)]);
                }
                greatest[plane] = static_cast<double>(most);
            }
        },
        planes_a_piece);
    return *std::max_element(greatest.begin(), greatest.end());
}

// A step of s stages is stable up to (s² + s − 2)/4 times an explicit one, 2/stiffness. Odd numbers damp
// best.
int HeatStepper::stages(double seconds, double stiffness_1_s) {
    const double needed = 0.5 * (std::sqrt(9 + 8 * seconds * stiffness_1_s) - 1);
    const int s = std::max(3, static_cast<int>(std::ceil(needed)));
    return s % 2 == 1 ? s : s + 1;
}

// Equations 14 to 17 of the paper, for changes since the start of the step.
std::vector<HeatStepper::Weights> HeatStepper::weights(int stages, double seconds) {
    const double s = stages;
    const double w1 = 4 / (s * s + s - 2);
    const auto b = [](int j) { return j < 2 ? 1.0 / 3 : (j * j + j - 2.0) / (2.0 * j * (j + 1.0)); };
    std::vector<Weights> all;
    all.push_back({0, 0, 0, static_cast<float>(b(1) * w1 * seconds)});
    for (int j = 2; j <= stages; ++j) {
        const double mu = (2.0 * j - 1) / j * b(j) / b(j - 1);
        const double nu = -(j - 1.0) / j * b(j) / b(j - 2);
        const double flow = mu * w1;
        const double first = -(1 - b(j - 1)) * flow;
        all.push_back({static_cast<float>(mu), static_cast<float>(nu), static_cast<float>(flow * seconds),
                       static_cast<float>((flow + first) * seconds)});
    }
    return all;
}

void HeatStepper::sweep_plane(const HeatFlow& flow, const Weights& w, const Buffers& b,
                              std::size_t plane) const {
    const Neighbours g(flow, grid_.box);
    const float* warming = flow.warming_k_j.data();
    const float* theta = b.theta;
    for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
        const auto at = static_cast<std::ptrdiff_t>(first);
        stage_of_row(
            past - first,
            {theta + at, theta + at - g.row, theta + at + g.row, theta + at - g.plane, theta + at + g.plane,
             g.x + at, g.y + at - g.row, g.y + at, g.z + at - g.plane, g.z + at},
            {b.last + at, warming + at, flow.rate_w.data() + at, w.mu, w.nu, w.flow_s, w.rate_s},
            b.before + at);
    });
    for (std::size_t n = flow.outlets_before[plane]; n < flow.outlets_before[plane + 1]; ++n) {
        const HeatFlow::Outlet& outlet = flow.outlets[n];
        const float follows = outlet.follows(theta);
        const auto cell = std::size_t(outlet.cell);
        b.before[cell] -= w.flow_s * warming[cell] * outlet.loss_w_k * follows;
        if (b.last_ks == nullptr) continue;
        b.before_ks[n] = static_cast<double>(w.mu) * b.last_ks[n] +
                         static_cast<double>(w.nu) * b.before_ks[n] +
                         static_cast<double>(w.flow_s) * static_cast<double>(follows);
    }
}

void HeatStepper::sweep(const HeatFlow& flow, const Weights& w, const Buffers& b,
                        const std::vector<double>& inside) const {
    parallel_for(
        std::size_t(grid_.box.count[2]),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t plane = begin; plane < end; ++plane) sweep_plane(flow, w, b, plane);
        },
        planes_a_piece);
    for (std::size_t h = 0; h < inside.size(); ++h) {
        for (const HeatFlow::Outlet& wall : flow.hollows[h].walls) {
            const auto cell = std::size_t(wall.cell);
            b.before[cell] +=
                w.flow_s * flow.warming_k_j[cell] * wall.loss_w_k * static_cast<float>(inside[h]);
        }
    }
    if (b.bent == nullptr) return;
    parallel_for(
        std::size_t(grid_.box.count[2]),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t plane = begin; plane < end; ++plane) {
                for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
                    flow.bend(first, past - first, b.before + first, b.bent + first);
                });
            }
        },
        planes_a_piece);
}

std::vector<double> HeatStepper::hollow_temperatures(const HeatFlow& flow, const float* theta) {
    std::vector<double> inside;
    for (const HeatFlow::Hollow& hollow : flow.hollows) {
        double sum = 0;
        for (const HeatFlow::Outlet& wall : hollow.walls)
            sum += static_cast<double>(wall.loss_w_k) * static_cast<double>(wall.follows(theta));
        inside.push_back(hollow.sum_w_k > 0 ? sum / hollow.sum_w_k : 0.0);
    }
    return inside;
}

HeatStepResult HeatStepper::step(const HeatFlow& flow, double seconds, double stiffness_1_s) {
    HeatStepResult result;
    result.stages = stages(seconds, stiffness_1_s);
    const bool bends = static_cast<bool>(flow.bend);
    std::fill(one_.begin(), one_.end(), 0.0f);
    std::fill(other_.begin(), other_.end(), 0.0f);
    if (bends) {
        bent_one_.assign(one_.size(), 0.0f);
        bent_other_.assign(one_.size(), 0.0f);
    }
    // The time integrals of what the losses depend on take the same stages, so that the books balance.
    std::vector<double> outlet_before(flow.outlets.size(), 0.0), hollow_before(flow.hollows.size(), 0.0);
    result.outlet_ks.assign(flow.outlets.size(), 0.0);
    result.hollow_ks.assign(flow.hollows.size(), 0.0);
    for (const Weights& w : weights(result.stages, seconds)) {
        const float* theta = bends ? bent_one_.data() : one_.data();
        const std::vector<double> inside = hollow_temperatures(flow, theta);
        for (std::size_t h = 0; h < inside.size(); ++h) {
            hollow_before[h] = static_cast<double>(w.mu) * result.hollow_ks[h] +
                               static_cast<double>(w.nu) * hollow_before[h] +
                               static_cast<double>(w.flow_s) * inside[h];
        }
        sweep(flow, w,
              {theta, one_.data(), other_.data(), bends ? bent_other_.data() : nullptr,
               result.outlet_ks.data(), outlet_before.data()},
              inside);
        std::swap(one_, other_);
        std::swap(bent_one_, bent_other_);
        std::swap(result.outlet_ks, outlet_before);
        std::swap(result.hollow_ks, hollow_before);
    }
    // 0.8 (y₀ − y₁) + 0.4 τ (f₀ + f₁): B. P. Sommeijer, L. F. Shampine, J. G. Verwer, J. Comput. Appl. Math.
    // 88:315–326 (1998).
    const auto tau = static_cast<float>(seconds);
    const float* theta = bends ? bent_one_.data() : one_.data();
    sweep(flow, {-0.8f, 0, 0.4f * tau, 0.8f * tau},
          {theta, one_.data(), other_.data(), nullptr, nullptr, nullptr}, hollow_temperatures(flow, theta));
    std::vector<double> greatest(std::size_t(grid_.box.count[2]), 0.0);
    parallel_for(
        greatest.size(),
        [&](std::size_t begin, std::size_t end) {
            for (std::size_t plane = begin; plane < end; ++plane) {
                float most = 0;
                for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
                    for (std::size_t i = first; i < past; ++i) {
                        const bool asked =
                            flow.temperature_k.empty() || flow.temperature_k[i] <= flow.unasked_above_k;
                        if (asked && grid_.is_inside(i)) most = std::max(most, std::abs(other_[i]));
                    }
                });
                greatest[plane] = static_cast<double>(most);
            }
        },
        planes_a_piece);
    result.error_k = *std::max_element(greatest.begin(), greatest.end());
    result.linear_k = &one_;
    return result;
}

}  // namespace evenspit
