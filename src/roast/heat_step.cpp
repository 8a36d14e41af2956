// SPDX-License-Identifier: MIT
#include "roast/heat_step.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "roast/cell_rows.h"
#include "units/wide.h"

namespace evenspit {
namespace {

// Less than that is nothing: deep inside changes would fall to numbers so small that processors are slow with
// them.
constexpr float least_k = 1e-25f;

// What a row of cells sees: its own temperatures and those of the rows beside it, the conductances between.
struct RowFlow {
    const float *here, *left, *right, *below, *above;
    const float *g, *g_left, *g_right, *g_below, *g_above;
};
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

    [[nodiscard]] RowFlow row_at(const float* temperature, std::size_t first) const {
        const auto at = static_cast<std::ptrdiff_t>(first);
        const float* here = temperature + at;
        return {here,   here - row,   here + row, here - plane,   here + plane,
                x + at, y + at - row, y + at,     z + at - plane, z + at};
    }
};

struct RowStage {
    const float *warming, *rate;
    float mu, nu, flow_s, rate_s;
};

// What flows into cell i of a row from those beside it.
inline float flow_into(const RowFlow& f, std::size_t i) {
    const float t = f.here[i];
    float sum = f.g[i] * (f.here[i + 1] - t) + *(f.g + i - 1) * (*(f.here + i - 1) - t);
    sum += f.g_right[i] * (f.right[i] - t) + f.g_left[i] * (f.left[i] - t);
    return sum + (f.g_above[i] * (f.above[i] - t) + f.g_below[i] * (f.below[i] - t));
}

// One stage of a row. Written so that compilers do several cells at a time.
EVENSPIT_WIDE void stage_of_row(std::size_t count, RowFlow f, RowStage s, float* __restrict result) {
    for (std::size_t i = 0; i < count; ++i) {
        const float t = f.here[i], sum = flow_into(f, i);
        const float next =
            s.mu * t + s.nu * result[i] + s.warming[i] * (s.flow_s * sum + s.rate_s * s.rate[i]);
        result[i] = std::abs(next) > least_k ? next : 0.0f;
    }
}

EVENSPIT_WIDE void flows_of_row(std::size_t count, RowFlow f, float* __restrict into_w) {
    for (std::size_t i = 0; i < count; ++i) into_w[i] = flow_into(f, i);
}

}  // namespace

HeatStepper::HeatStepper(const HeatGrid& grid)
    : grid_(grid), one_(grid.box.size(), 0.0f), other_(grid.box.size(), 0.0f) {}

double HeatStepper::stiffness_1_s(const HeatFlow& flow) const {
    const Neighbours g(flow, grid_.box);
    std::vector<double> greatest(static_cast<std::size_t>(grid_.box.count[2]), 0.0);
    for_planes(grid_, [&](std::size_t plane) {
        const auto passes = [&](std::ptrdiff_t i) {
            return g.x[i] + g.x[i - 1] + g.y[i] + g.y[i - g.row] + g.z[i] + g.z[i - g.plane];
        };
        float most = 0;
        for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
            for (auto i = static_cast<std::ptrdiff_t>(first); i < static_cast<std::ptrdiff_t>(past); ++i)
                most = std::max(most, passes(i) * flow.warming_k_j[std::size_t(i)]);
        });
        float loss = 0;
        for (std::size_t n = flow.outlets_before[plane]; n < flow.outlets_before[plane + 1]; ++n) {
            const HeatFlow::Outlet& outlet = flow.outlets[n];
            const bool goes_on = n > flow.outlets_before[plane] && flow.outlets[n - 1].cell == outlet.cell;
            loss = outlet.loss_w_k + (goes_on ? loss : 0);
            // Twice, for what an enclosure may send back.
            most = std::max(most, (passes(outlet.cell) + loss) * flow.warming_k_j[std::size_t(outlet.cell)]);
        }
        greatest[plane] = 2 * static_cast<double>(most);
    });
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

