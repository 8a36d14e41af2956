// SPDX-License-Identifier: MIT
// Lopsided roasts by the dozen, and how much of their torque a plan takes away.
#pragma once

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "body/bird.h"
#include "plan/loads.h"
#include "plan/plan.h"
#include "plan/unbalance.h"

namespace evenspit::test {

/// Joints with bones, lumps and off-line rods, and turkeys with a limb gone or a rod off its line.
inline Assembly lopsided(std::mt19937& random, int number) {
    const auto draw = [&random](double low, double high) {
        return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
    };
    const auto off = [&](double most) { return whole_mm(draw(-most, most)); };
    Seat seat{.at_m = 0.42};
    body::Body body;
    if (number % 4 == 0) {
        static const std::vector<body::Body> turkeys = [] {
            std::vector<body::Body> list;
            for (const char* limb :
                 {"", "left wing", "right wing", "left leg", "right drumstick", "right leg"}) {
                body::BirdOptions options{.species = "turkey", .mass_kg = 5};
                if (*limb != 0) options.missing = {limb};
                list.push_back(body::make_bird(options));
            }
            return list;
        }();
        body = turkeys[static_cast<std::size_t>(random()) % turkeys.size()];
        seat.line = {.from = {off(0.012), off(0.012)}, .to = {off(0.008), off(0.008)}};
    } else {
        body = flesh_body(lumpy_mesh(random, 24, 18), draw(2, 4));
        if (number % 2 == 1) {
            const double y = draw(-0.025, 0.025), z = draw(-0.025, 0.025);
            body.parts.push_back(
                {.name = "shank",
                 .kind = body::PartKind::bone,
                 .mesh = box_mesh({-0.06, y - 0.008, z - 0.008}, {0.06, y + 0.008, z + 0.008}),
                 .density_kg_m3 = 1300,
                 .parent = 0});
        }
        seat.line = {.from = {off(0.03), off(0.03)}, .to = {off(0.03), off(0.03)}};
    }
    Assembly load = load_of(item_of(std::move(body), seat));
    load.stock = {{0.2, 0.04, 0.11, 0.035}, {0.3, 0.04, 0.11, 0.04}, {0.5, 0.04, 0.13, 0.045}};
    return load;
}

/// What became of some lopsided roasts.
struct TorqueCuts {
    std::vector<double> shares;         ///< of the torque that the recommended answer takes away, ascending
    std::vector<std::string> short_of;  ///< a line for each that falls short of nine tenths
    int with_counterweights = 0;
    int in_order = 0;  ///< were ready before
    int beyond = 0;    ///< cannot be made to turn
    /// Raw and cooked are so far apart in unbalance that none can be near both: no balance can be nearer to
    /// either than half of what they differ by.
    int apart = 0;

    [[nodiscard]] std::string text() const {
        if (shares.empty()) return "none\n";
        const auto at = [this](double share) {
            return 100 * shares[static_cast<std::size_t>(share * static_cast<double>(shares.size() - 1))];
        };
        return fmt::format(
            "torque cut, % of {} roasts: least {:.1f}, 5 % {:.1f}, 25 % {:.1f}, half {:.1f}, 75 % {:.1f}, "
            "most "
            "{:.1f}; with counterweights {}; in order before {}; not feasible {}; raw and cooked too far "
            "apart {}\n",
            shares.size(), at(0), at(0.05), at(0.25), at(0.5), at(0.75), at(1), with_counterweights, in_order,
            beyond, apart);
    }
};

inline TorqueCuts cut_torques(int roasts) {
    std::mt19937 random(1899);
    TorqueCuts cuts;
    for (int number = 0; number < roasts; ++number) {
        const Assembly load = lopsided(random, number);
        const plan::Plan plan = drawn_plan(load);
        const plan::PlanAnswer &base = plan.answers.front(), &answer = plan.answers[plan.recommended];
        if (base.analysis.verdict == Level::ready) {
            ++cuts.in_order;
            continue;
        }
        if (answer.stops > 0) {
            ++cuts.beyond;
            continue;
        }
        cuts.with_counterweights += answer.arrangement.counterweights.empty() ? 0 : 1;
        const double before_n_m = base.analysis.balance.gravity_torque_peak_n_m;
        const Item& item = load.items[0];
        const plan::Unbalances ends =
            plan::item_unbalance(item, matter_ends(*item.body), answer.arrangement.seats[0]);
        if (standard_gravity * (ends[0] - ends[1]).norm() / 2 > 0.09 * before_n_m) {
            ++cuts.apart;
            continue;
        }
        const double share = 1 - answer.analysis.balance.gravity_torque_peak_n_m / before_n_m;
        if (share < 0.9)
            cuts.short_of.push_back(
                fmt::format("roast {}: answer {}", number, static_cast<int>(answer.kind)));
        cuts.shares.push_back(share);
    }
    std::sort(cuts.shares.begin(), cuts.shares.end());
    return cuts;
}

}  // namespace evenspit::test