void HeatStepper::flows_w(const HeatFlow& flow, const float* temperature_k, float* into_w) const {
    const Neighbours g(flow, grid_.box);
    for_planes(grid_, [&](std::size_t plane) {
        for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
            flows_of_row(past - first, g.row_at(temperature_k, first), into_w + first);
        });
    });
}

void HeatStepper::sweep_plane(const HeatFlow& flow, const Stage& stage, std::size_t plane) const {
    const Neighbours g(flow, grid_.box);
    const Weights& w = stage.w;
    const float* warming = flow.warming_k_j.data();
    const float* theta = stage.theta;
    // The rows know θ alone: what U·warming of a bent cell differs by is added to what they find.
    std::span<const std::int32_t> bent;
    float* linear = nullptr;
    if (!flow.bent.empty()) {
        bent = flow.bent[plane];
        linear = (*stage.bent_before)[plane].data();
        const float* last = (*stage.last)[plane].data();
        for (std::size_t n = 0; n < bent.size(); ++n) {
            const auto cell = std::size_t(bent[n]);
            linear[n] = w.mu * (last[n] - theta[cell]) + w.nu * (linear[n] - stage.before[cell]);
        }
    }
    for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
        stage_of_row(past - first, g.row_at(theta, first),
                     {warming + first, flow.rate_w.data() + first, w.mu, w.nu, w.flow_s, w.rate_s},
                     stage.before + first);
    });
    for (std::size_t n = flow.outlets_before[plane]; n < flow.outlets_before[plane + 1]; ++n) {
        const HeatFlow::Outlet& outlet = flow.outlets[n];
        const float follows = outlet.follows(theta);
        const float meets =
            outlet.hollow < 0 ? 0.0f : static_cast<float>(stage.inside[std::size_t(outlet.hollow)]);
        const auto cell = std::size_t(outlet.cell);
        stage.before[cell] -= w.flow_s * warming[cell] * outlet.loss_w_k * (follows - meets);
        if (stage.last_ks == nullptr) continue;
        stage.before_ks[n] = static_cast<double>(w.mu) * stage.last_ks[n] +
                             static_cast<double>(w.nu) * stage.before_ks[n] +
                             static_cast<double>(w.flow_s) * static_cast<double>(follows);
    }
    for (std::size_t n = 0; n < bent.size(); ++n) {
        const auto cell = std::size_t(bent[n]);
        linear[n] += stage.before[cell];
        stage.before[cell] = linear[n];
    }
    if (stage.bends && !bent.empty()) flow.bend(plane, linear, stage.before);
}

void HeatStepper::sweep(const HeatFlow& flow, const Stage& stage) const {
    for_planes(grid_, [&](std::size_t plane) { sweep_plane(flow, stage, plane); });
}

std::vector<double> HeatStepper::hollow_temperatures(const HeatFlow& flow, const float* theta) {
    constexpr std::size_t walls_a_piece = 4096;
    std::vector<double> inside;
    for (const HeatFlow::Hollow& hollow : flow.hollows) {
        std::vector<double> sums(hollow.walls.size() / walls_a_piece + 1, 0.0);
        parallel_for(
            hollow.walls.size(),
            [&](std::size_t begin, std::size_t end) {
                double sum = 0;
                for (std::size_t n = begin; n < end; ++n) {
                    const HeatFlow::Outlet& wall = hollow.walls[n];
                    sum += static_cast<double>(wall.loss_w_k) * static_cast<double>(wall.follows(theta));
                }
                sums[begin / walls_a_piece] = sum;
            },
            walls_a_piece);
        const double sum = std::accumulate(sums.begin(), sums.end(), 0.0);
        inside.push_back(hollow.sum_w_k > 0 ? sum / hollow.sum_w_k : 0.0);
    }
    return inside;
}

void HeatStepper::lay_bent(const HeatFlow& flow) {
    bent_one_.resize(flow.bent.size());
    bent_other_.resize(flow.bent.size());
    for (std::size_t plane = 0; plane < flow.bent.size(); ++plane) {
        bent_one_[plane].assign(flow.bent[plane].size(), 0.0f);
        bent_other_[plane].assign(flow.bent[plane].size(), 0.0f);
    }
}

void HeatStepper::estimate_error(const HeatFlow& flow, HeatStepResult& result) const {
    struct OfPlane {
        float most_k = 0;
        double volume = 0, squares = 0;
    };
    std::vector<OfPlane> planes(std::size_t(grid_.box.count[2]));
    for_planes(grid_, [&](std::size_t plane) {
        OfPlane of;
        for_rows(grid_, plane, [&](std::size_t first, std::size_t past) {
            float volume = 0, squares = 0;
            for (std::size_t i = first; i < past; ++i) {
                const bool asked =
                    flow.temperature_k.empty() || flow.temperature_k[i] <= flow.unasked_above_k;
                if (!asked || !grid_.is_inside(i)) continue;
                of.most_k = std::max(of.most_k, std::abs(other_[i]));
                volume += grid_.filled[i];
                squares += grid_.filled[i] * other_[i] * other_[i];
            }
            of.volume += static_cast<double>(volume);
            of.squares += static_cast<double>(squares);
        });
        planes[plane] = of;
    });
    double volume = 0, squares = 0;
    result.error_k = 0;
    for (const OfPlane& of : planes) {
        result.error_k = std::max(result.error_k, static_cast<double>(of.most_k));
        volume += of.volume;
        squares += of.squares;
    }
    result.mean_error_k = volume > 0 ? std::sqrt(squares / volume) : 0;
}

HeatStepResult HeatStepper::step(const HeatFlow& flow, double seconds, double stiffness_1_s) {
    HeatStepResult result;
    result.stages = stages(seconds, stiffness_1_s);
    std::fill(one_.begin(), one_.end(), 0.0f);
    std::fill(other_.begin(), other_.end(), 0.0f);
    lay_bent(flow);
    // The time integrals of what the losses depend on take the same stages, so that the books balance.
    std::vector<double> outlet_before(flow.outlets.size(), 0.0), hollow_before(flow.hollows.size(), 0.0);
    result.outlet_ks.assign(flow.outlets.size(), 0.0);
    result.hollow_ks.assign(flow.hollows.size(), 0.0);
    for (const Weights& w : weights(result.stages, seconds)) {
        const std::vector<double> inside = hollow_temperatures(flow, one_.data());
        for (std::size_t h = 0; h < inside.size(); ++h) {
            hollow_before[h] = static_cast<double>(w.mu) * result.hollow_ks[h] +
                               static_cast<double>(w.nu) * hollow_before[h] +
                               static_cast<double>(w.flow_s) * inside[h];
        }
        sweep(flow, {w, one_.data(), other_.data(), &bent_one_, &bent_other_, true, result.outlet_ks.data(),
                     outlet_before.data(), inside});
        std::swap(one_, other_);
        std::swap(bent_one_, bent_other_);
        std::swap(result.outlet_ks, outlet_before);
        std::swap(result.hollow_ks, hollow_before);
    }
    // 0.8 (y₀ − y₁) + 0.4 τ (f₀ + f₁): B. P. Sommeijer, L. F. Shampine, J. G. Verwer, J. Comput. Appl. Math.
    // 88:315–326 (1998).
    const auto tau = static_cast<float>(seconds);
    sweep(flow, {.w = {-0.8f, 0, 0.4f * tau, 0.8f * tau},
                 .theta = one_.data(),
                 .before = other_.data(),
                 .last = &bent_one_,
                 .bent_before = &bent_other_,
                 .inside = hollow_temperatures(flow, one_.data())});
    estimate_error(flow, result);
    for (std::size_t plane = 0; plane < flow.bent.size(); ++plane) {
        for (std::size_t n = 0; n < flow.bent[plane].size(); ++n)
            one_[std::size_t(flow.bent[plane][n])] = bent_one_[plane][n];
    }
    result.linear_k = &one_;
    return result;
}

}  // namespace evenspit
